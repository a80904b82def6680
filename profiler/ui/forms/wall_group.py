"""The group of the wall curve: which end is held, the radii, the knots as a table, and what the chosen knot is."""

from PySide6.QtWidgets import QHBoxLayout

from profiler.assess.shape.shape_stage import wall_as_it_stands
from profiler.geometry.wall import Wall
from profiler.study import Field, Hold, Study
from profiler.study.edits import design_edits as edits
from profiler.study.records.design import FLOOR_RADIUS, KNOT_EASED, KNOT_LOCKED, LIP_RADIUS
from profiler.ui.document.document import Document
from profiler.ui.forms.group import Group, plain_button
from profiler.ui.forms.knot_table import KnotTable
from profiler.ui.widgets.pointer import Pointer


class WallGroup(Group):
    title = "Wall curve"

    def __init__(self, document: Document, pointer: Pointer) -> None:
        super().__init__(document)
        self.pointer = pointer
        ends = (("Lip", Hold.LIP), ("Floor", Hold.FLOOR), ("Lip and floor", Hold.BOTH))
        self.hold = self.choice("Fixed end", ends, self._hold)
        self.radii = self.numbers((LIP_RADIUS, FLOOR_RADIUS))
        self.table = KnotTable()
        self.table.proposed.connect(self._change_knot)
        self.table.refused.connect(document.say)
        self.table.chosen_knot.connect(lambda index, leaving: pointer.point(knot=index, leaving=leaving))
        self.column.addWidget(self.table)
        buttons = QHBoxLayout()
        self.corner = plain_button("Corner", "Give the chosen knot a second, leaving angle, or take it away", buttons)
        self.delete = plain_button("Delete knot", "Delete the chosen knot", buttons)
        self.column.addLayout(buttons)
        self.eased = self.tick(KNOT_EASED, lambda: pointer.now.knot)
        self.locked = self.tick(KNOT_LOCKED, lambda: pointer.now.knot)
        self.muted("Double-click the curve to add a knot.")

    def show_study(self, study: Study) -> None:
        wall = study.design.wall
        self.hold.setCurrentIndex(max(self.hold.findData(wall.hold), 0))
        free = FLOOR_RADIUS if wall.hold is Hold.LIP else LIP_RADIUS
        self.radii.show_record(wall, locked=(free,) if wall.hold is not Hold.BOTH else ())
        if wall.hold is not Hold.BOTH:
            line = self._line()
            radius = None if line is None else float(line.radius[0 if free is FLOOR_RADIUS else -1])
            self.radii.boxes[free].show_value(None if radius is None else round(radius, 2))
        self.show_chosen()

    def show_chosen(self) -> None:
        now, knots = self.pointer.now, self.document.design.wall.knots
        self.table.show_knots(knots, now.knot, now.leaving)
        inner = now.knot is not None and 0 < now.knot < len(knots) - 1
        knot = knots[now.knot] if now.knot is not None and now.knot < len(knots) else None
        free = knot is not None and not knot.locked
        self.corner.setEnabled(inner and free)
        self.delete.setEnabled(inner and free)
        self.eased.setEnabled(free and now.knot != len(knots) - 1)
        self.locked.setEnabled(knot is not None)
        self.eased.setChecked(knot is not None and knot.eased)
        self.locked.setChecked(knot is not None and knot.locked)

    def _line(self) -> Wall | None:
        """The wall as it stands, whether or not a section can be made of it."""
        shape = self.document.evaluation.shape
        return wall_as_it_stands(self.document.design) if shape is None else shape.wall

    def _change_knot(self, field: Field[float], value: float) -> None:
        if not self.document.change(field, value):
            self.show_chosen()

    def _hold(self, hold: Hold) -> None:
        line = self._line()
        if line is None:
            self.document.say("The wall cannot be drawn as it stands, so its other end has no radius to hold.")
            self.show_study(self.document.study)
        elif hold is not self.document.design.wall.hold:
            held = edits.held(self.document.design, hold, float(line.radius[-1]), float(line.radius[0]))
            self.document.edit_design(held, f"Hold the {hold.value}")
