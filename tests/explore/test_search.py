"""The search for a wall curve: known optima, grids, and what it promises whatever it is asked."""

from dataclasses import replace as with_
from functools import cache

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import Severity, evaluate
from profiler.assess.findings.kinds import Kind
from profiler.assess.fitting.limits import Limit
from profiler.assess.quantities.course import course_of, heights_above_zero
from profiler.assess.quantities.table import QUANTITIES, Scope, quantity
from profiler.explore.search.free_curve import free_curve
from profiler.explore.search.goal import (
    OF_THE_BAND,
    Across,
    Condition,
    Goal,
    condition_on,
    course_goal,
    goal_keys,
    goal_quantity,
    stages_of,
)
from profiler.explore.search.kept import with_found
from profiler.explore.search.left_out import left_out, words_of
from profiler.explore.search.search import Asked, search, sobol
from profiler.progress import Cancelled, Progress
from profiler.study import Way
from profiler.study.edits import design_edits as edits
from profiler.study.files.examples import read
from profiler.study.files.file import decode_study, encode_study

STUDY = read("graded")
STRONG = Goal(goal_quantity("strong_height_mm"), True)
QUICK = Asked(STUDY, STUDY.design, STUDY.duty, STRONG, points=8, polish=2)


@cache
def quick():
    return search(QUICK)


def free_machine(study):
    """The study on a machine that asks for nothing, so that only the goal decides."""
    return replace(study, machine=replace(study.machine, seat=(), deflector_mm=0.0, feed_pipe_mm=0.0))


# The heights


def test_heights_of_a_course_add_up_to_the_height_above_the_entry():
    for name in ("graded", "upright", "cone"):
        study = read(name)
        for duty in study.duties:
            e = evaluate(study.design, study.machine, duty)
            c = course_of(e)
            assert min(c.strong, c.weak, c.level, c.buried) >= -1e-9
            assert c.strong + c.weak + c.level + c.buried == pytest.approx(c.counted, abs=1e-9)
            assert c.strong + c.weak - 1e-9 <= c.exposed <= c.strong + c.weak + c.level + 1e-9
            assert sum(c.shares) == pytest.approx(1.0, abs=1e-12)


def test_height_above_zero_is_that_of_the_straight_pieces():
    """Against a fine sum over the same pieces."""
    z = np.array([0.0, 3.0, 3.0, 10.0, 20.0])
    v = np.array([-2.0, 1.0, -1.0, 4.0, -4.0])
    assert heights_above_zero(z, v[None], 0.0)[0] == pytest.approx(1.0 + 7.0 * 0.8 + 5.0)
    assert heights_above_zero(z, v[None], 2.5)[0] == pytest.approx(0.5 + 7.0 * 0.8 + 5.0)
    assert heights_above_zero(z, v[None], 12.0)[0] == pytest.approx(3.0)
    assert heights_above_zero(z, v[None], 25.0)[0] == 0.0


@pytest.mark.parametrize("key", [q.key for q in QUANTITIES if q.scope is Scope.BOWL])
def test_the_stages_a_quantity_names_are_all_that_its_number_follows_from(key):
    q = quantity(key)
    whole = evaluate(STUDY.design, STUDY.machine, STUDY.duty)
    part = evaluate(STUDY.design, STUDY.machine, STUDY.duty, stages_of([q]))
    assert np.array_equal(q.get(part), q.get(whole), equal_nan=True) and q.get(part).size == q.get(whole).size


def test_a_straight_cone_lies_level_near_repose_and_nowhere_else():
    """An exposed cone's overfall is its mouth times (tan wall - tan repose): at 13 degrees within 1 mm all along, at 20
    nowhere. At 4 it is buried, level for the little height under the lip."""
    cone = read("cone").design
    for angle in (4.0, 13.0, 20.0):
        knots = tuple(replace(k, angle_deg=angle) for k in cone.wall.knots)
        e = evaluate(edits.with_knots(cone, knots), STUDY.machine, STUDY.duty)
        at, repose = e.shape.stations, np.radians(quantity("repose_deg").get(e))
        fall = at.imagined.mouth * 1e3 * (np.tan(np.radians(angle)) - np.tan(repose))
        level, counted = course_of(e).level, course_of(e).counted
        if angle == 4.0:  # the bed's depth grows downwards by (tan repose - tan wall) for each mm
            half_mouth = 4.0
            deep_enough = 1.0 / (np.tan(repose[-1]) - np.tan(np.radians(4.0)))
            assert level == pytest.approx(deep_enough - half_mouth, rel=0.15)
        else:
            assert level == pytest.approx(counted if np.all(np.abs(fall) < 1.0) else 0.0, abs=1e-9)
            inside = at.imagined.mouth > 0.99 * np.max(at.imagined.mouth)  # no half mouths at floor and lip
            assert (angle == 20.0) == bool(np.all(fall[inside] > 1.0))


@pytest.mark.parametrize("name", ["graded", "watered"])
def test_a_wider_band_alone_improves_no_score(name):
    """All that may be a goal or a condition, with the band as wide as a friction may be at all."""
    study = read(name)
    ignorant = replace(study.duty, friction_low=0.15, friction_high=1.4)
    before = evaluate(study.design, study.machine, study.duty)
    after = evaluate(study.design, study.machine, ignorant)
    for q in QUANTITIES:
        if not q.key.startswith(OF_THE_BAND):
            np.testing.assert_allclose(q.get(after), q.get(before), rtol=1e-9, atol=1e-9, err_msg=q.key)
    course = course_goal((25, 25, 25, 25))
    assert course.under(after) == pytest.approx(course.under(before), abs=1e-9)


def test_what_hangs_on_the_band_is_refused_with_what_to_ask_instead():
    for key in ("share_matched_pct", "count_strong", "matched_mm", "area_weak_pct"):
        assert key not in goal_keys()
        with pytest.raises(ValueError, match="level_height_mm"):
            goal_quantity(key)
        with pytest.raises(ValueError, match="band"):
            condition_on(key, True, 1.0)


# Known optima


def test_a_known_optimum_is_found():
    """With the lip held every radius falls as an angle grows, so the lightest wall has every angle at its widest."""
    study = free_machine(read("cone"))
    widest = condition_on("wall_angle_deg", False, 18.0)
    goal = Goal(goal_quantity("mass_kg"), False)
    found = search(Asked(study, study.design, study.duty, goal, (widest,), 2, points=64, polish=40, no_stop=False))
    angles = [k.angle_deg for k in found.best.design.wall.knots]
    assert angles == pytest.approx([18.0, 18.0], abs=0.05)
    assert "wall_angle_deg" in [r.key for r in found.binding]


def against_grid(lines: int) -> None:
    """Two angles of a two-knot wall, one duty: within 1 % of the best of a grid over the same range."""
    asked = with_(QUICK, knots=2, goal=course_goal((20, 40, 25, 15), Across.DUTY), points=64, polish=24)
    found, space = search(asked), free_curve(STUDY.design, 2)
    shares = np.linspace(0.0, 1.0, lines)
    best = np.inf
    for u in shares:
        for v in shares:
            design = space.at(np.array([u, v]))
            e = evaluate(design, STUDY.machine, STUDY.duty)
            if e.flow is not None and not any(f.severity == "stop" for f in e.findings):
                value = asked.goal.under(e)
                best = min(best, value) if np.isfinite(value) else best
    assert found.best.value <= best + 1.0  # per cent of the height


def test_the_search_is_as_good_as_a_grid():
    against_grid(8)


@pytest.mark.long
@pytest.mark.parametrize("lines", [40, 200])
def test_the_search_is_as_good_as_a_fine_grid(lines):
    against_grid(lines)


# What it promises


def test_every_candidate_is_what_the_plain_evaluation_says():
    found = quick()
    assert found.candidates and found.met
    for tried in found.candidates[:6]:
        e = evaluate(tried.design, STUDY.machine, STUDY.duty)
        assert quantity("strong_height_mm").get(e)[0] == pytest.approx(tried.value, abs=1e-9)
        assert e.shape.lip_radius == pytest.approx(STUDY.design.wall.lip_radius_mm, abs=1e-6)
        assert e.shape.height == pytest.approx(STUDY.design.wall.height_mm, abs=1e-6)
    assert not [f for f in evaluate(found.best.design, STUDY.machine, STUDY.duty).findings if f.severity == "stop"]


def test_same_seed_same_result_another_seed_other_points():
    again, other = search(QUICK), search(with_(QUICK, seed=2))
    assert [t.design for t in again.tried] == [t.design for t in quick().tried]
    assert [t.design for t in other.tried[2:8]] != [t.design for t in again.tried[2:8]]


def test_points_are_the_reference_librarys_sobol_points():
    from scipy.stats import qmc

    expected = qmc.Sobol(3, scramble=True, seed=7).random(512)
    np.testing.assert_array_equal(np.array(list(sobol(3, 500, 7))), expected[:500])


@pytest.mark.parametrize("seed", [1, 2])
@pytest.mark.parametrize(("key", "upward"), [("power_w", True), ("deepest_bed_mm", False), ("residence_s", True)])
def test_it_is_never_worse_than_its_start(key, upward, seed):
    found = search(with_(QUICK, goal=Goal(goal_quantity(key), upward), points=1, polish=0, seed=seed))
    assert found.start.met and found.best.loss <= found.start.loss


def test_calling_it_off_keeps_what_was_found():
    calls = []

    def off(share):
        calls.append(share)
        if len(calls) > 4:
            raise Cancelled

    told = []
    found = search(QUICK, Progress(off), told.append)
    assert not found.complete and found.met and told == list(found.tried)
    assert calls == sorted(calls) and found.best.loss <= found.start.loss


def test_conditions_that_exclude_everything_name_the_nearest_miss_and_what_binds():
    impossible = (condition_on("strong_height_mm", True, 5000.0), condition_on("land_mm", True, 1.0))
    found = search(with_(QUICK, conditions=impossible, points=4, polish=0))
    assert not found.met and not found.candidates
    assert [r.key for r in found.binding] == ["strong_height_mm"]
    closest = max(t.value for t in found.tried if np.isfinite(t.value) and t.why.key == "strong_height_mm")
    assert found.nearest.value == closest


def test_a_duty_without_an_answer_keeps_a_point_out_with_that_reason():
    """At 90 rpm the bed closes the drawn bowl: over an ore window that has such a duty it has no number."""
    slow = replace(STUDY.window[0], name="Too slow", speed_rpm=90.0)
    study = replace(STUDY, duties=(*STUDY.duties, slow))
    there = evaluate(STUDY.design, STUDY.machine, slow)
    assert there.flow is None
    found = search(with_(QUICK, study=study, goal=with_(STRONG, across=Across.WORST), points=2, polish=0))
    assert not np.isfinite(found.start.value) and not found.start.met
    assert found.start.why.key == "bed_closes" and dict(found.excluded)["bed_closes"] >= 1


def test_a_goal_that_does_not_hang_on_the_wall_is_said_so():
    found = search(with_(QUICK, goal=Goal(goal_quantity("water_total_l_min"), False), points=4, polish=0))
    assert not found.hangs_on_wall and quick().hangs_on_wall


def test_both_held_ends_are_met_by_every_candidate():
    e = evaluate(STUDY.design, STUDY.machine, STUDY.duty)
    design = edits.held(STUDY.design, edits.Hold.BOTH, e.shape.lip_radius, e.shape.floor_radius)
    found = search(with_(QUICK, design=design, points=4, polish=1))
    assert len(found.candidates) > 2
    for tried in found.candidates[:5]:
        shape = evaluate(tried.design, STUDY.machine, STUDY.duty).shape
        assert shape.floor_radius == pytest.approx(design.wall.floor_radius_mm, abs=1e-6)
        assert shape.lip_radius == pytest.approx(design.wall.lip_radius_mm, abs=1e-6)


def test_locked_knots_stay_and_the_others_keep_their_order_and_gap():
    knots = STUDY.design.wall.knots
    locked = edits.with_knots(STUDY.design, (*knots[:2], replace(knots[2], locked=True), knots[3]))
    space = free_curve(locked, 5)
    rng = np.random.default_rng(3)
    for _ in range(20):
        rows = space.at(rng.random(space.count)).wall.knots
        heights = [k.height_mm for k in rows]
        assert len(rows) == 5 and knots[2].height_mm in heights
        assert rows[heights.index(knots[2].height_mm)].angle_deg == knots[2].angle_deg
        assert heights[0] == 0.0 and heights[-1] == STUDY.design.wall.height_mm
        assert min(np.diff(heights)) >= 0.05 * heights[-1] - 1e-3


def test_the_start_lies_in_the_cube_where_it_is_drawn():
    space = free_curve(STUDY.design)
    assert space.at(space.at_start) == STUDY.design


def test_the_window_is_taken_weighted_or_at_its_worst():
    window = STUDY.window
    each = [STRONG.under(evaluate(STUDY.design, STUDY.machine, d)) for d in window]
    weights = [d.weight for d in window]
    for across, value in ((Across.WINDOW, np.average(each, weights=weights)), (Across.WORST, min(each))):
        found = search(with_(QUICK, goal=with_(STRONG, across=across), points=1, polish=0))
        assert found.start.value == pytest.approx(value)
    with pytest.raises(ValueError, match="window is empty"):
        bare = replace(STUDY, duties=tuple(replace(d, in_window=False) for d in STUDY.duties))
        search(with_(QUICK, study=bare, goal=with_(STRONG, across=Across.WORST)))


def test_mouth_and_count_are_searched_where_asked():
    found = search(with_(QUICK, grooves=("mouth", "count"), knots=2, points=8, polish=0))
    assert len({t.design.grooves.mouth_mm for t in found.tried}) > 3
    assert len({t.design.grooves.count for t in found.tried}) > 2
    with pytest.raises(ValueError, match="mouth, depth and count"):
        search(with_(QUICK, grooves=("colour",)))


def test_by_how_much_a_condition_is_missed_is_told_against_its_limit():
    mass = goal_quantity("mass_kg")
    e = evaluate(STUDY.design, STUDY.machine, STUDY.duty)
    has = e.body.mass_kg
    for limit, words in ((0.0, f"missed by {has:.4g} kg"), (has / 2.0, "missed by 100.0 % of the limit")):
        condition = Condition(mass, False, limit)
        assert condition.missed_by(condition.slack(e)) == words  # nothing is a share of a limit of 0


def test_what_cannot_be_searched_is_refused_in_a_sentence():
    for change, words in (
        ({"knots": 6}, "2 to 5 knots"),
        ({"points": 0}, "at least one point"),
        ({"knots": 5, "grooves": ("mouth",)}, "more than 8"),
    ):
        with pytest.raises(ValueError, match=words):
            search(with_(QUICK, **change))
    with pytest.raises(ValueError, match="add up to 100"):
        course_goal((20, 20, 20, 20))


def test_the_found_design_holds_its_lineage_and_goes_through_the_file():
    found = quick()
    study = with_found(STUDY, found, found.best)
    made = study.design
    assert made.name == "Graded, first try, found" and len(study.designs) == len(STUDY.designs) + 1
    lineage = made.lineage
    assert (lineage.way, lineage.origin, lineage.why) == (Way.SEARCH, "Graded, first try", "")
    for word in ("overturns strongly", "seed 1", "friction 0.6", "0.45 to 0.8", "does not know"):
        assert word in lineage.told
    assert decode_study(encode_study(study), "x.bowl").design == made


@pytest.mark.parametrize("key", [k.code for k in Kind if k.severity is Severity.STOP] + [str(limit) for limit in Limit])
def test_every_reason_to_leave_a_bowl_out_has_words(key):
    words = words_of(key)
    assert words != f"with {key.replace('_', ' ')}"
    assert left_out([(key, 3), ("mass_kg", 1)]) == f"Left out: 3 {words}, 1 missing the condition on body mass."


def test_reasons_of_the_same_words_are_counted_together():
    assert left_out([("hub", 2), ("floor_inside_hub", 3)]) == "Left out: 5 reaching in to the hub hole."
    assert left_out([]) == ""
