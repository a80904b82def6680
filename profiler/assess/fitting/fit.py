"""Fit a bowl to a machine: lip radius, height, grooves and outside at once, or the limit that binds and by how much.

Angles are kept, knot heights go in proportion, the floor radius gives way; where there is a seat the body fills it but
for the jacket gap. Where hub, feed parts or the least wall bind nothing is applied: what remains is to turn angles, all
of them a little or the lower ones more, and both are worked out with what they cost.
"""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor

from profiler.assess.checks.check_entry import feed_part_findings
from profiler.assess.checks.check_fit import fit_findings
from profiler.assess.findings.finding import Finding
from profiler.assess.findings.kinds import Kind, Severity
from profiler.assess.fitting.limits import TURNABLE, Limit, Miss, Room, room_of
from profiler.assess.fitting.rescaled import rescaled
from profiler.assess.shape.shape_stage import shape_of, wall_of
from profiler.geometry.offset import NoOffset
from profiler.numbers import as_printed, counted
from profiler.study import Body, Design, Machine, Way, objections
from profiler.study.edits.design_edits import turned
from profiler.study.records.design import BODY_FILL, KNOT_ANGLE
from profiler.study.records.machine import JACKET_GAP
from profiler.study.records.record import Record

FIT_WORDS = "Fit the bowl to the machine"
MENDED_BY_A_FIT = (
    Kind.LIP_RADIUS, Kind.BOWL_HEIGHT, Kind.SEAT_CLASH, Kind.JACKET_NARROW, Kind.FLANGE_INSIDE_LIP,
    Kind.FLOOR_INSIDE_HUB, Kind.WALL_AT_AXIS, Kind.WALL_INSIDE_OUT, Kind.WALL_THICKNESS,
    Kind.DEFLECTOR_CLASH, Kind.FEED_PIPE_CLASH,
)  # fmt: skip
MOST_TURN_DEG = 40
HALVINGS = 20
LENGTHS_AND_ANGLES = ("mm", "°", "")  # what a fit reads; the drive's numbers are nothing to it


class CannotFit(ValueError):
    """Why the bowl cannot be made to fit, as one sentence."""


LOW_SEAT_MM = 1.0  # a rim this much lower is a matter of how it was measured


@dataclass(frozen=True, slots=True)
class Choice:
    """One way that remains where angles kept do not fit: which knots turn, by how much, and the bowl it gives."""

    words: str
    turned_deg: float
    design: Design


@dataclass(frozen=True, slots=True)
class Fit:
    """What came of fitting: the fitted design, or None with the limit that binds and the choices that remain."""

    sentence: str
    design: Design | None
    miss: Miss | None = None
    choices: tuple[Choice, ...] = ()

    @property
    def met(self) -> bool:
        return self.design is not None


def fit(design: Design, machine: Machine) -> Fit:
    """The design on this machine. Never raises for what a designer can enter: that too is a sentence."""
    try:
        _refuse_unusable(design, machine)
        wanted = _filling(rescaled(design, machine.lip_radius_mm, machine.height_mm), machine)
        room = room_of(wanted, machine)
        miss = room.miss(wanted)
    except NoOffset as reason:
        words = f"its seat, less a jacket gap of {JACKET_GAP.told(machine.jacket_gap_mm)}, cannot be followed: {reason}"
        return _unmet(machine, Miss(Limit.SEAT, None, words))
    except ValueError as reason:
        return _unmet(machine, Miss(Limit.INPUT, None, f"{reason}".rstrip(".")))
    if miss is not None:
        return _unmet(machine, miss, _choices(wanted.done(Way.FIT, design), room) if miss.limit in TURNABLE else ())
    low_seat = _low_seat(wanted, machine)
    if low_seat is not None:
        return _unmet(machine, low_seat)
    stop = first_stop(wanted, machine)
    if stop is not None:
        return _unmet(machine, _miss_of(stop))
    return Fit(as_printed(_said(design, wanted, machine)), wanted.done(Way.FIT, design))


@dataclass(frozen=True, slots=True)
class Fitting:
    """The edit a finding's remedy makes when it is wanted; a value, so that two findings can be compared."""

    design: Design
    machine: Machine

    def __call__(self) -> Design:
        """The fitted design. Raises CannotFit, one sentence, where a limit binds."""
        found = fit(self.design, self.machine)
        if found.design is None:
            raise CannotFit(found.sentence)
        return found.design


def first_stop(design: Design, machine: Machine) -> Finding | None:
    """What keeps the design from being built or from fitting, as the checks find it; the duty plays no part."""
    shape, impossible = shape_of(design, machine)
    found = list(impossible)
    if shape is not None:
        found += [*fit_findings(design, machine, shape), *feed_part_findings(machine, shape)]
    return next((f for f in found if f.severity is Severity.STOP), None)


def _refuse_unusable(design: Design, machine: Machine) -> None:
    """Raises ValueError for a number out of its bounds: nothing is fitted to a machine that cannot be."""
    records: tuple[Record, ...] = (machine, *machine.seat, *design.wall.knots, design.wall, design.grooves, design.body)
    for record in records:
        for field, _, sentence in objections(record):
            if field.unit in LENGTHS_AND_ANGLES:
                raise ValueError(sentence)
    if any(above.height_mm <= below.height_mm for below, above in pairwise(machine.seat)):
        raise ValueError("The seat's heights must increase from its floor up.")
    if len(design.wall.knots) < 2 or design.wall.knots[0].height_mm != 0.0:
        raise ValueError("The lowest knot must stand at height 0 mm, on the floor.")


def _filling(design: Design, machine: Machine) -> Design:
    """A body that follows the seat, where there is one and how near it may come is given."""
    known = len(machine.seat) > 1 and machine.jacket_gap_mm is not None
    return BODY_FILL.set(design, True) if known else design


def _unmet(machine: Machine, miss: Miss, choices: tuple[Choice, ...] = ()) -> Fit:
    sentence = f"Not fitted to {machine.name}, and nothing is changed: {miss.words}."
    if miss.limit in TURNABLE and not choices:
        sentence += f" No turn of the wall by up to {MOST_TURN_DEG}° makes room."
    return Fit(as_printed(sentence), None, miss, choices)


def _low_seat(design: Design, machine: Machine) -> Miss | None:
    """A seat that ends below the lip flange: nothing is known of what stands between them."""
    if len(machine.seat) < 2:
        return None
    top, wanted = machine.seat[-1].height_mm, design.body.floor_plate_mm + machine.height_mm - design.body.flange_mm
    if top >= wanted - LOW_SEAT_MM:
        return None
    words = f"the seat ends {top:g} mm above its floor, {wanted - top:g} mm below the underside of the lip flange"
    return Miss(Limit.SEAT, wanted - top, words)


def _miss_of(stop: Finding) -> Miss:
    """What the checks find of a bowl that keeps every limit of `Room`: of the seat, or of the section itself."""
    by = None if stop.value is None or stop.limit is None else abs(stop.value - stop.limit)
    limit = Limit.SEAT if stop.kind in (Kind.SEAT_CLASH, Kind.JACKET_NARROW) else Limit.SECTION
    return Miss(limit, by, stop.text.rstrip("."))


def _said(design: Design, now: Design, machine: Machine) -> str:
    """What the fitted bowl has, and what gave way."""
    before, after = float(wall_of(design).radius[0]), float(wall_of(now).radius[0])
    head = f"Fitted to {machine.name}: lip radius {machine.lip_radius_mm:g} mm, height {machine.height_mm:g} mm"
    parts = []
    if abs(after - before) > 0.005:
        parts.append(f"the floor radius goes from {before:.1f} to {after:.1f} mm")
    if now.grooves.count != design.grooves.count:
        parts.append(
            f"{counted(now.grooves.count, 'groove')} instead of {design.grooves.count}, so that each land keeps "
            f"{design.grooves.least_land_mm:g} mm"
        )
    body: Body = now.body
    if body.fill_seat and not design.body.fill_seat:
        parts.append(f"the body fills the seat but for a jacket of {JACKET_GAP.told(machine.jacket_gap_mm)}")
    elif len(machine.seat) < 2:
        parts.append("no seat is known, so the outside is not checked")
    elif machine.jacket_gap_mm is None:
        parts.append("the jacket gap is not given, so the body keeps its own wall")
    return "; ".join((head, *parts)) + "."


def _choices(design: Design, room: Room) -> tuple[Choice, ...]:
    """Both ways of turning, as far as each makes room."""
    knots, half = design.wall.knots, 0.5 * design.wall.height_mm
    free = tuple(i for i, k in enumerate(knots) if not k.locked)
    lower = tuple(i for i in free if knots[i].height_mm <= half)
    ways = [("Turn all unlocked knots", free)]
    if lower and lower != free:
        ways.append(("Turn the lower half only", lower))
    found = (_choice(words, design, which, room) for words, which in ways if which)
    return tuple(choice for choice in found if choice is not None)


def _choice(words: str, design: Design, which: tuple[int, ...], room: Room) -> Choice | None:
    """The least turn, rounded up to the knots' step, that leaves no limit passed and nothing that stops the bowl."""

    def fits(turn: float) -> bool:
        try:
            return room.fits(turned(design, which, turn))
        except ValueError:  # an angle beyond what a wall can have
            return False

    turn = _least_turn(fits)
    if turn is None:
        return None
    bowl = turned(design, which, turn)
    if first_stop(bowl, room.machine) is not None:
        return None
    return Choice(as_printed(f"{words} by {turn:+.2f}°"), turn, bowl)


def _least_turn(fits: Callable[[float], bool]) -> float | None:
    """Whole degrees either way until one fits, then the edge before it; None where none does."""
    whole = next((s * n for n in range(1, MOST_TURN_DEG + 1) for s in (1, -1) if fits(float(s * n))), None)
    if whole is None:
        return None
    good = float(whole)
    bad = good - (1.0 if good > 0.0 else -1.0)
    for _ in range(HALVINGS):
        middle = 0.5 * (good + bad)
        good, bad = (middle, bad) if fits(middle) else (good, middle)
    step = KNOT_ANGLE.step
    rounded = round((ceil if good > 0.0 else floor)(good / step - (1e-6 if good > 0.0 else -1e-6)) * step, 2)
    return rounded if fits(rounded) else good
