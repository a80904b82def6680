"""Every input of duty, wall and grooves over its whole range: what is asked, and what may not happen on the way."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from msgspec.structs import replace
from numpy.typing import NDArray

from profiler.assess import Evaluation, Stages, evaluate
from profiler.assess.flow.flow_stage import HIGH, LOW, MIDDLE, Flow
from profiler.study import Design, Duty, GrooveRule, HolePlan, Knot, Machine, WallCurve
from profiler.study.files import examples
from profiler.units import DEGREE

Array = NDArray[np.float64]
STUDY = examples.read("graded")
DESIGN, MACHINE, DUTY = STUDY.design, STUDY.machine, STUDY.duty
DRY = replace(
    DUTY, water_l_min=0.0
)  # where a ring's water joins the angle steps, and a groove that moves takes it along
EVEN = replace(DESIGN, holes=HolePlan())

SMALL_ANGLE, SMALL_RATIO = 0.02 * DEGREE, 0.002  # moves below these are no jumps
KEPT = 0.7  # halving the step leaves at most this share of the largest move


@dataclass(frozen=True)
class Case:
    design: Design
    machine: Machine
    duty: Duty


@dataclass(frozen=True)
class Sweep:
    """One input from its lowest to its highest value; `at` turns a value into a case."""

    low: float
    high: float
    by_ratio: bool
    at: Callable[[float], Case]

    def values(self, count: int) -> Array:
        if self.by_ratio:
            return np.geomspace(self.low, self.high, count)
        return np.linspace(self.low, self.high, count)


def _duty(**members: float) -> Case:
    return Case(EVEN, MACHINE, replace(DUTY, **members))


def _friction(x: float) -> Case:
    return _duty(friction_low=max(0.75 * x, 0.05), friction=x, friction_high=min(x / 0.75, 1.5))


def _scaled(lip: float) -> Case:
    """The default bowl with all its lengths in proportion, at the same acceleration, its flows as the square."""
    k = lip / 217.6
    wall = WallCurve(tuple(Knot(n.height_mm * k, n.angle_deg) for n in DESIGN.wall.knots), lip_radius_mm=lip)
    g = DESIGN.grooves
    grooves = replace(
        g, from_mm=g.from_mm * k, to_mm=g.to_mm * k, mouth_mm=g.mouth_mm * k, depth_mm=g.depth_mm * k,
        floor_radius_mm=g.floor_radius_mm * k, edge_radius_mm=g.edge_radius_mm * k, least_land_mm=0.0,
    )  # fmt: skip
    duty = replace(
        DUTY, speed_rpm=DUTY.speed_rpm / np.sqrt(k), dry_feed_t_h=DUTY.dry_feed_t_h * k * k,
        water_l_min=DUTY.water_l_min * k * k,
    )  # fmt: skip
    body = replace(DESIGN.body, fill_seat=False, hub_hole_mm=76.0 * k)
    machine = replace(MACHINE, seat=(), deflector_mm=0.0, feed_pipe_mm=0.0)
    return Case(replace(EVEN, wall=wall, grooves=grooves, body=body), machine, duty)


def _radius(lip: float) -> Case:
    """The wall of the default bowl moved in or out, for what of it still has a radius."""
    return Case(replace(EVEN, wall=replace(DESIGN.wall, lip_radius_mm=lip)), MACHINE, DRY)


def _cone(angle: float) -> Case:
    wall = WallCurve((Knot(0.0, angle), Knot(200.0, angle)), lip_radius_mm=217.6)
    grooves = GrooveRule(count=8, from_mm=10.0, to_mm=195.0, mouth_mm=8.0)
    return Case(replace(EVEN, wall=wall, grooves=grooves), MACHINE, DRY)


def _grooved(**members: float) -> Case:
    return Case(replace(EVEN, grooves=replace(DESIGN.grooves, **members)), MACHINE, DRY)


def _holed(**members: float) -> Case:
    return Case(replace(DESIGN, holes=replace(DESIGN.holes, **members)), MACHINE, DUTY)


def _turned(place: int, angle: float) -> Case:
    """One knot's angle. The wall moves below it, and the grooves with it: dry, as where they move."""
    knots = list(DESIGN.wall.knots)
    knots[place] = replace(knots[place], angle_deg=angle)
    return Case(replace(EVEN, wall=replace(DESIGN.wall, knots=tuple(knots))), MACHINE, DRY)


SWEEPS: dict[str, Sweep] = {
    "speed": Sweep(1.0, 10000.0, True, lambda x: _duty(speed_rpm=x)),
    "solids": Sweep(1.0, 75.0, False, lambda x: _duty(solids_pct=x)),
    "size": Sweep(5.0, 5000.0, True, lambda x: _duty(d50_um=x)),
    "feed": Sweep(0.001, 5000.0, True, lambda x: _duty(dry_feed_t_h=x)),
    "water": Sweep(0.1, 20000.0, True, lambda x: _duty(water_l_min=x)),
    "density": Sweep(1100.0, 20000.0, True, lambda x: _duty(solids_density_kg_m3=x)),
    "water through holes": Sweep(0.1, 2000.0, True, lambda x: Case(DESIGN, MACHINE, replace(DUTY, water_l_min=x))),
    "speed with holes": Sweep(200.0, 2000.0, True, lambda x: Case(DESIGN, MACHINE, replace(DUTY, speed_rpm=x))),
    "temperature": Sweep(1.0, 80.0, False, lambda x: _duty(temperature_c=x)),
    "friction": Sweep(0.07, 1.1, False, _friction),
    "bowl, in proportion": Sweep(20.0, 2000.0, True, _scaled),
    "lip radius": Sweep(120.0, 2000.0, True, _radius),
    "angle of a cone": Sweep(0.0, 45.0, False, _cone),
    "mouth": Sweep(0.5, 18.0, True, lambda x: _grooved(mouth_mm=x)),
    "depth": Sweep(0.5, 25.0, True, lambda x: _grooved(depth_mm=x)),
    "flank": Sweep(0.0, 25.0, False, lambda x: _grooved(flank_deg=x, floor_radius_mm=0.0)),
    "floor radius": Sweep(0.0, 4.0, False, lambda x: _grooved(floor_radius_mm=x)),
    "edge radius": Sweep(0.0, 1.5, False, lambda x: _grooved(edge_radius_mm=x)),
    "start of the grooves": Sweep(0.0, 150.0, False, lambda x: _grooved(from_mm=x)),
    "end of the grooves": Sweep(200.0, 330.0, False, lambda x: _grooved(to_mm=x)),
    "diameter of holes": Sweep(0.4, 4.0, True, lambda x: _holed(diameter_mm=x)),
    "skew of holes": Sweep(-70.0, 70.0, False, lambda x: _holed(skew_deg=x)),
    "angle of the lowest knot": Sweep(5.0, 45.0, False, lambda x: _turned(0, x)),
    "angle of a middle knot": Sweep(0.0, 40.0, False, lambda x: _turned(1, x)),
    "angle of the top knot": Sweep(-20.0, 25.0, False, lambda x: _turned(-1, x)),
}


@dataclass(frozen=True)
class Told:
    """What is compared from one value to the next: nan where there is no answer."""

    angle: Array  # (values, 3 * places) rad
    ratio: Array  # (values, grooves) E/(1 + |E|)


def flow_at(sweep: Sweep, value: float) -> Evaluation:
    case = sweep.at(value)
    return evaluate(case.design, case.machine, case.duty, want=Stages.FLOW)


def told(sweep: Sweep, values: Array, check: Callable[[float, Evaluation], None] | None = None) -> Told:
    angles, ratios = [], []
    for value in values.tolist():
        e = flow_at(sweep, value)
        if check is not None:
            check(value, e)
        if e.flow is None or e.shape is None:
            angles.append(np.full(3 * 21, np.nan))
            ratios.append(np.full(64, np.nan))
            continue
        f, at = e.flow, e.shape.stations
        places = np.linspace(0.0, 1.0, 21) * at.height[-1]
        claimed = places >= f.entry[0]
        here = np.array([np.interp(places, at.height, row) for row in f.angle[0]])
        here[:, ~claimed] = np.nan
        here[HIGH, f.answers.high_missing[0] | ~claimed] = np.nan
        angles.append(here.ravel())
        ratio = np.full(64, np.nan)
        given = np.where(e.shape.mouths.middle >= f.entry[0], f.groove_ratio[0], np.nan)
        ratio[: len(given)] = given
        ratios.append(ratio / (1.0 + np.abs(ratio)))
    return Told(np.array(angles), np.array(ratios))


def moves(values: Array) -> Array:
    """(steps,) the largest move of each step; 0 where there is no answer on either side."""
    step = np.abs(np.diff(values, axis=0))
    return np.asarray(np.max(np.where(np.isfinite(step), step, 0.0), axis=1))


def sound(value: float, e: Evaluation) -> None:
    """No number that is none, no band out of order, nothing beyond the axis or a right angle."""
    if e.flow is None or e.shape is None:
        return
    flow: Flow = e.flow
    low, middle, high = flow.angle[0]
    assert np.all(np.isfinite(flow.angle)), value
    assert np.all(low <= middle + 1e-12) and np.all(middle <= high + 1e-12) and np.all(high < 0.5 * np.pi), value
    ends = (LOW, MIDDLE) if flow.answers.high_missing[0] else (LOW, MIDDLE, HIGH)
    fall = flow.groove_overfall[0][list(ends)]
    assert np.all(np.isfinite(fall)) and np.all(np.diff(fall, axis=0) <= 1e-9), value
    assert np.all(flow.bed.radius[0][list(ends)] > 0.0), value
    bedless = ~flow.film.has_bed[0, MIDDLE]
    if not bedless.any():
        assert np.all(np.isfinite(flow.groove_ratio)) and np.all(np.isfinite(flow.ratio)), value
    for name in ("depth", "velocity", "lag", "acceleration", "delivered_fraction", "in_place_fraction"):
        found = getattr(flow.film, name)
        assert np.all(np.isfinite(found)) and np.all(found >= 0.0), (value, name)
    assert np.all(np.isfinite(flow.water.ring)) and np.all(np.isfinite(flow.groove_power)), value
