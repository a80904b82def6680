"""What a lesson is: a study of its own, one knob to turn, how to tell that it is done, what to look at, and why.

No number is typed into a lesson's words: they hold names in braces, and what stands there is read from the evaluation
at the start and the one at hand. So a sentence is true of the bowl it speaks of, by whatever right way it was shaped.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import nan
from string import Formatter

import numpy as np
from msgspec.structs import replace

from profiler.assess import Evaluation, Severity
from profiler.assess.quantities.symbols import legend
from profiler.assess.quantities.table import Scope, quantity
from profiler.geometry.wall import FloatArray
from profiler.lessons.knob import Knob
from profiler.numbers import fixed
from profiler.study import Body, Design, Duty, Field, GrooveRule, Knot, SeatPoint, Study, WallCurve
from profiler.study.files.examples import DEFAULT, read

Said = Callable[[Evaluation, Evaluation], str]  # a number in words, from the evaluations at the start and now


@dataclass(frozen=True, slots=True)
class Look:
    """A number to watch: of the bowl, of one groove (from 1), or along the wall, read half-way up."""

    key: str
    groove: int | None = None

    @property
    def label(self) -> str:
        q = quantity(self.key)
        if q.scope is Scope.WALL:
            return f"{q.label}, half-way up"
        return q.label if self.groove is None else f"{q.label}, groove {self.groove}"

    def value(self, e: Evaluation) -> float:
        """In the quantity's unit; nan where the evaluation has none."""
        q = quantity(self.key)
        values = q.get(e)
        place = _half_way(e) if q.scope is Scope.WALL else (self.groove or 1) - 1
        return float(values[place]) if place < len(values) else nan

    def text(self, e: Evaluation) -> str:
        return quantity(self.key).text(self.value(e))


@dataclass(frozen=True, slots=True)
class Why:
    """The reason with its equation and where both come from."""

    text: str
    equation: str
    source: str

    @property
    def whole(self) -> str:
        letters = "\n".join(f"{letter}: {meaning}" for letter, meaning in legend(self.equation))
        return f"{self.text}\n\n{self.equation}\n\n{letters}\n\nSource: {self.source}."


@dataclass(frozen=True, slots=True)
class Step:
    """One thing the task asks for, and the sentence that says it is still missing."""

    taken: Callable[[Evaluation, Evaluation], bool]
    missing: str


@dataclass(frozen=True, slots=True, eq=False)
class Lesson:
    """`numbers` are the names in braces of its sentences. A lesson is itself and equals no other."""

    title: str
    about: str
    task: str
    study: Callable[[], Study]
    knob: Knob
    steps: tuple[Step, ...]
    look: tuple[Look, ...]
    seen: str  # what the numbers show, told when it is done
    why: Why
    numbers: Mapping[str, Said]
    field: Field[float] | None = None  # what is changed in a form; none where strips or bar do it

    def missing(self, start: Evaluation, now: Evaluation) -> str | None:
        """Which step is still to be taken, as one sentence or two; None where the task is done."""
        if now.shape is None or now.flow is None:
            stop = next((f.text for f in now.findings if f.severity is Severity.STOP), "The bowl has no answer.")
            return f"This cannot be worked out. {stop}"
        others = self.knob.others(start, now)
        if others:
            return f"Changed too: {', '.join(others)}. Put that back: this lesson is about {self.knob.name} alone."
        return next((self.told(s.missing, start, now) for s in self.steps if not s.taken(start, now)), None)

    def done(self, start: Evaluation, now: Evaluation) -> bool:
        return self.missing(start, now) is None

    def told(self, words: str, start: Evaluation, now: Evaluation) -> str:
        """The words, each name in braces replaced by its number."""
        names = {name for _, name, _, _ in Formatter().parse(words) if name}
        return words.format_map({name: self.numbers[name](start, now) for name in names})


def before(look: Look) -> Said:
    return lambda start, now: look.text(start)


def after(look: Look) -> Said:
    return lambda start, now: look.text(now)


def number_before(of: Field[float]) -> Said:
    """A number of the duty, as it was typed."""
    return lambda start, now: of.with_unit(of.get(start.duty))


def number_after(of: Field[float]) -> Said:
    return lambda start, now: of.with_unit(of.get(now.duty))


def knot_angle(place: int) -> Said:
    """Of the wall at first: 0 is the knot at the floor, -1 the one at the lip."""
    return lambda start, now: f"{start.design.wall.knots[place].angle_deg:g}°"


def degrees(value: float) -> str:
    return f"{fixed(value, 2)}°"


def overfalls(e: Evaluation) -> FloatArray:
    """(g,) m, at middle friction; none without a flow."""
    return np.zeros(0) if e.flow is None else e.flow.groove_overfall[0, 1]


def falling(e: Evaluation) -> int:
    """Grooves whose lower edge the stream leaves at middle friction."""
    return int(np.sum(overfalls(e) > 0.0))


def grooves(count: int) -> str:
    return f"{count} groove" if count == 1 else f"{count} grooves"


FIRST_MM = 42.0  # above any entry height of the lessons: every groove's state is claimed
GROOVES = GrooveRule(count=13, from_mm=FIRST_MM, to_mm=322.0)  # they fit a wall that stands nearly upright too


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


def _half_way(e: Evaluation) -> int:
    """The station nearest to half the wall's height."""
    if e.shape is None:
        return 0
    return int(np.argmin(np.abs(e.shape.stations.height - 0.5 * e.shape.height)))
