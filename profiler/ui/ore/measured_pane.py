"""What was measured in a bowl that ran, in the place of the forms: an angle, a stopped bowl, the friction they give."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit, QPushButton, QVBoxLayout, QWidget

from profiler.assess.calibration.calibrate import CAUTION, calibrate, calibrated
from profiler.numbers import as_printed, read
from profiler.output.terminal.calibration_text import calibration_text
from profiler.study import Study
from profiler.study.edits.measurement_edits import seen_of, with_angle, with_stop
from profiler.ui.document.document import Document
from profiler.ui.widgets.labels import bold, head_label, plain_label
from profiler.ui.widgets.length_line import LengthLine

SEEN_TIP = "A letter for each groove from the floor up: p packed, c clean, u unsure; for example ppuccc"


class MeasuredPane(QWidget):
    """`closed` when the designer wants the forms back. What is kept speaks of the design and duty shown then."""

    closed = Signal()

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.angle, self.at_height, self.spread = QLineEdit(), LengthLine(), QLineEdit("0.3")
        self.seen, self.how = QLineEdit(), QLineEdit()
        self.keep, self.apply = QPushButton("Keep the measurement"), QPushButton("Take this friction")
        self.forget, self.back = QPushButton("Delete the last one"), QPushButton("Back to the forms")
        self.sentence = plain_label()
        self._lay_out()
        self.keep.clicked.connect(self._keep)
        self.apply.clicked.connect(self._apply)
        self.forget.clicked.connect(self._forget)
        self.back.clicked.connect(self.closed)
        document.evaluated.connect(self._follow)

    def show_study(self) -> None:
        """Say what the study's measurements give as they are."""
        study = self._document.study
        there = bool(study.measurements)
        self.apply.setEnabled(False)
        self.forget.setEnabled(there)
        if not there:
            self.sentence.setText(f"Nothing is measured yet: friction is a guess. {CAUTION}")
            return
        try:
            found = calibrate(study.measurements, study.machine)
        except ValueError as reason:
            self.sentence.setText(str(reason))
            return
        self.sentence.setText(calibration_text(found))
        self.apply.setEnabled(found.friction is not None)

    def _keep(self) -> None:
        try:
            self._document.edit(self._with_what_is_typed(), "Keep a measurement")
        except ValueError as reason:
            self.sentence.setText(str(reason))

    def _with_what_is_typed(self) -> Study:
        """Raises ValueError, one sentence, for what cannot be read or used."""
        study, how = self._document.study, self.how.text().strip()
        kept = study
        if self.angle.text().strip():
            texts = self.angle.text(), self.at_height.held, self.spread.text()
            angle, height, spread = (read(text).value for text in texts)
            kept = with_angle(kept, study.design, study.duty, height, angle, spread, how)
        if self.seen.text().strip():
            kept = with_stop(kept, study.design, study.duty, seen_of(self.seen.text().strip().lower()), how)
        if kept is study:
            raise ValueError("Type a measured angle and its height, or what the grooves of a stopped bowl looked like.")
        calibrate(kept.measurements, kept.machine)
        return kept

    def _apply(self) -> None:
        study = self._document.study
        try:
            duty = calibrated(study.duty, calibrate(study.measurements, study.machine))
        except ValueError as reason:
            self.sentence.setText(str(reason))
            return
        self._document.edit_duty(duty, "Take the measured friction")

    def _forget(self) -> None:
        study = self._document.study
        self._document.edit(study.having("measurements", study.measurements[:-1]), "Delete a measurement")

    def _follow(self, _: object) -> None:
        if self.isVisible() and not self._document.in_gesture:
            self.show_study()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 8, 10, 10)
        column.setSpacing(6)
        column.addWidget(bold(plain_label("Measured in a bowl that ran")))
        self.seen.setToolTip(as_printed(SEEN_TIP))
        boxes = (
            (self.angle, "Angle of the slurry from the axis, °"), (self.at_height, "at height, mm"),
            (self.spread, "one standard deviation, °"), (self.seen, "or grooves of a stopped bowl: p, c, u"),
            (self.how, "how measured, or how stopped"),
        )  # fmt: skip
        for box, words in boxes:
            box.setAccessibleName(words)
            column.addWidget(head_label(words))
            column.addWidget(box)
        self.sentence.setWordWrap(True)
        for part in (self.keep, self.sentence, self.apply, self.forget):
            column.addWidget(part)
        column.addStretch(1)
        column.addWidget(self.back)
        for button in (self.keep, self.apply, self.forget, self.back):
            button.setObjectName("plain")
