"""Sheets against the standards they follow.

Sizes and drawing spaces: ISO 216 and ISO 5457:1999, as measured from the ISO templates of an open CAD program. Scales:
ISO 5455. Title block 180 mm wide with the fields of ISO 7200:2004.
"""

import re

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, Phase, assume, given, settings
from msgspec.structs import replace

from profiler.assess import Stages, evaluate
from profiler.assess.shape.bore_rings import rings_of
from profiler.geometry.chain import sampled
from profiler.geometry.wall import build_wall
from profiler.output.drawings.drawing_output import options_of
from profiler.output.record.option import Request
from profiler.pictures.drawing.compose import DoesNotFit, DrawingOptions, drawing
from profiler.pictures.drawing.digits import alike, digits_of, radii_of
from profiler.pictures.drawing.groove_detail import groove_detail, kinds_of
from profiler.pictures.drawing.schedules import groove_table, outside_table, wall_table
from profiler.pictures.drawing.title_block import SheetFacts, TitleFields, projection_symbol, title_block
from profiler.pictures.sheet.clashes import box, boxes_of, clashes, extents, texts_of
from profiler.pictures.sheet.dimensions import parts_of
from profiler.pictures.sheet.items import Arrow, Dimension, Pen, Sheet, Text, View, circle, polyline
from profiler.pictures.sheet.lettering import text_width
from profiler.pictures.sheet.papers import PAPERS, SCALES, paper, scale_named, scale_text
from profiler.pictures.sheet.plain import plain
from profiler.study import Body, GrooveChange, GrooveRule, HolePlan, Knot, Placing, SquareTo, WallCurve
from profiler.study.files import examples
from tests.laws.bowl.any_design import designs, plans
from tests.tiers import two_examples

STUDY = examples.read("graded")


def evaluated(name="graded", design=None):
    study = examples.read(name)
    return evaluate(design or study.design, study.machine, study.duty)


@pytest.mark.parametrize(
    ("name", "trimmed", "space"),
    [
        ("A4", (210, 297), (180, 277)), ("A3", (420, 297), (390, 277)), ("A2", (594, 420), (564, 400)),
        ("A1", (841, 594), (811, 574)), ("A0", (1189, 841), (1159, 821)),
    ],
)  # fmt: skip
def test_sheets_and_frames_have_the_standard_sizes(name, trimmed, space):
    size = paper(name)
    assert (size.width, size.height) == trimmed
    assert (size.right - size.left, size.top - size.bottom) == space


def test_scales_are_the_standard_ones():
    listed = ["10:1", "5:1", "2:1", "1:1", "1:2", "1:5", "1:10", "1:20", "1:50", "1:100"]
    assert [scale_text(s) for s in SCALES] == listed


def test_the_title_block_is_180_wide_and_has_the_mandatory_fields():
    fields = TitleFields("Owner", "N-1", "Title", creator="C", approved="A", date="2026-10-20")
    items = title_block(fields, SheetFacts("Part drawing", "ISO 2768-1 m", "1 kg", "1:2", "A2", 1, 3), 584.0, 10.0)
    outline = next(i for i in items if getattr(i, "pen", None) is Pen.BOX).chain.points
    assert np.ptp(outline[:, 0]) == 180.0 and outline[:, 0].max() == 584.0
    said = {t.text for t in texts_of(items)}
    labels = {"Legal owner", "Identification number", "Date of issue", "Sheet", "Title", "Approved by", "Created by",
              "Document type"}  # fmt: skip
    assert labels <= said
    assert {"Owner", "N-1", "Title", "C", "A", "2026-10-20", "1 / 3", "Part drawing"} <= said


@pytest.mark.parametrize("size", [p.name for p in PAPERS])
def test_the_section_is_drawn_true_to_the_stated_scale(size):
    e = evaluated()
    sheet = drawing(e, DrawingOptions(size=size))
    first = sheet.sheets[0]
    halves = [p.chain for p in plain(first).paths if p.pen is Pen.OUTLINE]
    points = np.concatenate([sampled(h, 1e-4) for h in halves])
    width = 2.0 * e.shape.shell.flange_radius * sheet.scale
    assert np.ptp(points[:, 0]) == pytest.approx(width, abs=0.01)
    assert np.ptp(points[:, 1]) == pytest.approx(346.0 * sheet.scale, abs=0.01)


def test_every_dimension_says_the_length_between_its_points():
    """Read back from the drawing alone: points on paper, times what a millimetre stands for."""
    found = [i for i in drawing(evaluated()).sheets[0].items if isinstance(i, Dimension)]
    assert len(found) >= 9
    for d in found:
        along = np.array([np.cos(np.radians(d.angle_deg)), np.sin(np.radians(d.angle_deg))])
        length = abs(float((np.array(d.end) - np.array(d.start)) @ along)) * d.per_mm
        assert float(d.text.lstrip("Ø").split(" ")[0]) == pytest.approx(length, abs=0.005)


def sheets_of(design):
    """A bowl that cannot be made has no drawing; every other one is drawn, on some standard sheet."""
    e = evaluate(design, STUDY.machine, STUDY.duty, want=Stages.FINDINGS)
    assume(e.shape is not None)
    sheets = drawing(e).sheets
    assert not [t.text for sheet in sheets for t in sheet.items if isinstance(t, Text) and CUT_NUMBER.search(t.text)]
    return sheets


CUT_NUMBER = re.compile(r"\d(…|\.\.\.)")  # a name may be cut to its column, a number never


def test_an_arc_that_no_digit_of_the_sheet_shows_is_a_straight_piece():
    """An eased span may be fitted with arcs of kilometres; a radius of ten figures was cut to its column once."""
    for turn, straight in ((4e-6, True), (8e-5, True), (1e-4, False), (1e-2, False)):
        radius = float(radii_of(build_wall([0.0, 100.0], [0.3], [0.3 + turn], 200.0))[0])
        assert (radius == 0.0) is straight
    tall = float(radii_of(build_wall([0.0, 1900.0], [0.3], [0.3 + 8e-5], 900.0))[0])
    digits = digits_of(evaluated().shape)
    assert tall > 1e7 and text_width(f"R{tall:.{digits.of_radius(tall)}f}", 2.5) < 24.0  # its rise shows: it fits


@settings(max_examples=25, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck),
          phases=[Phase.generate])  # fmt: skip
@given(designs())
def test_no_texts_meet_over_twenty_five_designs(design):
    for sheet in sheets_of(design):
        assert clashes(sheet) == []


@pytest.mark.long
@settings(max_examples=1500, deadline=None, suppress_health_check=list(HealthCheck), phases=[Phase.generate])
@given(designs())
def test_no_texts_meet_over_many_designs(design):
    for sheet in sheets_of(design):
        assert clashes(sheet) == []


@pytest.mark.long
@settings(max_examples=1500, deadline=None, suppress_health_check=list(HealthCheck), phases=[Phase.generate])
@given(designs(), plans())
def test_no_texts_meet_over_many_designs_with_holes(design, plan):
    for sheet in sheets_of(replace(design, holes=plan)):
        assert clashes(sheet) == []


@settings(max_examples=15, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck),
          phases=[Phase.generate])  # fmt: skip
@given(designs(), plans())
def test_no_texts_meet_over_fifteen_designs_with_holes(design, plan):
    for sheet in sheets_of(replace(design, holes=plan)):
        assert clashes(sheet) == []


def test_a_groove_square_to_the_axis_in_a_wall_that_leans_in_is_told():
    """Mouth and depth stand apart, though neither is clear of the other near by; found by the long run too."""
    knots = (Knot(0.0, 15.56, eased=True), Knot(5.9, -3.2, 83.99), Knot(23.1, -3.16), Knot(69.6, -4.64, -7.27),
             Knot(93.1, -53.9), Knot(211.8, -3.49))  # fmt: skip
    grooves = GrooveRule(count=1, from_mm=9.4, to_mm=185.4, mouth_mm=7.52, depth_mm=6.16, flank_deg=15.3,
                         floor_radius_mm=0.0, edge_radius_mm=0.0, square_to=SquareTo.AXIS)  # fmt: skip
    body = Body(wall_mm=27.7, floor_plate_mm=12.0, hub_hole_mm=15.0, flange_width_mm=0.0, flange_mm=13.5)
    wall = WallCurve(knots, floor_radius_mm=407.8)
    made = drawing(evaluated(design=replace(STUDY.design, wall=wall, grooves=grooves, body=body)))
    assert all(clashes(sheet) == [] for sheet in made.sheets)


def test_a_groove_whose_measures_are_wider_than_itself_is_told_on_a_small_sheet():
    """The texts of mouth and depth both stand beside what they measure; found by the long run over many designs."""
    wall = WallCurve((Knot(0.0, 4.37, eased=True), Knot(61.4, 19.48)), lip_radius_mm=103.3)
    grooves = GrooveRule(count=16, from_mm=10.1, to_mm=61.7, mouth_mm=1.43, depth_mm=0.5, flank_deg=16.4,
                         floor_radius_mm=0.0, edge_radius_mm=0.02, square_to=SquareTo.AXIS)  # fmt: skip
    body = Body(wall_mm=3.3, floor_plate_mm=1.0, hub_hole_mm=9.4, flange_width_mm=0.0, flange_mm=1.0)
    made = drawing(evaluated(design=replace(STUDY.design, wall=wall, grooves=grooves, body=body)))
    assert made.size.name == "A2" and all(clashes(sheet) == [] for sheet in made.sheets)


STEEP = (Knot(0.0, -48.33), Knot(30.0, 70.27))
LEANING_IN = (Knot(0.0, 4.56), Knot(11.4, -19.99), Knot(123.3, -19.99))


@pytest.mark.parametrize(("knots", "lip", "mouth", "square"), [
    (STEEP, 40.0, 1.0, SquareTo.AXIS), (STEEP, 40.0, 1.0, SquareTo.WALL), (LEANING_IN, 107.0, 2.2, SquareTo.WALL),
])  # fmt: skip
def test_a_measure_that_reaches_beyond_its_groove_keeps_clear_of_the_words_over_it(knots, lip, mouth, square):
    """A wall that lies nearly level or leans in: the depth's number stands over the groove. Found by the long run."""
    top = knots[-1].height_mm
    rule = GrooveRule(count=10, from_mm=0.1 * top, to_mm=0.9 * top, mouth_mm=mouth, depth_mm=0.52, flank_deg=3.0,
                      floor_radius_mm=0.0, edge_radius_mm=0.0, square_to=square)  # fmt: skip
    body = Body(wall_mm=5.0, floor_plate_mm=1.0, hub_hole_mm=5.0, flange_width_mm=2.0, flange_mm=1.0)
    e = evaluated(design=replace(STUDY.design, wall=WallCurve(knots, lip_radius_mm=lip), grooves=rule, body=body))
    sheets = drawing(e).sheets
    assert all(clashes(sheet) == [] for sheet in sheets)
    assert any(t.text.startswith("typical of grooves") for t in texts_of(sheets[0].items))


def test_a_detail_takes_the_room_that_is_drawn_and_written_in_it():
    e = evaluated()
    for kind in kinds_of(e.shape):
        for scale in (0.5, 2.0, 10.0):
            block = groove_detail(e.shape, kind, scale, "A", digits_of(e.shape))
            left, bottom, right, top = extents(block.draw(30.0, 400.0))
            assert left >= 30.0 - 1e-9 and right <= 30.0 + block.width + 1e-9
            assert bottom >= 400.0 - block.height - 1e-9 and top <= 400.0


def test_a_sheet_is_as_small_as_can_be_read_and_none_is_chosen_without_its_caution():
    """A bowl of 120 mm stands on A3 at 1:1, the pilot's on A2; the caution is on the first sheet of each."""
    rule = replace(STUDY.design.grooves, count=3, from_mm=8.0, to_mm=32.0, mouth_mm=3.0, depth_mm=2.0,
                   floor_radius_mm=0.3, edge_radius_mm=0.0)  # fmt: skip
    body = Body(wall_mm=8.0, floor_plate_mm=5.0, hub_hole_mm=15.0, flange_width_mm=0.0, flange_mm=5.0)
    wall = WallCurve((Knot(0.0, 45.0), Knot(40.0, 37.0)), lip_radius_mm=60.0)
    small = replace(STUDY.design, wall=wall, grooves=rule, body=body, holes=HolePlan(), note="")
    machine = replace(STUDY.machine, lip_radius_mm=60.0, height_mm=40.0, seat=())
    made = [drawing(evaluate(small, machine, STUDY.duty)), drawing(evaluated())]
    assert [(m.size.name, m.scale, len(m.sheets)) for m in made] == [("A3", 1.0, 1), ("A2", 0.5, 1)]
    for each in made:
        assert any("CAUTION" in t.text for t in texts_of(each.sheets[0].items))


def test_meeting_texts_and_texts_outside_are_noticed():
    """The check can fail: also where two texts are turned and only their corners cross."""
    texts = (Text(50, 50, "one"), Text(52, 51, "two"), Text(80, 80, "MMMMMM", angle_deg=45), Text(82, 80, "M"),
             Text(84, 80, "next"), Text(5, 50, "out"), Text(120, 20, "alone"))  # fmt: skip
    found = clashes(Sheet(200, 100, texts, View((0, 0), 1.0), frame=(20, 10, 190, 90)))
    assert '"one" meets "two"' in found and '"MMMMMM" meets "M"' in found
    assert any("out" in f and "leaves the frame" in f for f in found)
    assert not any("alone" in f for f in found)


def test_a_text_that_lies_across_a_line_is_noticed_whatever_the_line_belongs_to():
    """An outline, an arc, a dimension's line, a head; beside each a text that keeps clear. The frame is not a line."""
    drawn = (polyline([(30, 20), (30, 90)], Pen.OUTLINE), circle(80, 50, 20, Pen.DIM), Arrow((120, 30), 0.0),
             Dimension((140, 20), (180, 20), 0.0, (160, 40), "40", 1.0),
             polyline([(20, 0), (20, 100)], Pen.FRAME))  # fmt: skip
    struck = (Text(27, 50, "outline"), Text(58, 48, "arc", angle_deg=45), Text(116, 29, "head"), Text(150, 39, "dim"))
    clear = (Text(31, 30, "beside"), Text(75, 49, "inside"), Text(122, 29, "after"), Text(150, 30, "below"))
    found = clashes(Sheet(200, 100, (*drawn, *struck, *clear), View((0, 0), 1.0), frame=(20, 10, 190, 90)))
    assert {f for f in found if "lies across" in f} == {f'"{t.text}" lies across a line' for t in struck}


@pytest.mark.parametrize("name", two_examples())
@pytest.mark.parametrize("size", [None, "A4", "A3"])
def test_no_text_of_an_example_lies_across_a_line_by_a_general_geometry_library(name, size):
    """Shapely's own intersection of boxes and lines, the boxes those of the font's widths."""
    for sheet in drawing(evaluated(name), DrawingOptions(size)).sheets:
        drawn = plain(sheet)
        lines = [p for p in drawn.paths if p.pen not in (Pen.FRAME, Pen.TRIM)]
        tree = shapely.STRtree([shapely.LineString(_points(p.chain)) for p in lines])
        texts = [t for t in drawn.texts if not t.in_margin]
        boxes = shapely.polygons(boxes_of(texts))
        which, _ = tree.query(boxes, predicate="intersects")
        assert [texts[k].text for k in which] == []


def _points(chain):
    points = sampled(chain, 0.01)
    return np.concatenate((points, points[:1])) if chain.closed else points


def test_a_narrow_measure_has_its_number_beyond_the_next_rows_extension_line():
    made = drawing(evaluated(), DrawingOptions("A4"))
    rows = {d.text: d for d in made.sheets[0].items if isinstance(d, Dimension)}
    hub, foot = parts_of(rows["Ø76.00"]), parts_of(rows["Ø280.62"])
    assert box(hub.text)[:, 0].min() > foot.feet[1][0]


def test_the_detail_is_drawn_larger_than_the_view_and_says_so():
    for name in examples.names():
        made = drawing(evaluated(name))
        texts = [t.text for sheet in made.sheets for t in texts_of(sheet.items)]
        title = next(t for t in texts if t.startswith("A ("))
        assert scale_named(title[3 : title.index(")")]) > made.scale
        assert len(made.sheets) == 1


def test_a_dish_that_is_nearly_flat_finds_a_place_for_every_measure():
    rule = GrooveRule(count=5, placing=Placing.IN_HEIGHT, from_mm=0.4, to_mm=62.7, mouth_mm=2.64, depth_mm=2.33,
                      flank_deg=18.4, floor_radius_mm=0.45, edge_radius_mm=0.0)  # fmt: skip
    knots = (Knot(0.0, 83.99), Knot(84.4, 83.99))
    body = Body(wall_mm=3.4, floor_plate_mm=6.4, hub_hole_mm=23.1, flange_width_mm=4.2, flange_mm=7.0)
    design = replace(STUDY.design, wall=WallCurve(knots, floor_radius_mm=113.5), grooves=rule, body=body)
    sheet = drawing(evaluated(design=design)).sheets[0]
    assert clashes(sheet) == []
    said = {t.text for t in texts_of(sheet.items)}
    assert {"R0.45 (2x)", "18.4° (2x)", "2.64", "2.33"} <= said
    rows = sorted(
        (d for d in sheet.items if isinstance(d, Dimension) and d.text.startswith("Ø")), key=lambda d: d.at[1]
    )
    across = [float(d.text[1:]) for d in rows]
    assert across[0] > across[1] and across[2] < across[3]  # the wider one is farther out, below and above


def test_numbers_of_a_column_have_their_points_under_one_another():
    assert alike(np.array([0.0, 12.5, 240.0])) == ["0.0", "12.5", "240.0"]
    assert alike(np.array([13.0, 13.0])) == ["13", "13"]
    assert alike(np.array([274.0781, 9.0])) == ["274.08", "9.00"]
    e = evaluated()
    digits = digits_of(e.shape)
    for table in (wall_table(e.shape, digits), outside_table(e.shape, digits), groove_table(e.shape, digits, ())):
        for column in list(zip(*table.rows, strict=True))[:6]:
            assert len({len(cell.partition(".")[2]) for cell in column}) == 1


@pytest.mark.parametrize("third", [False, True])
def test_the_projection_symbol_has_the_cone_left_in_first_angle_and_right_in_third(third):
    """ISO 5456-2, found: first angle is the truncated cone on the left, its two circles on the right."""
    paths = [i.chain for i in projection_symbol(100.0, 50.0, third, 3.0)]
    cone = next(c.points for c in paths if len(c.points) == 4)
    rings = [c.points for c in paths if len(c.points) == 2 and c.closed]
    assert sorted(float(np.ptp(r[:, 0])) for r in rings) == pytest.approx([3.0, 6.0])
    assert (cone[:, 0].mean() < 100.0 < rings[0][:, 0].mean()) is not third


def test_text_widths_are_those_of_a_general_font_reader():
    from importlib.resources import files

    from fontTools.ttLib import TTFont

    font = TTFont(str(files("profiler.data") / "fonts" / "DejaVuSans.ttf"))
    names, advances = font.getBestCmap(), font["hmtx"]
    text = "Ø435.2 mm ±0.5° Größe µΩ Ж"
    units = sum(advances[names[ord(c)]][0] for c in text)
    capital = font["glyf"]["H"].yMax
    assert text_width(text, 3.5) == pytest.approx(3.5 * units / capital, rel=1e-12)


def test_long_tables_run_on_to_further_sheets():
    knots = tuple(Knot(5.0 * i, 20.0 - 0.05 * i, eased=True) for i in range(100))
    rule = GrooveRule(count=120, mouth_mm=2.5, depth_mm=3.0, floor_radius_mm=0.3, edge_radius_mm=0.1,
                      from_mm=3.0, to_mm=500.0)  # fmt: skip
    design = replace(STUDY.design, wall=WallCurve(knots, lip_radius_mm=400.0), grooves=rule)
    e = evaluated(design=design)
    made = drawing(e, DrawingOptions(size="A3"))
    assert len(made.sheets) > 1
    texts = [t.text for sheet in made.sheets for t in texts_of(sheet.items)]
    for number in range(1, 121):
        assert str(number) in texts
    assert f"{len(made.sheets)} / {len(made.sheets)}" in texts
    assert all(clashes(sheet) == [] for sheet in made.sheets)


def test_a_scale_by_hand_is_kept_or_refused():
    assert drawing(evaluated(), DrawingOptions("A1", "1:2")).scale == 0.5
    with pytest.raises(DoesNotFit, match="A3 at 1:1"):
        drawing(evaluated(), DrawingOptions("A3", "1:1"))
    with pytest.raises(ValueError, match="1:3 is not a standard scale"):
        drawing(evaluated(), DrawingOptions(scale="1:3"))


def test_a_faulty_bowl_says_that_it_is_not_checked_and_a_sound_one_does_not():
    said = {t.text for t in texts_of(drawing(evaluated("faulty")).sheets[0].items)}
    assert "NOT CHECKED: 3 stop findings" in said
    whole = " ".join(t.text for t in texts_of(drawing(evaluated()).sheets[0].items))
    assert "NOT CHECKED" not in whole
    assert "CAUTION" in whole and "uncalibrated" in whole and "ISO 12100" in whole


def test_a_revision_has_its_row_and_a_first_issue_none():
    fields = TitleFields(revision="B", change="Outside dimensioned", date="2031-04-05", creator="C", approved="A")
    said = [t.text for t in texts_of(drawing(evaluated(), DrawingOptions(fields=fields)).sheets[0].items)]
    assert {"REVISIONS", "Outside dimensioned", "2031-04-05"} <= set(said)
    assert "REVISIONS" not in [t.text for t in texts_of(drawing(evaluated()).sheets[0].items)]


def test_kinds_of_groove_have_a_detail_each_the_commonest_first():
    changes = (GrooveChange(2, mouth_mm=6.0), GrooveChange(3, mouth_mm=6.0), GrooveChange(5, depth_mm=5.0))
    design = replace(STUDY.design, grooves=replace(STUDY.design.grooves, changes=changes))
    e = evaluated(design=design)
    kinds = kinds_of(e.shape)
    assert [len(k.numbers) for k in kinds] == [len(e.shape.mouths) - 3, 2, 1]
    said = [t.text for sheet in drawing(e).sheets for t in texts_of(sheet.items)]
    titles = [text for text in said if ")  GROOVE " in text]
    assert [title[0] for title in titles] == ["A", "B", "C"] and "typical of grooves 2 to 3" in said


def test_virtual_corners_are_marked_where_mouth_and_depth_are_measured():
    e = evaluated()
    sheet = drawing(e).sheets[0]
    mouth = next(i for i in sheet.items if isinstance(i, Dimension) and abs(i.angle_deg) not in (0.0, 90.0))
    marks = [i.chain.points.mean(axis=0) for i in sheet.items if getattr(i, "pen", None) is Pen.MARK]
    for end in (mouth.start, mouth.end):
        assert min(np.hypot(*(np.array(m) - np.array(end))) for m in marks) < 1e-9


def test_what_is_asked_of_the_shop_is_a_note_as_entered_and_nothing_is_invented():
    plain_notes = " ".join(t.text for t in texts_of(drawing(evaluated()).sheets[0].items))
    assert not any(word in plain_notes for word in ("ISO 1101", "Run-out", "Hardness", "Surface texture", "Balancing"))
    asked = ("Run-out: lip 0.2 to datum A", "Hardness: 80 ± 5 Shore A")
    made = drawing(evaluated(), DrawingOptions(asked=asked))
    notes = " ".join(" ".join(t.text for t in texts_of(made.sheets[0].items)).split())
    assert all(f"{note}." in notes for note in asked)
    assert all(clashes(sheet) == [] for sheet in made.sheets)


def test_the_balance_note_stands_where_it_was_chosen_with_the_studys_own_numbers():
    """ISO 21940-11: permitted is the mass times G / w, in g mm where the mass is in kg and G / w in um."""
    e = evaluated()
    without = " ".join(" ".join(t.text for t in texts_of(drawing(e).sheets[0].items)).split())
    assert "Balancing" not in without
    options = options_of(Request({"balance_note": "study"}), e)
    made = drawing(e, options)
    note = " ".join(" ".join(t.text for t in texts_of(made.sheets[0].items)).split())
    mass = re.search(r"The dry rotor with this bowl, (?:at least )?([\d.]+) kg", note)
    permitted = re.search(r"is permitted (?:at least )?([\d\u202f ]+) g mm", note)
    micrometres = 1000.0 * e.machine.balance_grade_mm_s / (e.duty.speed_rpm * np.pi / 30.0)
    assert float(permitted[1].replace("\u202f", "")) == pytest.approx(float(mass[1]) * micrometres, rel=0.01)
    assert f"G {e.machine.balance_grade_mm_s:g} at {e.duty.speed_rpm:g} rpm" in note and "Confirm with" in note
    assert all(clashes(sheet) == [] for sheet in made.sheets)


def test_grooves_of_a_kind_without_a_detail_are_named_at_the_commonest_one():
    """Eight kinds, six details: flank and radii of the other two are those of A, their mouths stand in the table."""
    changes = tuple(GrooveChange(k, mouth_mm=5.0 + k) for k in (1, 2, 4, 5, 6, 7, 9))
    e = evaluated(design=replace(STUDY.design, grooves=replace(STUDY.design.grooves, changes=changes)))
    kinds = kinds_of(e.shape)
    made = drawing(e)
    said = " ".join(t.text for sheet in made.sheets for t in texts_of(sheet.items))
    left = sorted(number for kind in kinds[6:] for number in kind.numbers)
    assert len(kinds) == 8 and len(left) == 2
    assert f"but for mouth and depth, by the table, of {left[0]} to {left[1]} too" in said.replace(
        f"{left[0]}, {left[1]}", f"{left[0]} to {left[1]}"
    )
    assert all(clashes(sheet) == [] for sheet in made.sheets)


def test_a_table_has_columns_of_holes_only_where_holes_are_planned():
    e = evaluated()
    bare = evaluated(design=replace(STUDY.design, holes=HolePlan()))
    rings = rings_of(e.shape.holes)
    assert len(groove_table(e.shape, digits_of(e.shape), rings).heads) == 10
    assert groove_table(bare.shape, digits_of(bare.shape), ()).heads[-1] == "wall, °"
