"""The one place the window writes files for others from: what is refused, what is asked, what is said afterwards.

The quick export of the section writes at once; the Drawing page's files are written beside the window.
"""

import threading
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QSettings, QUrl, Signal
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QWidget

from profiler.assess.findings.finding import stops
from profiler.progress import Progress
from profiler.ui.dialogs import dialogs
from profiler.ui.dialogs.export_dialog import PROFILE, ExportChoice
from profiler.ui.document.document import Document
from profiler.ui.work.jobs import Jobs

if TYPE_CHECKING:
    from profiler.output.kinds.by_extension import ExportOptions
    from profiler.output.kinds.several import Failure, Outcome, Target
    from profiler.ui.drawing.output_memory import OutputMemory

KEY = "write"
LONGEST_STEM = 80
KEPT = "What was there before stays as it was."


class Exporting(QObject):
    """`written` once a file lies there, `done` when all that was asked for is over; `progressed` meanwhile."""

    written = Signal()
    progressed = Signal(float)
    done = Signal(object)  # Outcome

    def __init__(self, document: Document, settings: QSettings, parent: QWidget, folder: Callable[[str], Path]) -> None:
        super().__init__(parent)
        self.document = document
        self.parent_widget = parent
        self._settings = settings
        self._folder = folder
        self._last: Path | None = None
        self._memory: OutputMemory | None = None
        self._give_up: threading.Event | None = None

    @property
    def memory(self) -> "OutputMemory":
        """The options of every kind of output, as last set."""
        if self._memory is None:
            from profiler.ui.drawing.output_memory import OutputMemory

            self._memory = OutputMemory(self.document, self._settings)
        return self._memory

    @property
    def busy(self) -> bool:
        return self._give_up is not None

    # the quick export

    def ask(self, trouble: str) -> None:
        """Ask where to, and write; `trouble` says why there is no section, where there is none."""
        self.document.flush()
        evaluation = self.document.whole_evaluation
        if evaluation.shape is None:
            words = f"There is no closed section as the design stands. {trouble}"
            dialogs.tell_error(self.parent_widget, "No section to export", words)
            return
        full = bool(self._settings.value("export/full", False, type=bool))
        kind = str(self._settings.value("export/kind", PROFILE, type=str))
        proposed = ExportChoice(self.suggestion(".dxf"), full, kind)
        chosen = dialogs.ask_export(self.parent_widget, proposed, stops(evaluation.findings))
        if chosen is not None and self.may_write([chosen.path]):
            self.write(chosen.path, chosen.full, chosen.kind)

    def write(self, path: Path, full: bool, kind: str = PROFILE) -> None:
        """Write a DXF now: the bowl as it lies, or the drawing with the options of the Drawing page."""
        from profiler.output.kinds.by_extension import ExportOptions
        from profiler.output.kinds.several import Target, write_several

        if not self._is_free([path]):
            return
        try:
            options = ExportOptions(full=full) if kind == PROFILE else self.options()
        except ValueError as reason:
            self._fail(str(reason))
            return
        evaluation = self.document.whole_evaluation
        outcome = write_several([Target(path, kind, options)], evaluation)
        if outcome.made:
            self._settings.setValue("export/full", full)
            self._settings.setValue("export/kind", kind)
        self._finish(outcome, stops(evaluation.findings))

    # the files of the Drawing page

    def options(self) -> "ExportOptions":
        """As set on the Drawing page. Raises ValueError where they do not go together."""
        from profiler.ui.drawing.output_options import export_options

        return export_options(self.memory.values, self.document.name, self.document.study)

    def may_write(self, paths: Sequence[Path]) -> bool:
        """Whether none is the study, and those that are there already may be replaced."""
        if not self._is_free(paths):
            return False
        there = [path.name for path in paths if _is_there(path)]
        if not there:
            return True
        name = there[0] if len(there) == 1 else f"{len(there)} of {len(paths)} files ({', '.join(there)})"
        return dialogs.ask_replace(self.parent_widget, name, paths[0].parent)

    def start(self, targets: Sequence["Target"], jobs: Jobs) -> None:
        """Write them beside the window; `done` tells how it ended. One such at a time."""
        from profiler.output.kinds.several import write_several

        if self.busy or not self._is_free([t.path for t in targets]):
            return
        give_up = self._give_up = threading.Event()
        self.document.flush()
        evaluation = self.document.whole_evaluation
        count = stops(evaluation.findings)

        def finish(outcome: "Outcome") -> None:
            self._finish(outcome, count)

        def write(progress: Progress) -> "Outcome":
            return write_several(targets, evaluation, progress, give_up)

        jobs.ask(KEY, write, finish, self.progressed.emit, self._fail)

    def cancel(self) -> None:
        """Write no further page: what is being written then stays as it was."""
        if self._give_up is not None:
            self._give_up.set()

    def suggestion(self, suffix: str, word: str = "") -> Path:
        """Where a file may want to go: the folder of the last one, named after study and design."""
        return self.folder() / f"{self.stem()}{'-' if word else ''}{word}{suffix}"

    def folder(self) -> Path:
        path = self.document.path
        if path is not None and not self._settings.contains("export/folder"):
            return path.parent
        return self._folder("export/folder")

    def stem(self) -> str:
        place = self.document.path or self.document.suggested
        study = "" if place is None else _file_name(place.stem)
        design = _file_name(self.document.design.name)
        parts = [study, design] if study != design else [design]
        return "-".join(p for p in parts if p)[:LONGEST_STEM].rstrip("-") or "section"

    def show_in_folder(self) -> None:
        if self._last is not None:
            QDesktopServices.openUrl(QUrl.fromLocalFile(str(self._last.parent)))

    def _is_free(self, paths: Sequence[Path]) -> bool:
        """Whether none of them is the study itself, by whatever name; says so where one is."""
        for path in paths:
            if self._is_own(path):
                words = f"{path.name} is the study itself; choose another name."
                dialogs.tell_error(self.parent_widget, "Not exported", words)
                return False
        return True

    def _is_own(self, path: Path) -> bool:
        own = self.document.path
        if own is None:
            return False
        return path.resolve() == own.resolve() or (_is_there(path) and _is_there(own) and path.samefile(own))

    def _finish(self, outcome: "Outcome", stop_count: int) -> None:
        self._give_up = None
        if outcome.made:
            self._last = outcome.made[0].path
            self._settings.setValue("export/folder", str(self._last.parent))
        sentence = sentence_of(outcome, stop_count)
        if sentence:
            self.document.say(sentence)
        if outcome.failed:
            words = "\n".join(reason_of(failure) for failure in outcome.failed)
            dialogs.tell_error(self.parent_widget, "Not exported", words)
        if outcome.made:
            self.written.emit()
        self.done.emit(outcome)

    def _fail(self, sentence: str) -> None:
        from profiler.output.kinds.several import Outcome

        self._give_up = None
        dialogs.tell_error(self.parent_widget, "Not exported", sentence)
        self.done.emit(Outcome())


def sentence_of(outcome: "Outcome", stop_count: int) -> str:
    """What was written, what was found against it; empty where nothing was written or given up."""
    made, said = outcome.made, ""
    if len(made) == 1:
        said = f"{made[0].path.name} written: {made[0].words}."
    elif made:
        said = f"{len(made)} files written in {made[0].path.parent}."
    if outcome.given_up:
        said = f"{said} Given up: nothing more was written.".strip()
    if stop_count and made:
        said += f" NOT CHECKED: {stop_count} stop finding{'' if stop_count == 1 else 's'}."
    remarks = [f.text for m in made for f in m.findings]
    if len(made) > 1 and remarks:
        remarks = [f"{len(remarks)} remark{'' if len(remarks) == 1 else 's'} on making it."]
    return f"{said} {' '.join(remarks)}".strip()


def reason_of(failure: "Failure") -> str:
    """Why a file is not there, as a sentence that begins like one; and what became of an older one."""
    sentence = failure.sentence
    if not sentence.startswith(failure.path.name):
        sentence = f"{failure.path.name} is not written: {sentence}"
    return f"{sentence} {KEPT}" if _is_there(failure.path) else sentence


def targets_of(path: Path, kind: str, options: "ExportOptions", sheets: int) -> tuple[list["Target"], list[Path]]:
    """One target, and every file it will make: SVG and PNG hold a single sheet, further ones lie beside the first."""
    from profiler.output.kinds.several import Target

    alone = path.suffix.lower() in (".svg", ".png")
    beside = [path.with_name(f"{path.stem}-{n}{path.suffix}") for n in range(2, sheets + 1)] if alone else []
    return [Target(path, kind, options)], [path, *beside]


def all_targets(folder: Path, stem: str, options: "ExportOptions") -> list["Target"]:
    """What a shop, a checker and a spreadsheet want, under one name: outline, drawing, gauge, tables, report."""
    from profiler.output.kinds.several import Target
    from profiler.output.tables.tables_csv import CsvTable

    files = [("profile", "profile", ".dxf"), ("drawing", "drawing", ".pdf"), ("gauge", "gauge", ".pdf"),
             ("report", "report", ".pdf")]  # fmt: skip
    targets = [Target(folder / f"{stem}-{word}{suffix}", kind, options) for word, kind, suffix in files]
    tables = [Target(folder / f"{stem}-{t.value}.csv", "table", replace(options, table=t)) for t in CsvTable]
    return [*targets[:3], *tables, targets[3]]


def _is_there(path: Path) -> bool:
    """Whether it can be seen: a folder that may not be looked into is found out when it is written to."""
    try:
        return path.exists()
    except OSError:
        return False


def _file_name(text: str) -> str:
    return "".join(c if c.isalnum() or c in " -_" else "" for c in text).strip().replace(" ", "-").lower()
