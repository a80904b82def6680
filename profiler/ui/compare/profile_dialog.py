"""A measured profile taken into the study: of which casting and when; what its points leave in doubt is asked here."""

from datetime import date
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QFormLayout, QLineEdit, QVBoxLayout, QWidget

from profiler.assess.worn.reading import Doubt, ProfileDoubt, ReadProfile, Said, pasted_profile, read_profile
from profiler.numbers import read
from profiler.study import Study
from profiler.study.edits.profile_edits import with_profile
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.labels import plain_label

UNITS = (("as it says", None), ("millimetres", "mm"), ("centimetres", "cm"), ("inches", "inch"))
WAYS = (("as it looks", None), ("up from the floor", False), ("down from the lip", True))
SENTENCE_PX = 96


class ProfileDialog(QDialog):
    """Either a file or pasted points; `made` is the study with the profile once it can be taken."""

    def __init__(self, study: Study, parent: QWidget | None, path: Path | None = None, points: str = "") -> None:
        super().__init__(parent)
        self.setWindowTitle("A measured profile")
        self.study, self.path, self.points = study, path, points
        self.made: Study | None = None
        self.unit, self.way = ChoiceBox(), ChoiceBox()
        self.unit.addItems([words for words, _ in UNITS])
        self.way.addItems([words for words, _ in WAYS])
        self.serial, self.day, self.hours, self.how = QLineEdit(), QLineEdit(), QLineEdit("0"), QLineEdit()
        self.day.setText(date.today().isoformat())
        self.sentence = plain_label(f"Laid over “{study.design.name}” as it is drawn now, which is kept with it.")
        self.sentence.setWordWrap(True)
        self.sentence.setMinimumHeight(SENTENCE_PX)
        self.sentence.setAlignment(Qt.AlignmentFlag.AlignTop)
        form = QFormLayout()
        for words, box in (
            ("Serial of the casting", self.serial), ("Measured on", self.day), ("Hours it had run", self.hours),
            ("How it was measured", self.how), ("Unit", self.unit), ("Heights run", self.way),
        ):  # fmt: skip
            box.setAccessibleName(words)
            form.addRow(words, box)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        self.take_button = buttons.button(QDialogButtonBox.StandardButton.Ok)
        self.take_button.setText("Keep the profile")
        buttons.accepted.connect(self.take)
        buttons.rejected.connect(self.reject)
        whole = QVBoxLayout(self)
        whole.addLayout(form)
        whole.addWidget(self.sentence)
        whole.addWidget(buttons)

    def take(self) -> None:
        """Read it as it was said; what is asked, or refused, is the sentence, and nothing is taken."""
        try:
            found = self._read()
            self.made = with_profile(
                self.study, self.study.design, found.points.tolist(), self.serial.text().strip(),
                self.day.text().strip(), read(self.hours.text()).value, self.how.text().strip(),
            )  # fmt: skip
        except ProfileDoubt as doubt:
            self.sentence.setText(str(doubt))
            (self.unit if doubt.doubt is Doubt.UNIT else self.way).setFocus()
        except ValueError as reason:
            self.sentence.setText(str(reason))
        else:
            self.accept()

    def _read(self) -> ReadProfile:
        said = Said(UNITS[self.unit.currentIndex()][1], WAYS[self.way.currentIndex()][1])
        if self.path is None:
            return pasted_profile(self.points, self.study.design, said)
        return read_profile(self.path, self.study.design, said)
