"""Friction from the measurements of a study: by least squares from angles, or as a bracket from a stopped bowl.

A measured angle is met by the repose angle predicted at its height for the bowl and the duty as they ran, water added
below and all. A bracket is not an interval: all grooves of one stop are one observation, and nothing says how likely
its ends are. Where measurements contradict each other they are named, and the friction stands with that beside it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, isfinite, nan, sqrt

import numpy as np
from msgspec.structs import replace

from profiler.assess.calibration.estimate import Bracket, Fitted, bracket, least_squares
from profiler.assess.evaluate.evaluation import Evaluation, Stages, evaluate
from profiler.assess.flow.carrier import slurry_of
from profiler.assess.flow.flow_stage import MIDDLE
from profiler.assess.flow.sizes import d50_um
from profiler.geometry.wall import FloatArray
from profiler.numbers import as_printed, fixed, significant
from profiler.physics.slurry.measured_friction import friction_from_angle
from profiler.study import FRICTION_USUAL, Calibrated, Duty, FrictionBasis, Machine, Measurement, Seen
from profiler.study.records.duty import FRICTION_POSSIBLE
from profiler.units import DEGREE, MM

FRICTIONS_TRIED = 61
LEAST_WATER_RATIO = 0.5  # below it a packed groove may have lacked water
SURE_OF_CONTRADICTION = 0.01  # chance of a sum of squares as large as that, did the angles agree
CAUTION = "One slurry, one bowl, one stop. A packed groove may have lacked water."


@dataclass(frozen=True, slots=True)
class Reading:
    """One measurement's own say: its friction (nan: none) or its bracket, and what was counted as unsure."""

    name: str
    friction: float
    bracket: Bracket | None = None
    unsure: tuple[int, ...] = ()  # packed grooves, from 1, that may have lacked water


@dataclass(frozen=True, slots=True)
class Calibration:
    """The friction, or None and why; `low` and `high` are the ends of a 95 % interval, or of a bracket."""

    friction: float | None
    low: float
    high: float
    is_bracket: bool
    sentence: str
    readings: tuple[Reading, ...]
    contradictions: tuple[str, ...]
    warnings: tuple[str, ...]
    conditions: Calibrated | None


def calibrate(measurements: Sequence[Measurement], machine: Machine) -> Calibration:
    """What the measurements say of the friction. Raises ValueError, one sentence, for one that cannot be used."""
    if not measurements:
        raise ValueError(
            "There is no measurement yet: measure the slurry's angle at a height, or look at a stopped bowl."
        )
    frictions = np.geomspace(*FRICTION_POSSIBLE, FRICTIONS_TRIED)
    angles = [m for m in measurements if m.angle_deg is not None]
    stops = [m for m in measurements if m.grooves]
    tables = [_at_frictions(m, machine, frictions) for m in angles]
    fitted = _fit(angles, tables, frictions)
    own = tuple(Reading(m.name, _own_friction(m, machine)) for m in angles)
    brackets = tuple(_stop(m, machine, frictions) for m in stops)
    low = max((r.bracket.low for r in brackets if r.bracket), default=0.0)
    high = min((r.bracket.high for r in brackets if r.bracket), default=inf)
    against = (*_angles_disagree(angles, fitted), *_stops_disagree(brackets, low, high, fitted))
    readings = (*own, *brackets)
    if fitted is not None:
        return _answer(fitted.friction, fitted.low, fitted.high, False, readings, against, measurements)
    return _answer(_between(low, high), low, high, True, readings, against, measurements)


def calibrated(duty: Duty, found: Calibration) -> Duty:
    """The duty with the friction that was found. Raises ValueError, the reason, where none was."""
    if found.friction is None or found.conditions is None:
        raise ValueError(found.sentence)
    low, high = (min(max(v, FRICTION_POSSIBLE[0]), FRICTION_POSSIBLE[1]) for v in (found.low, found.high))
    return replace(
        duty,
        friction=round(found.friction, 4),
        friction_low=round(low, 4),
        friction_high=round(high, 4),
        friction_basis=FrictionBasis.IN_PLACE,
        calibrated=found.conditions,
    )


def _answer(
    friction: float,
    low: float,
    high: float,
    is_bracket: bool,
    readings: tuple[Reading, ...],
    against: tuple[str, ...],
    measurements: Sequence[Measurement],
) -> Calibration:
    least, most = FRICTION_POSSIBLE
    kind = "bracket" if is_bracket else "95 % interval"
    if not isfinite(friction):
        ends = [f"at least {significant(low, 3)}"] if low > 0.0 else []
        ends += [f"below {significant(high, 3)}"] if isfinite(high) else []
        said = " and ".join(ends) if ends else "anything"
        reason = f"No friction follows: the grooves seen only say that it is {said}."
        if low > high:
            reason = "No friction follows: what was seen contradicts itself."
        return Calibration(None, low, high, is_bracket, as_printed(reason), readings, against, (), None)
    if not least < friction < most or friction <= least * 1.001 or friction >= most * 0.999:
        reason = (
            f"Refused: the friction would lie outside {least:g} to {most:g}, the range of friction between "
            "grains. Doubt the measurement, the concentration or the regime."
        )
        return Calibration(None, low, high, is_bracket, reason, readings, against, (), None)
    warnings = []
    if not FRICTION_USUAL[0] <= friction <= FRICTION_USUAL[1]:
        warnings.append(
            f"A friction of {significant(friction, 3)} is outside {FRICTION_USUAL[0]:g} to {FRICTION_USUAL[1]:g}, "
            "where grains in place lie: doubt the measurement, the concentration or the regime."
        )
    sentence = f"Friction {significant(friction, 3)}, {kind} {significant(low, 3)} to {significant(high, 3)}. {CAUTION}"
    words = f"{', '.join(m.name for m in measurements)}: {kind} {significant(low, 3)} to {significant(high, 3)}"
    if against:
        words += ", contradicted"
    return Calibration(
        friction, low, high, is_bracket, as_printed(sentence), readings, against, tuple(warnings),
        _conditions(measurements, words),
    )  # fmt: skip


def _conditions(measurements: Sequence[Measurement], words: str) -> Calibrated:
    """The mean of what was measured at."""
    lips = [m.design.wall.lip_radius_mm or m.design.wall.floor_radius_mm or nan for m in measurements]
    return Calibrated(
        float(np.mean([m.duty.solids_pct for m in measurements])),
        float(np.mean([d50_um(m.duty) for m in measurements])),
        float(np.mean(lips)),
        words,
    )


def _at_frictions(m: Measurement, machine: Machine, frictions: FloatArray) -> Evaluation:
    """The bowl as it ran, at every friction at once."""
    duties = [replace(m.duty, friction=f, friction_low=f, friction_high=f) for f in frictions.tolist()]
    e = evaluate(m.design, machine, duties, Stages.FLOW)
    if e.shape is None or e.flow is None:
        raise ValueError(f"“{m.name}” cannot be used: its bowl has no flow under its duty.")
    if m.angle_deg is not None and m.height_mm is None:
        raise ValueError(f"“{m.name}” does not say at which height its angle was measured.")
    if m.angle_deg is not None and not 0.0 < height_of(m) < e.shape.height:
        raise ValueError(f"“{m.name}” was measured at {height_of(m):g} mm, outside the wall.")
    if m.grooves and len(m.grooves) != len(e.shape.mouths):
        raise ValueError(f"“{m.name}” tells of {len(m.grooves)} grooves; its bowl has {len(e.shape.mouths)}.")
    return e


def _fit(angles: Sequence[Measurement], tables: Sequence[Evaluation], frictions: FloatArray) -> Fitted | None:
    if not angles:
        return None
    predicted = np.column_stack([_predicted(e, height_of(m)) for m, e in zip(angles, tables, strict=True)])
    known = np.all(np.isfinite(predicted), axis=1)
    if np.count_nonzero(known) < 2:
        raise ValueError("The model has no answer at any friction for what was measured.")
    angle = np.array([m.angle_deg for m in angles], dtype=float)
    return least_squares(frictions[known], predicted[known], angle, np.array([m.spread_deg for m in angles]))


def height_of(m: Measurement) -> float:
    """mm of an angle that says where it was measured; nan of one that does not."""
    return nan if m.height_mm is None else m.height_mm


def _predicted(e: Evaluation, height_mm: float) -> FloatArray:
    """(f,) degrees, the repose angle at the height for every duty of the batch; nan where there is no answer."""
    if e.shape is None or e.flow is None:
        return np.full(len(e.duties), nan)
    angles = e.flow.angle[:, MIDDLE] / DEGREE
    there = np.array([np.interp(height_mm, e.shape.stations.height, row) for row in angles])
    return np.where(e.flow.answers.missing, nan, there)


def _own_friction(m: Measurement, machine: Machine) -> float:
    """The friction of this one angle, from the model turned round at the film's own place; nan where there is none."""
    e = evaluate(m.design, machine, m.duty, Stages.FLOW)
    if e.shape is None or e.flow is None or m.angle_deg is None:
        return nan
    at, flow = e.shape.stations, e.flow
    passing = flow.feed.solids_flow[:, None, None] / flow.delivered_fraction[:, MIDDLE : MIDDLE + 1]
    wall = at.radius[at.node] * MM
    carrier, slurry = slurry_of(flow.feed, passing, wall, flow.film, flow.carrier)
    surface = np.minimum(flow.bed.radius[:, MIDDLE : MIDDLE + 1, at.node], wall)
    speed = flow.feed.angular_speed[:, None, None]
    found = friction_from_angle(m.angle_deg * DEGREE, surface, speed, passing, carrier.fraction, slurry)
    return float(np.interp(height_of(m), at.height[at.node], found[0, 0]))


def _stop(m: Measurement, machine: Machine, frictions: FloatArray) -> Reading:
    """A stopped bowl's bracket; packed grooves that may have lacked water count as unsure."""
    table = _at_frictions(m, machine, frictions)
    e = evaluate(m.design, machine, m.duty, Stages.FLOW | Stages.CATCH)
    seen = list(m.grooves)
    unsure: list[int] = []
    if e.catch is not None:
        ratio = e.catch.water.ratio[0, 1]
        unsure = [k for k, s in enumerate(seen, 1) if s is Seen.PACKED and ratio[k - 1] < LEAST_WATER_RATIO]
    for k in unsure:
        seen[k - 1] = Seen.UNSURE
    overfall = np.full((len(frictions), len(seen)), nan)
    if table.flow is not None:
        overfall = np.where(table.flow.answers.missing[:, None], nan, table.flow.groove_overfall[:, MIDDLE])
    known = np.all(np.isfinite(overfall), axis=1)
    return Reading(m.name, nan, bracket(frictions[known], overfall[known], seen), tuple(unsure))


def _between(low: float, high: float) -> float:
    """The middle of a bracket that is closed at both ends, in proportion."""
    return sqrt(low * high) if 0.0 < low < high and isfinite(high) else nan


def _angles_disagree(angles: Sequence[Measurement], fitted: Fitted | None) -> tuple[str, ...]:
    if fitted is None or len(angles) < 2:
        return ()
    from scipy.stats import chi2

    if float(chi2.sf(fitted.squares, len(angles) - 1)) >= SURE_OF_CONTRADICTION:
        return ()
    worst = int(np.argmax(np.abs(fitted.residuals)))
    off = fixed(abs(fitted.residuals[worst]), 1)
    return (
        f"The angles contradict each other for any one friction: “{angles[worst].name}” lies {off} of its own "
        "standard deviations from what the others need.",
    )


def _stops_disagree(stops: Sequence[Reading], low: float, high: float, fitted: Fitted | None) -> tuple[str, ...]:
    found = []
    for r in stops:
        if r.bracket is None:
            continue
        for k in r.bracket.impossible:
            found.append(f"“{r.name}”: groove {k} was seen as no possible friction makes it.")
        if r.bracket.contradicts:
            found.append(
                f"“{r.name}”: groove {r.bracket.low_groove} is packed, which needs a friction of at least "
                f"{significant(r.bracket.low, 3)}, and groove {r.bracket.high_groove} is clean, which needs less than "
                f"{significant(r.bracket.high, 3)}."
            )
    if low > high and not found:
        found.append("The stopped bowls contradict each other: no friction lies in all their brackets.")
    if fitted is not None and (fitted.high < low or fitted.low > high):
        found.append("The angles and the stopped bowl contradict each other: no friction satisfies both.")
    return tuple(found)
