"""What the strips show: the study's own bowl, its ghost, the ore window beside it, and how far one has zoomed."""

from profiler.assess import Evaluation, Stages, evaluate
from profiler.assess.eddy.answers import Answer
from profiler.pictures.strips.scene import Scene, lowest_mm
from profiler.study import Design, Duty, Machine
from profiler.ui.document.document import Document
from profiler.ui.document.ladder import Ladder
from profiler.ui.widgets.pointer import Pointer

BELOW_MM, ABOVE_MM = 8.0, 14.0  # room under the bowl and over its lip when it is fitted


class Ghost:
    """Another design, or an earlier state of this one, drawn faintly in all strips under the shown duty.

    Its evaluation is kept until machine or duty change.
    """

    def __init__(self) -> None:
        self.design: Design | None = None
        self._kept: Evaluation | None = None

    def of(self, machine: Machine, duty: Duty) -> Evaluation | None:
        if self.design is None:
            return None
        kept = self._kept
        if kept is None or kept.design is not self.design or kept.machine is not machine or kept.duty is not duty:
            kept = self._kept = evaluate(self.design, machine, duty, Stages.FLOW)
        return kept


class Staging:
    """Makes the scene. Where the study has no shape, the last one that could be drawn stays."""

    def __init__(self, document: Document, pointer: Pointer, windowed: bool = True) -> None:
        """`windowed` where the ore window's duties stand beside the shown one."""
        self.ghost = Ghost()
        self.eddy: tuple[object, Answer] | None = None
        self._document, self._pointer = document, pointer
        self._ladder = Ladder()
        self._windowed = windowed
        self._last_drawn: Evaluation | None = None

    def take(self, e: Evaluation) -> None:
        """Remember what can be drawn."""
        if e.shape is not None:
            self._last_drawn = e

    def scene(self) -> Scene:
        e, now, study = self._document.evaluation, self._pointer.now, self._document.study
        trouble = "" if e.shape is not None else next((f.text for f in e.findings), "")
        knots = len(study.design.wall.knots)
        return Scene(
            self._last_drawn,
            study.design,
            now.axis,
            ghost=self.ghost.of(study.machine, e.duty),
            ladder=self._states() if self._windowed else None,
            cursor_mm=now.cursor_mm,
            knot=now.knot if now.knot is not None and now.knot < knots else None,
            leaving=now.leaving,
            groove=now.groove,
            lengths=now.lengths,
            trouble=trouble,
            eddy=self.eddy,
        )

    def _states(self) -> Evaluation | None:
        """Of the ore window."""
        e, window = self._document.evaluation, self._document.study.window
        return self._ladder.last if e.shape is None else self._ladder.of(e, window, self._document.in_gesture)

    def fit(self, height_px: float) -> None:
        """Fit the axis to the bowl unless the designer has zoomed."""
        e = self._last_drawn
        if e is not None and e.shape is not None:
            self._pointer.fit(lowest_mm(e) - BELOW_MM, e.shape.height + ABOVE_MM, height_px)
