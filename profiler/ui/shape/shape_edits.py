"""What hands propose on the strips: knots moved, added, taken away, grooves moved. The document decides."""

from collections.abc import Callable

from profiler.assess.shape.groove_room import room_of_groove
from profiler.assess.shape.held_ends import joined
from profiler.study import Design
from profiler.study.edits import design_edits as edits
from profiler.study.records.design import GROOVE_SHIFT, KNOT_ANGLE, KNOT_HEIGHT, KNOT_LEAVING
from profiler.ui.document.document import Document
from profiler.ui.strips.angle import AngleStrip
from profiler.ui.strips.section import SectionStrip
from profiler.ui.widgets.pointer import Pointer
from profiler.units import DEGREE

Pulled = Callable[[int, float | None, float | None, bool], bool]  # knot, height or None, angle or None, leaving


class ShapeEdits:
    """A refusal is said in the line at the bottom, and nothing is changed."""

    def __init__(self, document: Document, pointer: Pointer) -> None:
        self._document, self._pointer = document, pointer
        self.pulled: Pulled = lambda knot, height, angle, leaving: False  # by whoever else owns the curve's handles

    def wire_angle(self, angle: AngleStrip) -> None:
        """Take what this strip proposes."""
        document = self._document
        angle.drag_began.connect(lambda knot, leaving: document.begin("Move a knot"))
        angle.dragged.connect(self._drag_held_knot)
        angle.add_wanted.connect(self.add_knot)
        angle.delete_wanted.connect(self.delete_knot)
        angle.corner_wanted.connect(self.toggle_corner)
        angle.nudged.connect(self._nudge)
        angle.drag_ended.connect(self._end)

    def wire_section(self, section: SectionStrip) -> None:
        """Take what this strip proposes."""
        document = self._document
        section.drag_began.connect(lambda: document.begin("Move a groove"))
        section.dragged.connect(self._drag_groove)
        section.drag_ended.connect(self._end)

    def _end(self, keep: bool) -> None:
        if keep:
            self._document.commit()
        else:
            self._document.cancel()

    def add_knot(self, height_mm: float, near_deg: float) -> None:
        """On the curve; the angle only where there is no curve."""
        e = self._document.evaluation
        angle = near_deg if e.shape is None else float(e.shape.wall.angle_at(height_mm)) / DEGREE
        try:
            design, index = edits.add_knot(self._document.design, height_mm, KNOT_ANGLE.snapped(angle))
        except ValueError as refusal:
            self._document.say(str(refusal))
            return
        self._pointer.point(knot=None)
        self._document.edit_design(design, "Add a knot")
        self._pointer.point(knot=index, leaving=False)

    def add_knot_here(self) -> None:
        """At the crosshair, else in the widest gap."""
        cursor = self._pointer.now.cursor_mm
        knots = self._document.design.wall.knots
        self.add_knot(*(AngleStrip.widest_gap(knots) if cursor is None else (round(cursor, 1), 0.0)))

    def delete_knot(self, index: int) -> None:
        if self._try(lambda d: edits.delete_knot(d, index), "Delete a knot"):
            self._pointer.point(knot=None)

    def delete_chosen(self) -> None:
        if (index := self._pointer.now.knot) is not None:
            self.delete_knot(index)

    def toggle_corner(self, index: int) -> None:
        knots = self._document.design.wall.knots
        if index >= len(knots):
            return
        if knots[index].is_corner:
            self._try(lambda d: KNOT_LEAVING.at(index).set(d, None), "Make a corner smooth")
        else:
            # two equal angles: the wall stays as it is until one of them is turned, on whatever side is wanted
            self._try(lambda d: KNOT_LEAVING.at(index).set(d, knots[index].angle_deg), "Make a corner")
            self._pointer.point(knot=index, leaving=self._document.design.wall.knots[index].is_corner)

    def toggle_chosen_corner(self) -> None:
        if (index := self._pointer.now.knot) is not None:
            self.toggle_corner(index)

    def _drag_held_knot(self, index: int, height: float | None, angle: float | None, leaving: bool) -> None:
        """A move of the mouse. Where the gesture was ended meanwhile, or the knot deleted, it moves nothing more."""
        if not self._document.in_gesture or self.pulled(index, height, angle, leaving):
            return
        if index < len(self._document.design.wall.knots):
            self._move_knot(index, height, angle, leaving)

    def _move_knot(self, index: int, height: float | None, angle: float | None, leaving: bool) -> None:
        knot = self._document.design.wall.knots[index]
        angles = edits.Angles(arriving=not leaving, leaving=leaving) if knot.is_corner else edits.Angles()
        try:
            moved = edits.move_knot(self._document.design, index, height, angle, angles)
            self._document.edit_design(joined(moved, index).design, "Move a knot")
        except ValueError as refusal:
            self._document.say(str(refusal))

    def _drag_groove(self, place: int, shift: float) -> None:
        if not self._document.in_gesture:
            return
        found = self._document.evaluation.shape
        room = None if found is None else room_of_groove(self._document.design, found, place)
        stopped = shift if room is None else min(max(shift, room[0]), room[1])
        self._document.change(GROOVE_SHIFT.at(place), stopped)
        if stopped != shift:
            least = self._document.design.grooves.least_land_mm
            self._document.say(f"The groove stops where a land of {least:g} mm, the least, is left beside it.")

    def _nudge(self, index: int, up_mm: float, right_deg: float, leaving: bool, fine: bool) -> None:
        """An arrow key: what it moves lands on the field's step, or on tenths of it."""
        knot = self._document.design.wall.knots[index]
        height = KNOT_HEIGHT.snapped(knot.height_mm + up_mm, fine) if up_mm else None
        old = knot.leaving if leaving else knot.angle_deg
        angle = KNOT_ANGLE.nearest(old + right_deg, fine) if right_deg else None
        self._move_knot(index, height, angle, leaving)

    def _try(self, edit: Callable[[Design], Design], words: str) -> bool:
        return self._document.attempt(lambda s: edits.with_design(s, edit(s.design)), words)
