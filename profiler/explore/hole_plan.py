"""Asks which holes would bring every groove's water into its window: whole numbers of holes, drills of a list.

Each ring shall have its share of the water asked for, in proportion to what just lifts its bed. One inlet pressure
serves all rings, so it is searched together with the drills; the plan is then judged by evaluate().
"""

import dataclasses
from collections import Counter
from dataclasses import dataclass
from math import ceil, isfinite

import numpy as np
from msgspec.structs import replace

from profiler.assess import Evaluation, Stages, evaluate
from profiler.assess.catch.groove_water import LOOSE, groove_water
from profiler.assess.checks.check_water import LIGAMENT, MOUTHS_PER_SPACING, STRAINERS
from profiler.assess.findings.finding import Finding
from profiler.assess.findings.kinds import Kind
from profiler.assess.flow.feed import Feed
from profiler.assess.flow.flow_stage import Flow, cover_of
from profiler.assess.flow.water_network import running_resistance
from profiler.assess.shape.rings import HoleRings, rings_of
from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.wall import FloatArray
from profiler.numbers import as_printed
from profiler.physics.rotor import rotation
from profiler.physics.water import hole_flow
from profiler.study import Design, HoleChange, HolePlan
from profiler.study.records.holes import MOST_HOLES
from profiler.units import GRAVITY, LITRE_PER_MINUTE, MICRON, MM

ROUNDS = 2  # the beds move with their water
PRESSURES = 24
LEAST_DRIVE = (2.0e3, 0.15)  # Pa, and share of the back pressure: what every ring keeps in hand
MOST_DRIVE = 60.0e3  # Pa above that
# What a plan costs, against the ln of a flow missed: a rule broken, a drill of its own, a ring with e times more holes
# than it needs to leave no dead sector. A flow missed by a twentieth costs nothing.
TOO_FAR, TOO_CLOSE, OWN_DRILL, MORE_HOLES, CLOSE_ENOUGH = 0.5, 2.0, 0.03, 0.08, 0.05
TOO_DEEP = 20.0  # what cannot be made is no way out of anything
WANTED = Stages.FLOW | Stages.CATCH | Stages.FINDINGS


@dataclass(frozen=True, slots=True)
class Refusal:
    """A groove whose water cannot be brought into its window, and why."""

    groove: int  # from 1
    ratio: float
    why: str
    broken: Finding | None = None  # the rule its holes break, where they do


@dataclass(frozen=True, slots=True)
class Proposal:
    """The design with its plan, what is true of it, which grooves stay outside, and all of it in one sentence."""

    design: Design
    evaluation: Evaluation
    refusals: tuple[Refusal, ...]
    sentence: str


def propose(e: Evaluation, drills_mm: tuple[float, ...]) -> Proposal:
    """A hole plan for the evaluation's first duty. Raises ValueError with one sentence where none can be sought."""
    shape, flow = e.shape, e.flow
    if shape is None or flow is None:
        raise ValueError("The bowl cannot be worked out as it stands, so no holes can be proposed.")
    if not len(shape.mouths):
        raise ValueError("The bowl has no grooves, so there is nothing to bring water to.")
    if e.duty.water_l_min <= 0.0:
        raise ValueError("The duty asks for no water: type how much there is, then ask for holes.")
    now, need = e, 0.0
    for _ in range(ROUNDS):
        plan, need = _plan(now, shape, flow, drills_mm)
        now = evaluate(replace(e.design, holes=plan), e.machine, e.duty, WANTED)
        shape, flow = now.shape, now.flow
        if shape is None or flow is None or now.catch is None:
            raise ValueError("With holes the bowl cannot be worked out as it stands.")
        ratio = now.catch.water.ratio[0, 1]
    refusals = _refusals(now, ratio, need)
    return Proposal(now.design, now, refusals, _sentence(now.design.holes, len(shape.mouths), refusals))


@dataclass(frozen=True, slots=True)
class _Choice:
    count: FloatArray  # (g,)
    drill: FloatArray  # (g,) m
    cost: float


def _plan(e: Evaluation, shape: Shape, flow: Flow, drills_mm: tuple[float, ...]) -> tuple[HolePlan, float]:
    """The best plan at the present beds, and what would just lift all of them, m3/s."""
    skew = e.design.holes.skew_deg
    plan, outer = HolePlan(1, drills_mm[0], skew), shape.shell.outer
    rings = rings_of(plan, e.machine, shape.contours, outer, shape.place, shape.shell.underside)
    resisting = running_resistance(rings, flow.feed, cover_of(shape, flow.film, flow.carrier, flow.bed))[0]
    mouth = 2.0 * np.pi * shape.wall.radius_at(shape.mouths.middle) * MM * shape.cut.mouth * MM
    lifting = groove_water(shape, flow, np.array([e.duty.heavy_density_kg_m3])).least[0, 1] * mouth
    need = float(np.sum(lifting))
    wanted = e.duty.water_l_min * LITRE_PER_MINUTE * lifting / need
    making = e.design.holes.making
    least = max(STRAINERS * (e.machine.strainer_um or 0.0) * MICRON / MM, 0.0 if making is None else making.least_mm)
    usable = [d for d in drills_mm if d >= least] or [max(drills_mm)]
    rings = dataclasses.replace(rings, making=making)
    choice = _best(flow.feed, shape, rings, resisting, wanted, np.array(usable) * MM)
    return _as_plan(shape, choice, e.design.holes), need


def _best(
    feed: Feed, shape: Shape, drilled: HoleRings, resisting: FloatArray, wanted: FloatArray, drills: FloatArray
) -> _Choice:
    """Over inlet pressures: one drill for all rings, or each ring its own where that is worth it."""
    rings = drilled.rings
    density, viscosity, speed = (float(a[0]) for a in (feed.water_density, feed.water_viscosity, feed.angular_speed))
    head = rotation.rotating_head(density, speed, drilled.told_at, rings.radius)
    head = head - density * GRAVITY * (rings.height - drilled.inlet_height)
    lowest = float(np.max(resisting + np.maximum(LEAST_DRIVE[0], LEAST_DRIVE[1] * resisting) - head))
    highest = lowest + MOST_DRIVE
    supply = drilled.supply(wanted)
    if supply.still_pressure and supply.open_flow:
        share = min(float(np.sum(wanted)) / supply.open_flow, 1.0)
        highest = max(min(highest, supply.still_pressure * (1.0 - share * share)), lowest)
    fewest = np.ceil(2.0 * np.pi * rings.radius / (MOUTHS_PER_SPACING * shape.cut.mouth * MM))
    best = _Choice(fewest, fewest, np.inf)
    deepest = np.inf if drilled.making is None else drilled.making.deepest
    for pressure in lowest + (highest - lowest) * np.linspace(0.0, 1.0, PRESSURES) ** 2:
        drive = pressure + head - resisting
        each = hole_flow.hole_velocity(drive, drills[:, None], rings.length, density, viscosity)
        each = each * 0.25 * np.pi * drills[:, None] ** 2
        count = np.clip(np.round(wanted / each), 1.0, MOST_HOLES)
        miss = np.abs(np.log(count * each / wanted))
        gap = 2.0 * np.pi * rings.radius / count
        cost = np.maximum(miss - CLOSE_ENOUGH, 0.0) + MORE_HOLES * np.log(np.maximum(count / fewest, 1.0))
        cost = cost + TOO_FAR * (count < fewest) + TOO_CLOSE * (gap < (1.0 + LIGAMENT) * drills[:, None])
        cost = cost + TOO_CLOSE * (rings.length < hole_flow.SHORTEST * drills[:, None])
        cost = cost + TOO_DEEP * (rings.length > deepest * drills[:, None])
        one = int(np.argmin(np.sum(cost, axis=1)))
        own = np.argmin(cost + OWN_DRILL * (np.arange(len(drills)) != one)[:, None], axis=0)
        ring = np.arange(len(wanted))
        total = float(np.sum(cost[own, ring]) + OWN_DRILL * np.sum(own != one))
        if total < best.cost:
            best = _Choice(count[own, ring], drills[own], total)
    return best


def _as_plan(shape: Shape, choice: _Choice, present: HolePlan) -> HolePlan:
    """The commonest count and drill as the rule; the other rings depart from it. Angles stay as they are."""
    counts = [round(n) for n in choice.count.tolist()]
    drills = [round(d, 3) for d in (choice.drill / MM).tolist()]
    count, drill = Counter(counts).most_common(1)[0][0], Counter(drills).most_common(1)[0][0]
    changes = []
    for place, n, d in zip(shape.place.tolist(), counts, drills, strict=True):
        change = HoleChange(int(place), None if n == count else n, None if d == drill else d)
        if not change.is_nothing:
            changes.append(change)
    changes.sort(key=lambda c: c.place)
    # a ring's holes stand over the lands between those of the ring below, unless somebody chose a phase
    phase = present.phase_deg or round(180.0 / count, 2)
    return replace(present, count=count, diameter_mm=drill, changes=tuple(changes), phase_deg=phase)


_REASONS = {
    Kind.HOLE_NO_JACKET: "no jacket lies behind it",
    Kind.RING_DRY: "the jacket's water does not reach it",
    Kind.BACKFLOW: "slurry presses harder than the jacket",
    Kind.HOLE_SPACING: "the few holes that its water needs lie more than four mouth widths apart",
    Kind.HOLE_LIGAMENT: "the many holes that its water needs leave less than two diameters of wall",
    Kind.HOLE_DEEP: "their holes would be deeper than they can be made",
    Kind.HOLE_SMALL: "no hole of a sensible size is small enough",
    Kind.HOLE_SHORT: "the wall behind it is too thin for its holes",
    Kind.HOLE_WIDE: "its floor is narrower than a hole",
    Kind.HOLE_STRAINER: "no drill of the list is three strainer openings wide",
}


def _refusals(e: Evaluation, ratio: FloatArray, need: float) -> tuple[Refusal, ...]:
    """Grooves whose velocity `ratio` (g,) lies outside the window, or whose holes break a rule: the first reason."""
    share = e.duty.water_l_min * LITRE_PER_MINUTE / need
    found = []
    for i in range(len(ratio)):
        broken = [f for f in e.findings if f.kind in _REASONS and i + 1 in f.grooves]
        reasons = [_REASONS[f.kind] for f in broken]
        outside = not LOOSE[0] <= ratio[i] <= LOOSE[1]
        if outside and not LOOSE[0] <= share <= LOOSE[1]:
            reasons.append(_share_words(share, need))
        elif outside:
            reasons.append("no whole number of holes comes nearer")
        if reasons:
            found.append(Refusal(i + 1, float(ratio[i]), reasons[0], broken[0] if broken else None))
    return tuple(found)


def _share_words(share: float, need: float) -> str:
    low, high = (need * k / LITRE_PER_MINUTE for k in LOOSE)
    return f"the water asked for is {share:.2f} of what just lifts all beds: ask for {ceil(low)} to {int(high)} L/min"


def _sentence(plan: HolePlan, grooves: int, refusals: tuple[Refusal, ...]) -> str:
    what = f"{plan.count} holes of {plan.diameter_mm:g} mm a ring"
    if plan.changes:
        what += f", {len(plan.changes)} rings differ"
    if not refusals:
        return f"Proposed: {what}; every groove's water lies in its window."
    first = Counter(r.why for r in refusals).most_common(1)[0][0]
    right = grooves - len(refusals)
    of = f"{right} of {grooves} grooves are right" if right else f"none of the {grooves} grooves is right yet"
    return as_printed(
        f"Proposed: {what}; {of}, since {first}: {_by_how_much([r for r in refusals if r.why == first])}."
    )


def _by_how_much(refusals: list[Refusal]) -> str:
    """The rule that is broken worst, with its number and limit; else how far the water lies from what is wanted."""
    broken = [r.broken for r in refusals if r.broken is not None]
    told = [f for f in broken if f.value is not None and f.limit is not None and isfinite(f.limit)]
    if told:
        worst = max(told, key=lambda f: abs((f.value or 0.0) - (f.limit or 0.0)))
        return (
            f"{worst.value:.4g} {worst.unit}".strip()
            + f" where {worst.limit:.4g} {worst.unit}".rstrip()
            + " is the limit"
        )
    ratios = [r.ratio for r in refusals]
    low, high = min(ratios), max(ratios)
    span = f"{low:.2f}" if f"{low:.2f}" == f"{high:.2f}" else f"{low:.2f} to {high:.2f}"
    return f"their water is {span} times what just lifts the bed, {LOOSE[0]:g} to {LOOSE[1]:g} is wanted"
