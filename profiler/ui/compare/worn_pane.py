"""Worn, a view of Compare: profiles laid over their drawing, a casting accepted, the bowl worn beside itself new."""

from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialog,
    QGridLayout,
    QHBoxLayout,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from profiler.assess.cautions import Caution
from profiler.assess.worn.wear import PROMISE
from profiler.explore.worn_look import OFF_BY_MM, TOLERANCE_MM, WornAsked, WornLook, worn_look
from profiler.numbers import read
from profiler.output.blocks.as_text import blocks_text
from profiler.output.blocks.in_unit import blocks_in
from profiler.output.worn.worn_blocks import worn_blocks
from profiler.pictures.charts.worn_picture import worn_picture
from profiler.study.edits import list_edits
from profiler.study.edits.profile_edits import without_profile
from profiler.ui.compare.profile_dialog import ProfileDialog
from profiler.ui.dialogs import dialogs
from profiler.ui.document.document import Document
from profiler.ui.widgets.canvas import Canvas
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.labels import head_label, plain_label, unit_of
from profiler.ui.widgets.length_line import LengthLine
from profiler.ui.widgets.theme import LIGHT, Theme
from profiler.ui.work.jobs import Jobs

KEY = "worn"
NO_PROFILE, DRAWING = "none: the drawing, worn", "its drawing"
EMPTY = "Read a profile to see how far it lies off its drawing."
BOX_PX = 96
RATE_TIP = (
    "Such as 0.4 mm, or 0.3 to 0.5 mm, or by height, as 0.2 mm at 50 mm and 0.6 mm at 300 mm: each typed as a number "
    "alone, with a colon behind a height and a comma between; empty: from profiles"
)
LIMIT_TIP = "So much gone, such as 4 mm, typed as a number alone; or a quantity by its key: exposed_height_mm >= 150"


class WornPane(QWidget):
    """The newest question wins; an answer names the design it speaks of."""

    def __init__(self, document: Document, jobs: Jobs, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document, self.jobs = document, jobs
        self.theme: Theme = LIGHT
        self.look: WornLook | None = None
        self.asked = WornAsked()
        self.profile, self.against, self.even = ChoiceBox(), ChoiceBox(), QCheckBox("Rate even over the wall")
        self.tolerance, self.off_by = LengthLine(f"{TOLERANCE_MM:g}"), LengthLine(f"{OFF_BY_MM:g}")
        self.rate, self.hours, self.limit = LengthLine(), QLineEdit(), LengthLine()
        self.read_button, self.paste, self.forget = (_button(w) for w in ("Read…", "Paste points", "Delete"))
        self.ask_button, self.keep = _button("Work it out"), _button("Keep the worn bowl as a design")
        self.answer, self.told = plain_label(), QPlainTextEdit()
        self.canvas = Canvas("Measured profile over its drawing", empty=EMPTY)
        self._lay_out()
        self._wire()
        self.show_study()

    def show_theme(self, theme: Theme) -> None:
        self.theme = theme
        self._draw()

    def show_study(self) -> None:
        """The profiles there are, the chosen ones kept."""
        names = [p.name for p in self.document.study.profiles]
        for box, first in ((self.profile, NO_PROFILE), (self.against, DRAWING)):
            now = box.currentText()
            box.clear()
            box.addItems([first, *names])
            box.setCurrentIndex(max(box.findText(now), 0))
        self.forget.setEnabled(self.profile.currentIndex() > 0)
        self.against.setEnabled(self.profile.currentIndex() > 0)

    def ask(self) -> None:
        """Work it out beside the window; what cannot be read is one sentence."""
        study = self.document.study
        try:
            asked = self._asked()
        except ValueError as reason:
            self.jobs.cancel(KEY)  # an older question's answer is not this one's
            self._fail(str(reason))
            return
        self.answer.setText("Working it out…")
        self.jobs.ask(
            KEY,
            lambda progress: worn_look(study, study.design, study.duty, asked),
            lambda look: self._take(asked, look),
            failed=self._fail,
        )

    def read_file(self) -> None:
        path = dialogs.ask_profile(self)
        if path is not None:
            self._keep_profile(ProfileDialog(self.document.study, self, path))

    def paste_points(self) -> None:
        self._keep_profile(ProfileDialog(self.document.study, self, points=QGuiApplication.clipboard().text()))

    def keep_worn(self) -> None:
        """The worn copy as one more design, shown."""
        look = self.look
        if look is not None and look.beside is not None:
            bowl = look.beside.bowl.design
            self.document.attempt(
                lambda s: list_edits.add_design(s, bowl.name, lambda name: replace(bowl, name=name)),
                "Keep a worn bowl as a design",
            )

    def _keep_profile(self, dialog: ProfileDialog) -> None:
        if dialog.exec() == QDialog.DialogCode.Accepted and dialog.made is not None:
            made = dialog.made
            self.document.edit(made, "Keep a measured profile")
            self.show_study()
            self.profile.setCurrentIndex(self.profile.count() - 1)
            self.show_study()
            self.ask()
        dialog.deleteLater()

    def _forget(self) -> None:
        name = self.profile.currentText()
        self.document.edit(without_profile(self.document.study, name), "Delete a measured profile")
        self.show_study()
        self.ask()

    def _asked(self) -> WornAsked:
        """Raises ValueError for numbers that cannot be read."""
        profile = self.profile.currentText() if self.profile.currentIndex() > 0 else ""
        against = self.against.currentText() if profile and self.against.currentIndex() > 0 else ""
        hours = read(self.hours.text()).value if self.hours.text().strip() else None
        return WornAsked(
            profile, against, read(self.tolerance.held).value, read(self.off_by.held).value, self.rate.held,
            self.even.isChecked(), hours, self.limit.held,
        )  # fmt: skip

    def _take(self, asked: WornAsked, look: WornLook) -> None:
        self.asked, self.look = asked, look
        self.answer.setText(f"{look.design.name}, {look.duty.name}. {look.answer}")
        self.tell_again()
        self.keep.setEnabled(look.beside is not None)
        self._draw()

    def _fail(self, sentence: str) -> None:
        self.look = None
        self.answer.setText(sentence)
        self.told.clear()
        self.keep.setEnabled(False)
        self._draw()

    def tell_again(self) -> None:
        """What was found, in the unit that the window shows lengths in now."""
        if self.look is not None:
            self.told.setPlainText(blocks_text(blocks_in(worn_blocks(self.look)[1:], unit_of(self))))

    def _draw(self) -> None:
        look, tolerance = self.look, self.asked.tolerance_mm
        if look is None or look.over is None:
            self.canvas.show_picture(None, self.theme)
            return
        self.canvas.show_picture(lambda w, h: worn_picture(look, tolerance, w, h, unit_of(self)), self.theme)

    def _choose(self) -> None:
        self.show_study()
        self.ask()

    def _wire(self) -> None:
        self.read_button.clicked.connect(self.read_file)
        self.paste.clicked.connect(self.paste_points)
        self.forget.clicked.connect(self._forget)
        self.ask_button.clicked.connect(self.ask)
        self.keep.clicked.connect(self.keep_worn)
        self.profile.activated.connect(lambda _: self._choose())
        self.against.activated.connect(lambda _: self.ask())
        self.even.clicked.connect(lambda _: self.ask())
        for box in (self.tolerance, self.off_by, self.rate, self.hours, self.limit):
            box.returnPressed.connect(self.ask)

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        promise = plain_label(f"{PROMISE} {Caution.WORN.words}")
        promise.setWordWrap(True)
        promise.setObjectName("muted")
        column.addWidget(promise)
        column.addLayout(self._inputs())
        self.answer.setWordWrap(True)
        self.answer.setAccessibleName("Answer")
        column.addWidget(self.answer)
        below = QHBoxLayout()
        self.told.setReadOnly(True)
        self.told.setAccessibleName("What it rests on")
        self.told.setLineWrapMode(QPlainTextEdit.LineWrapMode.NoWrap)
        font = self.told.font()
        font.setFamilies(["DejaVu Sans Mono", "monospace"])
        self.told.setFont(font)
        below.addWidget(self.canvas, 4)
        below.addWidget(self.told, 6)
        column.addLayout(below, 1)
        self.keep.setEnabled(False)

    def _inputs(self) -> QGridLayout:
        """Eight, and what is done."""
        grid = QGridLayout()
        grid.setHorizontalSpacing(8)
        boxes = (
            ("Profile", self.profile, "A measured profile of the study"),
            ("against", self.against, "What the rate is taken between: the drawing, or an earlier profile"),
            ("Tolerance ±, mm", self.tolerance, "Of a casting; common practice, no source: yours to accept or change"),
            ("measured to ±, mm", self.off_by, "How far a measured point may be off: assumed; type your own"),
            ("Rate, mm per 1,000 h", self.rate, RATE_TIP),
            ("Hours since new", self.hours, "Empty: as it was measured"),
            ("Limit, mm gone", self.limit, LIMIT_TIP),
        )
        for k, (words, box, tip) in enumerate(boxes):
            row, at = (0, 2 * k) if k < 4 else (1, 2 * (k - 4))
            box.setAccessibleName(words)
            box.setToolTip(tip)
            if isinstance(box, QLineEdit):
                box.setAlignment(Qt.AlignmentFlag.AlignRight)
                box.setMinimumWidth(BOX_PX)
            grid.addWidget(head_label(words), row, at)
            grid.addWidget(box, row, at + 1)
        self.rate.setPlaceholderText("from profiles")
        self.hours.setPlaceholderText("as measured")
        self.limit.setPlaceholderText("none")
        self.profile.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.against.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.profile.setMinimumContentsLength(18)
        self.against.setMinimumContentsLength(14)
        grid.addWidget(self.even, 1, 6, 1, 2)
        buttons = QHBoxLayout()
        buttons.setSpacing(6)
        for button in (self.read_button, self.paste, self.forget, self.ask_button, self.keep):
            buttons.addWidget(button)
        buttons.addStretch(1)
        grid.addLayout(buttons, 2, 0, 1, 8)
        return grid


def _button(words: str) -> QPushButton:
    button = QPushButton(words)
    button.setObjectName("plain")
    button.setAutoDefault(False)
    return button
