"""The angle strip: curve, band, and the tinted gap with its number: these are the flags of a slope."""

import itertools
from dataclasses import replace as replaced

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess.flow.flow_stage import HIGH, LOW, MIDDLE
from profiler.assess.shape.slopes import slopes_of
from profiler.pictures.basics.display import Area, Dot, Label, Line, Picture, Role
from profiler.pictures.basics.state_marks import runs_of
from profiler.pictures.strips.angle_strip import (
    AXIS_TITLE,
    CURVE_NAMES,
    LINE_PX,
    TAG_CAPTION,
    AngleScale,
    angle_range,
    angle_strip,
    handles,
    present_part,
    seen_stations,
)
from profiler.study import Design, Knot, WallCurve
from profiler.study.edits import design_edits as edits
from profiler.study.records.design import KNOT_LEAVING
from profiler.units import DEGREE
from tests.pictures.scenes import STUDY, axis, numbers_in, of_kind, scene, texts

WIDTH, HEIGHT = 246.0, 532.0
SCALE = AngleScale(-5.0, 35.0, 12.0, 234.0)


def drawn(of) -> Picture:
    return angle_strip(of, SCALE, WIDTH, HEIGHT)


def cone(angle_deg: float) -> Design:
    knots = (Knot(0.0, angle_deg), Knot(330.0, angle_deg))
    shorter = replace(STUDY.design.grooves, to_mm=325.0)
    return replace(STUDY.design, wall=WallCurve(knots, lip_radius_mm=217.6), grooves=shorter)


def margins(of) -> np.ndarray:
    return (of.shown.shape.stations.angle - of.shown.flow.angle[0, MIDDLE]) / DEGREE


def test_where_the_wall_opens_more_than_repose_the_gap_is_tinted_and_numbered() -> None:
    of = scene(cone(20.0))
    opens, stands = of_kind(drawn(of), Area, Role.OPENS), of_kind(drawn(of), Area, Role.STANDS)
    assert len(opens) == 1 and not stands
    assert f"+{margins(of).max():.1f}°" in texts(drawn(of))


def test_where_it_stands_steeper_it_is_tinted_in_the_other_role_with_a_minus() -> None:
    of = scene(cone(1.0))
    opens, stands = of_kind(drawn(of), Area, Role.OPENS), of_kind(drawn(of), Area, Role.STANDS)
    assert not opens and len(stands) == 1
    assert f"−{abs(margins(of).min()):.1f}°" in texts(drawn(of))


def test_within_the_band_nothing_is_tinted() -> None:
    probe = scene().shown.flow.angle[0, MIDDLE] / DEGREE
    knots = (Knot(0.0, round(float(probe[0]), 1)), Knot(330.0, round(float(probe[-1]), 1)))
    picture = drawn(scene(edits.with_knots(STUDY.design, knots)))
    assert not of_kind(picture, Area, Role.OPENS) and not of_kind(picture, Area, Role.STANDS)


def test_the_tint_fills_the_gap_between_wall_and_band_and_nothing_else() -> None:
    of = scene()
    at, seen = of.shown.shape.stations, seen_stations(of.shown.shape.stations)
    angle, wall, height = of.shown.flow.angle[0][:, seen], at.angle[seen], at.height[seen]
    slope = slopes_of(wall, angle[LOW], angle[HIGH])
    wanted = [(s, a, b) for s, a, b in runs_of(slope) if s and b - a >= 2]
    areas = [i for i in of_kind(drawn(of), Area) if i.role in (Role.OPENS, Role.STANDS)]
    assert len(areas) == len(wanted)
    for (sign, first, last), area in zip(wanted, areas, strict=True):
        edge = angle[HIGH] if sign > 0 else angle[LOW]
        part = slice(first, last + 1)
        n = last - first + 1
        assert area.role is (Role.OPENS if sign > 0 else Role.STANDS)
        assert area.points[:n, 0] == pytest.approx(SCALE.xs(wall[part] / DEGREE))
        assert area.points[n:, 0][::-1] == pytest.approx(SCALE.xs(edge[part] / DEGREE))
        assert area.points[:n, 1] == pytest.approx(of.axis.ys(height[part]))


def test_the_band_spans_low_to_high_repose_and_its_line_is_the_middle() -> None:
    of = scene()
    seen = seen_stations(of.shown.shape.stations)
    angle = of.shown.flow.angle[0][:, seen]
    band = of_kind(drawn(of), Area, Role.BAND)[0].points
    n = len(seen)
    assert band[:n, 0] == pytest.approx(SCALE.xs(angle[LOW] / DEGREE))
    assert band[n:, 0][::-1] == pytest.approx(SCALE.xs(angle[HIGH] / DEGREE))
    assert of_kind(drawn(of), Line, Role.REPOSE)[0].points[:, 0] == pytest.approx(SCALE.xs(angle[MIDDLE] / DEGREE))


@pytest.mark.parametrize("corner", [None, 3.0])
def test_the_stations_left_out_of_the_drawing_lie_on_it(corner: float | None) -> None:
    """No curve moves by half a pixel, corners included, because fewer points are drawn."""
    design = STUDY.design if corner is None else KNOT_LEAVING.at(1).set(STUDY.design, corner)
    of = scene(design)
    at, seen = of.shown.shape.stations, seen_stations(of.shown.shape.stations)
    jump = at.height[1:] == at.height[:-1]
    order = at.height + np.concatenate(([0.0], np.cumsum(jump) * 1e-9))  # a corner's two stations, apart by nothing
    for values in (at.angle, *of.shown.flow.angle[0]):
        drawn_at = np.interp(order, order[seen], values[seen])
        assert np.max(np.abs(SCALE.xs(drawn_at / DEGREE) - SCALE.xs(values / DEGREE))) < 0.5


def test_steeper_lies_to_the_left_and_shallower_to_the_right() -> None:
    assert SCALE.x(0.0) < SCALE.x(20.0)
    assert SCALE.angle(SCALE.x(12.34)) == pytest.approx(12.34)


def test_every_knot_has_a_handle_on_the_curve_and_a_corner_has_two() -> None:
    design = KNOT_LEAVING.at(1).set(STUDY.design, 11.0)
    of = scene(design)
    found = handles(of, SCALE)
    assert [(h.knot, h.leaving) for h in found] == [(0, False), (1, False), (1, True), (2, False), (3, False)]
    dots = of_kind(drawn(of), Dot, Role.KNOT)
    assert [(d.x, d.y) for d in dots] == [(h.x, h.y) for h in found]
    assert [d.square for d in dots] == [False, True, True, False, False]


def test_the_chosen_knot_is_ringed_and_says_its_numbers() -> None:
    picture = drawn(scene(knot=1))
    ring = [d for d in of_kind(picture, Dot, Role.CHOSEN) if not d.filled]
    assert len(ring) == 1
    knot = STUDY.design.wall.knots[1]
    assert f"{knot.angle_deg:.2f}° at {knot.height_mm:.1f} mm" in texts(picture)


@pytest.mark.parametrize("angle", [-40.0, 0.0, 26.0, 60.0, 85.0])
def test_the_range_shows_every_knot_with_room_to_drag(angle: float) -> None:
    of = scene(edits.move_knot(STUDY.design, 0, None, angle))
    low, high = angle_range(of)
    assert low <= angle - 2.0 and high >= angle + 3.0
    assert low % 5.0 == 0.0 and high % 5.0 == 0.0


def test_as_long_as_the_design_cannot_be_built_the_knots_stay_and_the_curve_is_dashed() -> None:
    whole = scene()
    broken = edits.with_grooves(STUDY.design, replace(STUDY.design.grooves, mouth_mm=60.0))
    of = replaced(whole, design=broken, trouble="The mouths overlap.")
    scale = AngleScale(*angle_range(of), 12.0, 234.0)
    over = present_part(of, scale, 246.0, 532.0)  # what is drawn bold over the faded last picture
    assert len(of_kind(over, Dot, Role.KNOT)) == 4
    walls = of_kind(over, Line, Role.WALL)
    assert walls and all(line.dashes for line in walls)


@pytest.mark.parametrize("high", [20.0, 344.0, 5000.0])
def test_every_coordinate_is_a_number_at_any_zoom(high: float) -> None:
    for item in drawn(scene(on=axis(-24.0, high), cursor_mm=150.0, knot=2)).items:
        assert np.all(np.isfinite(numbers_in(item)))


def test_the_number_of_a_tint_is_clear_of_the_knots_and_of_the_wall() -> None:
    of = scene()
    scale = AngleScale(*angle_range(of), 12.0, 240.0)
    numbers = [i for i in of_kind(angle_strip(of, scale, 252.0, 532.0), Label) if i.text[0] in "+−" and "°" in i.text]
    numbers = [i for i in numbers if i.paper]
    assert len(numbers) == 2
    for number in numbers:
        for handle in handles(of, scale):
            assert abs(number.y - handle.y) >= 12.0 or abs(number.x - handle.x) >= 20.0


def test_the_knots_of_a_wall_that_cannot_be_built_are_drawn_apart_and_said_so() -> None:
    of = scene()
    part = present_part(of, AngleScale(*angle_range(of), 12.0, 240.0), 252.0, 532.0)
    assert texts(part) == ["as it stands this cannot be built"]
    assert len(of_kind(part, Dot)) == len(of.design.wall.knots)


@pytest.mark.parametrize("below_px", [-40.0, -34.0, -24.0, -16.0, -10.0, -6.0, 0.0])
def test_names_of_curves_and_captions_never_pile_up(below_px: float) -> None:
    """Wherever the bowl's foot comes to lie above the end of the strip, as it does in windows of every height."""
    on = axis(0.0, 344.0)
    low = on.height(on.bottom - below_px) if below_px else 0.0
    picture = drawn(scene(cone(20.0), axis(low, 344.0)))
    rows = sorted(
        (label.y, label.text)
        for label in of_kind(picture, Label)
        if label.text in (*CURVE_NAMES, TAG_CAPTION, AXIS_TITLE)
    )
    assert AXIS_TITLE in [text for _, text in rows]
    piled = [(a, b) for a, b in itertools.pairwise(rows) if {a[1], b[1]} - set(CURVE_NAMES) and b[0] - a[0] < LINE_PX]
    assert piled == []
