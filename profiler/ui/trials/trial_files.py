"""The files the trials page writes: the ledger as a table, the protocol and a blank ledger of a planned trial."""

import secrets
from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QWidget

from profiler.study import BowlFileError
from profiler.study.files.file import write_whole
from profiler.study.records.trial import Trial
from profiler.ui.dialogs import ask_file
from profiler.ui.document.document import Document

Pair = tuple[str, str]


class TrialFiles:
    """Asks where to, writes, and says what came of it."""

    def __init__(self, parent: QWidget, document: Document) -> None:
        self._parent = parent
        self._document = document

    def ledger(self, trial: Trial) -> None:
        from profiler.output.tables.trial_csv import ledger_csv, sizes_csv

        def write(path: Path) -> None:
            write_whole(path, ledger_csv(trial).encode("utf-8"))
            if any(run.sizes for run in trial.runs):
                write_whole(path.with_name(f"{path.stem}-sizes.csv"), sizes_csv(trial).encode("utf-8"))

        self._write("Save the ledger", "ledger", "csv", write)

    def protocol(self, trial: Trial | None, designs: Pair, pairs: int) -> None:
        from profiler.output.trials.trial_protocol import protocol_html

        text = protocol_html(trial or Trial("Trial"), designs, pairs, secrets.randbelow(1_000_000))
        self._write("Save the protocol", "protocol", "html", lambda path: write_whole(path, text.encode("utf-8")))

    def blank(self, designs: Pair, pairs: int) -> None:
        from profiler.output.tables.trial_csv import blank_ledger_csv
        from profiler.statistics.trial.planner import chance_order

        text = blank_ledger_csv(designs, pairs, chance_order(pairs, secrets.randbelow(1_000_000)))
        self._write("Save a blank ledger", "ledger", "csv", lambda path: write_whole(path, text.encode("utf-8")))

    def _write(self, title: str, name: str, suffix: str, write: Callable[[Path], object]) -> None:
        path = ask_file.ask_file(self._parent, title, f"{name}.{suffix}", suffix)
        if path is None:
            return
        try:
            write(path)
        except BowlFileError as reason:
            self._document.say(str(reason))
            return
        self._document.say(f"{path.name} written.")
