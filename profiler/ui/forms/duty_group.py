"""The group of the slurry and the duty; what belongs to the catch stands with the water holes."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout

from profiler.assess.flow.sizes import d50_um
from profiler.study import Duty, FrictionBasis, Study, fields_of
from profiler.study.records.duty import D50, FOLLOWING, OF_THE_CATCH
from profiler.ui.document.document import Document
from profiler.ui.forms.group import Group, plain_button
from profiler.ui.widgets.labels import plain_label


class DutyGroup(Group):
    title = "Slurry and duty"
    sizes_wanted = Signal()
    window_wanted = Signal()

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self.form = self.numbers([f for f in fields_of(Duty).values() if f not in OF_THE_CATCH])
        self.follows = {field: self.tick(field) for field in FOLLOWING}
        row = QHBoxLayout()
        self.sizes = plain_button("Size classes…", "The feed by sieve, in place of one d50", row)
        self.sizes.clicked.connect(self.sizes_wanted)
        self.window_button = plain_button(
            "Ore window…", "Duties around this one, higher and lower by amounts you choose", row
        )
        self.window_button.clicked.connect(self.window_wanted)
        self.column.addLayout(row)
        self.former = plain_label("This friction was typed for the former law: type it anew.")
        self.former.setWordWrap(True)
        self.column.addWidget(self.former)

    def show_study(self, study: Study) -> None:
        duty, count = study.duty, len(study.duty.size_classes)
        self.form.show_record(duty, locked=(D50,) if count else ())
        if count:
            self.form.boxes[D50].show_value(round(d50_um(duty), 1))
        first = study.duties[0] is duty
        for field, box in self.follows.items():
            box.setVisible(len(study.duties) > 1 and not first)
            box.setChecked(field.get(duty))
        self.sizes.setText(f"Size classes… ({count})" if count else "Size classes…")
        self.former.setVisible(duty.friction_basis is FrictionBasis.DELIVERED)
