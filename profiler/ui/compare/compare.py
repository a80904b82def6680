"""The comparison page: all designs of the study on its one machine under one duty, and over the ore window."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QFont
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QGridLayout,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QStackedWidget,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from profiler.assess import Evaluation
from profiler.explore.compare import Comparison, Over, View, compare
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.pictures.charts import comparison as pictures
from profiler.pictures.charts.comparison_table import MARK_MEANS, table, views
from profiler.study import BowlFileError, Study
from profiler.study.files.file import write_whole
from profiler.ui.dialogs.ask_file import ask_file
from profiler.ui.document.document import Document
from profiler.ui.pages.page import Page
from profiler.ui.shape.duty_bar import DutyBar
from profiler.ui.widgets.canvas import WORKING, Canvas
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.labels import plain_label
from profiler.ui.widgets.spoken import name_toggle
from profiler.ui.widgets.theme import Theme
from profiler.ui.work.jobs import Jobs

if TYPE_CHECKING:
    from profiler.ui.compare.lineage_pane import LineagePane
    from profiler.ui.compare.sure_pane import SurePane
    from profiler.ui.compare.worn_pane import WornPane

KEY = "compare"
HEAD_LINES = 3  # of a column: a name on two lines, and that it is the reference


class ComparePage(Page):
    """Asks for a comparison when it comes into view or the study changes while it is seen."""

    def __init__(
        self, document: Document, jobs: Jobs, sizes_wanted: Callable[[], None], parent: QWidget | None = None
    ) -> None:
        super().__init__(document, parent)
        self.jobs = jobs
        self.bar = DutyBar(document)
        self.bar.sizes_wanted.connect(sizes_wanted)
        self._lengths = MILLIMETRES
        self.comparison: Comparison | None = None
        self._asked: Study | None = None
        self.heading, self.remarks = _words("All the same"), _words("Remarks")
        self.remarks.setObjectName("muted")
        self.view, self.differences, self.by_area = ChoiceBox(), QCheckBox("Differences"), QCheckBox("By area")
        self.pictured = plain_label()
        self.pictured.setObjectName("muted")
        self.table = QTableWidget()
        self.sure_button, self.lineage_button, self.worn_button = (
            QPushButton("How sure"), QPushButton("Lineage"), QPushButton("Worn")
        )  # fmt: skip
        self.middle = QStackedWidget()
        self.sure: SurePane | None = None
        self.lineage: LineagePane | None = None
        self.worn: WornPane | None = None
        self.walls, self.shares, self.power = (
            Canvas(name, empty=WORKING) for name in ("Walls", "Shares of wall", "Overturn power")
        )
        self._lay_out()
        self.view.setAccessibleName("Duty or ore window compared")
        self.view.activated.connect(lambda _: self._show())
        self.differences.setToolTip("Every design but the reference shows its number less the reference's")
        self.differences.toggled.connect(lambda _: self._show())
        self.by_area.toggled.connect(lambda _: self._show())
        views = (
            (self.sure_button, "Bowls as they are cast, and which input matters, for the shown design and duty",
             self.show_sure),
            (self.lineage_button, "Made from which design, what changed, why, and what its trial said",
             self.show_lineage),
            (self.worn_button, "Measured profiles laid over their drawing, and the worn bowl beside the new one",
             self.show_worn),
        )  # fmt: skip
        for button, tip, show in views:
            button.setCheckable(True)
            button.setToolTip(tip)
            button.toggled.connect(show)
            name_toggle(button, f"{button.text()}, in place of the comparison", "Back to the comparison")

    @property
    def turning(self) -> tuple[QPushButton, ...]:
        """Each turns to a view in place of the comparison; one at a time."""
        return (self.lineage_button, self.sure_button, self.worn_button)

    def key_parts(self) -> Sequence[QWidget]:
        return (self.bar.design, self.view, *self.turning, self.middle)

    def show_lengths(self, unit: LengthUnit) -> None:
        """In the bar, the table, the charts and what is written."""
        self._lengths = unit
        if self.worn is not None:
            self.worn.tell_again()
        self._show_bar(self.document.evaluation)
        self._show()

    def show_theme(self, theme: Theme) -> None:
        super().show_theme(theme)
        for pane in (self.sure, self.worn):
            if pane is not None:
                pane.show_theme(theme)
        self._show()

    def show_sure(self, on: bool) -> None:
        """The view that says how sure the shown design is, in place of the comparison."""
        if on and self.sure is None:
            from profiler.ui.compare.sure_pane import SurePane

            self.sure = SurePane(self.document, self.jobs)
            self.sure.show_theme(self.theme)
            self.middle.addWidget(self.sure)
        self._turn_to(self.sure if on else None, self.sure_button)

    def show_lineage(self, on: bool) -> None:
        """The view that says where each design comes from, in place of the comparison."""
        if on and self.lineage is None:
            from profiler.ui.compare.lineage_pane import LineagePane

            self.lineage = LineagePane(self.document)
            self.middle.addWidget(self.lineage)
        self._turn_to(self.lineage if on else None, self.lineage_button)
        self._show()

    def show_worn(self, on: bool) -> None:
        """The view of measured and worn profiles, in place of the comparison."""
        if on and self.worn is None:
            from profiler.ui.compare.worn_pane import WornPane

            self.worn = WornPane(self.document, self.jobs)
            self.worn.show_theme(self.theme)
            self.middle.addWidget(self.worn)
        if on and self.worn is not None:
            self.worn.show_study()
        self._turn_to(self.worn if on else None, self.worn_button)

    def open_worn(self) -> None:
        self.worn_button.setChecked(True)

    def _turn_to(self, pane: QWidget | None, own: QPushButton) -> None:
        """Turning to one view lets the others' buttons go; letting the last go shows the comparison."""
        if pane is not None:
            for other in self.turning:
                if other is not own:
                    other.setChecked(False)
            self.middle.setCurrentWidget(pane)
        elif not any(button.isChecked() for button in self.turning):
            self.middle.setCurrentIndex(0)
        viewed = any(button.isChecked() for button in self.turning)
        for part in (self.view, self.differences, self.by_area):
            part.setEnabled(not viewed)

    def save_csv(self) -> None:
        if self.comparison is not None:
            from profiler.output.tables.comparison_csv import comparison_csv

            c = self.comparison
            self._write("csv", lambda path: write_whole(path, comparison_csv(c, self._lengths).encode("utf-8")))

    def save_pdf(self) -> None:
        if self.comparison is not None:
            from profiler.output.report.comparison_pdf import write_comparison

            c, view = self.comparison, self._view()
            self._write("pdf", lambda path: write_comparison(path, c, view, self._lengths))

    def _write(self, suffix: str, write: Callable[[Path], object]) -> None:
        path = ask_file(self, "Save the comparison", f"comparison.{suffix}", suffix)
        if path is None:
            return
        try:
            write(path)
        except BowlFileError as error:
            self.document.say(str(error))
            return
        self.document.say(f"{path.name} written.")

    def _lay_out(self) -> None:
        bar = QHBoxLayout()
        bar.addWidget(plain_label("Under"))
        bar.addWidget(self.view)
        bar.addWidget(self.differences)
        bar.addStretch(1)
        bar.addWidget(self.pictured)
        bar.addWidget(self.by_area)
        for turning in self.turning:
            turning.setObjectName("plain")
            bar.addWidget(turning)
        for words, do in (("PDF…", self.save_pdf), ("CSV…", self.save_csv)):
            button = QPushButton(words)
            button.setObjectName("plain")
            button.clicked.connect(do)
            bar.addWidget(button)
        self.view.setMinimumWidth(220)
        t = self.table
        t.setTabKeyNavigation(False)
        t.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        t.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        t.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        t.verticalHeader().hide()
        t.verticalHeader().setDefaultSectionSize(21)
        t.setAlternatingRowColors(True)
        t.setShowGrid(False)
        t.setAccessibleName("Numbers compared, a column per design")
        right = QGridLayout()
        right.setSpacing(6)
        right.addWidget(self.walls, 0, 0)
        right.addWidget(self.power, 0, 1)
        right.addWidget(self.shares, 1, 0, 1, 2)
        right.setRowStretch(0, 4)
        right.setRowStretch(1, 2)
        compared = QWidget()
        middle = QHBoxLayout(compared)
        middle.setContentsMargins(0, 0, 0, 0)
        middle.setSpacing(8)
        middle.addWidget(t, 5)
        middle.addLayout(right, 6)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self.bar)
        column = QVBoxLayout()
        column.setContentsMargins(10, 2, 10, 8)
        column.setSpacing(6)
        whole.addLayout(column, 1)
        for part in (self.heading, self.remarks):
            column.addWidget(part)
        column.addLayout(bar)
        self.middle.addWidget(compared)
        column.addWidget(self.middle, 1)

    def show_evaluation(self, e: Evaluation) -> None:
        """Ask anew, unless the very study was compared already."""
        study = self.document.study
        if self.isVisible():
            self._show_bar(e)
            if self.worn is not None and not self.document.in_gesture:
                self.worn.show_study()
        if not self.isVisible() or self.document.in_gesture or self._asked is study:
            return
        self._asked = study
        self.jobs.ask(KEY, lambda progress: compare(study, progress=progress), self._take, failed=self.document.say)

    def _show_bar(self, e: Evaluation) -> None:
        self.bar.show_study(self.document.study)
        self.bar.show_evaluation(e, self._lengths)

    def _take(self, comparison: Comparison) -> None:
        self.comparison = comparison
        known, now = views(comparison), self.view.currentText()
        self.view.clear()
        for words, view in known:
            self.view.addItem(words, view)
        self.view.setCurrentIndex(max(self.view.findText(now), 0))
        self._show()

    def _view(self) -> View:
        view = self.view.currentData()
        return view if isinstance(view, View) else View()

    def _show(self) -> None:
        c, view = self.comparison, self._view()
        if c is None:
            return
        if self.lineage is not None:
            self.lineage.show_lineages(c.lineages)
        self.heading.setText("\n".join(c.conditions(view)))
        self.remarks.setText("  ".join(c.remarks))
        self.remarks.setVisible(bool(c.remarks))
        self._fill(c, view)
        duty = view.duty if view.over is Over.DUTY else 0
        shown = tuple(pictures.Shown(s.design.name, s.under(duty), i) for i, s in enumerate(c.results))
        self.pictured.setText(f"Charts for duty: {c.duties[duty].name}")
        by_area = self.by_area.isChecked()
        self.walls.show_picture(lambda w, h: pictures.wall_overlay(shown, w, h, self._lengths), self.theme)
        self.power.show_picture(lambda w, h: pictures.power_curves(shown, w, h, self._lengths), self.theme)
        self.shares.show_picture(lambda w, h: pictures.share_bars(shown, by_area, w, h), self.theme)

    def _fill(self, c: Comparison, view: View) -> None:
        lines = table(c, view, self.differences.isChecked())
        heads = [f"{s.design.name}\n(reference)" if s is c.reference else s.design.name for s in c.results]
        self.table.setColumnCount(len(heads) + 1)
        self.table.setHorizontalHeaderLabels(["", *heads])
        self.table.setRowCount(len(lines))
        for r, line in enumerate(lines):
            self._put(r, 0, line.head, False)
            for k, cell in enumerate(line.cells, 1):
                self._put(r, k, self._lengths.told(cell.marked), cell.better)
        header = self.table.horizontalHeader()
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignCenter | Qt.AlignmentFlag(Qt.TextFlag.TextWordWrap.value))
        header.setMinimumHeight(HEAD_LINES * header.fontMetrics().lineSpacing() + 6)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.ResizeToContents)

    def _put(self, row: int, column: int, text: str, better: bool) -> None:
        item = QTableWidgetItem(text)
        if column:
            item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        font = QFont(self.table.font())
        font.setBold(better)
        item.setFont(font)
        if better:
            item.setToolTip(MARK_MEANS.capitalize())
        self.table.setItem(row, column, item)


def _words(name: str) -> QLabel:
    label = plain_label()
    label.setWordWrap(True)
    label.setAccessibleName(name)
    return label
