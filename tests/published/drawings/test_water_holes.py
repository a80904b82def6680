"""Water holes on the sheet and in the drilling table: places and directions by plain trigonometry of the plan."""

import csv
import io
from math import asin, cos, radians, sin

import ezdxf
import numpy as np
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from profiler.assess import Stages, evaluate
from profiler.assess.shape.bore_rings import Ring, rings_of
from profiler.output.formats.sheet_dxf import sheets_dxf
from profiler.output.writing import export, preview
from profiler.pictures.drawing.compose import DrawingOptions, drawing
from profiler.pictures.drawing.tolerances import Tolerances
from profiler.pictures.drawing.water_holes import developed_block, plan_block, staggered
from profiler.pictures.sheet.clashes import clashes, extents, texts_of
from profiler.pictures.sheet.dimensions import parts_of
from profiler.pictures.sheet.items import Angle, Path, Pen, Sheet, View
from profiler.study import HoleChange, HolePlan
from profiler.study.files import examples
from profiler.study.records.machine import Turning
from tests.laws.bowl.any_design import numbers

STUDY = examples.read("graded")
PLAN = HolePlan(12, 2.0, 20.0, (HoleChange(3, count=8), HoleChange(5, count=0)), start_deg=5.0, phase_deg=4.0)


def evaluated(plan=PLAN, turning=Turning.CLOCKWISE):
    design = replace(STUDY.design, holes=plan)
    return evaluate(design, replace(STUDY.machine, turning=turning), STUDY.duty, Stages.FINDINGS | Stages.BODY)


@pytest.fixture(scope="module")
def e():
    return evaluated()


@pytest.fixture(scope="module")
def made(e):
    return drawing(e)


def said(made):
    return [t.text for sheet in made.sheets for t in texts_of(sheet.items)]


def test_the_table_says_holes_axis_height_first_hole_and_skew_of_each_groove(e, made):
    texts = said(made)
    for ring in rings_of(e.shape.holes):
        assert f"{ring.height:.2f}" in texts
    assert texts.count("12x Ø2") >= len(e.shape.mouths) - 2 and "8x Ø2" in texts
    assert "5" in texts and "9" in texts and "13" in texts, "first holes: 5 degrees and 4 more from ring to ring"
    notes = " ".join(" ".join(texts).split())
    assert "+ is counter-clockwise, against the rotation" in notes and "clockwise as seen from the lip" in notes
    assert all(clashes(sheet) == [] for sheet in made.sheets)


def test_a_hole_lies_in_the_section_where_the_plan_puts_it(e, made):
    sheet = made.sheets[0]
    rings = rings_of(e.shape.holes)
    sides = [
        i.chain.points for i in sheet.items if isinstance(i, Path) and i.pen is Pen.HOLE and len(i.chain.points) == 2
    ]
    np.sort([p[0, 1] for p in sides if p[0, 1] == p[1, 1]])
    for ring in rings:
        inner, outer = (sheet.view.point(r, ring.height) for r in (ring.inner, ring.outer))
        found = [p for p in sides if np.allclose(p[:, 0], (inner[0], outer[0])) and abs(p[0, 1] - inner[1]) < 2.0]
        assert len(found) == 2, f"groove {ring.groove}"
        assert abs(found[1][0, 1] - found[0][0, 1]) == pytest.approx(ring.diameter * made.scale)


def test_the_skew_is_a_true_angular_dimension_in_every_format(made):
    angle = next(i for i in made.sheets[0].items if isinstance(i, Angle) and i.text == "20°")
    assert angle.end_deg - angle.start_deg == pytest.approx(20.0)
    feet = np.array(parts_of(angle).feet) - np.array(angle.corner)
    turned = np.degrees(np.arctan2(*feet[1][::-1]) - np.arctan2(*feet[0][::-1]))
    assert turned == pytest.approx(20.0)
    space = ezdxf.read(io.StringIO(sheets_dxf(made.sheets).decode("ascii"))).modelspace()
    angular = [d for d in space.query("DIMENSION") if d.dimtype == 5 and d.dxf.text == "20%%d"]
    assert len(angular) == 1
    corner, first, last = (
        np.array(getattr(angular[0].dxf, name))[:2] for name in ("defpoint4", "defpoint2", "defpoint3")
    )
    a, b = (np.arctan2(*(p - corner)[::-1]) for p in (first, last))
    assert np.degrees(b - a) == pytest.approx(20.0) and angular[0].dxf.actual_measurement == pytest.approx(
        radians(20.0)
    )


def test_rings_are_rolled_out_only_where_they_differ(made):
    assert any("HOLES DEVELOPED" in text for text in said(made))
    straight = evaluated(HolePlan(12, 2.0))
    assert not staggered(rings_of(straight.shape.holes))
    assert not any("DEVELOPED" in text for text in said(drawing(straight)))
    assert "NOT GIVEN" in " ".join(said(drawing(evaluated(HolePlan(12, 2.0), Turning.UNKNOWN))))


def test_a_class_for_the_holes_is_said():
    texts = " ".join(said(drawing(evaluated(), DrawingOptions(tolerances=Tolerances(holes="H11")))))
    assert "Diameters H11" in texts


def test_the_drilling_table_has_every_hole_where_the_plan_puts_it(e, tmp_path):
    path = tmp_path / "d.csv"
    assert "holes in" in export(path, e, kind="drilling")[0].words
    lines = path.read_text("utf-8").splitlines()
    assert any("never spin" in line.lower() for line in lines if line.startswith("#"))
    rows = list(csv.DictReader(line for line in lines if not line.startswith("#")))
    rings = {ring.groove: ring for ring in rings_of(e.shape.holes)}
    assert len(rows) == sum(PLAN.ring(int(p))[0] for p in e.shape.place)
    for row in rows:
        ring = rings[int(row["groove"])]
        count = PLAN.ring(int(e.shape.place[ring.groove - 1]))[0]
        azimuth = 5.0 + 4.0 * (ring.groove - 1) + 360.0 * (int(row["hole"]) - 1) / count
        assert float(row["azimuth_deg"]) == pytest.approx(azimuth % 360.0, abs=1e-4)
        floor = np.array([float(row["floor_x_mm"]), float(row["floor_y_mm"])])
        assert floor == pytest.approx(ring.inner * np.array([cos(radians(azimuth)), sin(radians(azimuth))]), abs=2e-4)
        way = radians(azimuth + 20.0)
        outside = floor + float(row["length_mm"]) * np.array([cos(way), sin(way)])
        assert outside == pytest.approx([float(row["outside_x_mm"]), float(row["outside_y_mm"])], abs=5e-4)
        assert np.hypot(*outside) == pytest.approx(ring.outer, abs=5e-4)
        assert ring.at_outside == pytest.approx(radians(20.0) - asin(ring.inner * sin(radians(20.0)) / ring.outer))
    shown = preview("drilling", e)
    assert len(shown.rows) == len(rows)


def test_the_drilling_points_lie_where_the_table_has_them(e, tmp_path):
    path = tmp_path / "d.dxf"
    export(path, e, kind="drilling")
    document = ezdxf.readfile(path)
    assert not document.audit().errors
    points = np.array([p.dxf.location for p in document.modelspace().query("POINT")])
    wanted = np.concatenate([
        np.stack((r.inner * np.cos(r.azimuths), r.inner * np.sin(r.azimuths), np.full(r.count, r.height)), axis=1)
        for r in rings_of(e.shape.holes)
    ])  # fmt: skip
    assert points == pytest.approx(wanted, abs=1e-4)
    assert len(document.modelspace().query("LINE")) == len(points)


def test_without_holes_there_is_no_drilling_and_a_sentence_says_so(tmp_path):
    bare = evaluated(HolePlan())
    with pytest.raises(ValueError, match="no water holes"):
        export(tmp_path / "d.csv", bare, kind="drilling")
    assert preview("drilling", bare).rows == () and "no water holes" in preview("drilling", bare).about
    assert not (tmp_path / "d.csv").exists()


@pytest.mark.parametrize("plan", [
    HolePlan(1, 0.2, 75.0), HolePlan(2000, 0.3), HolePlan(3, 50.0, -75.0, phase_deg=359.75),
    HolePlan(0, 1.0, changes=(HoleChange(2, count=7),)), HolePlan(40, 1.5, 33.3, start_deg=123.4, phase_deg=0.25),
])  # fmt: skip
def test_any_plan_is_drawn_with_no_text_across_a_line(plan):
    for sheet in drawing(evaluated(plan)).sheets:
        assert clashes(sheet) == []


RINGS = st.builds(
    lambda inner, thick, diameter, skew, count, first: Ring(
        3, count, diameter, 20.0, inner, radians(skew), inner + thick, True, radians(first)
    ),
    numbers(10, 900, 1), numbers(2, 90, 1), numbers(0.3, 9.0), numbers(-60, 60, 1), st.integers(1, 120),
    numbers(0, 90, 1),
)  # fmt: skip


@settings(max_examples=25, deadline=None, derandomize=True, phases=[Phase.generate])
@given(st.lists(RINGS, min_size=1, max_size=12), st.sampled_from(Turning))
def test_a_view_of_any_holes_keeps_its_texts_apart_and_within_its_block(rings, turning):
    """A hole much askew, an arc so small that its ends hang down, many rings: the title stands over what is drawn."""
    for block in (plan_block(rings[0], turning, "B"), developed_block(rings, "C")):
        items = block.draw(30.0, 400.0)
        assert clashes(Sheet(0.0, 0.0, tuple(items), View((0.0, 0.0), 1.0), frame=(-1e5, -1e5, 1e5, 1e5))) == []
        left, bottom, right, top = extents(items)
        assert left >= 30.0 - 1e-6 and right <= 30.0 + block.width + 1e-6
        assert bottom >= 400.0 - block.height - 1e-6 and top <= 400.0
