"""The section strip: marks where there is room for them, the break of a wide bowl's axis, the line to what holds."""

from dataclasses import replace as replaced

import numpy as np
import pytest
import shapely
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.assess.eddy.answers import middle_case
from profiler.assess.eddy.lids import USUAL
from profiler.assess.flow.flow_stage import MIDDLE
from profiler.assess.quantities.reading import reading_at
from profiler.assess.shape.clearances import narrowest_jacket, thinnest_wall
from profiler.physics.slurry.overturn import State
from profiler.pictures.basics.axis import HeightAxis
from profiler.pictures.basics.display import Align, Area, Dot, Label, Line, Picture, Role, Strokes
from profiler.pictures.strips.crosshair import across, crosshair
from profiler.pictures.strips.eddy_marks import LEAST_MARK_PX
from profiler.pictures.strips.section_strip import HATCH_PX, radius_scale, section_strip
from profiler.study import Design, Hold, Knot, WallCurve
from profiler.study.edits import design_edits as edits
from tests.pictures.scenes import STUDY, axis, fine, grooved, numbers_in, of_kind, scene, texts

WIDTH, HEIGHT = 506.0, 532.0


def drawn(of, width: float = WIDTH) -> Picture:
    return section_strip(of, radius_scale(of, width), width, HEIGHT)


UPRIGHT_TOP = replace(
    STUDY.design, wall=WallCurve((Knot(0.0, 15.0), Knot(230.0, 15.0, 1.0), Knot(330.0, 1.0)), lip_radius_mm=217.6)
)


def wide_bowl() -> Design:
    return replace(STUDY.design, wall=WallCurve((Knot(0.0, 20.0), Knot(330.0, 5.0)), lip_radius_mm=1200.0))


def turning(picture: Picture) -> tuple[list[Line], list[Line]]:
    """The unbroken turns of the section: bold ones, thin ones. Form alone tells them: all are of one colour."""
    turns = [i for i in of_kind(picture, Line, Role.EDDY) if len(i.points) > 2 and not i.dashes]
    return [i for i in turns if i.width > 2.0], [i for i in turns if i.width <= 2.0]


WIDE = grooved(count=12, to_mm=336.0, mouth_mm=13.0, depth_mm=12.0)  # wide enough for marks that are no dots


def test_every_overturning_groove_has_one_mark_and_no_other_groove_has_any() -> None:
    picture = drawn(scene(WIDE))
    strong, weak = turning(picture)
    state = scene(WIDE).shown.flow.groove_state[0]
    assert len(strong) == int(np.sum(state == State.STRONG)) > 0
    assert len(weak) == int(np.sum(state == State.WEAK)) > 0


def test_a_strong_eddy_is_drawn_bolder_than_a_weak_one() -> None:
    strong, weak = turning(drawn(scene(WIDE)))
    assert min(i.width for i in strong) > 1.5 * max(i.width for i in weak)
    assert min(swept(i) for i in strong) > max(swept(i) for i in weak) + 0.3 * np.pi


def swept(turn: Line) -> float:
    """The angle a stroke turns through."""
    along = np.diff(turn.points, axis=0)
    return float(np.sum(np.abs(np.diff(np.unwrap(np.arctan2(along[:, 1], along[:, 0]))))))


def test_marks_under_eight_pixels_become_dots() -> None:
    for design in (fine(40), STUDY.design):
        for high in (344.0, 900.0, 3000.0):
            of = scene(design, axis(-24.0, high))
            picture = drawn(of)
            across = 0.64 * min(design.grooves.mouth_mm, design.grooves.depth_mm) * of.axis.scale
            dots = [i for i in of_kind(picture, Dot) if i.role is Role.EDDY and i.filled]
            strong, weak = turning(picture)
            lines = [*strong, *weak]
            assert bool(dots) == (across < LEAST_MARK_PX) and bool(lines) == (across >= LEAST_MARK_PX)
            overturning = int(np.sum(of.shown.flow.groove_state[0] >= State.WEAK))
            assert len(dots) + len(lines) == overturning


def test_a_bowl_that_fits_is_drawn_from_its_axis_and_a_wide_one_with_a_broken_axis() -> None:
    near, far = scene(), scene(wide_bowl())
    whole, broken = radius_scale(near, WIDTH), radius_scale(far, WIDTH)
    assert not whole.broken and broken.broken
    assert whole.scale == near.axis.scale and broken.scale == far.axis.scale  # both directions alike
    zigzags = [i for i in of_kind(drawn(far), Line, Role.FAINT) if len(i.points) > 10]
    assert len(zigzags) == 1
    assert not [i for i in of_kind(drawn(near), Line, Role.FAINT) if len(i.points) > 10]


@pytest.mark.parametrize("width", [220.0, 360.0, 506.0, 900.0])
def test_the_wall_of_a_wide_bowl_stays_in_the_picture(width: float) -> None:
    of = scene(wide_bowl())
    scale = radius_scale(of, width)
    seen = of.shown.shape.wall.radius_at(np.linspace(0.0, 330.0, 50))
    assert scale.x(float(seen.min())) > 0.0
    assert scale.x(float(seen.max())) < width


def test_zoomed_in_the_section_follows_the_wall() -> None:
    of = scene(on=axis(200.0, 230.0))
    scale = radius_scale(of, WIDTH)
    seen = of.shown.shape.wall.radius_at(np.linspace(200.0, 230.0, 20))
    assert scale.broken and 0.0 < scale.x(float(seen.min())) < scale.x(float(seen.max())) < WIDTH


def test_over_a_buried_height_a_line_leads_to_the_land_that_holds_the_bed() -> None:
    of = scene(UPRIGHT_TOP, cursor_mm=200.0)
    reading = reading_at(of.shown, 200.0)
    assert reading.held_at_mm == pytest.approx(330.0)  # the lip, over the upright top
    scale = radius_scale(of, WIDTH)
    (leader,) = of_kind(drawn(of), Line, Role.CURSOR)  # the crosshair itself are strokes
    start, end = leader.points
    surface = reading.radius_mm - reading.buried_mm
    assert start == pytest.approx([scale.x(surface), of.axis.y(200.0)], abs=0.5)
    held_radius = float(of.shown.shape.wall.radius_at(reading.held_at_mm))
    assert end == pytest.approx([scale.x(held_radius), of.axis.y(reading.held_at_mm)], abs=0.01)
    assert f"held at {reading.held_at_mm:.0f} mm" in texts(drawn(of))


def test_over_an_exposed_land_there_is_no_such_line() -> None:
    at = scene().shown.shape.stations
    bed = scene().shown.flow.bed
    exposed = at.height[(bed.buried(at.line)[0, MIDDLE] == 0.0) & (at.groove < 0) & (at.height > 20.0)][0]
    of = scene(cursor_mm=float(exposed))
    assert of_kind(drawn(of), Line, Role.CURSOR) == [] and len(of_kind(drawn(of), Strokes, Role.CURSOR)) == 1
    assert not [t for t in texts(drawn(of)) if t.startswith("held at")]


def test_even_a_thin_bed_is_led_to_the_land_that_holds_it() -> None:
    """Less than a pixel thick: the read-out says that it is held, and so must the picture."""
    of = scene(cursor_mm=325.0)
    assert 0.0 < reading_at(of.shown, 325.0).buried_mm * of.axis.scale < 1.0
    assert [t for t in texts(drawn(of)) if t.startswith("held at")] == ["held at 330 mm"]


def test_the_surface_never_lies_behind_the_wall_or_a_groove() -> None:
    of = scene()
    at = of.shown.shape.stations
    scale = radius_scale(of, WIDTH)
    surface = next(i for i in of_kind(drawn(of), Line, Role.REPOSE))
    outside = scale.xs(np.where(np.isfinite(at.contour), at.contour, at.radius))
    seen = [int(np.argmin(np.abs(of.axis.ys(at.height) - y))) for y in surface.points[:, 1]]
    assert surface.points[:, 1] == pytest.approx(of.axis.ys(at.height[seen]))
    assert {*at.node.tolist()} <= {*seen}  # every land end and knot is drawn
    assert np.all(surface.points[:, 0] <= outside[seen] + 1e-6)


def test_the_held_end_shows_a_padlock_and_the_free_one_its_number_in_bold() -> None:
    shape = scene().shown.shape
    lip, floor = f"R {shape.lip_radius:.1f} mm", f"R {shape.floor_radius:.1f} mm"
    for hold, bold in ((Hold.LIP, {lip: False, floor: True}), (Hold.FLOOR, {lip: True, floor: False})):
        design = edits.held(STUDY.design, hold, shape.lip_radius, shape.floor_radius)
        picture = drawn(scene(design))
        shown = {i.text: i.bold for i in of_kind(picture, Label) if i.text in bold}
        assert shown == bold
        shackles = [i for i in of_kind(picture, Line, Role.TEXT) if len(i.points) == 9]
        assert len(shackles) == 1


def test_the_body_is_hatched_and_never_patterned_by_state() -> None:
    """State patterns inside a hatched body would be read as material."""
    picture = drawn(scene())
    body = of_kind(picture, Area, Role.BODY)[0]
    assert len(body.points) > 100 and HATCH_PX > 0.0
    assert not [a for a in of_kind(picture, Area) if a.role in (Role.MATCHED, Role.SHELTERED)]


def test_a_ghost_is_a_dashed_line_of_its_own_role() -> None:
    other = scene(edits.move_knot(STUDY.design, 1, None, 22.0)).shown
    ghosts = of_kind(drawn(scene(ghost=other)), Line, Role.GHOST)
    assert len(ghosts) == 1 and ghosts[0].dashes


def test_without_a_shape_nothing_is_drawn() -> None:
    empty = replaced(scene(), shown=None)
    assert section_strip(empty, radius_scale(empty, WIDTH), WIDTH, HEIGHT).items == ()


@pytest.mark.parametrize("high", [20.0, 344.0, 5000.0])
def test_every_coordinate_is_a_number_at_any_zoom(high: float) -> None:
    for item in drawn(scene(on=axis(-24.0, high), cursor_mm=150.0, groove=3)).items:
        assert np.all(np.isfinite(numbers_in(item)))


def test_a_jacket_too_narrow_is_marked_where_it_is_with_its_width() -> None:
    machine = replace(STUDY.machine, jacket_gap_mm=25.0)
    e = evaluate(STUDY.design, machine, STUDY.duty)
    narrow = next(f for f in e.findings if f.code == "jacket_narrow")
    of = replaced(scene(), shown=e)
    picture = drawn(of)
    mark = next(i for i in of_kind(picture, Line, Role.STOP))
    heights = [of.axis.height(float(y)) for y in mark.points[:, 1]]
    assert min(heights) == pytest.approx(narrow.from_mm) and max(heights) == pytest.approx(narrow.to_mm)
    assert f"{narrow.value:.1f} mm" in [i.text for i in of_kind(picture, Label, Role.STOP)]
    assert not list(of_kind(drawn(scene()), Line, Role.STOP))


@pytest.mark.parametrize("wall_mm", [26.0, 40.0, 90.0])
@pytest.mark.parametrize("taller_mm", [0.0, 40.0])
def test_where_the_bowl_cuts_its_seat_the_number_stands_where_it_is_so_and_never_above_the_rim(
    wall_mm: float, taller_mm: float
) -> None:
    knots = tuple(replace(k, height_mm=k.height_mm * (1.0 + taller_mm / 330.0)) for k in STUDY.design.wall.knots)
    design = edits.with_knots(replace(STUDY.design, body=replace(STUDY.design.body, wall_mm=wall_mm)), knots)
    of = scene(design, axis(-24.0, 400.0))
    e = of.shown
    fit = [f for f in e.findings if f.code in ("seat_clash", "jacket_narrow")]
    assert fit or wall_mm == 26.0
    rim = STUDY.machine.seat[-1].height_mm + e.shape.shell.underside
    for f in fit:
        assert f.from_mm <= f.at_mm <= f.to_mm <= rim + 1e-6
        seat = np.array([[p.radius_mm, p.height_mm + e.shape.shell.underside] for p in STUDY.machine.seat])
        gap = np.interp(f.at_mm, seat[:, 1], seat[:, 0]) - float(e.shape.shell.outer.radius_at(f.at_mm))
        assert abs(f.value) <= abs(gap) + 0.05  # square to the seat, so no more than level across
        label = next(i for i in of_kind(drawn(of), Label) if i.role is Role.STOP)
        assert label.y == pytest.approx(of.axis.y(f.at_mm))


def test_grooves_in_doubt_and_sheltered_ones_have_marks_of_their_own() -> None:
    of = scene(WIDE)
    state = of.shown.flow.groove_state[0]
    lines = of_kind(drawn(of), Line)
    doubt = [i for i in lines if i.role is Role.EDDY and i.dashes]
    none = [i for i in lines if i.role is Role.EDDY and len(i.points) == 2]
    assert len(doubt) == int(np.sum(state == State.MATCHED)) > 0
    assert len(none) == int(np.sum(state == State.SHELTERED)) > 0


def test_the_chosen_groove_shows_its_computed_streamlines_where_it_is_large_and_they_are_its_own() -> None:
    near = replaced(scene(WIDE, axis(0.0, 90.0)), groove=2)
    found = middle_case(near.shown, 2, USUAL)
    mine = replaced(near, eddy=(near.shown.flow, found))
    flowing = [i for i in of_kind(drawn(mine), Line) if i.role is Role.FLOW]
    assert len(flowing) >= 5
    for other in (near, replaced(mine, groove=3), replaced(mine, eddy=(object(), found)), replaced(mine, axis=axis())):
        assert not [i for i in of_kind(drawn(other), Line) if i.role is Role.FLOW]


def test_the_narrowest_jacket_and_the_thinnest_wall_are_dimensions_with_their_numbers() -> None:
    """Against shapely on the finished section; in the unit that is shown."""
    shown = scene()
    shape, machine = shown.shown.shape, shown.shown.machine
    jacket, wall = narrowest_jacket(shape, machine), thinnest_wall(shape)
    seat = shapely.LineString([(p.radius_mm, p.height_mm + shape.shell.underside) for p in machine.seat])
    outer = shape.shell.outer
    at = np.linspace(0.0, float(outer.height[-1]), 2001)
    outside = shapely.LineString(np.stack((outer.radius_at(at), at), axis=1))
    assert jacket.length == pytest.approx(seat.distance(outside), abs=0.01)
    assert wall.length == pytest.approx(float(shape.wall_behind.min()))
    assert outside.distance(shapely.Point(wall.end)) < 0.05
    told = texts(drawn(shown))
    assert f"jacket {jacket.length:.1f} mm" in told and f"wall {wall.length:.1f} mm" in told


def test_where_the_jacket_is_too_narrow_its_own_mark_says_so_and_the_stop_offers_to_fill_the_seat() -> None:
    design = replace(STUDY.design, body=replace(STUDY.design.body, wall_mm=31.0))
    shown = scene(design)
    assert not [text for text in texts(drawn(shown)) if text.startswith("jacket ")]
    narrow = next(f for f in shown.shown.findings if f.code == "jacket_narrow")
    assert narrow.remedy.label == "Fill the seat" and narrow.remedy.changed.body.fill_seat
    after = evaluate(narrow.remedy.changed, STUDY.machine, STUDY.duty)
    assert "jacket_narrow" not in [f.code for f in after.findings]


SIZES = ((380.0, 420.0), (395.0, 547.0), (315.0, 547.0), (705.0, 570.0))  # of the section, in windows of usual sizes


def test_the_line_goes_across_but_for_the_words_it_would_strike_through() -> None:
    seat = Label(180.0, 48.0, "seat", align=Align.RIGHT)
    words = [Label(100.0, 51.0, "slurry"), Label(300.0, 200.0, "far away"), seat]
    line = crosshair(50.0, 400.0, words)
    gaps = [across(words[0]), across(words[2])]
    assert line.ends[0, 0].tolist() == [0.0, 50.0] and line.ends[-1, 1].tolist() == [400.0, 50.0]
    for start, end in line.ends:
        assert start[1] == end[1] == 50.0 and start[0] < end[0]
        assert all(end[0] < left or start[0] > right for left, right in gaps)
    assert crosshair(50.0, 400.0, words[1:2]).ends.tolist() == [[[0.0, 50.0], [400.0, 50.0]]]


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("cursor_mm", (45.0, 125.0, 205.0, 325.0))
def test_no_label_of_the_section_is_cut_by_its_edge_or_struck_through(
    size: tuple[float, float], cursor_mm: float
) -> None:
    width, height = size
    of = scene(on=HeightAxis(-40.0, 345.0, 12.0, height - 24.0), cursor_mm=cursor_mm)
    items = section_strip(of, radius_scale(of, width), width, height).items
    labels = [i for i in items if isinstance(i, Label)]
    clearances = [i for i in labels if i.text.startswith(("jacket ", "wall "))]
    assert len(clearances) == 2
    for label in clearances:
        left, right = across(label)
        assert left >= 0.0 and right <= width, label
        for line in (i for i in items if isinstance(i, Line) and i.role is Role.SEAT):
            beside = (line.points[:, 0] < left) | (line.points[:, 0] > right) | (abs(line.points[:, 1] - label.y) > 6.0)
            assert np.all(beside), label.text
    y = of.axis.y(cursor_mm)
    under = [across(i) for i in labels if abs(i.y - y) < 4.0 and not i.text.startswith("held at")]
    strokes = next(i for i in items if getattr(i, "role", None) is Role.CURSOR and hasattr(i, "ends"))
    for start, end in strokes.ends:
        assert all(end[0] <= left or start[0] >= right for left, right in under)
