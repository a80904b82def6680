"""Asked backwards: the answer, set, makes the number what was wanted; where there is none, one sentence says so."""

import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.assess.quantities.table import quantity
from profiler.explore.ask import Wanted, ask, free_numbers
from profiler.study import Design
from profiler.study.edits import design_edits as edits
from profiler.study.files.examples import read
from tests.tiers import kept

STUDY = read("graded")
NOW = evaluate(STUDY.design, STUDY.machine, STUDY.duty)


def _repose(e, speed):
    duty = replace(e.duty, speed_rpm=float(speed))
    return Wanted(quantity("repose_deg"), 0.0, height_mm=150.0).of(evaluate(e.design, e.machine, duty))


def free(words, e=NOW):
    return next(f for f in free_numbers(e) if f.words == words)


EVERY_RUN = ("Size d50",)
ASKED = [
    ("Solids", Wanted(quantity("groove_overfall_mm"), 0.0, groove=9)),
    ("Size d50", Wanted(quantity("groove_overfall_mm"), 0.5, groove=9)),
    ("Speed", Wanted(quantity("acceleration_g"), 80.0, height_mm=200.0)),
    ("Dry feed", Wanted(quantity("groove_power_w"), 6.0, groove=4)),
    ("Water", Wanted(quantity("repose_deg"), 6.0, height_mm=250.0)),
    ("Mouth", Wanted(quantity("groove_overfall_mm"), 4.0, groove=3)),
    ("Angle of the knot at 115 mm", Wanted(quantity("groove_ratio"), 2.0, groove=8)),
    ("Angle of the knot at 330 mm", Wanted(quantity("mass_kg"), 12.0)),
]


@pytest.mark.parametrize(
    ("words", "wanted"), kept(ASKED, [a for a in ASKED if a[0] in EVERY_RUN]), ids=[a[0] for a in ASKED]
)
def test_setting_the_answer_makes_the_number_what_was_wanted(words, wanted):
    answer = ask(NOW, free(words), wanted)
    assert answer.value is not None and answer.changed is not None
    changed = answer.changed
    design, duty = (changed, STUDY.duty) if isinstance(changed, Design) else (STUDY.design, changed)
    e = evaluate(design, STUDY.machine, duty)
    assert wanted.of(e) == pytest.approx(wanted.value, abs=1e-5)


def test_the_sentence_says_just_buried_with_value_and_unit():
    answer = ask(NOW, free("Solids"), ASKED[0][1])
    assert answer.sentence.startswith("Groove 9 is just buried at solids 37.")
    assert answer.sentence.endswith("% by mass.")


def test_where_nothing_does_it_the_sentence_gives_the_range_tried_and_what_was_reached():
    answer = ask(NOW, free("Solids"), Wanted(quantity("groove_overfall_mm"), 0.0, groove=1))
    assert answer.value is None and answer.changed is None
    assert answer.sentence.startswith("No solids between 10.0 and 70.0 % by mass does it: overfall stays between ")


@pytest.mark.long
def test_a_number_that_goes_in_jumps_is_not_called_found():
    answer = ask(NOW, free("Solids"), Wanted(quantity("count_strong"), 4.5))
    assert answer.value is None and "goes in jumps" in answer.sentence


@pytest.mark.long
def test_of_several_answers_the_nearest_is_given_and_the_others_are_counted():
    fine = evaluate(STUDY.design, STUDY.machine, replace(STUDY.duty, d50_um=30.0))
    over = free("Speed", fine)
    lowest = min(_repose(fine, speed) for speed in range(300, 801, 20))
    answer = ask(fine, over, Wanted(quantity("repose_deg"), lowest + 0.02, height_mm=150.0))
    assert answer.value is not None and "the nearest of 2 values" in answer.sentence


@pytest.mark.parametrize(("between", "words"), [((60.0, 20.0), "is empty"), ((0.0, 20.0), "must lie between")])
def test_a_range_that_is_none_is_refused(between, words):
    with pytest.raises(ValueError, match=words):
        ask(NOW, free("Solids"), ASKED[0][1], between)


def test_a_design_without_grooves_has_none_to_ask_about():
    bare = edits.with_grooves(STUDY.design, replace(STUDY.design.grooves, count=0))
    e = evaluate(bare, STUDY.machine, STUDY.duty)
    assert "Mouth" not in [f.words for f in free_numbers(e)]
    with pytest.raises(ValueError, match="no grooves"):
        ask(e, free("Solids", e), ASKED[0][1])


@pytest.mark.long
def test_both_ends_held_still_answers_for_a_knot():
    design = edits.held(STUDY.design, edits.Hold.BOTH, NOW.shape.lip_radius, NOW.shape.floor_radius)
    e = evaluate(design, STUDY.machine, STUDY.duty)
    answer = ask(e, free("Angle of the knot at 115 mm", e), Wanted(quantity("groove_ratio"), 0.5, groove=8))
    assert answer.value is not None
    assert evaluate(answer.changed, STUDY.machine, STUDY.duty).shape.floor_radius == pytest.approx(
        NOW.shape.floor_radius, abs=1e-3
    )
