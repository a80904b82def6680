"""What a strip needs to draw: the evaluation, the shared height axis, and what the designer points at."""

from dataclasses import dataclass

from profiler.assess import Evaluation
from profiler.assess.eddy.answers import Answer
from profiler.assess.findings.kinds import Kind
from profiler.pictures.basics.axis import HeightAxis
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.study import Design


@dataclass(frozen=True, slots=True)
class Scene:
    """`shown` is the last evaluation that has a shape; `design` is the one being edited, which may have none."""

    shown: Evaluation | None
    design: Design
    axis: HeightAxis
    ghost: Evaluation | None = None
    ladder: Evaluation | None = None  # the shown design under every duty of the ore window
    cursor_mm: float | None = None
    knot: int | None = None
    leaving: bool = False  # the chosen handle of a corner
    groove: int | None = None  # number from 1
    lengths: LengthUnit = MILLIMETRES
    trouble: str = ""  # why the design as it stands cannot be drawn
    eddy: tuple[object, Answer] | None = None  # a groove's computed flow, and the flow stage it was worked out for

    @property
    def computed(self) -> Answer | None:
        """The chosen groove's computed flow; None where it is not that of what is shown."""
        if self.eddy is None or self.shown is None or self.eddy[0] is not self.shown.flow:
            return None
        return self.eddy[1] if self.eddy[1].groove == self.groove else None

    @property
    def stale(self) -> bool:
        return bool(self.trouble)


def entry_mm(e: Evaluation) -> float | None:
    """Height below which no state is claimed; None where none is known."""
    return next((f.to_mm for f in e.findings if f.kind is Kind.ENTRY), None)


def lowest_mm(e: Evaluation) -> float:
    """Height of the lowest part that is drawn: the rotor's floor under the bowl; 0 where there is no shape."""
    return 0.0 if e.shape is None else e.shape.shell.underside - (e.machine.shell_floor_mm or 0.0)
