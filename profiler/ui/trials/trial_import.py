"""Tables of runs on their way into the trial in view: from a file, the clipboard or a paste, by way of the preview."""

from collections.abc import Callable

from PySide6.QtWidgets import QStackedWidget

from profiler.study import BowlFileError
from profiler.study.edits import trial_edits
from profiler.study.files.disk import read_whole
from profiler.study.ledger.reading import Preview, is_size_table, read_table, size_classes, text_of
from profiler.ui.dialogs import dialogs
from profiler.ui.trials.trial_editor import TrialEditor
from profiler.ui.trials.trial_import_panel import ImportPanel
from profiler.ui.widgets.theme import LIGHT, Theme


class TrialImport:
    """Shows the preview in the ledger's place. `say` takes refusals, `done` is called when the ledger may return."""

    def __init__(
        self, stack: QStackedWidget, editor: TrialEditor, say: Callable[[str], None], done: Callable[[], None]
    ) -> None:
        self.theme: Theme = LIGHT
        self.panel = ImportPanel()
        self._stack, self._editor, self._say, self._done = stack, editor, say, done
        self.panel.accepted.connect(self._take)
        self.panel.given_up.connect(done)

    @property
    def under_way(self) -> bool:
        return self._stack.currentWidget() is self.panel

    def from_file(self) -> None:
        path = dialogs.ask_table(self._stack)
        if path is None:
            return
        try:
            self.from_text(text_of(read_whole(path)[0], path.name))
        except BowlFileError as reason:
            self._say(str(reason))

    def from_text(self, text: str) -> None:
        """Show what a table of runs would give; size classes are taken at once."""
        try:
            table = read_table(text)
            if is_size_table(table):
                sizes = size_classes(table)
                self._editor.edit(lambda trial: trial_edits.with_sizes(trial, sizes), "Import size classes")
                return
        except ValueError as reason:
            self._say(str(reason))
            return
        trial = self._editor.trial
        taken = () if trial is None else tuple(run.run for run in trial.runs)
        self.panel.show_table(table, taken, self.theme)
        self._stack.setCurrentWidget(self.panel)

    def _take(self, seen: Preview) -> None:
        if self._editor.add_read(seen):
            self._done()
