"""Friction from measurements: coverage of its interval, brackets of stopped bowls, contradictions, and what follows."""

from functools import cache

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.assess.calibration.calibrate import calibrate, calibrated
from profiler.assess.calibration.estimate import bracket, least_squares, packing_friction
from profiler.assess.evidence.words import UNCALIBRATED, standing
from profiler.assess.quantities.table import quantity
from profiler.study import Measurement, Seen
from profiler.study.files.examples import read
from profiler.study.files.file import decode_study, encode_study
from profiler.study.records.duty import FRICTION, SOLIDS

STUDY = read("graded")
FRICTIONS = np.geomspace(0.15, 1.4, 25)


def at(friction, duty=STUDY.duty, band=None):
    low, high = band or (friction, friction)
    return replace(duty, friction=friction, friction_low=low, friction_high=high)


def angle_at(height, friction, duty=STUDY.duty, design=STUDY.design):
    """What the plain evaluation predicts."""
    e = evaluate(design, STUDY.machine, at(friction, duty))
    return float(np.interp(height, e.shape.stations.height, quantity("repose_deg").get(e)))


def measured(height, angle, spread=0.3, name="Angle"):
    return Measurement(name, STUDY.design, STUDY.duty, "invented", height, angle, spread)


def stopped(seen, design=STUDY.design, name="Stop"):
    return Measurement(name, design, STUDY.duty, "invented", grooves=tuple(seen))


def looks(friction, design=STUDY.design):
    e = evaluate(design, STUDY.machine, at(friction))
    return tuple(Seen.CLEAN if v > 0.0 else Seen.PACKED for v in quantity("groove_overfall_mm").get(e))


@pytest.mark.parametrize("friction", [0.4, 0.6, 0.85])
def test_the_friction_behind_a_predicted_angle_is_found_again_both_ways(friction):
    found = calibrate([measured(200.0, angle_at(200.0, friction))], STUDY.machine)
    assert found.friction == pytest.approx(friction, rel=0.01)
    assert found.readings[0].friction == pytest.approx(friction, rel=0.02)  # the model turned round, at its own film
    assert found.low < friction < found.high and not found.is_bracket and not found.contradictions


@cache
def tables():
    """Predicted angle over friction at three heights, and under a thicker, coarser duty elsewhere."""
    other = replace(STUDY.duty, solids_pct=30.0, d50_um=140.0)
    grid = []
    for duty in (STUDY.duty, other):
        e = evaluate(STUDY.design, STUDY.machine, [at(f, duty) for f in FRICTIONS.tolist()])
        rows = np.degrees(e.flow.angle[:, 1])
        grid.append(np.column_stack([[np.interp(z, e.shape.stations.height, r) for r in rows] for z in (90, 200, 300)]))
    return grid


def test_the_interval_holds_the_truth_in_95_of_100_cases():
    """1,000 seeded cases, one to three angles each, before any floor: 930 to 970 inside."""
    here = tables()[0]
    rng, inside = np.random.default_rng(4), 0
    for _ in range(1000):
        truth, count = rng.uniform(0.4, 0.85), rng.integers(1, 4)
        spread = np.full(count, rng.uniform(0.1, 0.5))
        true = np.array([np.interp(truth, FRICTIONS, column) for column in here.T[:count]])
        fitted = least_squares(FRICTIONS, here[:, :count], true + spread * rng.standard_normal(count), spread)
        inside += fitted.low <= truth <= fitted.high
    assert 930 <= inside <= 970


def test_the_floors_hold_the_angle_of_another_ore_whose_friction_differs():
    """The predicted band under another duty, kept at least 1 degree wide each way, with friction varying by 6 %."""
    here, there = tables()
    rng, inside = np.random.default_rng(5), 0
    for _ in range(1000):
        truth = rng.uniform(0.45, 0.8)
        elsewhere = truth * np.exp(0.06 * rng.standard_normal())
        angle = np.interp(truth, FRICTIONS, here[:, 1]) + 0.3 * rng.standard_normal()
        fitted = least_squares(FRICTIONS, here[:, 1:2], np.array([angle]), np.array([0.3]))
        low, middle, high = (np.interp(f, FRICTIONS, there[:, 1]) for f in (fitted.low, fitted.friction, fitted.high))
        true = np.interp(elsewhere, FRICTIONS, there[:, 1])
        inside += min(low, middle - 1.0) <= true <= max(high, middle + 1.0)
    assert inside >= 930


def test_a_stopped_bowl_gives_a_bracket_round_the_friction_that_made_it():
    found = calibrate([stopped(looks(0.63))], STUDY.machine)
    assert found.is_bracket and found.low <= 0.63 <= found.high and "bracket" in found.sentence
    assert found.friction == pytest.approx(np.sqrt(found.low * found.high))
    for end, which in ((found.low, 0.99), (found.high, 1.01)):
        assert looks(end * which) != looks(0.63) and looks(end / which) == looks(0.63)


def test_all_grooves_of_one_stop_are_one_observation():
    """A second look at the same bowl narrows nothing."""
    one = calibrate([stopped(looks(0.63))], STUDY.machine)
    two = calibrate([stopped(looks(0.63)), stopped(looks(0.63), name="Again")], STUDY.machine)
    assert (one.low, one.high, one.friction) == (two.low, two.high, two.friction)


def test_a_packed_groove_with_too_little_water_counts_as_unsure():
    study = read("watered")
    dry = replace(study.duty, water_l_min=1.0)
    e = evaluate(study.design, study.machine, dry)
    ratio = quantity("velocity_ratio").get(e)
    seen = (Seen.PACKED,) * len(ratio)
    found = calibrate([Measurement("Stop", study.design, dry, grooves=seen)], study.machine)
    assert list(found.readings[0].unsure) == [k for k, v in enumerate(ratio, 1) if v < 0.5] != []


def test_an_open_bracket_calibrates_nothing_and_says_what_it_does_say():
    found = calibrate([stopped((Seen.CLEAN,) * 8 + (Seen.UNSURE,) * 6)], STUDY.machine)
    assert found.friction is None and found.conditions is None and "below" in found.sentence
    with pytest.raises(ValueError, match="No friction follows"):
        calibrated(STUDY.duty, found)


def test_contradictions_are_named():
    seen = list(looks(0.63))
    seen[2] = Seen.PACKED
    found = calibrate([stopped(seen)], STUDY.machine)
    assert found.friction is None and "groove 3" in found.contradictions[0]
    apart = [measured(200.0, angle_at(200.0, 0.5), 0.1), measured(200.0, angle_at(200.0, 0.8), 0.1, "Other")]
    assert "contradict each other" in calibrate(apart, STUDY.machine).contradictions[0]
    both = [measured(200.0, angle_at(200.0, 0.9), 0.1), stopped(looks(0.5))]
    assert any("angles and the stopped bowl" in words for words in calibrate(both, STUDY.machine).contradictions)


def test_a_friction_that_is_none_is_refused_and_an_unusual_one_warned_of():
    assert calibrate([measured(200.0, 30.0)], STUDY.machine).friction is None
    assert "Refused" in calibrate([measured(200.0, 1.5)], STUDY.machine).sentence
    unusual = calibrate([measured(200.0, angle_at(200.0, 1.1))], STUDY.machine)
    assert unusual.friction is not None and "outside 0.35 to 0.9" in unusual.warnings[0]


def test_what_cannot_be_used_is_refused_in_a_sentence():
    for what, words in (
        ([], "no measurement"),
        ([measured(900.0, 8.0)], "outside the wall"),
        ([replace(measured(200.0, 8.0), height_mm=None)], "does not say at which height"),
        ([stopped((Seen.CLEAN,) * 3)], "has 14"),
    ):
        with pytest.raises(ValueError, match=words):
            calibrate(what, STUDY.machine)


# What follows


@cache
def sure_duty():
    found = calibrate([measured(200.0, angle_at(200.0, 0.6))], STUDY.machine)
    return calibrated(STUDY.duty, found)


def half_width(duty):
    e = evaluate(STUDY.design, STUDY.machine, replace(duty, friction_low=duty.friction, friction_high=duty.friction))
    return float(np.min(quantity("repose_high_deg").get(e) - quantity("repose_deg").get(e)))


def test_the_band_follows_the_calibration_with_its_floors():
    duty = sure_duty()
    assert half_width(STUDY.duty) == pytest.approx(2.0, abs=1e-6)
    assert half_width(duty) == pytest.approx(1.0, abs=1e-6)
    for far in ({"solids_pct": 1.4 * duty.solids_pct}, {"d50_um": 0.6 * duty.d50_um}):
        assert half_width(replace(duty, **far)) == pytest.approx(1.3, abs=1e-6)
    smaller = replace(duty, calibrated=replace(duty.calibrated, lip_radius_mm=100.0))
    assert half_width(smaller) == pytest.approx(1.3, abs=1e-6)


def test_the_words_follow_the_calibration_and_a_typed_friction_ends_it():
    duty = sure_duty()
    assert standing(STUDY.duty) == UNCALIBRATED and standing(duty).startswith("friction measured")
    assert SOLIDS.set(duty, 40.0).calibrated is not None
    assert FRICTION.set(duty, 0.5).calibrated is None


def test_measurements_and_calibration_go_through_the_file():
    study = STUDY.having("measurements", (measured(200.0, 8.5), stopped(looks(0.6)))).having("duty", sure_duty())
    assert decode_study(encode_study(study), "x.bowl") == study


# The bracket's own rules


def test_the_bracket_takes_the_tightest_groove_at_either_end():
    frictions = np.array([0.2, 0.4, 0.8])
    overfall = np.array([[1.0, 3.0, 1.0], [-1.0, 1.0, 1.0], [-3.0, -1.0, 1.0]])
    assert [packing_friction(frictions, c) for c in overfall.T] == [pytest.approx(0.3), pytest.approx(0.6), np.inf]
    b = bracket(frictions, overfall, (Seen.PACKED, Seen.CLEAN, Seen.UNSURE))
    assert (b.low, b.high, b.low_groove, b.high_groove) == (pytest.approx(0.3), pytest.approx(0.6), 1, 2)
    assert bracket(frictions, overfall, (Seen.CLEAN, Seen.PACKED, Seen.CLEAN)).contradicts
    assert bracket(frictions, overfall, (Seen.UNSURE, Seen.UNSURE, Seen.PACKED)).impossible == (3,)
