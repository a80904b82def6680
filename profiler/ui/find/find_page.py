"""The page Find: one number; a wall curve searched for a stated goal, of whose candidates one is taken as a design."""

import threading
from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QProgressBar,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from profiler.assess import Evaluation
from profiler.explore.search.goal import CLAIM
from profiler.explore.search.kept import with_found
from profiler.explore.search.search import Asked, Found, best_of, search
from profiler.explore.search.tried import Tried
from profiler.numbers import as_printed
from profiler.output.terminal.find_text import answer, curve_words, remarks
from profiler.pictures.charts.search_picture import BEST, search_picture
from profiler.progress import Cancelled, Progress
from profiler.study import Design
from profiler.ui.document.document import Document
from profiler.ui.find.ask import AskPane
from profiler.ui.find.goal_form import GoalForm
from profiler.ui.pages.page import Page
from profiler.ui.widgets.canvas import Canvas
from profiler.ui.widgets.labels import bold, plain_label, unit_of
from profiler.ui.widgets.pointer import Pointing
from profiler.ui.widgets.theme import Theme
from profiler.ui.work.jobs import Jobs

KEY = "find"
ONE_PX = 236

UNSEARCHED = "Candidates appear here while it searches: choose a goal, then Search."


class FindPage(Page):
    """A newer search ends the older. What is found speaks of the design and the duties it was asked of."""

    def __init__(
        self, document: Document, jobs: Jobs, show_ghost: Callable[[Design], None], parent: QWidget | None = None
    ) -> None:
        super().__init__(document, parent)
        self.jobs, self._show_ghost = jobs, show_ghost
        self._ghost: Design | None = None  # as the strips last got it
        self.found: Found | None = None
        self._asked: Asked | None = None
        self._tried: list[Tried] = []  # the worker adds to it, the window reads it
        self._enough = threading.Event()
        self.one, self.form = AskPane(document, jobs), GoalForm()
        self.sentence, self.more = plain_label(), plain_label()
        self.progress, self.canvas = QProgressBar(), Canvas("Search", empty=UNSEARCHED)
        self.best, self.take = QTableWidget(0, 2), QPushButton("Add as a design")
        self._lay_out()
        self.form.searched.connect(self.search)
        self.form.stopped.connect(self._enough_found)
        self.best.currentCellChanged.connect(lambda *_: self._choose())
        self.take.clicked.connect(self._take_design)

    def key_parts(self) -> Sequence[QWidget]:
        return (self.one, self.form, self.best, self.take)

    def ask_about(self, now: Pointing) -> None:
        """One number, for the quantity, groove and height that are looked at on Shape."""
        self.one.about(now.quantity, now.groove, now.cursor_mm)
        self.one.value.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_theme(self, theme: Theme) -> None:
        super().show_theme(theme)
        self._draw()

    def show_evaluation(self, e: Evaluation) -> None:
        """What was found stays, and says of which design it speaks; a candidate can be taken into this study only."""
        self.take.setEnabled(self._chosen() is not None and self._still_there())
        self._draw()

    def search(self) -> None:
        """Ask the worker; candidates are shown as they come."""
        try:
            asked = self.form.asked(self.document)
            _ = asked.duties
        except ValueError as reason:
            self.sentence.setText(str(reason))
            return
        tried: list[Tried] = []
        enough = threading.Event()
        self._asked, self._tried, self._enough, self.found = asked, tried, enough, None
        self._ghost = None
        self.best.setRowCount(0)
        self.more.clear()
        self.sentence.setText(f"Searching: {asked.goal.words}…")
        self.progress.setValue(0)
        self.progress.show()
        self.form.show_running(True)

        def work(p: Progress) -> Found:
            def at(share: float) -> None:
                p.at(share)
                if enough.is_set():
                    raise Cancelled

            return search(asked, Progress(at), tried.append)

        self.jobs.ask(KEY, work, self._take, self._advance, self._fail)

    def _lay_out(self) -> None:
        claim = bold(plain_label(CLAIM))
        self.sentence.setWordWrap(True)
        self.sentence.setText("Choose a goal: none is set for you.")
        self.more.setWordWrap(True)
        self.more.setObjectName("muted")
        self.progress.setRange(0, 100)
        self.progress.setTextVisible(False)
        self.progress.setFixedHeight(4)
        self.progress.hide()
        self.best.setAccessibleName("Best candidates")
        self.best.setMaximumHeight(112)
        self.best.horizontalHeader().hide()
        self.best.horizontalHeader().setStretchLastSection(True)
        self.best.verticalHeader().hide()
        self.best.verticalHeader().setDefaultSectionSize(21)
        self.best.setShowGrid(False)
        self.best.setTabKeyNavigation(False)
        self.best.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.best.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.best.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.take.setEnabled(False)
        self.one.setFixedWidth(ONE_PX)
        whole = QHBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.one)
        column = QVBoxLayout()
        whole.addLayout(column, 1)
        column.setContentsMargins(10, 8, 10, 6)
        head = bold(plain_label("Find a wall curve"))
        for part in (head, claim, self.form, self.progress, self.sentence):
            column.addWidget(part)
        column.addWidget(self.canvas, 1)
        foot = QHBoxLayout()
        foot.addWidget(self.best, 1)
        foot.addWidget(self.take, 0, Qt.AlignmentFlag.AlignTop)
        column.addLayout(foot)
        column.addWidget(self.more)

    def _advance(self, share: float) -> None:
        self.progress.setValue(round(100 * share))
        self._draw()

    def _enough_found(self) -> None:
        self._enough.set()

    def _take(self, found: Found) -> None:
        self.found = found
        self._tried = list(found.tried)
        self._ended(as_printed(answer(found)))
        self.more.setText(as_printed("\n".join(remarks(found))))
        for tried in best_of(found.tried, BEST):
            self._add(as_printed(found.asked.goal.text(tried.value)), as_printed(curve_words(tried)))
        if self.best.rowCount():
            self.best.setCurrentCell(0, 0)
        self._draw()

    def _add(self, *texts: str) -> None:
        """A candidate: its number, which stands under the others', and its knots."""
        row, unit = self.best.rowCount(), unit_of(self)
        self.best.insertRow(row)
        for column, text in enumerate(texts):
            item = QTableWidgetItem(unit.told(text))
            side = Qt.AlignmentFlag.AlignLeft if column else Qt.AlignmentFlag.AlignRight
            item.setTextAlignment(side | Qt.AlignmentFlag.AlignVCenter)
            self.best.setItem(row, column, item)
        self.best.resizeColumnToContents(0)

    def _fail(self, sentence: str) -> None:
        self._ended(sentence)

    def _ended(self, sentence: str) -> None:
        self.sentence.setText(sentence)
        self.progress.hide()
        self.form.show_running(False)

    def _chosen(self) -> Tried | None:
        row = self.best.currentRow()
        best = [] if self.found is None else best_of(self.found.tried, BEST)
        return best[row] if 0 <= row < len(best) else None

    def _choose(self) -> None:
        self.take.setEnabled(self._chosen() is not None and self._still_there())
        self._draw()

    def _still_there(self) -> bool:
        """Whether the design that was searched from is in the study as it was."""
        return self.found is not None and self.found.asked.design in self.document.study.designs

    def _take_design(self) -> None:
        chosen = self._chosen()
        if self.found is not None and chosen is not None:
            self.document.edit(with_found(self.document.study, self.found, chosen), "Take what a search found")

    def _haunt(self, chosen: Tried | None) -> None:
        """The best so far, or the chosen one, as a ghost in the strips, so that it is seen beside the present wall."""
        if chosen is not None and chosen.design != self._ghost:
            self._ghost = chosen.design
            self._show_ghost(chosen.design)

    def _draw(self) -> None:
        asked, tried = self._asked, list(self._tried)
        if asked is None or not tried:
            return
        chosen = self._chosen() or next(iter(best_of(tried, 1)), None)
        self._haunt(chosen)
        self.canvas.show_picture(
            lambda w, h: search_picture(asked.goal, tried, chosen, w, h, unit_of(self)), self.theme
        )
