"""A design rounded to shop steps, in the place of the forms: the steps, what they would change, one undo step."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFormLayout, QPushButton, QVBoxLayout, QWidget

from profiler.assess import Evaluation
from profiler.explore.shop_steps import ANGLE_STEP, DIAMETER_STEP, RADIUS_STEP, STEPS, Rounded, Steps, rounded
from profiler.numbers import read
from profiler.study import Field
from profiler.ui.document.document import Document
from profiler.ui.widgets.labels import bold, head_label, plain_label
from profiler.ui.widgets.length_line import LengthLine

UNDO = "Round to shop steps"
ASK = "Name a step, and see what it changes before anything is changed."
DONE = "Done: one undo step takes it back."


class StepsPane(QWidget):
    """`closed` when the designer wants the forms back."""

    closed = Signal()

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._found: Rounded | None = None
        self.sentence, self.changes = plain_label(ASK), plain_label()
        self.boxes: dict[Field[float], LengthLine] = {field: LengthLine(unit=field.unit) for field in STEPS}
        self.apply, self.back = QPushButton("Round the design"), QPushButton("Back to the forms")
        self._lay_out()
        for box in self.boxes.values():
            box.textChanged.connect(self._show)
        self.apply.clicked.connect(self._apply)
        self.back.clicked.connect(self.closed)
        document.evaluated.connect(self._follow)

    def _steps(self) -> Steps:
        """Raises ValueError with a sentence."""
        values: dict[Field[float], float] = {}
        for field, box in self.boxes.items():
            if box.held.strip():
                values[field] = read(box.held).value
                if (objection := field.objection(values[field])) is not None:
                    raise ValueError(objection)
        return Steps(values.get(RADIUS_STEP), values.get(DIAMETER_STEP), values.get(ANGLE_STEP))

    def _show(self) -> None:
        self._found = None
        try:
            steps = self._steps()
        except ValueError as reason:
            self.sentence.setText(str(reason))
        else:
            asked = steps != Steps()
            self._found = rounded(self._document.evaluation, steps) if asked else None
            self.sentence.setText(ASK if self._found is None else self._found.sentence)
        found = self._found
        self.changes.setText("" if found is None else "\n".join((*found.moved, *found.states)))
        self.apply.setEnabled(found is not None and bool(found.moved) and not found.refusal)

    def _apply(self) -> None:
        if self._found is not None:
            self._document.edit_design(self._found.design, UNDO)
            self.sentence.setText(DONE)
            self.changes.clear()
            self.apply.setEnabled(False)

    def _follow(self, e: Evaluation) -> None:
        """What is shown is of the design at hand; just after it was applied the word that it was stays."""
        if self.isVisible() and (self._found is None or self._document.design != self._found.design):
            self._show()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 8, 10, 10)
        column.setSpacing(7)
        column.addWidget(bold(plain_label("Round to shop steps")))
        form = QFormLayout()
        for field, box in self.boxes.items():
            box.setPlaceholderText("as it is")
            box.setToolTip(field.help)
            box.setAccessibleName(field.label)
            form.addRow(head_label(field.title), box)
        column.addLayout(form)
        for label in (self.sentence, self.changes):
            label.setWordWrap(True)
            column.addWidget(label)
        self.apply.setEnabled(False)
        self.back.setObjectName("plain")
        column.addWidget(self.apply)
        column.addStretch(1)
        column.addWidget(self.back)
