"""The group of the body: what surrounds the wall, and what it weighs."""

from profiler.study import Body, Study, fields_of
from profiler.study.records.design import BODY_FILL, BODY_WALL
from profiler.ui.document.document import Document
from profiler.ui.forms.group import Group
from profiler.ui.forms.spin_group import follows


class BodyGroup(Group):
    title = "Body"

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self.fill = self.tick(BODY_FILL)
        self.form = self.numbers(tuple(fields_of(Body).values()))
        self.figures = self.muted()

    def show_study(self, study: Study) -> None:
        filling = study.design.body.fill_seat
        self.fill.setChecked(filling)
        self.form.show_record(study.design.body)
        self.form.hide_rows((BODY_WALL,) if filling else ())
        evaluation = self.document.evaluation
        body = evaluation.body
        if body is None and not follows(evaluation):
            self.figures.setText("Mass –, inertia –")
        elif body is not None:
            self.figures.setText(
                f"Mass {body.mass_kg:.2f} kg, polar inertia {body.inertia_kg_m2:.3f} kg m², volume "
                f"{body.volume_mm3 * 1e-6:.3f} L, grooves cut, water holes left out."
            )
