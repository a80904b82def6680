"""What a search is asked: eight inputs, none of which has a goal in it until somebody states one."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QGridLayout, QLineEdit, QPushButton, QWidget

from profiler.assess.quantities.table import quantity
from profiler.explore.search.goal import (
    ACROSS_WORDS,
    Across,
    Condition,
    Goal,
    condition_on,
    course_goal,
    goal_keys,
    goal_quantity,
)
from profiler.explore.search.search import POINTS, Asked
from profiler.numbers import read
from profiler.ui.document.document import Document
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.labels import plain_label

RAISE, LOWER, COURSE = "raise", "lower", "course"
KINDS = (("Choose a goal…", ""), ("Raise", RAISE), ("Lower", LOWER), ("Course of the slurry", COURSE))
CONDITION_TIP = "Quantities by their keys, at every place of the wall and under every duty: land_mm=5, mass_kg=20"
COURSE_TIP = "Per cent of the height that overturns strongly, weakly, lies level, lies buried: 20, 40, 25, 15"


class GoalForm(QWidget):
    """`searched` when the designer asks, `stopped` when what was found is enough."""

    searched = Signal()
    stopped = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.kind, self.quantity, self.across, self.knots = ChoiceBox(), ChoiceBox(), ChoiceBox(), ChoiceBox()
        self.course, self.least, self.most, self.seed = QLineEdit(), QLineEdit(), QLineEdit(), QLineEdit("1")
        self.start, self.stop = QPushButton("Search"), QPushButton("Stop")
        self._fill()
        self._lay_out()
        self.kind.activated.connect(lambda _: self._show_kind())
        self.start.clicked.connect(self.searched)
        self.stop.clicked.connect(self.stopped)
        self.show_running(False)
        self._show_kind()

    def asked(self, document: Document) -> Asked:
        """The search as it stands in the form. Raises ValueError, one sentence, for what cannot be read."""
        conditions = (*_conditions(self.least.text(), True), *_conditions(self.most.text(), False))
        knots = self.knots.currentData()
        seed = read(self.seed.text()).value
        if seed < 0.0 or seed != int(seed):
            raise ValueError("A seed is a whole number from 0.")
        study = document.study
        return Asked(study, study.design, study.duty, self._goal(), conditions, knots, (), POINTS, int(seed))

    def show_running(self, running: bool) -> None:
        self.start.setEnabled(not running)
        self.stop.setEnabled(running)

    def _goal(self) -> Goal:
        kind, across = self.kind.currentData(), Across(self.across.currentData())
        if not kind:
            raise ValueError("State a goal first: raise or lower a number, or a course of the slurry along the wall.")
        if kind == COURSE:
            return course_goal([read(part).value for part in self.course.text().split(",") if part.strip()], across)
        return Goal(goal_quantity(str(self.quantity.currentData())), kind == RAISE, (), across)

    def _fill(self) -> None:
        for words, kind in KINDS:
            self.kind.addItem(words, kind)
        for key in goal_keys():
            self.quantity.addItem(quantity(key).label, key)
        self.quantity.setCurrentIndex(self.quantity.findData("strong_height_mm"))
        for choice, least_px in ((self.kind, 150), (self.quantity, 240), (self.across, 190)):
            choice.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            choice.setMinimumWidth(least_px)
        for across, words in ACROSS_WORDS.items():
            self.across.addItem(words, across.value)
        self.knots.addItem("as drawn", None)
        for count in range(2, 6):
            self.knots.addItem(str(count), count)
        self.course.setPlaceholderText("strong, weak, level, buried, %")
        self.course.setToolTip(COURSE_TIP)
        for box in (self.least, self.most):
            box.setPlaceholderText("none")
            box.setToolTip(CONDITION_TIP)
        self.seed.setMaximumWidth(70)

    def _lay_out(self) -> None:
        names = (
            (self.kind, "Goal"), (self.quantity, "Quantity"), (self.course, "Course"), (self.across, "Evaluated"),
            (self.knots, "Knots"), (self.least, "At least"), (self.most, "At most"), (self.seed, "Seed"),
        )  # fmt: skip
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(8)
        places = {self.kind: (0, 0), self.quantity: (0, 2), self.course: (0, 2), self.across: (1, 0),
                  self.knots: (1, 2), self.seed: (1, 4), self.least: (2, 0), self.most: (2, 2)}  # fmt: skip
        for widget, name in names:
            widget.setAccessibleName(name)
            row, column = places[widget]
            if widget is not self.course:
                grid.addWidget(plain_label(name if widget is not self.quantity else ""), row, column)
            grid.addWidget(widget, row, column + 1)
        grid.addWidget(self.start, 0, 6)
        grid.addWidget(self.stop, 1, 6)
        for column, stretch in ((1, 3), (3, 4)):
            grid.setColumnStretch(column, stretch)

    def _show_kind(self) -> None:
        """A course has its own box, and is taken at its worst where there is an ore window."""
        course = self.kind.currentData() == COURSE
        self.course.setVisible(course)
        self.quantity.setVisible(not course)
        if course:
            self.across.setCurrentIndex(self.across.findData(Across.WORST.value))


def _conditions(text: str, at_least: bool) -> list[Condition]:
    """Raises ValueError, one sentence, for what is no condition."""
    found = []
    for part in filter(None, (p.strip() for p in text.replace(";", ",").split(","))):
        key, mark, value = part.partition("=")
        if not mark:
            raise ValueError(f"“{part}” is not a condition; write it as land_mm=5.")
        found.append(condition_on(key.strip(), at_least, read(value).value))
    return found
