"""The magnified groove: true proportion, the flow where it settled and nowhere else, and two sides of a matched one."""

from dataclasses import replace

import numpy as np
import pytest
from msgspec.structs import replace as having

from profiler.assess import Evaluation, evaluate
from profiler.assess.eddy.answers import Answer, middle_case
from profiler.assess.eddy.lids import Setting
from profiler.explore.eddy_what_if import WANTED, turned
from profiler.pictures.basics.display import Area, Dot, Label, Line, Role
from profiler.pictures.eddy.flow_lines import flow_lines
from profiler.pictures.eddy.groove_picture import GrooveScene, angle_from, groove_picture, handle_at
from profiler.pictures.eddy.groove_view import clipped, frame_of, placed, view_of
from profiler.study.files.examples import read

STUDY = read("graded")
SIZE = (640.0, 600.0)
STRONG, MATCHED, SHELTERED = 3, 9, 13


def evaluated(**duty) -> Evaluation:
    return evaluate(STUDY.design, STUDY.machine, having(STUDY.duty, **duty), WANTED)


@pytest.fixture(scope="module")
def e() -> Evaluation:
    return evaluated()


@pytest.fixture(scope="module")
def found(e) -> Answer:
    return middle_case(e, STRONG, Setting())


def lines(picture, role=Role.FLOW):
    return [i for i in picture.items if isinstance(i, Line) and i.role is role]


def texts(picture):
    return [i.text for i in picture.items if isinstance(i, Label)]


def test_it_is_at_true_proportion(e):
    view = view_of(e.shape, STRONG - 1, *SIZE)
    corners = e.shape.contours.corners[STRONG - 1]
    seen = view.px(corners)
    for a, b in ((0, 3), (0, 1), (1, 2)):
        mm = np.hypot(*(corners[b] - corners[a]))
        assert np.hypot(*(seen[b] - seen[a])) == pytest.approx(mm * view.scale)
    assert np.array(view.mm(*seen[2])) == pytest.approx(corners[2])


def test_mouths_are_placed_where_the_section_has_them(e, found):
    corners = placed(frame_of(e.shape, STRONG - 1), np.array(found.section.groove.corners))
    assert corners == pytest.approx(e.shape.contours.corners[STRONG - 1])


def test_streamlines_lie_in_the_groove_and_close_round_the_centre(e, found):
    centre = np.array(found.case.measures.centre)
    for line in flow_lines(found.case.eddy).driven:
        assert line[:, 1].max() <= 0.02 and line[:, 1].min() >= -found.section.groove.depth - 1e-6
        turn = np.unwrap(np.angle((line - centre) @ np.array([1.0, 1j])))
        assert abs(turn[-1] - turn[0]) == pytest.approx(2.0 * np.pi, abs=0.3)


def test_no_streamline_without_a_settled_flow(e, found):
    bare = groove_picture(GrooveScene(e, STRONG), *SIZE)
    unsettled = replace(found, case=None, reason="The flow does not settle: nothing is shown.")
    silent = groove_picture(GrooveScene(e, STRONG, unsettled), *SIZE)
    whole = groove_picture(GrooveScene(e, STRONG, found), *SIZE)
    assert len(lines(bare)) == len(lines(silent)) < len(lines(whole)) - 5
    assert any("does not settle" in t for t in texts(silent))
    assert any(t.startswith("reach") for t in texts(whole))


def test_a_sheltered_groove_says_that_water_seeps_and_draws_no_flow_of_before(e, found):
    stale = replace(found, groove=SHELTERED)
    picture = groove_picture(GrooveScene(e, SHELTERED, stale, waiting=True), *SIZE)
    assert "no driven eddy: water seeps" in texts(picture)
    assert not any("reach" in t or "drop" in t for t in texts(picture))
    assert any(isinstance(i, Area) and i.role is Role.BED for i in picture.items)


def test_a_matched_groove_is_drawn_at_both_ends_of_the_friction_band(e):
    picture = groove_picture(GrooveScene(e, MATCHED, middle_case(e, MATCHED, Setting())), *SIZE)
    assert {"at low friction", "at high friction: a bed lies over it"} <= set(texts(picture))
    beds = [i for i in picture.items if isinstance(i, Area) and i.role is Role.BED]
    assert beds and min(b.points[:, 0].min() for b in beds) > 0.3 * SIZE[0], "on the right only"


def test_the_picture_tells_drop_landing_holder_film_and_water(e, found):
    said = " | ".join(texts(groove_picture(GrooveScene(e, STRONG, found), *SIZE)))
    fall = e.flow.groove_overfall[0, 1, STRONG - 1] * 1e3
    assert f"overfall {fall:.1f} mm (" in said
    for words in ("lands: 20 to 100 %", "bed held by the land at", "film 2.5 m/s", "water 3.3 L/min"):
        assert words in said


@pytest.mark.parametrize("change", ["wall", "water", "state"])
def test_what_differs_is_seen(e, found, change):
    one = groove_picture(GrooveScene(e, STRONG, found), *SIZE)
    if change == "wall":
        there = evaluate(turned(STUDY.design, STRONG, 18.0), STUDY.machine, STUDY.duty, WANTED)
        other = groove_picture(GrooveScene(there, STRONG, middle_case(there, STRONG, Setting())), *SIZE)
    elif change == "water":
        there = evaluated(water_l_min=40.0)
        other = groove_picture(GrooveScene(there, STRONG, middle_case(there, STRONG, Setting())), *SIZE)
    else:
        other = groove_picture(GrooveScene(e, SHELTERED, middle_case(e, SHELTERED, Setting())), *SIZE)
    first, second = ([line.points for line in lines(p)] for p in (one, other))
    moved = len(first) != len(second) or any(a.shape != b.shape or np.abs(a - b).max() > 0.5
                                             for a, b in zip(first, second, strict=True))  # fmt: skip
    assert moved


def test_the_handle_stands_under_the_mouth_and_gives_the_angle_it_stands_at(e):
    scene = GrooveScene(e, STRONG, handle=True)
    at = handle_at(scene, *SIZE)
    dots = [i for i in groove_picture(scene, *SIZE).items if isinstance(i, Dot) and i.role is Role.KNOT]
    assert [(d.x, d.y) for d in dots] == [pytest.approx(at)]
    wall = float(np.degrees(e.shape.wall.angle_at(e.shape.mouths.middle))[STRONG - 1])
    assert angle_from(scene, *SIZE, *at) == pytest.approx(wall, abs=0.6)
    assert angle_from(scene, *SIZE, at[0] + 20.0, at[1]) < wall < angle_from(scene, *SIZE, at[0] - 20.0, at[1])


def test_a_square_cut_by_a_box_is_what_both_share():
    square = np.array([[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]])
    cut = clipped(square, (1.0, 5.0, -1.0, 1.0))
    x, y = cut.T
    area = 0.5 * abs(np.dot(x, np.roll(y, 1)) - np.dot(y, np.roll(x, 1)))
    assert area == pytest.approx(1.0) and x.min() == 1.0 and y.max() == 1.0
    assert len(clipped(square, (3.0, 4.0, 0.0, 1.0))) == 0
