"""Where the parts of the page Eddy stand: bar of what is tried, magnified groove, curves, figures, what is left out."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QProgressBar,
    QPushButton,
    QStackedWidget,
    QTabBar,
    QVBoxLayout,
    QWidget,
)

from profiler.assess.eddy.answers import STANDING
from profiler.explore.eddy_what_if import ALONGS
from profiler.pictures.charts.eddy_charts import EDDY_CHARTS
from profiler.study import Field, NumberField
from profiler.study.records.design import KNOT_ANGLE
from profiler.study.records.duty import D50, SOLIDS, SPEED, WATER
from profiler.ui.eddy.groove_canvas import GrooveCanvas
from profiler.ui.eddy.lesson_list import LessonList
from profiler.ui.eddy.why_pane import WhyPane
from profiler.ui.forms.bar_number import trial_number
from profiler.ui.widgets.canvas import WORKING, Canvas
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.labels import plain_label
from profiler.ui.widgets.number_box import NumberBox
from profiler.ui.widgets.spoken import name_toggle
from profiler.ui.widgets.table_view import TableView

RUNNING: tuple[NumberField, ...] = (SOLIDS, D50, SPEED, WATER)
FILL: Field[float] = Field(
    "fill", "Bed", "% full", 0.0, 95.0, 5.0, 0,
    "How full the groove is of a bed at rest, by depth: 0 empty, 100 level with the mouth.",
)  # fmt: skip
WIDTH_PX = 48
TABS = ("Curves", "Figures", "Why it overturns", "Lessons")
BACK, USE_ANGLE, USE_NUMBERS = "Back to the study", "Use this angle", "Use these numbers"


class EddyParts:
    """The widgets, laid out in a page; nothing here knows what they show."""

    def __init__(self, page: QWidget, above: QWidget) -> None:
        self.groove = ChoiceBox()
        self.groove.setAccessibleName("Groove looked into")
        self.groove.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)  # it is filled after it is shown
        self.boxes: dict[NumberField, NumberBox] = {}
        self.use_angle, self.use_numbers, self.back = (
            QPushButton(USE_ANGLE),
            QPushButton(USE_NUMBERS),
            QPushButton(BACK),
        )
        self.canvas = GrooveCanvas()
        self.against = ChoiceBox(of_lengths=True)
        self.against.setAccessibleName("Curves against")
        for along in ALONGS:
            self.against.addItem(f"against {along.title}")
        self.charts = tuple(Canvas(f"{chart.title} along one number", empty=WORKING) for chart in EDDY_CHARTS)
        self.figures = TableView("Figures of the eddy")
        self.why, self.lessons = WhyPane(), LessonList()
        self.tabs, self.stack = QTabBar(), QStackedWidget()
        self.words, self.doubt, self.left_out = plain_label(), plain_label(STANDING), plain_label()
        self.more = QPushButton("What is left out")
        self.progress = QProgressBar()
        whole = QVBoxLayout(page)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(above)
        column = QVBoxLayout()
        whole.addLayout(column, 1)
        column.setContentsMargins(10, 2, 10, 6)
        column.setSpacing(5)
        column.addLayout(self._bar())
        column.addWidget(self.progress)
        body = QHBoxLayout()
        body.setSpacing(10)
        body.addLayout(self._shown(), 11)
        body.addLayout(self._beside(), 10)
        column.addLayout(body, 1)
        column.addLayout(self._foot())
        column.addWidget(self.left_out)

    def _bar(self) -> QHBoxLayout:
        bar = QHBoxLayout()
        bar.setSpacing(9)
        bar.addWidget(self.groove)
        for field in (KNOT_ANGLE, *RUNNING, FILL):
            whole, self.boxes[field] = trial_number(field, WIDTH_PX, "%" if field is SOLIDS else "")
            bar.addWidget(whole)
        bar.addStretch(1)
        self.progress.setRange(0, 0)
        self.progress.setTextVisible(False)
        self.progress.setFixedHeight(3)
        kept = self.progress.sizePolicy()
        kept.setRetainSizeWhenHidden(True)  # nothing moves when it comes and goes
        self.progress.setSizePolicy(kept)
        return bar

    def _shown(self) -> QVBoxLayout:
        """The groove, and under it what becomes of the trial."""
        buttons = QHBoxLayout()
        buttons.setSpacing(8)
        for button in (self.use_angle, self.use_numbers, self.back):
            buttons.addWidget(button)
        buttons.addStretch(1)
        column = QVBoxLayout()
        column.setSpacing(4)
        column.addWidget(self.canvas, 1)
        column.addLayout(buttons)
        return column

    def _beside(self) -> QVBoxLayout:
        for word in TABS:
            self.tabs.addTab(word)
        self.tabs.setExpanding(False)
        self.tabs.setDrawBase(False)
        self.tabs.setAccessibleName("Beside the groove")
        curves = QWidget()
        grid = QGridLayout(curves)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(4)
        grid.addWidget(self.against, 0, 0, 1, 2, Qt.AlignmentFlag.AlignLeft)
        for place, chart in enumerate(self.charts):
            grid.addWidget(chart, 1 + place // 2, place % 2)
        for row in (1, 2):
            grid.setRowStretch(row, 1)
        for part in (curves, self.figures, self.why, self.lessons):
            self.stack.addWidget(part)
        self.tabs.currentChanged.connect(self.stack.setCurrentIndex)
        column = QVBoxLayout()
        column.setSpacing(4)
        column.addWidget(self.tabs)
        column.addWidget(self.stack, 1)
        return column

    def _foot(self) -> QHBoxLayout:
        foot = QHBoxLayout()
        foot.setSpacing(10)
        texts = QVBoxLayout()
        texts.setSpacing(2)
        for label in (self.words, self.doubt, self.left_out):
            label.setWordWrap(True)
        self.doubt.setObjectName("muted")
        self.words.setMinimumHeight(32)
        self.words.setAlignment(Qt.AlignmentFlag.AlignTop)
        texts.addWidget(self.words)
        texts.addWidget(self.doubt)
        foot.addLayout(texts, 1)
        self.more.setCheckable(True)
        name_toggle(self.more, "What is left out: show it", "What is left out: hide it")
        self.more.toggled.connect(self.left_out.setVisible)
        self.left_out.hide()
        foot.addWidget(self.more, 0, Qt.AlignmentFlag.AlignTop)
        return foot
