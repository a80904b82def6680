"""Where the model must say less: a bed that closes the bowl, dilute and coarse slurries, water, places of nodes."""

from functools import cache

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import Evaluation, Severity, evaluate
from profiler.assess.findings.kinds import NO_ANSWER
from profiler.assess.flow.flow_stage import HIGH, LOW, MIDDLE
from profiler.assess.flow.no_answer import named
from profiler.physics.grains.packing import SETTLED
from profiler.physics.slurry.overturn import State
from profiler.physics.slurry.repose import Slurry, repose
from profiler.study import Duty, HolePlan
from profiler.study.edits import design_edits as edits
from profiler.study.files import examples
from profiler.units import DEGREE, MM, RPM

STUDY = examples.read("graded")


@cache
def under(**members: float) -> Evaluation:
    return evaluate(STUDY.design, STUDY.machine, replace(STUDY.duty, **members))


CLOSING, DILUTE, THIN_FILM = {"speed_rpm": 100.0}, {"solids_pct": 2.0, "dry_feed_t_h": 0.05}, {"d50_um": 1000.0}


@pytest.mark.parametrize(("members", "why"), [(CLOSING, "bed_closes"), (THIN_FILM, "film_below_grain")])
def test_without_an_answer_there_is_one_stop_and_no_number_that_rests_on_the_bed(
    members: dict[str, float], why: str
) -> None:
    e = under(**members)
    assert (e.flow, e.catch, e.spin) == (None, None, None)
    assert e.shape is not None and e.body is not None
    assert [f.code for f in e.findings if f.kind in NO_ANSWER] == [why]
    assert e.no_answer == NO_ANSWER[next(f.kind for f in e.findings if f.kind in NO_ANSWER)]
    assert not any(f.code in ("spin_energy", "flange_thrust", "entry") for f in e.findings)


@pytest.mark.parametrize("speed", [60.0, 100.0, 150.0, 200.0, 215.0, 230.0, 260.0])
def test_no_bed_reaches_what_stands_in_the_middle_and_no_part_that_is_not_there_is_named(speed: float) -> None:
    e = under(speed_rpm=speed)
    hub = 0.5 * STUDY.design.body.hub_hole_mm
    if e.flow is not None:
        for level in (LOW, MIDDLE):
            assert e.flow.bed.radius[0, level, 0] / MM > hub
        return
    text = next(f.text for f in e.findings if f.kind in NO_ANSWER)
    assert "radius 0" not in text and "-" not in text.replace("high-", "")


def test_where_nothing_stands_in_the_middle_it_is_the_axis_that_is_reached() -> None:
    e = under()
    assert e.shape is not None
    bare = replace(STUDY.machine, deflector_mm=0.0, feed_pipe_mm=0.0)
    assert named(e.shape, bare, 50.0) == "the axis" and named(e.shape, bare, 0.0).startswith("the hub of radius")
    parts = replace(STUDY.machine, deflector_mm=60.0, deflector_height_mm=80.0)
    assert named(e.shape, parts, 50.0) == "the deflector of radius 30 mm"


def test_high_friction_alone_is_a_finding_and_its_values_are_missing() -> None:
    lost = None
    for friction in np.linspace(0.8, 1.4, 13):
        e = under(speed_rpm=215.0, friction_high=float(friction))
        if e.flow is not None and e.flow.answers.high_missing[0]:
            lost = e
            break
    assert lost is not None and lost.flow is not None
    told = [f for f in lost.findings if f.code == "high_friction_lost"]
    assert len(told) == 1 and told[0].severity is Severity.CHECK
    assert np.all(np.isnan(lost.flow.bed.radius[0, HIGH])) and np.all(np.isnan(lost.flow.groove_overfall[0, HIGH]))
    assert np.all(np.isfinite(lost.flow.bed.radius[0, :HIGH]))
    assert np.all(lost.flow.angle < 90.0 * DEGREE)


def film(fraction: float, **grain: float) -> object:
    given = {"solids_density": 2750.0, "grain_size": 110e-6, "liquid_density": 998.2, "liquid_viscosity": 1e-3} | grain
    return repose(0.2, 580.0 * RPM, 1.2e-3, fraction, Slurry(**given), 0.6)


def test_a_dilute_slurrys_slope_is_eased_in_between_one_and_three_per_cent() -> None:
    """theta = atan(g/a') + w alpha, w the smoothstep of C from 0.01 to 0.03."""
    for fraction in (0.004, 0.009, 0.0101, 0.015, 0.02, 0.0299, 0.03, 0.05):
        f = film(fraction)
        share = np.clip((fraction - 0.01) / 0.02, 0.0, 1.0)
        tilt = np.arctan(9.80665 / f.acceleration)
        assert f.angle == pytest.approx(tilt + share**2 * (3.0 - 2.0 * share) * f.slope, rel=1e-12)
        assert f.lag > 0.0 and bool(f.has_bed) == (fraction >= 0.01)


def test_without_a_bed_no_state_is_claimed_and_no_ratio_given() -> None:
    e = under(**DILUTE)
    assert e.flow is not None
    assert np.all(e.flow.groove_state == State.NONE) and np.all(np.isnan(e.flow.groove_ratio))
    assert np.all(np.isfinite(e.flow.groove_overfall))


@pytest.mark.parametrize("size", [0.5e-3, 1e-3, 2e-3, 5e-3])
@pytest.mark.parametrize("fraction", [0.05, 0.2, 0.4, 0.62])
def test_no_grains_however_coarse_stand_steeper_than_a_bed_at_packing(size: float, fraction: float) -> None:
    f = film(fraction, grain_size=size)
    packed = max(fraction, SETTLED) * (2750.0 / 998.2 - 1.0)
    leaning = np.cos(f.lag_angle)
    assert np.tan(f.slope) / leaning <= packed * 0.6 / (1.0 + packed) * (1.0 + 1e-9)


@pytest.mark.parametrize("friction", [0.3, 0.8, 1.2])
@pytest.mark.parametrize("solids", [20.0, 65.0])
@pytest.mark.parametrize("rings", [True, False])
def test_ring_flows_are_settled_or_a_finding_says_they_are_not(friction: float, solids: float, rings: bool) -> None:
    """What a further round of all passes would still move, by starting it from the answer itself: a fixed point."""
    design = STUDY.design if rings else replace(STUDY.design, holes=HolePlan())
    e = evaluate(design, STUDY.machine, replace(STUDY.duty, friction=friction, friction_high=1.4, solids_pct=solids))
    if e.flow is None:
        assert e.no_answer
        return
    told = any(f.code == "water_unsettled" for f in e.findings)
    assert told == bool(e.flow.water.unsettled[0] > 1e-3)
    assert np.sum(e.flow.water.ring[0]) == pytest.approx(e.flow.water.total[0], rel=1e-6)


@pytest.mark.parametrize("name", ["graded", "cone", "upright", "watered"])
def test_thirty_nine_knots_that_leave_the_wall_leave_every_figure(name: str) -> None:
    study = examples.read(name)
    one = evaluate(study.design, study.machine, study.duty)
    assert one.shape is not None and one.flow is not None and one.catch is not None
    design, lip = study.design, one.shape.height
    rng = np.random.default_rng(1)
    for height in np.round(rng.uniform(1.0, lip - 1.0, 39), 1):
        if min(abs(height - k.height_mm) for k in design.wall.knots) < 0.5:
            height += 0.7
        angle = float(np.degrees(one.shape.wall.angle_at(np.array([height]))[0]))
        design, _ = edits.add_knot(design, float(height), angle)
    many = evaluate(design, study.machine, study.duty)
    assert len(design.wall.knots) >= 39 and many.flow is not None and many.catch is not None and many.shape is not None
    nodes = one.shape.stations.height[one.shape.stations.node]
    clear = np.linspace(0.0, lip, 997)
    clear = clear[np.min(np.abs(clear[:, None] - nodes), axis=1) > 1e-3]  # the angle steps where a ring's water joins
    for level in (LOW, MIDDLE, HIGH):
        a, b = (np.interp(clear, e.shape.stations.height, e.flow.angle[0, level]) for e in (one, many))
        beside = np.min(np.abs(clear[:, None] - one.shape.mouths.upper), axis=1) > 1.0
        assert np.max(np.abs(a - b)[beside]) < 1e-3 * DEGREE
    assert np.max(np.abs(one.flow.groove_overfall - many.flow.groove_overfall)) < 1e-3 * MM
    assert many.flow.groove_ratio == pytest.approx(one.flow.groove_ratio, rel=1e-3)
    assert np.array_equal(many.flow.groove_state, one.flow.groove_state)
    assert many.catch.stream == pytest.approx(one.catch.stream, rel=1e-3)


def test_no_state_is_claimed_below_the_entry_height_and_the_numbers_stay() -> None:
    e = evaluate(STUDY.design, replace(STUDY.machine, entry_mm=100.0), Duty("x", **_numbers(STUDY.duty)))
    assert e.flow is not None and e.shape is not None
    low = e.shape.mouths.middle < 100.0
    assert low.any() and np.all((e.flow.groove_state[0] == State.NONE) == low)
    assert np.all((e.flow.state[0] == State.NONE) == (e.shape.stations.height < 100.0))
    assert np.all(np.isfinite(e.flow.groove_ratio)) and np.all(np.isfinite(e.flow.groove_overfall))


def _numbers(duty: Duty) -> dict[str, float]:
    return {n: getattr(duty, n) for n in ("speed_rpm", "solids_pct", "d50_um", "dry_feed_t_h", "water_l_min")}
