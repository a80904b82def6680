"""What the lessons tell is so: each number of a sentence worked out anew from the evaluation, by another way than the
lesson's own, for every right way of going."""

import re

import numpy as np
import pytest

from profiler.assess import Evaluation, Severity
from profiler.assess.eddy.answers import Case, middle_case
from profiler.assess.eddy.lids import USUAL
from profiler.lessons import (
    Lesson,
    coarser_feed,
    how_far,
    how_sure,
    reach_floor,
    thicker_feed,
    turning_shrinks,
    what_speed,
    what_to_beat,
    where_water,
    who_holds,
)
from profiler.lessons.lesson import Look
from profiler.physics.eddy.flow import FINE
from profiler.physics.slurry.overturn import State
from tests.lessons.ways import CASES, begun, seen, turned, with_duty


def numbers_in(words: str) -> list[str]:
    return re.findall(r"−?\d[\d\u202f]*(?:\.\d+)?", words)


def falls(e: Evaluation) -> np.ndarray:
    """mm, at middle friction."""
    assert e.flow is not None
    return 1e3 * e.flow.groove_overfall[0, 1]


def state(e: Evaluation) -> np.ndarray:
    assert e.flow is not None
    return e.flow.groove_state[0]


def repose_at(e: Evaluation, height: float, friction: int = 1) -> float:
    assert e.shape is not None and e.flow is not None
    return float(np.degrees(np.interp(height, e.shape.stations.height, e.flow.angle[0, friction])))


def half_way(e: Evaluation, friction: int = 1) -> float:
    assert e.shape is not None
    return repose_at(e, 0.5 * e.shape.height, friction)


def tried(lesson: Lesson) -> list[tuple[Evaluation, Evaluation, str, str]]:
    """Start, end, and what was told at each, for every right way."""
    start = begun(lesson)
    about = lesson.told(lesson.about, start, start)
    ends = [seen(way(lesson.study())) for case in CASES if case.lesson is lesson for way in case.right]
    return [(start, now, about, lesson.told(lesson.seen, start, now)) for now in ends]


def test_lesson_what_to_beat_tells_what_is_so() -> None:
    for start, now, about, told in tried(what_to_beat.LESSON):
        assert np.all(state(start) == State.SHELTERED) and numbers_in(about) == ["3", f"{half_way(start):.2f}"]
        middle = float(now.shape.mouths.middle[-1])
        wall = float(np.degrees(now.shape.wall.angle_at(middle)))
        band = [repose_at(now, middle, i) for i in (1, 0, 2)]
        groove = str(len(now.shape.mouths))
        assert wall > band[0] and falls(now)[-1] > 0.0
        expected = [
            groove,
            f"{wall:.2f}",
            f"{band[0]:.2f}",
            f"{falls(now)[-1]:.2f}",
            f"{band[1]:.2f}",
            f"{band[2]:.2f}",
        ]
        assert numbers_in(told) == expected
        word = {State.MATCHED: "called: matched", State.WEAK: "called: weak", State.STRONG: "called: strong"}
        assert word[State(int(state(now)[-1]))] in told


def test_the_answer_of_the_first_lesson_turns_where_the_wall_passes_repose() -> None:
    """No right answer is refused: between the last no and the first yes lies the angle the lesson names."""
    lesson, study = what_to_beat.LESSON, what_to_beat.LESSON.study()
    for angle in np.arange(8.0, 10.0, 0.1):
        e = seen(turned(1, float(angle))(study))
        middle = float(e.shape.mouths.middle[-1])
        margin = float(np.degrees(e.shape.wall.angle_at(middle))) - repose_at(e, middle)
        if abs(margin) > 0.05:
            assert lesson.done(begun(lesson), e) == (margin > 0.0), angle


def test_lesson_who_holds_tells_what_is_so_of_its_own_bowl() -> None:
    for start, now, about, told in tried(who_holds.LESSON):
        cone = now.shape.mouths.upper < 186.0
        free = [int(np.sum(falls(e)[: int(np.sum(cone))] > 0.0)) for e in (start, now)]
        buried = [1e3 * float(np.max(e.flow.bed.buried(e.shape.stations.line)[0, 1])) for e in (start, now)]
        grooves = str(int(np.sum(cone)))
        assert numbers_in(about) == ["16", "186", "3", f"{half_way(start):.2f}", str(free[0]), grooves]
        assert numbers_in(told) == [grooves, str(free[1]), str(free[0]), "16", *(f"{b:.1f}" for b in buried)]
        assert half_way(start) < 16.0 and buried[1] < buried[0]
        held = 1e3 * start.flow.groove_held_at[0][: int(np.sum(cone))][falls(start)[: int(np.sum(cone))] <= 0.0]
        assert np.all(held > 320.0)  # "the land that holds the bed, far above the cone"


def test_lesson_thicker_feed_tells_what_is_so() -> None:
    for start, now, about, told in tried(thicker_feed.LESSON):
        falling = [int(np.sum(falls(e) > 0.0)) for e in (start, now)]
        assert numbers_in(about) == ["2", "24", "28", str(falling[0])]
        solids = [f"{now.duty.solids_pct:g}", "28"]
        angles = [f"{half_way(e):.2f}" for e in (start, now)]
        assert numbers_in(told) == [*solids, *angles, str(falling[1]), str(falling[0])]
        calm = np.flatnonzero((falls(start) > 0.0) & (falls(now) <= 0.0))
        assert list(calm) == list(range(falling[1], falling[0]))  # "from the top down"


def test_lesson_how_far_tells_what_is_so() -> None:
    for start, now, about, told in tried(how_far.LESSON):
        assert numbers_in(about) == ["16", str(len(start.shape.mouths))] and np.all(falls(start) > 0.0)
        at = how_far.WATCHED - 1
        mouths = [
            float(np.diff([e.shape.mouths.lower_length[at], e.shape.mouths.upper_length[at]])[0]) for e in (now, start)
        ]
        pairs = [
            (f"{falls(e)[at]:.2f}", f"{e.flow.groove_power[0, at]:.1f}", f"{e.flow.groove_ratio[0, at]:.2f}")
            for e in (start, now)
        ]
        (fall, power, ratio), (fall_now, power_now, ratio_now) = pairs
        expected = [f"{m:.1f}" for m in mouths] + ["3", fall, fall_now, power, power_now, ratio, ratio_now]
        assert numbers_in(told) == expected
        grown = mouths[0] / mouths[1]
        assert falls(now)[at] / falls(start)[at] == pytest.approx(grown, rel=0.02)
        assert now.flow.groove_power[0, at] / start.flow.groove_power[0, at] == pytest.approx(grown, rel=0.02)
        assert float(ratio_now) == pytest.approx(float(ratio), rel=0.02)


def test_lesson_what_speed_tells_what_is_so() -> None:
    for start, now, about, told in tried(what_speed.LESSON):
        assert numbers_in(about) == ["4", "21", "590", "800"]
        grown = now.duty.speed_rpm / start.duty.speed_rpm
        pull, power, energy, repose, ratio = what_speed.LESSON.look
        for look in (pull, energy):
            assert look.value(now) / look.value(start) == pytest.approx(grown**2, rel=1e-3)
        assert power.value(now) > power.value(start)
        assert repose.value(now) == pytest.approx(repose.value(start), rel=0.02)  # "only"
        assert ratio.value(now) == pytest.approx(ratio.value(start), rel=0.05)
        shown = [look.text(e).split(" ")[0] for look in (pull, energy, power, repose) for e in (start, now)]
        grooves = [f"{e.flow.groove_ratio[0, what_speed.WATCHED - 1]:.2f}" for e in (start, now)]
        assert numbers_in(told) == ["590", f"{now.duty.speed_rpm:g}", *shown, str(what_speed.WATCHED), *grooves]


def test_lesson_where_water_tells_what_is_so() -> None:
    for start, now, about, told in tried(where_water.LESSON):
        water = [6e4 * e.flow.water.ring[0] for e in (start, now)]
        spread = [f"{w[-1] / w[0]:.1f}" for w in water]
        loose = [f"{e.catch.water.ratio[0, 1, 0]:.2f}" for e in (start, now)]
        level = f"{1e3 * start.flow.water.jacket.free_surface[0]:.1f}"
        assert numbers_in(about) == ["10", "40", "0.85", level, spread[0], loose[0]]
        inlet = Look("inlet_kpa")
        assert numbers_in(told) == [spread[1], spread[0], loose[0], loose[1], f"{inlet.value(now):.1f}"]
        assert inlet.value(start) < 0.0 < inlet.value(now)
        assert float(level) > start.machine.jacket_inlet_mm and np.isnan(now.flow.water.jacket.free_surface[0])
        assert water[1].sum() == pytest.approx(water[0].sum(), rel=1e-9)
        assert float(spread[1]) < 2.0 < float(spread[0])
        assert [f.code for f in start.findings if f.severity is Severity.CHECK] == ["water_low"]  # "that bed packs"
        assert float(loose[0]) < 0.5 < float(loose[1])


def test_lesson_coarser_feed_tells_what_is_so() -> None:
    at = coarser_feed.WATCHED - 1
    for start, now, about, told in tried(coarser_feed.LESSON):
        loose = [f"{e.catch.water.ratio[0, 1, at]:.2f}" for e in (start, now)]
        water = [f"{6e4 * e.flow.water.ring[0, at]:.2f}" for e in (start, now)]
        falling = [str(int(np.sum(falls(e) > 0.0))) for e in (start, now)]
        angles = [f"{half_way(e):.2f}" for e in (start, now)]
        groove = str(coarser_feed.WATCHED)
        assert numbers_in(about) == ["2", "24", "60", groove, water[0], loose[0]]
        sizes = [f"{now.duty.d50_um:g}", "60"]
        assert numbers_in(told) == [*sizes, *angles, falling[1], falling[0], water[1], loose[0], groove, loose[1]]
        assert water[0] == water[1]  # "the same"
        assert 1.0 <= float(loose[0]) <= 1.5 and float(loose[1]) < 0.5  # "packs"
        raised = half_way(now) / half_way(start)
        assert 1.0 < raised < float(loose[0]) / float(loose[1])  # "the smaller part of it"


def test_lesson_how_sure_tells_what_is_so() -> None:
    for start, now, about, told in tried(how_sure.LESSON):
        count = {s: int(np.sum(state(start) == s)) for s in State}
        sure = str(count[State.WEAK] + count[State.STRONG])
        calm, matched = str(count[State.SHELTERED]), str(count[State.MATCHED])
        falling = [str(int(np.sum(falls(e) > 0.0))) for e in (start, now)]
        band = [f"{half_way(start, i):.2f}" for i in (0, 2)]
        expected = ["3", "26", "0.450", "0.800", *band, falling[0], str(len(state(start))), sure, calm, matched]
        assert numbers_in(about) == expected
        moved = (falls(start) > 0.0) != (falls(now) > 0.0)
        assert np.any(moved) and np.all(state(start)[moved] == State.MATCHED)
        expected = [f"{now.duty.friction:.3f}", "0.600", falling[1], falling[0], str(int(np.sum(moved))), sure, calm]
        assert numbers_in(told) == expected
        told_fall, told_calm = state(start) >= State.WEAK, state(start) == State.SHELTERED
        assert np.all(falls(now)[told_fall] > 0.0) and np.all(falls(now)[told_calm] <= 0.0)  # "still"
        assert int(sure) > 0 and int(calm) > 0 and int(matched) > 0


def test_a_narrower_guess_of_the_friction_leaves_the_band_as_wide_as_the_models_doubt() -> None:
    study = how_sure.LESSON.study()
    guessed = seen(with_duty(friction_low=0.599, friction_high=0.601)(study))
    assert half_way(guessed, 2) - half_way(guessed, 0) == pytest.approx(4.0, abs=0.05)  # 2 degrees either side


def test_lesson_reach_floor_tells_what_is_so() -> None:
    """By solving anew, on the finer elements."""
    for start, now, about, told in tried(reach_floor.LESSON):
        first, last = (answer_of(e, reach_floor.WATCHED) for e in (start, now))
        before, after = (float(re.findall(r"reaches ([0-9.]+) mm", words)[0]) for words in (about, told))
        assert before == pytest.approx(1e3 * first.reach, rel=0.015)  # what the elements leave, and a tenth's rounding
        assert after == pytest.approx(1e3 * last.reach, rel=0.015)
        assert last.still_depth < 0.7e-3 < first.still_depth
        assert falls(now)[4] < falls(start)[4]


def test_lesson_turning_shrinks_tells_what_is_so() -> None:
    """The film keeps step with the bowl, and turning takes depth at every speed."""
    for start, now, about, told in tried(turning_shrinks.LESSON):
        first, last = (answer_of(e, turning_shrinks.WATCHED) for e in (start, now))
        assert abs(last.measures.reach - first.measures.reach) < 0.05
        assert f"to {last.lid.speed:.2f} m/s" in told
        reach = float(re.findall(r"reaches ([0-9.]+) mm", about)[0])
        at_rest = float(re.findall(r"it would reach ([0-9.]+) mm", about)[0])
        assert at_rest > 1.15 * reach


def answer_of(e: Evaluation, groove: int) -> Case:
    found = middle_case(e, groove, USUAL, FINE).case
    assert found is not None
    return found
