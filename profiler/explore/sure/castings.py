"""Bowls as they are cast: the drawn one with the deviations a mould and a cure leave, many times over.

Every bowl is drawn within tolerances the user assumed, evenly between their ends, since nothing says that castings lie
near the middle. Each is worked out at friction low, middle and high in turn, with no band inside a draw: what comes out
are shares of simulated bowls, and friction, which is unknown, is shown apart.
"""

from collections.abc import Sequence
from dataclasses import astuple, dataclass
from math import nan

import numpy as np
from msgspec.structs import replace

from profiler.assess import Stages, evaluate
from profiler.assess.flow.flow_stage import MIDDLE
from profiler.assess.shape.shape_stage import wall_of
from profiler.geometry.wall import FloatArray
from profiler.numbers import counted
from profiler.progress import SILENT, Progress
from profiler.study import Design, Duty, GrooveChange, GrooveRule, Knot, Machine, Placing
from profiler.study.edits.design_edits import with_grooves
from profiler.units import MM

BOWLS = 500
CAUTION = "Shares of simulated bowls under tolerances you assumed; friction is unknown and shown apart."
LEAST_BOWLS = 2


@dataclass(frozen=True, slots=True)
class Tolerances:
    """Plus and minus so much; the defaults are common practice of cast polyurethane liners, no source."""

    angle_deg: float = 0.25  # the whole wall turned
    lip_radius_mm: float = 0.5
    height_mm: float = 0.5
    groove_mm: float = 0.3  # each groove's place along the wall, for itself
    shrinkage_pct: float = 0.3  # of every length, beside the allowance the mould has for it

    def __post_init__(self) -> None:
        for name, value in zip(self.__slots__, astuple(self), strict=True):
            if not 0.0 <= value < 20.0:
                raise ValueError(f"A tolerance of {value:g} for {WORDS[name][0].lower()} cannot be used.")


WORDS = {
    "angle_deg": ("Angle of the wall", "°"),
    "lip_radius_mm": ("Lip radius", "mm"),
    "height_mm": ("Height", "mm"),
    "groove_mm": ("Place of a groove", "mm"),
    "shrinkage_pct": ("Shrinkage", "%"),
}


@dataclass(frozen=True, slots=True)
class AsCast:
    """b bowls that could be built, g grooves."""

    design: Design
    duty: Duty
    tolerances: Tolerances
    seed: int
    frictions: tuple[float, float, float]
    asked: int
    overfall: FloatArray  # (b, 3, g) mm, at friction low, middle, high
    nominal: FloatArray  # (3, g) mm, of the bowl as drawn
    costs: tuple[tuple[str, float], ...]  # tolerance and what its end moves an overfall by, mm, largest first

    @property
    def bowls(self) -> int:
        return len(self.overfall)

    @property
    def falling(self) -> FloatArray:
        """(3, g) share of the bowls whose stream falls at each groove."""
        return np.asarray(np.mean(self.overfall > 0.0, axis=0))

    @property
    def sampling_error(self) -> float:
        """The most that a share of so many bowls may be off, one standard error."""
        return float(0.5 / np.sqrt(self.bowls))


def as_cast(
    design: Design,
    machine: Machine,
    duty: Duty,
    tolerances: Tolerances = Tolerances(),
    bowls: int = BOWLS,
    seed: int = 1,
    progress: Progress = SILENT,
) -> AsCast:
    """Raises ValueError, one sentence, where the drawn bowl has no grooves or no flow, or hardly a bowl can be cast."""
    if bowls < LEAST_BOWLS:
        raise ValueError(f"{counted(bowls, 'bowl')} cannot speak for castings; ask for at least {LEAST_BOWLS}.")
    duties = at_each_friction(duty)
    nominal = _overfalls(design, machine, duties)
    if nominal is None or not nominal.size:
        raise ValueError(f"“{design.name}” has no groove, or no flow at one of its frictions, to cast as it stands.")
    rng = np.random.default_rng(seed)
    draws, found = [], []
    for k in range(bowls):
        progress.at(k / bowls)
        draw = _Draw.of(rng, tolerances, nominal.shape[1])
        there = _overfalls(cast(design, draw), machine, duties)
        if there is not None and there.shape == nominal.shape:
            draws.append(draw)
            found.append(there)
    progress.at(1.0)
    if len(found) < LEAST_BOWLS:
        raise ValueError(f"Of {bowls} bowls cast so, {len(found)} could be built: the tolerances are too wide.")
    overfall = np.array(found)
    costs = _costs(draws, overfall[:, MIDDLE], tolerances)
    low, middle, high = (d.friction for d in duties)
    return AsCast(design, duty, tolerances, seed, (low, middle, high), bowls, overfall, nominal, costs)


def at_each_friction(duty: Duty) -> tuple[Duty, Duty, Duty]:
    """The duty at friction low, middle and high of its band, each without a band."""

    def at(friction: float) -> Duty:
        return replace(duty, friction=friction, friction_low=friction, friction_high=friction)

    return at(duty.friction_low), at(duty.friction), at(duty.friction_high)


@dataclass(frozen=True, slots=True)
class _Draw:
    """One bowl's deviations."""

    angle_deg: float
    lip_radius_mm: float
    height_mm: float
    shrinkage: float
    groove_mm: FloatArray  # (g,)

    @classmethod
    def of(cls, rng: np.random.Generator, t: Tolerances, grooves: int) -> "_Draw":
        angle, lip, height, shrinkage = rng.uniform(-1.0, 1.0, 4)
        place = t.groove_mm * rng.uniform(-1.0, 1.0, grooves)
        return cls(
            t.angle_deg * angle, t.lip_radius_mm * lip, t.height_mm * height, 0.01 * t.shrinkage_pct * shrinkage, place
        )


def cast(design: Design, draw: _Draw) -> Design:
    """The drawn design with one bowl's deviations; the grooves keep their places in proportion of the wall."""
    scale, curve = 1.0 + draw.shrinkage, design.wall
    taller = scale * (1.0 + draw.height_mm / curve.height_mm)

    def moved(knot: Knot) -> Knot:
        leaving = None if knot.leaving_deg is None else knot.leaving_deg + draw.angle_deg
        return replace(
            knot, height_mm=knot.height_mm * taller, angle_deg=knot.angle_deg + draw.angle_deg, leaving_deg=leaving
        )

    old = wall_of(design)
    lip = scale * (float(old.radius[-1]) + draw.lip_radius_mm)
    knots = tuple(moved(k) for k in curve.knots)
    bowl = replace(design, wall=replace(curve, knots=knots, lip_radius_mm=lip, floor_radius_mm=None))
    new = wall_of(bowl)
    along = design.grooves.placing is Placing.ALONG_WALL
    longer = float(new.length[-1] / old.length[-1]) if along else taller
    return with_grooves(bowl, _grooves(design.grooves, draw, scale, longer, taller))


def _grooves(rule: GrooveRule, draw: _Draw, scale: float, longer: float, taller: float) -> GrooveRule:
    """The rule in proportion, and every groove that is cut moved for itself."""
    moved = replace(
        rule,
        from_mm=rule.from_mm * longer,
        to_mm=rule.to_mm * longer,
        heights_mm=tuple(z * taller for z in rule.heights_mm),
        mouth_mm=rule.mouth_mm * scale,
        depth_mm=rule.depth_mm * scale,
    )
    count = len(rule.heights_mm) if rule.placing is Placing.LISTED else rule.count
    off = [c.place for c in rule.changes if c.off]
    places = [place for place in range(1, count + 1) if place not in off]
    return _shifted(moved, places, draw.groove_mm.tolist())


def _shifted(rule: GrooveRule, places: Sequence[int], shifts: Sequence[float]) -> GrooveRule:
    known = {c.place: c for c in rule.changes}
    for place, shift in zip(places, shifts, strict=False):
        own = known.get(place, GrooveChange(place))
        known[place] = replace(own, shift_mm=own.shift_mm + shift)
    return replace(rule, changes=tuple(known[place] for place in sorted(known)))


def _overfalls(design: Design, machine: Machine, duties: Sequence[Duty]) -> FloatArray | None:
    """(3, g) mm at the three frictions; None where the bowl cannot be built or one of them has no answer."""
    e = evaluate(design, machine, duties, Stages.FLOW)
    if e.flow is None or bool(np.any(e.flow.answers.missing)):
        return None
    return np.asarray(e.flow.groove_overfall[:, MIDDLE] / MM)


def _costs(draws: Sequence[_Draw], overfall: FloatArray, t: Tolerances) -> tuple[tuple[str, float], ...]:
    """By least squares over the bowls: the root mean square over the grooves of what a tolerance's end moves."""
    common = np.array([[d.angle_deg, d.lip_radius_mm, d.height_mm, 100.0 * d.shrinkage] for d in draws])
    own = np.array([d.groove_mm for d in draws])
    slopes = []
    for g in range(overfall.shape[1]):
        known = np.column_stack((common, own[:, g], np.ones(len(draws))))
        slopes.append(np.linalg.lstsq(known, overfall[:, g], rcond=None)[0][:5])
    ends = np.array([t.angle_deg, t.lip_radius_mm, t.height_mm, t.shrinkage_pct, t.groove_mm])
    moved = np.sqrt(np.mean((np.array(slopes) * ends) ** 2, axis=0)) if slopes else np.full(5, nan)
    names = ("angle_deg", "lip_radius_mm", "height_mm", "shrinkage_pct", "groove_mm")
    return tuple(sorted(zip(names, moved.tolist(), strict=True), key=lambda pair: -pair[1]))
