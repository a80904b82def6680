"""The document: the study being worked on, its evaluation, undo, and its file. Views propose edits; it decides.

An edit is a whole new Study. One gesture (a drag, a scrub) is one undo step; undo puts the whole value back. What is
shown (design, duty) is kept in the file but is neither an undo step nor a change. Which questions to ask when a file
was changed by somebody else is not decided here: see `filing`.
"""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from msgspec.structs import replace
from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QUndoCommand, QUndoStack

from profiler.assess import Evaluation, StageCache, Stages, evaluate
from profiler.assess.shape.held_ends import changed
from profiler.numbers import as_printed
from profiler.study import Design, Duty, Field, Machine, Study, write_study
from profiler.study.edits import design_edits as edits
from profiler.study.files.disk import Stamp, shown_name
from profiler.study.files.file import read_stamped
from profiler.ui.files.watch import Outside, news_of, stamp_of

MOST_STEPS = 500  # undo steps kept: a day's work can be walked back, and memory stops growing
REST_MS = 80  # after the last input, before the stages out of sight follow

T = TypeVar("T")


class Document(QObject):
    """Signals carry whole values."""

    evaluated = Signal(object)  # Evaluation, after every change
    saved_changed = Signal(object)  # Document: path or whether it differs from its file
    announced = Signal(str)  # one sentence for the designer
    gesture_changed = Signal(bool)  # whether something is being dragged: long work stands still then

    def __init__(self, study: Study, path: Path | None = None, example: bool = False) -> None:
        super().__init__()
        self.example = example  # one that came with the program, until it is saved as somebody's own
        self._study = study
        self._saved: Study | None = study  # as its file holds it; None where no file does
        self.path = path
        self.suggested: Path | None = None  # where a study without a file may want to go
        self._stamp = None if path is None else stamp_of(path)
        self.undo_stack = QUndoStack(self)
        self.undo_stack.setUndoLimit(MOST_STEPS)
        self._cache = StageCache()
        self._evaluation: Evaluation | None = None
        self._gesture: tuple[str, Study] | None = None
        self._aside: _Aside | None = None
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._publish)
        self._complete = False
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self._publish_whole)
        QTimer.singleShot(0, self._rest, self._rest.start)  # once the event loop turns: the first paint comes first

    @property
    def study(self) -> Study:
        return self._study

    @property
    def own_study(self) -> Study:
        """The designer's own study, also while another is visited: what files and recovery copies hold."""
        return self._study if self._aside is None else self._aside.study

    @property
    def visiting(self) -> bool:
        """Whether another study is shown while the designer's own is set aside."""
        return self._aside is not None

    @property
    def design(self) -> Design:
        return self._study.design

    @property
    def duty(self) -> Duty:
        return self._study.duty

    @property
    def evaluation(self) -> Evaluation:
        """Of the study as it stands, worked out when asked for: what is in sight, or all 80 ms after the last input."""
        if self._evaluation is None:
            self._evaluation = self._evaluate(Stages.QUICK)
        return self._evaluation

    @property
    def whole_evaluation(self) -> Evaluation:
        """With every stage: what files and drawings are made from."""
        if self._evaluation is None or not self._complete:
            self._evaluation = self._evaluate(Stages.ALL)
            self._complete = True
        return self._evaluation

    @property
    def complete(self) -> bool:
        """Whether the evaluation has every stage already."""
        return self._complete

    @property
    def modified(self) -> bool:
        saved = self._saved
        return saved is None or replace(self.own_study, shown=saved.shown) != saved

    @property
    def name(self) -> str:
        place = self.path or self.suggested
        return shown_name(place) if place is not None else "untitled.bowl"

    @property
    def title(self) -> str:
        """What the window is called after: the file, or that an invented example is shown."""
        return "example (invented)" if self.example and self.path is None else self.name

    @property
    def pending(self) -> bool:
        """Whether an evaluation is about to be published."""
        return self._timer.isActive()

    @property
    def in_gesture(self) -> bool:
        return self._gesture is not None

    def edit(self, study: Study, name: str) -> None:
        """One edit, one undo step. An edit that changes nothing leaves no step."""
        if self._gesture is not None:
            self._set(study)
            return
        before = self._study
        if study != before:
            self.undo_stack.push(_Swap(self, before, study, name))

    def attempt(self, edit: Callable[[Study], Study], name: str) -> bool:
        """One edit that may be refused (ValueError, a sentence): then why is said, nothing changes, and it is False."""
        try:
            study = edit(self._study)
        except ValueError as refusal:
            self.say(str(refusal))
            return False
        self.edit(study, name)
        return True

    def change(self, field: Field[T], value: T, name: str = "") -> bool:
        """Set one number or choice of the study; the undo step is called as the field says, or by this name."""
        return self.attempt(lambda study: changed(study, field, value), name or field.undo_words)

    def edit_design(self, design: Design, name: str) -> None:
        self.edit(edits.with_design(self._study, design), name)

    def edit_duty(self, duty: Duty, name: str) -> None:
        self.edit(edits.with_duty(self._study, duty), name)

    def edit_machine(self, machine: Machine, name: str) -> None:
        self.edit(edits.with_machine(self._study, machine), name)

    def begin(self, name: str) -> None:
        """Start a gesture: edits until `commit` are one undo step."""
        if self._gesture is None:
            self._gesture = (name, self._study)
            self.gesture_changed.emit(True)

    def commit(self) -> None:
        if self._gesture is None:
            return
        (name, before), self._gesture = self._gesture, None
        self.gesture_changed.emit(False)
        self._rest.start()
        after = self._study
        if after != before:
            self.undo_stack.push(_Swap(self, before, after, name))

    def cancel(self) -> None:
        """End a gesture as if it had not been."""
        if self._gesture is not None:
            (_, before), self._gesture = self._gesture, None
            self.gesture_changed.emit(False)
            self._set(before)

    def show_design(self, name: str) -> None:
        self._show(design=name)

    def show_duty(self, name: str) -> None:
        self._show(duty=name)

    def load(self, path: Path) -> tuple[str, ...]:
        """Take the study of a file, and hand on what to tell of it. Raises BowlFileError; the present study stays."""
        study, stamp, notes = read_stamped(path)
        self.adopt(study, path, stamp=stamp)
        return notes

    def adopt(
        self,
        study: Study,
        path: Path | None = None,
        suggested: Path | None = None,
        stamp: Stamp | None = None,
        example: bool = False,
    ) -> None:
        """Start over with another study. `suggested` is where one without a file may want to be saved."""
        if self._gesture is not None:
            self._gesture = None
            self.gesture_changed.emit(False)
        self._aside = None
        self.undo_stack.clear()
        self.path, self.suggested, self.example = path, suggested, example
        self._stamp = stamp_of(path) if stamp is None and path is not None else stamp
        self._saved = study
        self._cache = StageCache()
        self._set(study)
        self.saved_changed.emit(self)

    def recover(self, study: Study, suggested: Path | None) -> None:
        """Start over with a study that was never saved: it counts as changed, and has no file until it is saved."""
        self.adopt(study, None, suggested)
        self.part_from_file()

    def save(self, path: Path) -> None:
        """Write the study. Raises BowlFileError; nothing is then changed."""
        self.commit()
        self.come_back()
        self._stamp = write_study(self._study, path)
        self.path, self.suggested = path, None
        self._saved = self._study
        self.undo_stack.setClean()
        self.saved_changed.emit(self)

    def write_copy(self, path: Path) -> None:
        """Write the study elsewhere; the document stays with its file. Raises BowlFileError."""
        write_study(self.own_study, path)

    # what others do to the file

    def outside(self, closely: bool = False) -> Outside:
        """What became of the file since it was read or written here; `closely`: by what it holds, not by its time."""
        if self.path is None or self._stamp is None:
            return Outside.SAME
        news, stamp = news_of(self.path, self._stamp, closely)
        if news is Outside.SAME and stamp is not None:
            self._stamp = stamp
        return news

    def part_from_file(self) -> None:
        """The file does not hold what is worked on, whatever it held before: there is something to save."""
        self._saved = None
        self.saved_changed.emit(self)

    def load_again(self) -> None:
        """Show what the file holds now, as one undo step: nothing made here is lost. Raises BowlFileError."""
        assert self.path is not None
        study, stamp, _ = read_stamped(self.path)
        self.commit()
        self.come_back()
        self.edit(study, "Load the file from disk")
        self._saved, self._stamp = study, stamp
        self.saved_changed.emit(self)

    @property
    def last_step(self) -> tuple[str, Study] | None:
        """The step that undo would take back, by its words, and the study before it."""
        index = self.undo_stack.index()
        step = self.undo_stack.command(index - 1) if index > 0 else None
        return (step.text(), step.before) if isinstance(step, _Swap) else None

    # another study for a while

    def visit(self, study: Study) -> None:
        """Show another study with an undo of its own; the designer's waits with its file, changes and undo steps."""
        self.commit()
        if self._aside is None:
            stack = self.undo_stack
            steps = tuple(s for s in (stack.command(i) for i in range(stack.count())) if isinstance(s, _Swap))
            values = tuple((s.text(), s.before, s.after) for s in steps)
            self._aside = _Aside(self._study, values, stack.index(), stack.cleanIndex())
        self.undo_stack.clear()
        self._set(study)

    def come_back(self) -> None:
        """Put everything back as it was before the visit; without a visit nothing happens."""
        self.commit()
        aside, self._aside = self._aside, None
        if aside is None:
            return
        stack = self.undo_stack
        stack.clear()
        for words, before, after in aside.steps:
            stack.push(_Swap(self, before, after, words))
        stack.setIndex(aside.index)
        if aside.clean < 0:
            stack.resetClean()
        else:
            stack.setIndex(aside.clean)
            stack.setClean()
            stack.setIndex(aside.index)
        self._set(aside.study)

    def say(self, sentence: str) -> None:
        """Announce a sentence; what waits to be published comes before it, not over it."""
        self.flush()
        self.announced.emit(as_printed(sentence))

    def flush(self) -> None:
        """Publish at once what waits for the next turn of the event loop."""
        if self._timer.isActive():
            self._timer.stop()
            self._publish()
        if self._rest.isActive():
            self._rest.stop()
            self._publish_whole()

    def _set(self, study: Study) -> None:
        self._study = study
        self._evaluation = None
        self._complete = False
        self._timer.start()
        self._rest.start()

    def _show(self, **names: str) -> None:
        self.commit()
        self._set(replace(self._study, shown=replace(self._study.shown, **names)))

    def _evaluate(self, want: Stages) -> Evaluation:
        study = self._study
        return evaluate(study.design, study.machine, study.duty, want, self._cache)

    def _publish_whole(self) -> None:
        """Everything, a moment after the last change: 80 ms are not noticed, and a drag is not slowed."""
        if self._gesture is not None:
            self.evaluated.emit(self.evaluation)  # no move for 80 ms: words and numbers catch up with the pictures
        elif not self._complete:
            self.evaluated.emit(self.whole_evaluation)

    def _publish(self) -> None:
        self.evaluated.emit(self.evaluation)
        if self._gesture is None:
            self.saved_changed.emit(self)


@dataclass(frozen=True, slots=True)
class _Aside:
    """The designer's own study and its undo steps (name, before, after) while another is visited."""

    study: Study
    steps: tuple[tuple[str, Study, Study], ...]
    index: int
    clean: int


class _Swap(QUndoCommand):
    """Before and after, whole."""

    def __init__(self, document: Document, before: Study, after: Study, name: str) -> None:
        super().__init__(name)
        self._document = document
        self.before = before
        self.after = after

    def redo(self) -> None:
        self._document._set(self.after)

    def undo(self) -> None:
        self._document._set(self.before)
