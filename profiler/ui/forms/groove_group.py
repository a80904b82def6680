"""The group of the grooves: the rule for all of them, and the chosen one where it departs from it."""

from msgspec.structs import replace
from PySide6.QtWidgets import QPushButton

from profiler.assess.shape.shape_stage import wall_as_it_stands
from profiler.numbers import read
from profiler.study import GrooveChange, GrooveRule, Placing, Study, fields_of
from profiler.study.edits import design_edits as edits
from profiler.study.records.design import (
    GROOVE_COUNT,
    GROOVE_OFF,
    GROOVE_PLACING,
    GROOVE_SQUARE_TO,
    GROOVES_FROM,
    GROOVES_TO,
)
from profiler.ui.document.document import Document
from profiler.ui.forms.group import Group, place_chosen
from profiler.ui.widgets.labels import marked_up
from profiler.ui.widgets.length_line import LengthLine
from profiler.ui.widgets.pointer import Pointer

RULED = (GROOVE_COUNT, GROOVES_FROM, GROOVES_TO)  # what listed heights make superfluous


class GrooveGroup(Group):
    title = "Grooves"

    def __init__(self, document: Document, pointer: Pointer) -> None:
        super().__init__(document)
        self.pointer = pointer
        self.placing = self.options(GROOVE_PLACING, self._place_grooves)
        self.heights = LengthLine()
        self.heights.setPlaceholderText("mid-mouth heights in mm, with ; between")
        self.heights.setAccessibleName("Mid-mouth heights of the grooves, in mm, separated by semicolons or spaces")
        self.heights.editingFinished.connect(self._take_heights)
        self.column.addWidget(self.heights)
        self.form = self.numbers(tuple(fields_of(GrooveRule).values()))
        self.ends = self.muted()
        self.square = self.options(GROOVE_SQUARE_TO)
        self.one = marked_up()
        self.one.setWordWrap(True)
        self.column.addWidget(self.one)
        self.single = self.numbers(tuple(fields_of(GrooveChange).values()), self._place)
        self.off = self.tick(GROOVE_OFF, self._place)
        self.back = QPushButton("Bring back grooves left out")
        self.back.setObjectName("plain")
        self.back.clicked.connect(self._bring_back)
        self.column.addWidget(self.back)

    def show_study(self, study: Study) -> None:
        rule = study.design.grooves
        self.placing.setCurrentIndex(self.placing.findData(rule.placing))
        self.square.setCurrentIndex(self.square.findData(rule.square_to))
        listed = rule.placing is Placing.LISTED
        self.heights.setVisible(listed)
        if not (self.heights.hasFocus() and self.heights.isModified()):
            self.heights.hold("; ".join(f"{h:g}" for h in rule.heights_mm))
        self.form.show_record(rule)
        self.form.hide_rows(RULED if listed else ())
        self.ends.setVisible(not listed)
        self._show_ends(rule.placing)
        self.back.setVisible(any(c.off for c in rule.changes))
        self.show_chosen()

    def show_chosen(self) -> None:
        place = self._place()
        for part in (self.one, self.single, self.off):
            part.setVisible(place is not None)
        if place is not None:
            self.one.setText(f"<b>Groove {self.pointer.now.groove}</b>, where it departs from the rule:")
            self.single.show_record(self.document.design.grooves.row("changes", place))
            self.off.setChecked(GROOVE_OFF.at(place).get(self.document.study))

    def _place(self) -> int | None:
        return place_chosen(self.document, self.pointer)

    def _bring_back(self) -> None:
        design = self.document.design
        for change in design.grooves.changes:
            design = GROOVE_OFF.at(change.place).set(design, False)
        self.document.edit_design(design, "Bring back grooves")

    def _place_grooves(self, placing: Placing) -> None:
        """By another rule; a list starts from where the grooves are."""
        design, shape = GROOVE_PLACING.set(self.document.design, placing), self.document.evaluation.shape
        if placing is Placing.LISTED and not design.grooves.heights_mm and shape is not None:
            middles = tuple(round(float(h), 1) for h in shape.mouths.middle)
            design = edits.with_grooves(design, replace(design.grooves, heights_mm=middles))
        self.document.edit_design(design, GROOVE_PLACING.undo_words)

    def _take_heights(self) -> None:
        if not self.heights.isModified():
            return
        self.heights.setModified(False)
        parts = _parts(self.heights.text())
        wrong = next((part for part in parts if not _is_height(part)), None)
        if wrong is not None:
            self.document.say(f"Groove heights: “{wrong}” is not a height in mm; nothing was changed.")
            self.show_study(self.document.study)
            return
        heights = tuple(sorted(read(part).value for part in _parts(self.heights.held)))
        grooves = replace(self.document.design.grooves, heights_mm=heights)
        self.document.edit_design(edits.with_grooves(self.document.design, grooves), "Change the groove heights")

    def _show_ends(self, placing: Placing) -> None:
        """What the first and last edge are measured along: the wall is longer than the bowl is high."""
        along = placing is Placing.ALONG_WALL
        for field, word in ((GROOVES_FROM, "From"), (GROOVES_TO, "To")):
            self.form.show_label(field, f"{word}, along wall" if along else f"{word}, in height")
        shape = self.document.evaluation.shape
        wall = wall_as_it_stands(self.document.design) if shape is None else shape.wall
        if wall is None:
            self.ends.setText("As it stands the wall has no length.")
            return
        length, height, shown = float(wall.length[-1]), float(wall.height[-1]), self.pointer.now.lengths
        self.ends.setText(f"The wall is {shown.text(length, 1)} long and {shown.text(height, 1)} high.")


def _parts(text: str) -> list[str]:
    return text.replace(";", " ").split()


def _is_height(text: str) -> bool:
    try:
        return read(text).value >= 0.0
    except ValueError:
        return False
