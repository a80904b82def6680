"""DXF by ezdxf, every kind of entity; GDAL reads the same file as a second reader, which shares no line with ezdxf."""

from pathlib import Path

import numpy as np
import pyogrio.raw
import pytest
import shapely

from profiler.assess.drawn.drawing import CURVE_MM, UnreadableDrawing
from profiler.assess.drawn.read_dxf import MOST_ENTITIES, read_dxf
from profiler.geometry.chain import length
from tests.assess.drawn.written import KINDS, away, draw_kind, draw_rotor, saved

EXACT_MM = 1e-6


def gdal_vertices(path: Path):
    """Every vertex GDAL gives."""
    _, _, geometry, _ = pyogrio.raw.read(path)
    return np.concatenate([shapely.get_coordinates(shapely.from_wkb(g)) for g in geometry])


@pytest.mark.parametrize("kind", KINDS)
def test_gdals_vertices_lie_on_our_chains(kind: str, tmp_path: Path) -> None:
    path = saved(tmp_path / "one.dxf", lambda d: draw_kind(d, kind))
    drawing = read_dxf(path)
    vertices = gdal_vertices(path)
    nearest = np.min([away(vertices, stroke) for stroke in drawing.strokes], axis=0)
    assert len(vertices) >= 2
    assert float(nearest.max()) < (CURVE_MM if kind in ("ELLIPSE", "SPLINE") else EXACT_MM)


@pytest.mark.parametrize("kind", ["ELLIPSE", "SPLINE"])
def test_a_curve_is_followed_within_a_hundredth_along_all_its_length(kind: str, tmp_path: Path) -> None:
    """By ezdxf's own flattening to a millionth: both ways, so that nothing is cut short."""
    import ezdxf

    path = saved(tmp_path / "one.dxf", lambda d: draw_kind(d, kind))
    entity = next(iter(ezdxf.readfile(path).modelspace()))
    true = np.array([(p.x, p.y) for p in entity.flattening(1e-5)])
    (stroke,) = read_dxf(path).strokes
    assert float(away(true, stroke).max()) < CURVE_MM
    assert length(stroke) == pytest.approx(float(np.sum(np.hypot(*np.diff(true, axis=0).T))), abs=5 * CURVE_MM)


@pytest.mark.parametrize(("unit", "factor"), [(4, 1.0), (1, 25.4), (5, 10.0), (6, 1000.0)])
def test_the_unit_comes_from_the_header(unit: int, factor: float, tmp_path: Path) -> None:
    (stroke,) = read_dxf(saved(tmp_path / "u.dxf", lambda d: draw_kind(d, "LINE"), unit)).strokes
    assert stroke.points[1] == pytest.approx([31.0 * factor, 17.0 * factor])


def test_a_file_without_a_unit_says_so_and_stays_as_it_is(tmp_path: Path) -> None:
    drawing = read_dxf(saved(tmp_path / "u.dxf", lambda d: draw_kind(d, "LINE"), 0))
    assert drawing.unit_mm is None and "does not say its unit" in " ".join(drawing.notes)


@pytest.mark.parametrize("binary", [False, True])
@pytest.mark.parametrize("version", ["R12", "R2000", "R2018"])
def test_text_and_binary_files_of_old_and_new_versions_give_the_same(
    version: str, binary: bool, tmp_path: Path
) -> None:
    drawing = read_dxf(saved(tmp_path / "r.dxf", draw_rotor, 4, version, binary))
    assert len(drawing.strokes) == 4 and len(drawing.centre_lines) == 1


def test_blocks_are_exploded_where_they_stand_also_mirrored_and_nested(tmp_path: Path) -> None:
    def draw(document) -> None:
        inner, outer = document.blocks.new("inner"), document.blocks.new("outer")
        inner.add_line((0, 0), (10, 0))
        inner.add_arc((0, 0), 10.0, 0.0, 90.0)
        outer.add_blockref("inner", (5, 0))
        document.modelspace().add_blockref("outer", (100, 50), dxfattribs={"xscale": -1.0, "rotation": 90.0})

    line, arc = sorted(read_dxf(saved(tmp_path / "b.dxf", draw)).strokes, key=lambda s: bool(s.bulges.any()))
    # by hand: x mirrored, then turned by 90 degrees: (x, y) -> (-y, -x) + (100, 50); the inner block stands at (5, 0)
    assert line.points == pytest.approx(np.array([[100.0, 45.0], [100.0, 35.0]]))
    assert away(np.array([[100.0 - 10.0 * np.sin(1.0), 45.0 - 10.0 * np.cos(1.0)]]), arc)[0] < EXACT_MM


def test_what_is_seen_from_behind_is_mirrored(tmp_path: Path) -> None:
    def draw(document) -> None:
        document.modelspace().add_arc((5, 0), 10.0, 0.0, 90.0, dxfattribs={"extrusion": (0, 0, -1)})

    path = saved(tmp_path / "m.dxf", draw)
    (arc,) = read_dxf(path).strokes
    assert away(gdal_vertices(path)[:, :2], arc).max() < EXACT_MM
    assert arc.points[:, 0] == pytest.approx([-15.0, -5.0])


def huge(path: Path) -> Path:
    path.write_bytes(
        b"  0\nSECTION\n  2\nENTITIES\n" + b"  0\nLINE\n" * (MOST_ENTITIES + 1) + b"  0\nENDSEC\n  0\nEOF\n"
    )
    return path


def in_space(document) -> None:
    document.modelspace().add_line((0, 0, 0), (1, 0, 9))
    document.modelspace().add_arc((0, 0), 5.0, 0.0, 90.0, dxfattribs={"extrusion": (1, 0, 0)})


BAD = {
    "nothing in it": (lambda p: saved(p, lambda d: None), "holds no lines"),
    "text only": (lambda p: saved(p, lambda d: d.modelspace().add_text("a rotor")), "holds no lines"),
    "in space": (lambda p: saved(p, in_space), "drawn in space"),
    "not DXF at all": (lambda p: p.write_bytes(b"%PDF-1.4 a picture") and p, "is not a DXF"),
    "empty": (lambda p: p.write_bytes(b"") or p, "is not a DXF"),
    "cut short": (lambda p: p.write_bytes(b"  0\nSECTION\n  2\nENTITIES\n  0\nLINE\n  8\n") and p, "DXF"),
    "far too many": (huge, f"more than {MOST_ENTITIES} entities"),
    "not there": (lambda p: p, "cannot be read"),
    "a folder": (lambda p: p.mkdir() or p, "cannot be read"),
}


@pytest.mark.parametrize("case", BAD)
def test_what_cannot_be_read_is_one_sentence(case: str, tmp_path: Path) -> None:
    make, words = BAD[case]
    with pytest.raises(UnreadableDrawing, match=words) as told:
        read_dxf(make(tmp_path / "bad.dxf"))
    assert "\n" not in str(told.value) and str(told.value).endswith(".")


def test_what_is_passed_over_is_counted(tmp_path: Path) -> None:
    def draw(document) -> None:
        draw_kind(document, "LINE")
        document.modelspace().add_text("a note")
        document.modelspace().add_line((0, 0, 0), (0, 0, 5))

    notes = " ".join(read_dxf(saved(tmp_path / "n.dxf", draw)).notes)
    assert "Passed over: 1 TEXT." in notes and "1 entity out of the plane" in notes
