"""Tables of runs on their way into a trial: from a file, the clipboard or a paste, by way of the preview.

Files and large tables are read off the window's thread. The answers given are kept with the trial, and used for the
next file of the same headings; words for headings, where asked, go to the user's own list.
"""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QStackedWidget

from profiler.study import BowlFileError
from profiler.study.edits import trial_edits
from profiler.study.files.heading_words import FILE_NAME, add_word, read_words
from profiler.study.ledger.columns import COLUMNS
from profiler.study.ledger.headings import meanings_of
from profiler.study.ledger.reading import Preview
from profiler.study.ledger.size_tables import SizePreview, is_size_table
from profiler.study.ledger.table import Table
from profiler.study.ledger.table_files import read_table_file
from profiler.study.ledger.text_tables import read_table
from profiler.study.records.table_reading import TableReading
from profiler.ui.dialogs import dialogs
from profiler.ui.files import folders
from profiler.ui.trials.import_shown import Read, reader_of_runs, reader_of_sizes, shown
from profiler.ui.trials.trial_editor import TrialEditor
from profiler.ui.trials.trial_import_panel import ImportPanel
from profiler.ui.widgets.theme import LIGHT, Theme
from profiler.ui.work.jobs import Jobs

KEY = "import"
AT_ONCE = 5000  # cells read while one looks on; more are read beside the window
Seen = Preview | SizePreview
Source = Callable[[str], Table]  # the table on a sheet


class TrialImport:
    """Shows the preview in the ledger's place. `say` takes refusals, `done` is called when the ledger may return."""

    def __init__(
        self, stack: QStackedWidget, editor: TrialEditor, jobs: Jobs, say: Callable[[str], None],
        done: Callable[[], None],
    ) -> None:  # fmt: skip
        self.theme: Theme = LIGHT
        self.panel = ImportPanel()
        self.seen: Seen | None = None
        self._table: Table | None = None
        self._source: Source | None = None
        self._read: Read = reader_of_sizes
        self._stack, self._editor, self._jobs, self._say, self._done = stack, editor, jobs, say, done
        self.panel.accepted.connect(self._take)
        self.panel.answered.connect(self._answer)
        self.panel.given_up.connect(self._end)

    @property
    def under_way(self) -> bool:
        return self._stack.currentWidget() is self.panel

    def from_file(self) -> None:
        path = dialogs.ask_table(self._stack)
        if path is not None:
            self._from(lambda sheet: read_table_file(path, sheet))

    def from_text(self, text: str) -> None:
        """Show what a table would give: of runs, or of size classes."""
        try:
            table = read_table(text)
        except ValueError as reason:
            self._say(str(reason))
            return
        self._begin(table)

    def _from(self, source: Source) -> None:
        self._jobs.ask(KEY, lambda progress: source(""), lambda table: self._begin(table, source), failed=self._say)

    def _begin(self, table: Table, source: Source | None = None) -> None:
        try:
            of_sizes = is_size_table(table)
            trial = self._editor.trial
            taken = () if trial is None else tuple(run.run for run in trial.runs)
            self._read = reader_of_sizes if of_sizes else reader_of_runs(taken, self._words())
        except ValueError as reason:
            self._say(str(reason))
            return
        self._source = source
        self.panel.offer_trial(None if trial is None else trial.name)
        kept = TableReading() if trial is None or of_sizes else trial.reading
        self._look(table, kept)

    def _answer(self, reading: TableReading) -> None:
        """Read again with what was answered; another sheet is fetched first."""
        table, source = self._table, self._source
        if table is None:
            return
        if source is not None and reading.sheet and reading.sheet != table.sheet:
            sheet = reading.sheet
            self._jobs.ask(
                KEY, lambda progress: source(sheet), lambda found: self._look(found, reading), failed=self._say
            )
            return
        self._look(table, reading)

    def _look(self, table: Table, reading: TableReading) -> None:
        read = self._read
        if sum(map(len, table.rows)) > AT_ONCE:
            self._jobs.ask(
                KEY, lambda progress: read(table, reading), lambda seen: self._show(seen, table), failed=self._say
            )
            return
        try:
            self._show(read(table, reading), table)
        except ValueError as reason:
            self._say(str(reason))

    def _show(self, seen: Seen, table: Table) -> None:
        self.seen, self._table = seen, table
        self.panel.show_import(shown(seen), self.theme, isinstance(seen, Preview))
        self._stack.setCurrentWidget(self.panel)

    def _take(self) -> None:
        seen = self.seen
        if isinstance(seen, Preview):
            if self._editor.add_read(seen, self.panel.joins):
                self._remember(seen)
                self._end()
        elif seen is not None:
            sizes = seen.by_run
            if self._editor.edit(lambda trial: trial_edits.with_sizes(trial, sizes), "Import size classes"):
                self._end()

    def _end(self) -> None:
        self._table = self._source = self.seen = None
        self._jobs.cancel(KEY)
        self._done()

    def _words(self) -> dict[str, str]:
        """The user's own names for columns; a list that cannot be read is said, and does without."""
        try:
            return read_words(_list_of_words(), COLUMNS)
        except BowlFileError as reason:
            self._say(str(reason))
            return {}

    def _remember(self, seen: Preview) -> None:
        """Put the headings that were named by hand to the user's list, where that is asked for."""
        if self.panel.remember.isHidden() or not self.panel.remember.isChecked():
            return
        try:
            for answer in seen.reading.columns:
                known = {meant.column.key for meant in meanings_of(answer.heading)}
                if answer.meaning and answer.meaning not in known:
                    add_word(_list_of_words(), answer.heading, answer.meaning, COLUMNS)
        except BowlFileError as reason:
            self._say(str(reason))


def _list_of_words() -> Path:
    return folders.lists() / FILE_NAME
