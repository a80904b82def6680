"""Round trip: a bowl written as DXF, read back, taken as a wall curve: within 0.2 mm of the drawn wall."""

from pathlib import Path

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from profiler.assess.drawn.bowl_wall import TOLERANCE_MM, DrawnWall, drawn_wall
from profiler.assess.drawn.drawn_grooves import lands_of
from profiler.assess.drawn.fewest_knots import NoCurve
from profiler.assess.drawn.inside import inner_line
from profiler.assess.drawn.laid_out import read_and_lay
from profiler.assess.shape.shape_stage import Shape, shape_of, wall_of
from profiler.geometry.chain import Chain, sampled
from profiler.geometry.wall import Wall
from profiler.output.drawings.profile_dxf import write_profile
from profiler.study import Design, GrooveRule, Knot, Placing, WallCurve
from profiler.study.files import examples
from tests.laws.bowl.any_design import designs, numbers

STUDIES = {name: examples.read(name) for name in examples.names()}
MACHINE = STUDIES["graded"].machine
PAIRS = [(name, design) for name, study in STUDIES.items() for design in study.designs]


def line_of(wall: Wall) -> shapely.LineString:
    ends = np.stack((wall.radius, wall.height), axis=1)
    bulges = np.append(wall.bulge(wall.height[:-1], wall.height[1:]), 0.0)
    return shapely.LineString(sampled(Chain(ends, bulges, closed=False), 1e-4))


def worst_on_lands(drawn: Shape, taken: Design) -> float:
    """Greatest distance of the wall between the grooves from the taken curve, by shapely."""
    line = line_of(wall_of(taken))
    heights = np.linspace(0.0, drawn.height, 301)
    cut = np.any(
        (heights[:, None] > drawn.contours.points[:, 0, 1] - 1e-9)
        & (heights[:, None] < drawn.contours.points[:, 7, 1] + 1e-9),
        axis=1,
    ) if len(drawn.mouths) else np.zeros(len(heights), dtype=bool)  # fmt: skip
    kept = heights[~cut]
    points = shapely.points(np.stack((drawn.wall.radius_at(kept), kept), axis=1))
    return float(np.max(shapely.distance(points, line)))


def round_trip(design: Design, path: Path) -> tuple[Shape, DrawnWall]:
    shape, _ = shape_of(design, MACHINE)
    assert shape is not None
    write_profile(path, shape)
    laid = read_and_lay(path)
    return shape, drawn_wall(inner_line(laid.placed.chains[0]), design)


@pytest.mark.parametrize(("name", "design"), PAIRS, ids=lambda p: p if isinstance(p, str) else p.name)
def test_every_example_comes_back_with_its_grooves(name: str, design: Design, tmp_path: Path) -> None:
    shape, taken = round_trip(design, tmp_path / "bowl.dxf")
    assert worst_on_lands(shape, taken.design) <= TOLERANCE_MM
    assert len(taken.design.wall.knots) <= len(design.wall.knots)
    assert taken.repeating and len(taken.grooves) == len(shape.mouths)
    rule = taken.design.grooves
    assert (rule.mouth_mm, rule.depth_mm, rule.flank_deg) == pytest.approx(
        (design.grooves.mouth_mm, design.grooves.depth_mm, design.grooves.flank_deg), abs=0.02
    )
    again, _ = shape_of(taken.design, MACHINE)
    assert again.mouths.middle == pytest.approx(shape.mouths.middle, abs=0.5)


@st.composite
def sane(draw) -> Design:
    """Bowls as they are made: angles of up to 40 degrees, knots apart, a few corners, grooves of any sort."""
    height = draw(numbers(120, 500, 1))
    inner = sorted(draw(st.lists(st.integers(2, 8), max_size=3, unique=True)))
    angle, corner = numbers(-8, 40, 1), st.none() | numbers(0, 40, 1)
    knots = (
        Knot(0.0, draw(angle), eased=draw(st.booleans())),
        *(Knot(round(0.1 * k * height, 1), draw(angle), draw(corner), eased=draw(st.booleans())) for k in inner),
        Knot(height, draw(angle)),
    )
    mouth = draw(numbers(4, 14, 1))
    rule = GrooveRule(
        placing=draw(st.sampled_from((Placing.ALONG_WALL, Placing.IN_HEIGHT))), count=draw(st.integers(0, 6)),
        from_mm=10.0, to_mm=height - 10.0, mouth_mm=mouth, depth_mm=draw(numbers(3, 12, 1)),
        floor_radius_mm=0.1 * mouth, edge_radius_mm=draw(st.sampled_from((0.0, 0.6))),
    )  # fmt: skip
    return Design("sane", WallCurve(knots, lip_radius_mm=height + 200.0), rule)


def comes_back(design: Design) -> bool:
    """Whether it does; False where it is refused, in a sentence that a finer look at the drawing bears out."""
    shape, _ = shape_of(design, MACHINE)
    if shape is None:
        return True
    inner = inner_line(shape.outline)
    try:
        taken = drawn_wall(inner, design)
    except NoCurve as reason:
        assert "24 knots leave" in str(reason) or "nearest curve found" in str(reason) or "No knots come" in str(reason)
        assert len(lands_of(inner).grooves) == len(shape.mouths), "refused for what was not seen to be a groove"
        return False
    assert worst_on_lands(shape, taken.design) <= TOLERANCE_MM + 0.01
    return True


SANE = {"deadline": None, "suppress_health_check": [HealthCheck.filter_too_much, HealthCheck.too_slow]}


def most_come_back(examples: int, refused_at_most: int) -> None:
    refused: list[Design] = []

    @settings(max_examples=examples, **SANE)
    @given(design=sane())
    def each(design: Design) -> None:
        if not comes_back(design):
            refused.append(design)
            assert len(set(map(repr, refused))) <= refused_at_most, "too many are refused"

    each()


def test_a_few_random_bowls_come_back_within_the_tolerance() -> None:
    most_come_back(5, refused_at_most=1)


@pytest.mark.long
def test_a_hundred_random_bowls_come_back_within_the_tolerance() -> None:
    most_come_back(100, refused_at_most=3)


@settings(max_examples=25, **SANE)
@given(design=sane())
def test_every_groove_is_seen_as_one_and_no_corner_of_the_wall_is(design: Design) -> None:
    """A wall may turn by any angle behind a mouth, lean over, and curve as sharply as an edge is rounded."""
    shape, _ = shape_of(design, MACHINE)
    if shape is not None:
        seen = lands_of(inner_line(shape.outline)).grooves
        assert [g.middle_mm for g in seen] == pytest.approx(shape.mouths.middle.tolist(), abs=0.05)


def plain_rule(count: int, to_mm: float, mouth_mm: float, depth_mm: float) -> GrooveRule:
    return GrooveRule(
        count=count, from_mm=10.0, to_mm=to_mm, mouth_mm=mouth_mm, depth_mm=depth_mm,
        floor_radius_mm=0.1 * mouth_mm, edge_radius_mm=0.0,
    )  # fmt: skip


ONCE_WRONG = {
    "an arc as sharp as a rounding above a mouth": Design(
        "pinned",
        WallCurve(
            (Knot(0.0, 0.0), Knot(60.0, 0.0, 18.4), Knot(72.0, -4.9), Knot(84.0, 0.2), Knot(120.0, 0.1)),
            lip_radius_mm=320.0,
        ),
        plain_rule(3, 110.0, 4.0, 3.0),
    ),
    "a corner of 44 degrees behind a mouth": Design(
        "pinned",
        WallCurve(
            (
                Knot(0.0, 30.4, eased=True), Knot(45.7, 9.2, 28.8, eased=True), Knot(68.5, 36.0, 12.2),
                Knot(137.0, -3.9, 40.0), Knot(228.3, 27.8),
            ),
            lip_radius_mm=428.3,
        ),
        plain_rule(4, 218.3, 6.9, 5.6),
    ),
    "a wall that leans over between two corners, taken for a groove": Design(
        "pinned",
        WallCurve(
            (
                Knot(0.0, -8.0, eased=True), Knot(175.1, 0.0, 38.9, eased=True), Knot(218.9, -8.0, 2.7, eased=True),
                Knot(262.7, -8.0, eased=True), Knot(437.8, -8.0),
            ),
            lip_radius_mm=637.8,
        ),
        GrooveRule(count=0),
    ),
    "a corner of 40 degrees far below a mouth": Design(
        "pinned",
        WallCurve(
            (
                Knot(0.0, 0.0, eased=True), Knot(37.6, 0.0, 40.0, eased=True), Knot(56.3, 0.0, 0.0, eased=True),
                Knot(187.8, -8.0),
            ),
            lip_radius_mm=387.8,
        ),
        plain_rule(2, 177.8, 10.1, 11.3),
    ),
    "the like with grooves": Design(
        "pinned",
        WallCurve(
            (
                Knot(0.0, -8.0), Knot(183.2, 0.0, 40.0, eased=True), Knot(229.1, 4.2, 0.0),
                Knot(320.7, -8.0, 0.0, eased=True), Knot(458.1, -8.0),
            ),
            lip_radius_mm=658.1,
        ),
        replace(plain_rule(6, 448.1, 10.7, 11.5), placing=Placing.IN_HEIGHT),
    ),
}  # fmt: skip


@pytest.mark.parametrize("design", ONCE_WRONG.values(), ids=ONCE_WRONG)
def test_walls_that_lean_over_or_turn_behind_a_mouth_come_back(design: Design) -> None:
    assert comes_back(design)


@settings(max_examples=6, deadline=None, suppress_health_check=list(HealthCheck))
@given(design=designs())
def test_whatever_else_is_drawn_is_followed_or_refused_in_a_sentence(design: Design) -> None:
    shape, _ = shape_of(design, MACHINE)
    if shape is None:
        return
    try:
        taken = drawn_wall(inner_line(shape.outline), design)
    except NoCurve as reason:
        assert str(reason).endswith(".")
    else:
        assert taken.worst_mm <= TOLERANCE_MM


def test_fewer_knots_do_not_do_it() -> None:
    """A wall of one angle, then another, then a third, each 100 mm long: four knots with corners, or more without."""
    knots = (Knot(0.0, 30.0), Knot(100.0, 30.0, 15.0), Knot(200.0, 15.0, 2.0), Knot(300.0, 2.0))
    bare = Design("bare", WallCurve(knots, lip_radius_mm=300.0), GrooveRule(count=0))
    shape, _ = shape_of(bare, MACHINE)
    taken = drawn_wall(inner_line(shape.outline), bare)
    assert len(taken.design.wall.knots) == 4 and taken.worst_mm < 1e-3


def test_grooves_that_do_not_repeat_are_a_list() -> None:
    rule = GrooveRule(placing=Placing.LISTED, heights_mm=(40.0, 90.0, 200.0, 270.0), mouth_mm=9.0, depth_mm=8.0)
    listed = replace(STUDIES["cone"].design, grooves=rule)
    shape, _ = shape_of(listed, MACHINE)
    taken = drawn_wall(inner_line(shape.outline), listed)
    assert not taken.repeating and taken.design.grooves.heights_mm == pytest.approx(rule.heights_mm, abs=0.02)
