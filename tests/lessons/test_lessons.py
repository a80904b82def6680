"""The lessons as data: they start undone, are done by the change they ask for, and by nothing else nearby."""

import pytest
from msgspec.structs import replace

from profiler.assess import Severity, evaluate
from profiler.lessons import LESSONS, how_far, thicker_feed, what_speed, what_to_beat, where_water, who_holds
from profiler.study.edits import design_edits as edits


def seen(study, design=None, duty=None):
    return evaluate(design or study.design, study.machine, duty or study.duty)


def with_mouth(study, mouth):
    return edits.with_grooves(study.design, replace(study.design.grooves, mouth_mm=mouth))


def drilled(study, **changes):
    return replace(study.design, holes=replace(study.design.holes, **changes))


def turned(study, knot, angle):
    return edits.move_knot(study.design, knot, None, angle)


@pytest.mark.parametrize("lesson", LESSONS, ids=lambda lesson: lesson.title)
def test_a_lesson_starts_undone_on_a_bowl_that_can_be_built_with_a_number_for_everything_watched(lesson):
    study = lesson.study()
    e = seen(study)
    assert not lesson.done(e, e)
    assert not [f for f in e.findings if f.severity is Severity.STOP]
    assert "(invented)" in study.title
    for look in lesson.look:
        assert look.text(e) != "–", look.label
    assert lesson.why.equation and lesson.why.source and lesson.task and lesson.seen


CHANGES = [  # lesson, the change asked for, changes that must not count
    (what_to_beat.LESSON, lambda s: seen(s, turned(s, 0, 24.0)), [
        lambda s: seen(s, turned(s, 0, 4.5)),
        lambda s: seen(s, None, replace(s.duty, solids_pct=12.0, friction_low=0.15, friction=0.16, friction_high=0.18)),
    ]),
    (who_holds.LESSON, lambda s: seen(s, turned(s, 2, 5.0)), [
        lambda s: seen(s, turned(s, 1, 24.0)),
        lambda s: seen(s, turned(s, 2, -4.0)),
    ]),
    (thicker_feed.LESSON, lambda s: seen(s, None, replace(s.duty, solids_pct=48.0)), [
        lambda s: seen(s, None, replace(s.duty, solids_pct=20.0)),
        lambda s: seen(s, turned(s, 0, 8.0), replace(s.duty, solids_pct=48.0)),
    ]),
    (how_far.LESSON, lambda s: seen(s, with_mouth(s, 13.0)), [
        lambda s: seen(s, with_mouth(s, 11.0)),
        lambda s: seen(s, turned(s, 0, 25.0)),
    ]),
    (what_speed.LESSON, lambda s: seen(s, None, replace(s.duty, speed_rpm=710.0)), [
        lambda s: seen(s, None, replace(s.duty, speed_rpm=620.0)),
        lambda s: seen(s, turned(s, 0, 30.0), replace(s.duty, speed_rpm=710.0)),
    ]),
    (where_water.LESSON, lambda s: seen(s, drilled(s, diameter_mm=0.65)), [
        lambda s: seen(s, drilled(s, diameter_mm=0.75)),  # still part full
        lambda s: seen(s, drilled(s, count=0)),  # no plan: spread evenly by assumption, nothing was learnt
        lambda s: seen(s, None, replace(s.duty, water_l_min=120.0)),  # full because more is supplied
        lambda s: seen(s, None, replace(s.duty, speed_rpm=330.0)),
    ]),
]  # fmt: skip


@pytest.mark.parametrize(("lesson", "change", "others"), CHANGES, ids=[c[0].title for c in CHANGES])
def test_the_change_asked_for_is_noticed_and_others_are_not(lesson, change, others):
    study = lesson.study()
    start = seen(study)
    assert lesson.done(start, change(study))
    for other in others:
        assert not lesson.done(start, other(study))


def test_what_the_lessons_say_they_show_is_so():
    """The sentence told at the end, checked on the numbers it speaks of."""
    study = how_far.LESSON.study()
    before, after = seen(study), seen(study, with_mouth(study, 13.0))
    fall, power, ratio, _ = how_far.LESSON.look
    assert fall.value(after) > 1.25 * fall.value(before) and power.value(after) > 1.25 * power.value(before)
    assert ratio.value(after) == pytest.approx(ratio.value(before), rel=0.01)

    study = what_speed.LESSON.study()
    before, after = seen(study), seen(study, None, replace(study.duty, speed_rpm=1.25 * study.duty.speed_rpm))
    acceleration, power, energy, repose, ratio = what_speed.LESSON.look
    for look in (acceleration, energy):
        assert look.value(after) / look.value(before) == pytest.approx(1.25**2, rel=1e-6)
    assert power.value(after) > 1.4 * power.value(before)
    assert repose.value(after) == pytest.approx(repose.value(before), rel=0.04)
    assert ratio.value(after) == pytest.approx(ratio.value(before), rel=0.06)


def test_the_lesson_on_water_starts_with_a_jacket_part_full_and_ends_with_the_same_water_spread_evenly():
    study = where_water.LESSON.study()
    before, after = seen(study), seen(study, drilled(study, diameter_mm=0.65))
    level, inlet, total, lowest, topmost, loose, _ = where_water.LESSON.look
    assert level.value(before) > study.machine.jacket_inlet_mm and level.text(after) == "–"
    assert inlet.value(before) < 0.0 < inlet.value(after)
    assert total.value(after) == pytest.approx(total.value(before), rel=1e-9)
    assert topmost.value(before) > 7.5 * lowest.value(before) and topmost.value(after) < 1.6 * lowest.value(after)
    assert [f.code for f in before.findings if f.severity is Severity.CHECK] == ["water_low"]  # "whose bed packs"
    assert loose.value(before) < 0.5 < loose.value(after)
    assert not [f for f in after.findings if f.severity is Severity.CHECK]


def test_no_lesson_turns_a_number_outside_its_bounds_or_the_machine():
    for lesson in LESSONS:
        e = seen(lesson.study())
        assert not [f for f in e.findings if f.code.startswith(("out_of_bounds", "speed"))]
