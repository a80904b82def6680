"""The drawing page: what every output looks like, what can be said about it, and the ways out of the program.

What is written goes through `exporting`; what is on the sheets is decided in `output`.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QMimeData, QTimer
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QApplication, QWidget

from profiler.assess import Evaluation, Finding
from profiler.assess.cautions import of_output
from profiler.assess.findings.finding import not_checked_words, stops
from profiler.numbers import counted
from profiler.output import outputs
from profiler.output.drawings.profile_output import PART
from profiler.output.record.option import Held, Request
from profiler.output.record.output import Output, TableShown
from profiler.output.writing import Outcome, Target, all_targets, files_of, preview
from profiler.pictures.basics.display import Role
from profiler.pictures.basics.lengths import LengthUnit
from profiler.pictures.sheet.items import Sheet
from profiler.ui.dialogs import dialogs
from profiler.ui.document.document import Document
from profiler.ui.drawing.drawing_layout import DrawingLayout
from profiler.ui.drawing.exporting import Exporting, reason_of
from profiler.ui.drawing.output_form import OutputForm
from profiler.ui.pages.page import Page
from profiler.ui.widgets.theme import Theme
from profiler.ui.work.jobs import Jobs

KEY = "preview"
REST_MS = 120  # after the last news, so that the whole evaluation is there and a row of edits is drawn once
LATE_MS = 150  # after which another kind's preview is taken away, though the new one is not there yet
COPIED_DPI, COPIED_MOST_MM = 200.0, 450.0  # larger sheets are copied coarser


@dataclass(frozen=True, slots=True)
class Question:
    """What is to be shown."""

    kind: str
    evaluation: Evaluation
    request: Request

    def same(self, other: "Question | None") -> bool:
        return other is not None and self.evaluation is other.evaluation and (
            (self.kind, self.request) == (other.kind, other.request)
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Shown:
    """The answer: sheets or a table, and what was found on the way."""

    question: Question
    sheets: tuple[Sheet, ...] = ()
    table: TableShown | None = None
    findings: tuple[Finding, ...] = ()


class DrawingPage(Page):
    """Follows edits while it is in view; does nothing while it is not, nor during a gesture."""

    can_zoom = True

    def __init__(self, document: Document, jobs: Jobs, exporting: Exporting, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self.jobs, self.exporting = jobs, exporting
        self.shown: Shown | None = None
        self.number = 0  # of the sheet in view
        self._asked: Question | None = None
        self.forms = [OutputForm(output) for output in outputs.OUTPUTS]
        self.parts = DrawingLayout(self, self.forms)
        self._rest, self._late = _timer(self, REST_MS, self._look), _timer(self, LATE_MS, self.parts.show_waiting)
        self._wire()
        self._show_kind()

    @property
    def output(self) -> Output:
        return self.forms[self.parts.kinds.currentRow()].output

    def activated(self) -> None:
        self._show_values()
        self._look()

    def show_evaluation(self, e: Evaluation) -> None:
        self._wait()

    def key_parts(self) -> Sequence[QWidget]:
        return (self.parts.kinds, self.parts.forms, self.parts.write, self.parts.panes)

    def zoom(self, factor: float) -> None:
        self.parts.view.zoom(factor)

    def fit_again(self) -> None:
        self.parts.view.fit()

    def show_theme(self, theme: Theme) -> None:
        super().show_theme(theme)
        self.parts.view.show_theme(theme)
        self.parts.warning.setStyleSheet(f"color: {theme.roles[Role.STOP]};")

    def show_lengths(self, unit: LengthUnit) -> None:
        """What is seen and written is in the unit of the window."""
        self._wait()

    def open_kind(self, key: str) -> None:
        self.parts.kinds.setCurrentRow(next(i for i, form in enumerate(self.forms) if form.output.key == key))

    def turn(self, step: int) -> None:
        """To the next or the previous sheet."""
        if self.shown is not None and 0 <= self.number + step < len(self.shown.sheets):
            self.number += step
            self._show_sheet()

    # ways out

    def write_file(self) -> None:
        """Ask where to, and write what is shown."""
        question, output = self._question(), self.output
        if self.exporting.busy:
            return
        suggestion = self.exporting.suggestion(
            question.request[output.file_type], "" if output.bare_name else output.key
        )
        path = dialogs.ask_output(self, f"Write the {output.title.lower()}", suggestion, output.suffixes)
        if path is None:
            return
        try:
            sheets = len(self._answer(question).sheets)
        except ValueError as reason:
            dialogs.tell_error(self, "Not exported", str(reason))
            return
        if self.exporting.may_write(files_of(path, output.key, sheets)):
            self.exporting.start([Target(path, output.key, question.request)])
            self._show_busy()

    def write_all(self) -> None:
        """Ask for a folder, and write what shop, checker and spreadsheet want under one name."""
        question = self._question()
        if self.exporting.busy:
            return
        folder = dialogs.ask_folder(self, "Write all outputs into a folder", self.exporting.folder())
        if folder is None:
            return
        targets = all_targets(folder, self.exporting.stem(), question.request)
        if self.exporting.may_write([t.path for t in targets]):
            self.exporting.start(targets)
            self._show_busy()

    def print_shown(self) -> None:
        """Print all sheets of what is shown, by the system's dialog."""
        from profiler.ui.drawing import printing

        question = self._question()
        try:
            sheets = self._answer(question).sheets
            printer = printing.ask_printer(self, sheets, self._heading(question)) if sheets else None
            if printer is None:
                return
            shrink = printing.too_small(printer, sheets[0])
            if shrink and not self._may_shrink(printing.sheet_name(sheets[0]), printing.paper_name(printer)):
                return
            count = printing.print_sheets(printer, sheets, shrink)
        except ValueError as reason:
            dialogs.tell_error(self, "Not printed", str(reason))
            return
        size = "smaller than true, marked so" if shrink else "at true scale"
        self.document.say(f"{counted(count, 'page')} sent to the printer, {size}.{_unchecked(question)}")

    def copy_picture(self) -> None:
        """The sheet in view, for other programs."""
        from profiler.output.formats.sheet_svg import sheet_svg

        sheet = self.parts.view.sheet
        image = None
        if sheet is not None:
            image = self.parts.view.picture(COPIED_DPI * min(1.0, COPIED_MOST_MM / max(sheet.width, sheet.height)))
        if sheet is None or image is None:
            return
        data = QMimeData()
        data.setImageData(image)
        data.setData("image/svg+xml", sheet_svg(sheet).encode("utf-8"))
        QApplication.clipboard().setMimeData(data)
        self.document.say(f"Sheet copied as a picture, {image.width()} × {image.height()} pixels.")

    def copy_table(self) -> None:
        """The table in view, cells apart by tabs, for a spreadsheet."""
        table = self.parts.table.table
        QApplication.clipboard().setText(self.parts.table.text())
        self.document.say(f"Table copied, {counted(len(table.rows), 'row')}.")

    # inside

    def _wire(self) -> None:
        parts, document = self.parts, self.document
        parts.kinds.currentRowChanged.connect(lambda _: self._show_kind())
        for form in self.forms:
            form.changed.connect(self._keep)
            form.refused.connect(document.say)
        parts.back.clicked.connect(lambda: self.turn(-1))
        parts.on.clicked.connect(lambda: self.turn(1))
        parts.view.turned.connect(self.turn)
        parts.smaller.clicked.connect(lambda: parts.view.zoom(0.8))
        parts.larger.clicked.connect(lambda: parts.view.zoom(1.25))
        parts.fit.clicked.connect(parts.view.fit)
        parts.write.clicked.connect(self.write_file)
        parts.write_all.clicked.connect(self.write_all)
        parts.print.clicked.connect(self.print_shown)
        parts.copy_picture.clicked.connect(self.copy_picture)
        parts.copy_table.clicked.connect(self.copy_table)
        parts.cancel.clicked.connect(self.exporting.cancel)
        self.exporting.progressed.connect(self._show_progress)
        self.exporting.done.connect(self._list_written)
        for news in (document.gesture_changed, document.saved_changed):
            news.connect(self._wait)  # a method, no lambda: it ends with the page

    def showEvent(self, event: QShowEvent) -> None:
        self._wait()

    def _keep(self, key: str, value: Held) -> None:
        if value != self.exporting.memory.values[key]:
            self.exporting.memory.keep(key, value)
            self._show_values()
            self._look()

    def _show_kind(self) -> None:
        self.number = 0
        self.parts.show_kind(self.output, self.parts.kinds.currentRow())
        self._show_values()
        self._look()

    def _show_values(self) -> None:
        form = self.forms[self.parts.kinds.currentRow()]
        form.show_values(self.exporting.memory.values, form.output.hints(self.document.design))
        part = str(self.exporting.memory.values.get(PART.key, "")) if PART in form.output.options else ""
        self.parts.show_caution(" ".join(c.words for c in of_output(form.output.key, part)))

    def _wait(self, _: object = None) -> None:
        if self.isVisible() and not self.document.in_gesture:
            self._rest.start()

    def _question(self) -> Question:
        """What stands now."""
        self.document.flush()
        return Question(self.output.key, self.document.whole_evaluation, self.exporting.request())

    def _look(self) -> None:
        """Ask for the preview, if it could be another than the one that is shown or asked for."""
        if not self.isVisible() or self.document.in_gesture:
            return
        question = self._question()
        if question.same(self._asked):
            return
        if self._asked is None or question.evaluation.design is not self._asked.evaluation.design:
            self._show_values()
        if self.shown is None or self.shown.question.kind != question.kind:
            self._late.start()
        self._asked = question
        self.jobs.ask(KEY, lambda _: _answer(question), self._take, failed=self._fail)

    def _take(self, answer: Shown) -> None:
        self._late.stop()
        self.shown = answer
        self.number = min(self.number, max(len(answer.sheets) - 1, 0))
        self.parts.show_findings(answer.findings)
        self.parts.show_heading(self._heading(answer.question), _unchecked(answer.question).strip())
        if answer.table is not None:
            self.parts.show_table(answer.table)
        else:
            self._show_sheet()

    def _show_sheet(self) -> None:
        if self.shown is not None and self.shown.sheets:
            sheets = self.shown.sheets
            self.parts.show_sheet(sheets[self.number], self.output.leaf, self.number + 1, len(sheets))

    def _fail(self, sentence: str) -> None:
        self._late.stop()
        self.shown = self._asked = None
        self.jobs.cancel(KEY)
        self.parts.show_trouble(sentence[:1].upper() + sentence[1:])

    def _answer(self, question: Question) -> Shown:
        """Now: what is shown, where that is it."""
        return self.shown if self.shown is not None and question.same(self.shown.question) else _answer(question)

    def _heading(self, question: Question) -> str:
        e = question.evaluation
        return f"{self.output.title}: {e.design.name}, {e.duty.name}"

    def _may_shrink(self, sheet: str, paper: str) -> bool:
        if self.output.full_size_only:
            what = f"A {self.output.title.lower()} is printed at full size or not at all"
            words = f"{what}: its pages are {sheet}, the paper of the printer is {paper}."
            dialogs.tell_error(self, "Not printed", words)
            return False
        return dialogs.ask_shrink(self, sheet, paper)

    def _show_busy(self) -> None:
        self.parts.show_busy(self.exporting.busy)
        if self.exporting.busy:
            self.document.say("Writing…")

    def _show_progress(self, share: float) -> None:
        self.parts.progress.setValue(round(100.0 * share))

    def _list_written(self, outcome: Outcome) -> None:
        """How it ended; several files are listed in place of the preview, until another look is taken."""
        self._show_busy()
        if not self.isVisible() or len(outcome.made) + len(outcome.failed) < 2:
            return
        rows = [(made.path.name, made.words, " ".join(f.text for f in made.findings)) for made in outcome.made]
        rows += [(failure.path.name, "NOT WRITTEN", reason_of(failure)) for failure in outcome.failed]
        first = (outcome.made[0] if outcome.made else outcome.failed[0]).path.parent
        self.shown = self._asked = None
        self.parts.show_heading(f"Written in {first}", "")
        self.parts.show_table(TableShown(("File", "What it is", "Remarks"), tuple(rows)))


def _timer(page: QWidget, after_ms: int, do: Callable[[], object]) -> QTimer:
    timer = QTimer(page)
    timer.setSingleShot(True)
    timer.setInterval(after_ms)
    timer.timeout.connect(do)
    return timer


def _answer(question: Question) -> Shown:
    """Worked out beside the window. Raises ValueError where there is nothing to show."""
    e, request = question.evaluation, question.request
    shown, found = preview(question.kind, e, request), outputs.output(question.kind).findings(e, request)
    if isinstance(shown, TableShown):
        return Shown(question, table=shown, findings=found)
    return Shown(question, shown, findings=found)


def _unchecked(question: Question) -> str:
    """With a space before it, to go behind a sentence; empty without stop findings."""
    words = not_checked_words(stops(question.evaluation.findings))
    return f" {words}." if words else ""
