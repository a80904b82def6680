"""The one place the window writes files for others from: what is refused, what is asked, what is said afterwards.

Files are written beside the window, one request at a time.
"""

import threading
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QUrl, Signal
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QWidget

from profiler.assess.findings.finding import not_checked_words, stops
from profiler.numbers import counted
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.progress import Progress
from profiler.ui.dialogs import dialogs
from profiler.ui.document.document import Document
from profiler.ui.files.settings import EXPORT, EXPORT_FOLDER, EXPORT_KIND, Settings
from profiler.ui.work.jobs import Jobs

if TYPE_CHECKING:
    from profiler.output.record.option import Request
    from profiler.output.writing import Failure, Outcome, Target
    from profiler.ui.drawing.output_memory import OutputMemory

KEY = "write"
SHOPS = ".dxf"  # the type that is proposed where it can be
LONGEST_STEM = 80
KEPT = "What was there before stays as it was."


class Exporting(QObject):
    """`written` once a file lies there, `done` when all that was asked for is over; `progressed` meanwhile."""

    written = Signal()
    progressed = Signal(float)
    done = Signal(object)  # Outcome

    def __init__(self, document: Document, settings: Settings, parent: QWidget, jobs: Jobs) -> None:
        super().__init__(parent)
        self.document = document
        self.parent_widget = parent
        self._settings = settings
        self._jobs = jobs
        self.lengths: LengthUnit = MILLIMETRES
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

    # the export dialog

    def ask(self, trouble: str) -> None:
        """Ask what and where to, and write; `trouble` says why there is no section, where there is none."""
        from profiler.output import outputs
        from profiler.ui.dialogs.export_dialog import ExportChoice

        if self.busy:
            self.document.say("Files are still being written.")
            return
        self.document.flush()
        evaluation = self.document.whole_evaluation
        if evaluation.shape is None:
            words = f"There is no closed section as the design stands. {trouble}"
            dialogs.tell_error(self.parent_widget, "No section to export", words)
            return
        known = {o.key: o for o in outputs.OUTPUTS}
        kind = known.get(self._settings.get(EXPORT_KIND), outputs.output(EXPORT_KIND.default))
        values = {o.key: self._settings.get(EXPORT.of(o.key)) for output in outputs.OUTPUTS for o in output.at_once}
        suffix = SHOPS if SHOPS in kind.suffixes else kind.suffixes[0]
        proposed = ExportChoice(self.suggestion(suffix), kind.key, values)
        chosen = dialogs.ask_export(self.parent_widget, proposed, stops(evaluation.findings))
        if chosen is not None and self.may_write([chosen.path]):
            self.write(chosen.path, chosen.kind, chosen.values)

    def write(self, path: Path, kind: str = EXPORT_KIND.default, values: Mapping[str, str] | None = None) -> None:
        """Write one output: by what the dialog has asked, else with the options of the Drawing page."""
        from profiler.output import outputs
        from profiler.output.record.option import Request
        from profiler.output.writing import Target

        own = {option.key: (values or {}).get(option.key, option.usual) for option in outputs.output(kind).at_once}
        for key, value in own.items():
            self._settings.put(EXPORT.of(key), value)
        self._settings.put(EXPORT_KIND, kind)
        request = Request(own, self.document.name, self.document.study, lengths=self.lengths) if own else self.request()
        self.start([Target(path, kind, request)])

    # the files of the Drawing page

    def request(self) -> "Request":
        """What is set on the Drawing page."""
        from profiler.output.record.option import Request

        return Request(self.memory.values, self.document.name, self.document.study, lengths=self.lengths)

    def may_write(self, paths: Sequence[Path]) -> bool:
        """Whether none is the study, and those that are there already may be replaced."""
        if not self._is_free(paths):
            return False
        there = [path.name for path in paths if _is_there(path)]
        if not there:
            return True
        name = there[0] if len(there) == 1 else f"{len(there)} of {len(paths)} files ({', '.join(there)})"
        return dialogs.ask_replace(self.parent_widget, name, paths[0].parent)

    def start(self, targets: Sequence["Target"]) -> None:
        """Write them beside the window; `done` tells how it ended. One such at a time."""
        from profiler.output.writing import write_several

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

        self._jobs.ask(KEY, write, finish, self.progressed.emit, self._fail)

    def cancel(self) -> None:
        """Write no further page: what is being written then stays as it was."""
        if self._give_up is not None:
            self._give_up.set()

    def suggestion(self, suffix: str, word: str = "") -> Path:
        """Where a file may want to go: the folder of the last one, named after study and design."""
        return self.folder() / f"{self.stem()}{'-' if word else ''}{word}{suffix}"

    def folder(self) -> Path:
        path = self.document.path
        if path is not None and not self._settings.has(EXPORT_FOLDER):
            return path.parent
        return self._settings.folder(EXPORT_FOLDER)

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
            self._settings.put(EXPORT_FOLDER, str(self._last.parent))
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
        from profiler.output.writing import Outcome

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
        said = f"{said} Cancelled: nothing more was written.".strip()
    if stop_count and made:
        said += f" {not_checked_words(stop_count)}."
    remarks = [f.text for m in made for f in m.findings]
    if len(made) > 1 and remarks:
        remarks = [f"{counted(len(remarks), 'remark')} on making it."]
    return f"{said} {' '.join(remarks)}".strip()


def reason_of(failure: "Failure") -> str:
    """Why a file is not there, as a sentence that begins like one; and what became of an older one."""
    sentence = failure.sentence
    if not sentence.startswith(failure.path.name):
        sentence = f"{failure.path.name} is not written: {sentence}"
    return f"{sentence} {KEPT}" if _is_there(failure.path) else sentence


def _is_there(path: Path) -> bool:
    """Whether it can be seen: a folder that may not be looked into is found out when it is written to."""
    try:
        return path.exists()
    except OSError:
        return False


def _file_name(text: str) -> str:
    return "".join(c if c.isalnum() or c in " -_" else "" for c in text).strip().replace(" ", "-").lower()
