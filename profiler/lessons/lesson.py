"""What a lesson is: a study of its own, one change asked for, how to tell that it is done, what to look at, and why."""

from collections.abc import Callable
from dataclasses import dataclass

from msgspec.structs import replace

from profiler.assess import Evaluation
from profiler.assess.quantities.table import Scope, quantity
from profiler.study import Body, Design, Duty, Field, GrooveRule, Knot, SeatPoint, Study, WallCurve
from profiler.study.files.examples import DEFAULT, read


@dataclass(frozen=True, slots=True)
class Look:
    """A number to watch: a quantity of the bowl, or of one groove (from 1)."""

    key: str
    groove: int | None = None

    @property
    def label(self) -> str:
        q = quantity(self.key)
        return q.label if self.groove is None else f"{q.label}, groove {self.groove}"

    def value(self, e: Evaluation) -> float:
        q = quantity(self.key)
        values = q.get(e)
        if q.scope is Scope.WALL:
            return float(values[len(values) // 2]) if len(values) else float("nan")
        place = (self.groove or 1) - 1
        return float(values[place]) if place < len(values) else float("nan")

    def text(self, e: Evaluation) -> str:
        return quantity(self.key).text(self.value(e))


@dataclass(frozen=True, slots=True)
class Why:
    """The reason with its equation and where both come from."""

    text: str
    equation: str
    source: str


@dataclass(frozen=True, slots=True)
class Lesson:
    """`done` is told the evaluation at the start and the one at hand."""

    title: str
    about: str
    task: str
    study: Callable[[], Study]
    done: Callable[[Evaluation, Evaluation], bool]
    look: tuple[Look, ...]
    seen: str  # what the numbers show, told when it is done
    why: Why
    field: Field[float] | None = None  # what is changed in a form; none where strips or bar do it


GROOVES = GrooveRule(count=15, to_mm=322.0)  # they fit a wall that stands nearly upright too


def study_of(title: str, knots: tuple[Knot, ...], duty: Duty, grooves: GrooveRule = GROOVES) -> Study:
    """An invented study on the machine of the default example, with a seat wide enough for any wall."""
    machine = read(DEFAULT).machine
    seat = (SeatPoint(0.0, 260.0), SeatPoint(machine.seat[-1].height_mm, 260.0))
    machine = replace(machine, name="Lesson rotor (invented)", seat=seat)
    wall = WallCurve(knots, lip_radius_mm=machine.lip_radius_mm)
    return Study(
        machine, (duty,), (Design("Lesson", wall, grooves, Body(fill_seat=False)),), title=f"{title} (invented)"
    )


DUTY = Duty("Lesson", speed_rpm=590.0, solids_pct=36.0, d50_um=130.0, dry_feed_t_h=1.9, water_l_min=34.0)
