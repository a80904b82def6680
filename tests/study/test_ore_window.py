"""An ore window built from one duty, numbers set in all, and duties that follow the first."""

import pytest

from profiler.study import Study
from profiler.study.edits import list_edits
from profiler.study.edits.list_edits import Listed
from profiler.study.edits.ore_window import COUNTS, VARIED, Way, built, in_all
from profiler.study.files import examples
from profiler.study.files.file import decode_study, encode_study
from profiler.study.records.duty import D50, FOLLOWING, SOLIDS, SPEED, WATER

STUDY = examples.read(examples.DEFAULT)
BASE = STUDY.duty


@pytest.mark.parametrize(
    ("amounts", "way", "count", "weights"),
    [({SOLIDS: 4.0}, Way.TOGETHER, 3, [2, 1, 1]), ({SOLIDS: 4.0, D50: 20.0}, Way.TOGETHER, 3, [2, 1, 1]),
     ({SOLIDS: 4.0, D50: 20.0}, Way.EACH, 5, [2, 1, 1, 1, 1]),
     ({SOLIDS: 4.0, D50: 20.0}, Way.CROSSED, 9, [4, 1, 2, 1, 2, 2, 1, 2, 1])],
)  # fmt: skip
def test_three_five_or_nine_duties_with_weights(amounts, way: Way, count: int, weights: list[float]) -> None:
    study = built(STUDY, amounts, way)
    assert len(study.window) == count and [d.weight for d in study.window] == weights
    assert study.duty.name == BASE.name and len({d.name for d in study.duties}) == len(study.duties)
    for field in VARIED:
        values = [field.get(d) for d in study.window]
        amount = amounts.get(field, 0.0)
        assert {round(v - field.get(BASE), 6) for v in values} == ({-amount, 0.0, amount} if amount else {0.0})
    assert {d.name for d in STUDY.duties} <= {d.name for d in study.duties}


def test_duties_are_named_by_what_differs() -> None:
    names = [d.name for d in built(STUDY, {SOLIDS: 4.0, D50: 20.0}, Way.TOGETHER).window[1:]]
    assert names == [
        f"{BASE.name}, solids −4 % by mass, size d50 −20 µm",
        f"{BASE.name}, solids +4 % by mass, size d50 +20 µm",
    ]


@pytest.mark.parametrize(
    ("amounts", "way", "words"),
    [({}, Way.EACH, "at least one amount"), ({SOLIDS: -1.0}, Way.EACH, "above zero"),
     ({SOLIDS: 70.0}, Way.EACH, "smaller amount"), (dict.fromkeys(VARIED[:3], 1.0), Way.EACH, "make 7 duties"),
     (dict.fromkeys(VARIED[:3], 1.0), Way.CROSSED, "make 27 duties")],
)  # fmt: skip
def test_what_makes_no_window_is_one_sentence(amounts, way: Way, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        built(STUDY, amounts, way)
    assert COUNTS == (3, 5, 9)


def test_a_number_is_set_in_all_duties_and_only_that() -> None:
    study = in_all(STUDY, SOLIDS)
    assert len({SOLIDS.get(d) for d in STUDY.duties}) > 1 and {SOLIDS.get(d) for d in study.duties} == {
        SOLIDS.get(BASE)
    }
    assert [WATER.get(d) for d in study.duties] == [WATER.get(d) for d in STUDY.duties]
    with pytest.raises(ValueError, match="already"):
        in_all(study, SOLIDS)


def followed() -> Study:
    """The second duty follows the first in speed, feed and water."""
    study = STUDY.having("shown", STUDY.shown.having("duty", STUDY.duties[1].name))
    for field in FOLLOWING:
        study = field.set(study, True)
    return study


def test_what_follows_the_first_duty_changes_with_it() -> None:
    study = followed()
    assert (study.duty.speed_rpm, study.duty.water_l_min) == (STUDY.duties[0].speed_rpm, STUDY.duties[0].water_l_min)
    first = study.having("shown", study.shown.having("duty", study.duties[0].name))
    changed = SPEED.set(WATER.set(first, 77.0), 444.0)
    assert (changed.duties[1].speed_rpm, changed.duties[1].water_l_min) == (444.0, 77.0)
    assert changed.duties[1].solids_pct == STUDY.duties[1].solids_pct
    assert changed.duties[2:] == STUDY.duties[2:]


def test_a_number_of_its_own_lets_it_go_and_that_number_only() -> None:
    study = SPEED.set(followed(), 500.0)
    assert study.duty.speed_rpm == 500.0 and not study.duty.follow_speed and study.duty.follow_water


def test_another_first_duty_is_followed_at_once() -> None:
    study = followed()
    last = study.having("shown", study.shown.having("duty", study.duties[2].name))
    moved = list_edits.move(last, Listed.DUTY, -2)
    assert moved.duties[2].speed_rpm == moved.duties[0].speed_rpm and moved.duties[2].follow_speed


def test_what_is_followed_stands_in_the_file() -> None:
    assert decode_study(encode_study(followed()), "s.bowl") == followed()
