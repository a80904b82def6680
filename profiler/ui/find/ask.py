"""Find one number, beside the search for a curve: find the speed (say) at which the deepest bed is 2 mm."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from profiler.assess import Evaluation
from profiler.assess.quantities.table import QUANTITIES, Quantity, Scope, quantity
from profiler.explore.ask import Answer, Free, Wanted, ask, free_numbers
from profiler.numbers import editable, number_of, read
from profiler.study import Design, Duty
from profiler.ui.document.document import Document
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.labels import bold, head_label, plain_label
from profiler.ui.widgets.length_line import LengthLine
from profiler.ui.widgets.range_box import RangeBox
from profiler.ui.work.jobs import Jobs

KEY = "ask"


class AskPane(QWidget):
    """`about` is the way in from any number of the window."""

    def __init__(self, document: Document, jobs: Jobs, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document, self.jobs = document, jobs
        self.answer: Answer | None = None
        self._free: tuple[Free, ...] = ()
        self.quantity, self.groove, self.free = ChoiceBox(), ChoiceBox(), ChoiceBox(of_lengths=True)
        self.at_height, self.value = LengthLine(), LengthLine(unit="")
        self.between = RangeBox("Range tried")
        self.sentence = plain_label()
        self.look, self.set_it = QPushButton("Find"), QPushButton("Set it")
        self._lay_out()
        self._wire()

    def about(self, key: str, groove: int | None = None, height_mm: float | None = None) -> None:
        """Ask about this number: a quantity's key, with the groove or the height where it was read."""
        self._fill(self.document.evaluation)
        self.quantity.setCurrentIndex(max(self.quantity.findData(key), 0))
        if groove is not None:
            self.groove.setCurrentIndex(max(self.groove.findData(groove), 0))
        if height_mm is not None:
            self.at_height.hold(f"{height_mm:.1f}")
        self._show_place()
        self._show_present()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 8, 10, 10)
        column.setSpacing(7)
        column.addWidget(bold(plain_label("Find one number")))
        column.addWidget(_muted("Find the"))
        column.addWidget(self.free)
        column.addWidget(_muted("at which"))
        for q in QUANTITIES:
            if q.key not in ("height_mm", "groove_height_mm"):
                self.quantity.addItem(_label(q), q.key)
        self.quantity.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        names = (
            (self.quantity, "Number that shall change"), (self.groove, "Groove"), (self.at_height, "Height in mm"),
            (self.value, "Wanted value"), (self.free, "Number that may be turned"),
        )  # fmt: skip
        for widget, name in names:
            widget.setAccessibleName(name)
        for widget in (self.quantity, self.groove):
            column.addWidget(widget)
        self.at_height.setPlaceholderText("at this height, mm")
        column.addWidget(self.at_height)
        self.unit = head_label()
        self.unit.setObjectName("unit")
        row = QHBoxLayout()
        for part in (plain_label("is"), self.value, self.unit):
            row.addWidget(part)
        column.addLayout(row)
        self.free.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        column.addWidget(_muted("between"))
        column.addWidget(self.between)
        column.addWidget(self.look)
        self.sentence.setWordWrap(True)
        self.sentence.setTextFormat(Qt.TextFormat.PlainText)
        column.addWidget(self.sentence)
        column.addWidget(self.set_it)
        self.set_it.hide()
        column.addStretch(1)
        for box in (self.value, self.at_height):
            box.setAlignment(Qt.AlignmentFlag.AlignRight)
        for button in (self.look, self.set_it):
            button.setObjectName("plain")

    def _wire(self) -> None:
        self.quantity.activated.connect(lambda _: self._show_quantity())
        self.groove.activated.connect(lambda _: self._show_present())
        self.at_height.editingFinished.connect(self._show_present)
        self.free.activated.connect(lambda _: self._show_range())
        self.between.refused.connect(self.sentence.setText)
        self.value.returnPressed.connect(self.ask)
        self.look.clicked.connect(self.ask)
        self.set_it.clicked.connect(self._set)
        self.document.evaluated.connect(self._follow)

    def ask(self) -> None:
        """Work it out beside the window; the answer is one sentence."""
        e = self.document.evaluation
        self._fill(e)
        try:
            wanted = self._wanted(read(self.value.held).value)
        except ValueError as reason:
            self.jobs.cancel(KEY)  # an older question's answer is not this one's
            self._say(str(reason))
            return
        index = self.free.currentIndex()
        if not 0 <= index < len(self._free):
            return
        free, between = self._free[index], self.between.values
        self._say("Looking…")
        self.jobs.ask(KEY, lambda p: ask(e, free, wanted, between, p), self._take, failed=self._say)

    def _wanted(self, value: float) -> Wanted:
        q = quantity(str(self.quantity.currentData()))
        groove = self.groove.currentData() if q.scope is Scope.GROOVE else None
        height = (number_of(self.at_height.held) or 0.0) if q.scope is Scope.WALL else None
        return Wanted(q, value, groove, height)

    def _take(self, answer: Answer) -> None:
        self.answer = answer
        self.sentence.setText(answer.sentence)
        self.set_it.setVisible(answer.changed is not None)

    def _say(self, sentence: str) -> None:
        self.answer = None
        self.sentence.setText(sentence)
        self.set_it.hide()

    def _set(self) -> None:
        changed = None if self.answer is None else self.answer.changed
        words = self.free.currentText().lower()
        self.set_it.hide()
        if isinstance(changed, Design):
            self.document.edit_design(changed, f"Set {words} as asked")
        elif isinstance(changed, Duty):
            self.document.edit_duty(changed, f"Set {words} as asked")

    def _follow(self, e: Evaluation) -> None:
        """An answer speaks of the study it was asked of."""
        if self.isVisible() and not self.document.in_gesture:
            self._fill(e)
            if self.answer is not None and self.answer.changed is not None and self.set_it.isVisible():
                changed = self.answer.changed
                kind = e.design if isinstance(changed, Design) else e.duty
                if kind.name != changed.name:
                    self._say("")

    def showEvent(self, event: object) -> None:
        self._fill(self.document.evaluation)
        self._show_place()
        self._show_present()

    def _fill(self, e: Evaluation) -> None:
        count = 0 if e.shape is None else len(e.shape.mouths)
        if self.groove.count() != count:
            chosen = self.groove.currentData() or (count + 1) // 2
            self.groove.clear()
            for n in range(1, count + 1):
                self.groove.addItem(f"groove {n}", n)
            self.groove.setCurrentIndex(max(self.groove.findData(chosen), 0))
        self._free = free_numbers(e)
        words = [f.words for f in self._free]
        if [self.free.itemText(i) for i in range(self.free.count())] != words:
            now = self.free.currentText()
            self.free.clear()
            self.free.addItems(words)
            self.free.setCurrentIndex(max(self.free.findText(now), 0))
            self._show_range()

    def _show_quantity(self) -> None:
        self._show_place()
        self._show_present()

    def _show_place(self) -> None:
        q = quantity(str(self.quantity.currentData()))
        self.groove.setVisible(q.scope is Scope.GROOVE)
        self.at_height.setVisible(q.scope is Scope.WALL)
        self.unit.setText(q.unit)

    def _show_present(self) -> None:
        """The number as it is now, ready to be typed over."""
        try:
            now = self._wanted(0.0).of(self.document.evaluation)
        except ValueError as reason:  # the height is no number
            self._say(str(reason))
            return
        q = quantity(str(self.quantity.currentData()))
        self.value.hold(editable(round(now, q.decimals), q.decimals) if now == now else "", q.unit)
        self.value.selectAll()

    def _show_range(self) -> None:
        if 0 <= self.free.currentIndex() < len(self._free):
            free = self._free[self.free.currentIndex()]
            self.between.show_range(free.low, free.high, free.field.unit)


def _label(q: Quantity) -> str:
    where = {Scope.WALL: "at a height", Scope.GROOVE: "of a groove", Scope.BOWL: ""}[q.scope]
    return f"{q.label} {where}".strip()


def _muted(words: str) -> QLabel:
    label = plain_label(words)
    label.setObjectName("muted")
    return label
