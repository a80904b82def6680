"""Several designs and duties: what the pure edits of a study's lists do and refuse."""

import pytest
from msgspec.structs import replace

from profiler.study import Design, Lineage, Way
from profiler.study.edits import list_edits
from profiler.study.edits.list_edits import Listed
from profiler.study.files.examples import read
from profiler.study.files.file import decode_study, encode_study


@pytest.fixture
def study():
    return read("graded")


def names(study, kind):
    return [i.name for i in list_edits.items(study, kind)]


@pytest.mark.parametrize("kind", list(Listed))
def test_a_duplicate_follows_its_original_under_a_name_of_its_own_and_is_shown(study, kind):
    once = list_edits.duplicate(study, kind)
    first = names(study, kind)[0]
    assert names(once, kind)[:2] == [first, f"{first}, copy"]
    assert list_edits.shown(once, kind).name == f"{first}, copy"
    original, copy = list_edits.shown(study, kind), list_edits.shown(once, kind)
    if isinstance(copy, Design):
        assert copy.lineage == Lineage(Way.COPY, origin=first)
        copy = copy.having("lineage", original.lineage)
    assert replace(copy, name=first) == original
    back = replace(once, shown=study.shown)
    assert names(list_edits.duplicate(back, kind), kind)[1] == f"{first}, copy 2"


@pytest.mark.parametrize("kind", list(Listed))
def test_an_added_item_is_shown_and_has_a_free_name(study, kind):
    added = list_edits.add(list_edits.add(study, kind), kind)
    assert len(set(names(added, kind))) == len(names(study, kind)) + 2
    assert list_edits.shown(added, kind).name == names(added, kind)[2]


@pytest.mark.parametrize("kind", list(Listed))
def test_the_last_item_cannot_be_deleted(study, kind):
    while len(list_edits.items(study, kind)) > 1:
        study = list_edits.delete(study, kind)
    with pytest.raises(ValueError, match="only one"):
        list_edits.delete(study, kind)


def test_deleting_shows_the_neighbour_and_lets_the_reference_go(study):
    study = list_edits.mark_reference(study, study.designs[0].name)
    after = list_edits.delete(study, Listed.DESIGN)
    assert after.design is study.designs[1]
    assert after.reference == "" and after.reference_design is study.designs[1]


def test_a_renamed_design_stays_shown_and_stays_the_reference(study):
    study = list_edits.mark_reference(study, study.design.name)
    after = list_edits.rename(study, Listed.DESIGN, "  Second   try ")
    assert after.design.name == after.reference == "Second try"


@pytest.mark.parametrize("name", ["", "   ", "Plain cone"])
def test_an_empty_or_taken_name_is_refused_with_a_sentence(study, name):
    with pytest.raises(ValueError, match="stays"):
        list_edits.rename(study, Listed.DESIGN, name)


def test_moving_stops_at_the_ends_of_the_list(study):
    once = list_edits.move(study, Listed.DUTY, 1)
    assert names(once, Listed.DUTY) == ["Thin and fine", "As designed", "Thick and coarse"]
    assert list_edits.move(study, Listed.DUTY, -1) == replace(study, shown=replace(study.shown, duty="As designed"))
    assert names(list_edits.move(once, Listed.DUTY, 9), Listed.DUTY)[-1] == "As designed"


def test_the_ore_window_takes_nine_duties_and_refuses_a_tenth(study):
    study = replace(study, duties=tuple(replace(d, in_window=False) for d in study.duties))
    while len(study.duties) < 10:
        study = list_edits.duplicate(study, Listed.DUTY)
    for duty in study.duties[:9]:
        study = list_edits.mark_in_window(study, duty.name, True)
    assert len(study.window) == 9
    with pytest.raises(ValueError, match="at most 9"):
        list_edits.mark_in_window(study, study.duties[9].name, True)
    fewer = list_edits.mark_in_window(study, study.duties[0].name, False)
    assert len(list_edits.mark_in_window(fewer, study.duties[9].name, True).window) == 9


def test_marks_weights_and_reference_are_kept_in_the_file(study):
    study = list_edits.mark_in_window(list_edits.mark_reference(study, "Plain cone"), "Thin and fine", True)
    study = replace(study, duties=tuple(replace(d, weight=2.5) for d in study.duties))
    assert decode_study(encode_study(study), "x.bowl") == study


def test_a_reference_that_is_no_design_is_refused(study):
    with pytest.raises(ValueError, match="no design"):
        list_edits.mark_reference(study, "nobody")


def test_runs_of_a_renamed_design_go_with_it():
    study = read("trial")
    after = list_edits.rename(study, Listed.DESIGN, "Second try")
    runs = zip(study.trials[0].runs, after.trials[0].runs, strict=True)
    assert all(new.design == ("Second try" if old.design == study.design.name else old.design) for old, new in runs)
    assert {run.design for run in after.trials[0].runs} == {d.name for d in after.designs}


def test_the_reference_of_a_trial_goes_with_the_design_renamed():
    study = read("trial")
    study = replace(study, shown=replace(study.shown, design="Plain cone"))
    assert list_edits.rename(study, Listed.DESIGN, "Cone").trials[0].plan.reference == "Cone"


def test_a_design_cannot_take_the_name_of_another_bowls_runs():
    study = read("trial")
    runs = (replace(study.trials[0].runs[0], design="Lost"), *study.trials[0].runs[1:])
    study = replace(study, trials=(replace(study.trials[0], runs=runs),))
    with pytest.raises(ValueError, match="has runs of another “Lost”"):
        list_edits.rename(study, Listed.DESIGN, "Lost")
