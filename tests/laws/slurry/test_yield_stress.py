"""A carrier with a yield stress: its part of the slope, as a force balance has it, and as window, report and files say.

Outside check: a layer of a liquid with a yield stress t rests on an incline as long as t >= rho g h sin(slope), any
text on the flow of such liquids (from memory: Chhabra & Richardson (2008), Non-Newtonian Flow and Applied Rheology, 2nd
ed., on flow over inclined surfaces). Without grains that rub or are pushed, the film's slope must be that one.
"""

import json
from dataclasses import replace as with_fields

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import Evaluation, Stages, evaluate
from profiler.assess.findings.kinds import Kind
from profiler.assess.flow.clay import LEFT_OUT, clay_slope
from profiler.assess.flow.flow_stage import MIDDLE
from profiler.output.report.inputs import input_blocks
from profiler.output.terminal.check_json import check_json
from profiler.output.terminal.check_text import check_text
from profiler.physics.slurry.repose import Film, Slurry, repose
from profiler.study import Duty
from profiler.study.files import examples
from profiler.study.files.file import decode_study, encode_study
from profiler.study.records.duty import YIELD_STRESS
from profiler.units import DEGREE, GRAVITY
from tests.laws.slurry.films import WATER, Sample, held_by_clay, imbalance, log_uniform, usual

STUDY = examples.read("graded")


def clayey(count: int = 2000) -> Sample:
    sample = usual(count)
    stress = log_uniform(np.random.default_rng(22), 0.1, 100.0, count)
    return with_fields(sample, slurry=with_fields(sample.slurry, yield_stress=stress))


def film_with(stress: object, fraction: float = 0.2326, friction: float = 0.6, size: float = 150e-6) -> Film:
    speed = np.sqrt(60.0 * GRAVITY / 0.15)
    slurry = Slurry(2695.0, size, WATER, 1.0016e-3, yield_stress=stress)
    return repose(0.15, speed, 6.0 / 3600.0, fraction, slurry, friction)


@pytest.mark.parametrize("lag", [True, False])
def test_the_documented_equations_hold_with_clay(lag: bool) -> None:
    sample = clayey()
    film = sample.film(lag=lag)
    slope, pull, turning = imbalance(sample, film)
    at = film.carried
    assert np.mean(at) > 0.6 and np.mean(held_by_clay(sample, film) > 0.01) > 0.3
    assert np.max(np.abs(slope[at])) < 1e-9 and np.max(np.abs(pull[at])) < 1e-9
    if lag:
        assert np.max(np.abs(film.lag * (1.0 - film.lag) / turning - 1.0)[at]) < 1e-8


def test_without_grains_that_hold_the_slope_is_that_of_a_layer_at_its_yield_stress() -> None:
    stress = np.array([5.0, 20.0, 60.0])
    film = film_with(stress, fraction=0.05, friction=1e-6, size=1e-6)
    layer = 2695.0 * film.in_place_fraction + WATER * (1.0 - film.in_place_fraction)
    stops = stress / (layer * film.acceleration * film.depth)  # sin of the angle at which it would just start
    assert np.all(film.carried) and np.all(film.slope < 12.0 * DEGREE)
    # the model writes tan for sin, and takes the part along the wall's meridian, cos(b)
    assert np.sin(film.slope) == pytest.approx(stops * np.cos(film.lag_angle), rel=0.03)


def test_none_and_nought_are_the_very_same_film_and_more_stress_is_more_slope() -> None:
    bare, nought = film_with(None), film_with(0.0)
    assert bare.angle == nought.angle and bare.depth == nought.depth and bare.lag == nought.lag
    angle = film_with(np.geomspace(0.01, 100.0, 200)).angle
    assert angle[0] > bare.angle and np.all(np.diff(angle) > 0.0)
    for fraction in (0.35, 0.5):  # where the grains hold all that a bed at packing holds
        coarse = film_with(np.linspace(0.0, 50.0, 50), fraction, size=2e-3)
        assert np.all(np.diff(coarse.angle) > 0.0)


def test_it_counts_a_little_at_two_pascal_and_more_where_the_film_turns_slower() -> None:
    """By hand: 2 Pa over 998 kg/m3 x 60 g x 0.7 mm is 0.0049, a quarter of a degree; at 20 g some three times that."""
    two, none = film_with(2.0), film_with(None)
    assert 0.1 < float(two.angle - none.angle) / DEGREE < 0.3
    slow = np.sqrt(20.0 * GRAVITY / 0.15)
    angles = [
        repose(0.15, slow, 6.0 / 3600.0, 0.2326, Slurry(2695.0, 150e-6, WATER, 1.0016e-3, yield_stress=y), 0.6).angle
        for y in (2.0, None)
    ]
    assert float(angles[0] - angles[1]) > 1.5 * float(two.angle - none.angle)


def test_nothing_jumps_along_the_yield_stress() -> None:
    moves = []
    for count in (500, 1000):
        film = film_with(np.geomspace(0.01, 200.0, count), 0.45, size=600e-6)
        moves.append(float(np.max(np.abs(np.diff(film.angle)))) / DEGREE)
    assert moves[1] < 0.7 * moves[0]


def test_the_friction_behind_an_angle_is_found_again_with_clay() -> None:
    sample = clayey(500)
    film = sample.film()
    found = sample.friction_from(film.angle, True)
    known = np.isfinite(found) & film.carried & (film.lag < 0.12)
    assert np.mean(known) > 0.4  # so that it is said of many
    assert np.mean(np.abs(found[known] - sample.friction[known]) < 1e-6 * sample.friction[known]) > 0.98


# in a study


def worked(stress: float | None) -> Evaluation:
    return evaluate(STUDY.design, STUDY.machine, replace(STUDY.duty, yield_stress_pa=stress))


@pytest.fixture(scope="module")
def clay() -> Evaluation:
    return worked(6.0)


@pytest.fixture(scope="module")
def plain() -> Evaluation:
    return worked(None)


def test_a_duty_without_it_says_that_it_is_left_out(plain: Evaluation) -> None:
    assert LEFT_OUT in " ".join(check_text(plain).split())
    assert json.loads(check_json(plain))["feed"]["yield_stress_pa"] is None
    blocks = input_blocks(plain)
    assert LEFT_OUT in [getattr(b, "text", "") for b in blocks]
    cells = [row for b in blocks for row in getattr(b, "rows", ())]
    assert [row[k + 1] for row in cells for k in range(len(row) - 1) if row[k] == "Yield stress"] == ["not given"]
    assert Duty("new").yield_stress_pa is None and not [f for f in plain.findings if f.kind is Kind.CLAY]


def test_a_duty_with_it_is_steeper_by_what_the_finding_says_at_most(clay: Evaluation, plain: Evaluation) -> None:
    assert clay.flow is not None and plain.flow is not None
    told = next(f for f in clay.findings if f.kind is Kind.CLAY)
    assert (told.value, told.limit, told.unit) == (6.0, 2.0, "Pa")
    added = float(np.max(clay_slope(clay.flow)[0])) / DEGREE
    assert f"holds up to {added:.1f}° of the repose angle" in told.text and added > 0.3
    moved = (clay.flow.film.angle - plain.flow.film.angle)[0, MIDDLE] / DEGREE
    assert np.all(moved > 0.0) and np.max(moved) < added  # a steeper film is thinner and carries more of its grains
    assert not np.any(clay_slope(plain.flow))
    assert "holds up slope of its own" in " ".join(check_text(clay).split())
    assert json.loads(check_json(clay))["feed"]["yield_stress_pa"] == 6.0


def test_a_little_of_it_is_no_finding_and_an_answer_does_not_depend_on_who_else_is_asked(clay: Evaluation) -> None:
    assert not [f for f in worked(2.0).findings if f.kind is Kind.CLAY]
    both = evaluate(STUDY.design, STUDY.machine, (STUDY.duty, clay.duty), Stages.FLOW)
    alone = evaluate(STUDY.design, STUDY.machine, STUDY.duty, Stages.FLOW)
    assert both.flow is not None and alone.flow is not None and clay.flow is not None
    assert np.array_equal(both.flow.angle[0], alone.flow.angle[0])
    assert np.allclose(both.flow.angle[1], clay.flow.angle[0], rtol=1e-12)


def test_it_is_kept_in_the_file_as_it_was_typed() -> None:
    for value in (None, 0.0, 3.25):
        study = YIELD_STRESS.set(STUDY, value)
        written = encode_study(study)
        assert json.loads(written)["duties"][0]["yield_stress_pa"] == value
        assert decode_study(written, "again.bowl") == study
    assert YIELD_STRESS.objection(-1.0) and YIELD_STRESS.objection(float("nan"))
