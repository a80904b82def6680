"""Where the parts of the trials page stand: the bar above, ledger and panes side by side, pictures below."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLineEdit,
    QStackedWidget,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from profiler.ui.trials.pane_parts import plain_button
from profiler.ui.trials.plan_pane import PlanPane
from profiler.ui.trials.planner_pane import PlannerPane
from profiler.ui.trials.run_pane import RunPane
from profiler.ui.trials.trial_ledger import LedgerModel, LedgerView
from profiler.ui.trials.trial_menu import TrialMenu
from profiler.ui.trials.trial_pictures import TrialPictures
from profiler.ui.trials.trial_start import TrialStart
from profiler.ui.trials.verdict_pane import VerdictPane
from profiler.ui.trials.worth_pane import WorthPane
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.labels import marked_up, plain_label
from profiler.ui.widgets.splitter import Splitter

Steps = dict[str, Callable[[], object]]  # what each button says, and does


class TrialsLayout:
    """The widgets of one page by name; shows what it is told and decides nothing."""

    def __init__(self) -> None:
        self.names, self.counted, self.heading = ChoiceBox(), plain_label(), marked_up()
        self.menu, self.start = TrialMenu(self.names), TrialStart()
        self.reason = QLineEdit()
        self.model = LedgerModel()
        self.ledger = LedgerView(self.model)
        self.stack, self.tabs = QStackedWidget(), QTabWidget()
        self.verdict, self.plan, self.worth = VerdictPane(), PlanPane(), WorthPane()
        self.planner, self.run = PlannerPane(), RunPane()
        self.pictures = TrialPictures()

    def fill(self, page: QWidget, importing: QWidget, of_trial: Steps, of_runs: Steps) -> None:
        """Lay the page out; `importing` takes the ledger's place while a table is read."""
        self.heading.setWordWrap(True)
        self.heading.setAccessibleName("Verdict with its interval")
        self.stack.addWidget(self._ledger_part(of_runs))
        self.stack.addWidget(importing)
        self.stack.addWidget(self.start)
        self.tabs.setAccessibleName("Beside the ledger")
        panes = (
            (self.verdict, "Verdict"),
            (self.run, "Run"),
            (self.plan, "Rules"),
            (self.worth, "Value"),
        )
        for pane, words in (*panes, (self.planner, "How many pairs")):
            self.tabs.addTab(pane, words)
        self.tabs.setTabToolTip(self.tabs.indexOf(self.worth), "Errors of samples and assays, and what a gain is worth")
        upper = _split(Qt.Orientation.Horizontal, (self.stack, self.tabs), (760, 480), "trials/across")
        column = QVBoxLayout(page)
        column.setContentsMargins(10, 8, 10, 8)
        column.addLayout(self._bar(of_trial))
        column.addWidget(self.heading)
        column.addWidget(_split(Qt.Orientation.Vertical, (upper, self.pictures), (380, 240), "trials/down"), 1)

    def _bar(self, steps: Steps) -> QHBoxLayout:
        bar = QHBoxLayout()
        bar.addWidget(plain_label("Trial"))
        self.names.setAccessibleName("Trial in view")
        self.names.setMinimumWidth(220)
        bar.addWidget(self.names)
        bar.addWidget(self.menu)
        for words, do in steps.items():
            bar.addWidget(plain_button(words, do))
        bar.addStretch(1)
        self.counted.setObjectName("muted")
        bar.addWidget(self.pictures.along)
        bar.addWidget(self.counted)
        return bar

    def _ledger_part(self, steps: Steps) -> QWidget:
        part = QWidget()
        self.reason.setPlaceholderText("reason for leaving the chosen runs out")
        self.reason.setAccessibleName("Reason for leaving runs out")
        row = QHBoxLayout()
        row.addWidget(self.reason, 1)
        for words, do in steps.items():
            row.addWidget(plain_button(words, do))
        column = QVBoxLayout(part)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.ledger, 1)
        column.addLayout(row)
        return part


def _split(way: Qt.Orientation, parts: tuple[QWidget, QWidget], sizes: tuple[int, int], name: str) -> Splitter:
    splitter = Splitter(way)
    splitter.setObjectName(name)  # by which its shares are remembered
    for place, (part, stretch) in enumerate(zip(parts, (3, 2), strict=True)):
        splitter.addWidget(part)
        splitter.setStretchFactor(place, stretch)
    splitter.setSizes(list(sizes))
    return splitter
