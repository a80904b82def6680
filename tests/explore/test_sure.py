"""Bowls as cast and what matters: shares against many draws, costs against one bowl at a time, finite differences."""

from functools import cache

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.assess.quantities.table import quantity
from profiler.explore.sure.castings import Tolerances, as_cast, at_each_friction
from profiler.explore.sure.what_matters import what_matters
from profiler.progress import Cancelled, Progress
from profiler.study.edits import design_edits as edits
from profiler.study.files.examples import read
from profiler.study.records.duty import FRICTION, SOLIDS, WATER

STUDY = read("graded")
NOW = evaluate(STUDY.design, STUDY.machine, STUDY.duty)
NONE = Tolerances(0.0, 0.0, 0.0, 0.0, 0.0)


@cache
def some(bowls=60, seed=1):
    return as_cast(STUDY.design, STUDY.machine, STUDY.duty, bowls=bowls, seed=seed)


def test_without_tolerances_every_bowl_is_the_drawn_one():
    c = as_cast(STUDY.design, STUDY.machine, STUDY.duty, NONE, bowls=3)
    assert c.bowls == 3
    np.testing.assert_allclose(c.overfall, np.broadcast_to(c.nominal, c.overfall.shape), atol=1e-9)
    assert set(np.unique(c.falling)) <= {0.0, 1.0}


def test_the_drawn_bowl_is_what_the_plain_evaluation_says_at_each_friction():
    for k, duty in enumerate(at_each_friction(STUDY.duty)):
        e = evaluate(STUDY.design, STUDY.machine, duty)
        np.testing.assert_allclose(some().nominal[k], quantity("groove_overfall_mm").get(e), atol=1e-6)


def test_same_seed_same_bowls():
    np.testing.assert_array_equal(
        as_cast(STUDY.design, STUDY.machine, STUDY.duty, bowls=5).overfall, some().overfall[:5]
    )
    assert not np.array_equal(some(5, seed=2).overfall, some().overfall[:5])


def test_no_band_is_left_inside_a_draw():
    """A wider band changes low and high friction, which are its ends, and nothing at the middle."""
    wide = replace(STUDY.duty, friction_low=0.3, friction_high=1.2)
    c = as_cast(STUDY.design, STUDY.machine, wide, bowls=4)
    np.testing.assert_allclose(c.overfall[:, 1], some().overfall[:4, 1], atol=1e-6)
    assert not np.allclose(c.overfall[:, 0], some().overfall[:4, 0], atol=0.1)
    assert c.frictions == (0.3, STUDY.duty.friction, 1.2)


def test_a_tolerance_costs_what_one_bowl_at_its_end_says():
    """The turned wall, against two bowls turned by hand."""
    c, angle = some(), Tolerances().angle_deg
    ends = []
    for turn in (-angle, angle):
        turned = edits.turned(STUDY.design, range(4), turn)
        ends.append(quantity("groove_overfall_mm").get(evaluate(turned, STUDY.machine, STUDY.duty)))
    by_hand = np.sqrt(np.mean((0.5 * (ends[1] - ends[0])) ** 2))
    assert c.costs[0][0] == "angle_deg" and c.costs[0][1] == pytest.approx(by_hand, rel=0.05)
    assert [moved for _, moved in c.costs] == sorted((moved for _, moved in c.costs), reverse=True)


def shares_within_sampling_error(bowls: int, reference: int) -> None:
    few, many = some(bowls), some(reference, seed=99)
    p = np.clip(many.falling, 0.5 / reference, 1.0 - 0.5 / reference)
    error = np.sqrt(p * (1.0 - p) * (1.0 / bowls + 1.0 / reference))
    assert np.all(np.abs(few.falling - many.falling) <= 4.0 * error + 1.0 / bowls)


def test_shares_lie_within_their_sampling_error():
    shares_within_sampling_error(60, 240)


@pytest.mark.long
def test_shares_of_the_usual_number_lie_within_their_sampling_error_of_many_draws():
    shares_within_sampling_error(500, 20_000)


def test_called_off_it_gives_up():
    def off(share):
        raise Cancelled

    with pytest.raises(Cancelled):
        as_cast(STUDY.design, STUDY.machine, STUDY.duty, progress=Progress(off))


@pytest.mark.parametrize("name", ["watered", "upright"])
def test_other_examples_can_be_cast(name):
    study = read(name)
    c = as_cast(study.design, study.machine, study.duty, bowls=3)
    assert c.bowls == 3 and c.overfall.shape[1:] == c.nominal.shape


def test_a_friction_without_an_answer_is_no_casting_with_numbers_that_mean_nothing():
    with pytest.raises(ValueError, match="at one of its frictions"):
        as_cast(STUDY.design, STUDY.machine, replace(STUDY.duty, speed_rpm=90.0), bowls=2)


def test_what_cannot_be_cast_is_refused_in_a_sentence():
    with pytest.raises(ValueError, match="at least 2"):
        as_cast(STUDY.design, STUDY.machine, STUDY.duty, bowls=1)
    with pytest.raises(ValueError, match="cannot be used"):
        Tolerances(angle_deg=float("nan"))
    for name in Tolerances.__slots__:
        with pytest.raises(ValueError, match="cannot be used") as told:
            Tolerances(**{name: -1.0})
        assert "_" not in str(told.value), "words, not the name of a key"
    bare = edits.with_grooves(STUDY.design, replace(STUDY.design.grooves, count=0))
    with pytest.raises(ValueError, match="no groove"):
        as_cast(bare, STUDY.machine, STUDY.duty)


# What matters

KEYS = ("power_w", "exposed_height_mm")


def test_a_change_is_the_finite_difference_over_the_inputs_plus_and_minus():
    m = what_matters(NOW, [quantity(k) for k in KEYS], {"solids": 2.0, "water": 5.0})
    for ranking in m.rankings:
        assert ranking.now == quantity(ranking.quantity.key).get(NOW)[0]
        for effect in ranking.effects:
            field = {"solids": SOLIDS, "water": WATER, "friction": FRICTION}[effect.word]
            ends = [
                quantity(ranking.quantity.key).get(evaluate(STUDY.design, STUDY.machine, field.set(STUDY.duty, value)))[
                    0
                ]
                for value in (effect.low, effect.high)
            ]
            assert effect.change == pytest.approx(ends[1] - ends[0], abs=1e-6)
        changes = [abs(e.change) for e in ranking.effects]
        assert changes == sorted(changes, reverse=True)


def test_a_small_change_grows_in_proportion():
    one, two = (what_matters(NOW, [quantity("power_w")], {"feed": f}).rankings[0].effects for f in (0.01, 0.02))
    change = [next(e.change for e in effects if e.word == "feed") for effects in (one, two)]
    assert change[1] == pytest.approx(2.0 * change[0], rel=0.02)


def test_an_input_without_a_plus_and_minus_is_listed_and_not_ranked():
    m = what_matters(NOW, [quantity("power_w")], {"solids": 1.0})
    assert {e.word for e in m.rankings[0].effects} == {"friction", "solids"}
    assert "Speed" in m.not_given and "Solids" not in m.not_given


@pytest.mark.parametrize(
    ("given", "words"), [({"gold": 1.0}, "not an input"), ({"solids": 0.0}, "above 0"), ({"solids": 60.0}, "Solids")]
)
def test_a_plus_and_minus_that_is_none_is_refused_in_a_sentence(given, words):
    with pytest.raises(ValueError, match=words):
        what_matters(NOW, [quantity("power_w")], given)
