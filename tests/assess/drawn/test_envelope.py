"""Seat, lip and height from drawings: axes proposed, halves and gaps, round trips through our own exports."""

from pathlib import Path

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import Stages, evaluate
from profiler.assess.drawn.drawing import UnreadableDrawing
from profiler.assess.drawn.envelope import Envelope, NoEnvelope, Roles, envelope
from profiler.assess.drawn.laid_out import LaidOut, Laying, laid_out, read_and_lay
from profiler.assess.drawn.pasted import pasted_points
from profiler.assess.drawn.read_dxf import read_dxf
from profiler.output.drawings.parts import Part, ProfileOptions
from profiler.output.drawings.profile_dxf import write_profile
from profiler.study.files import examples
from tests.assess.drawn.written import SEAT, draw_kind, draw_rotor, saved

STUDY = examples.read(examples.DEFAULT)
MACHINE, DESIGN = STUDY.machine, STUDY.design
SHAPE = evaluate(DESIGN, MACHINE, STUDY.duty, Stages.FINDINGS).shape
EXACT_MM = 1e-6


def taken(laid: LaidOut, roles: Roles | None = None) -> Envelope:
    return envelope(laid.placed, roles or laid.roles, MACHINE, DESIGN, laid.drawing, laid.axis)


def seat_of(found: Envelope):
    return [(p.height_mm, p.radius_mm) for p in found.machine.seat]


@pytest.mark.parametrize("turning", [False, True])
def test_a_seat_drawn_by_the_profile_export_comes_back_to_a_millionth(turning: bool, tmp_path: Path) -> None:
    path = tmp_path / "seat.dxf"
    write_profile(path, SHAPE, options=ProfileOptions(Part.SEAT, turning=turning), machine=MACHINE)
    laid = read_and_lay(path)
    axis = next(i for i, p in enumerate(laid.axes) if p.axis.at_mm == 0.0 and p.axis.upright is not turning)
    found = taken(laid_out(laid.read, Laying(axis=axis)))
    assert np.array(seat_of(found)) == pytest.approx(
        np.array([(p.height_mm, p.radius_mm) for p in MACHINE.seat]), abs=EXACT_MM
    )


@pytest.mark.parametrize("full", [False, True])
@pytest.mark.parametrize("moved", [0.0, 500.0])
def test_a_rotor_is_read_from_half_or_full_sections_wherever_its_axis_lies(
    full: bool, moved: float, tmp_path: Path
) -> None:
    def draw(document) -> None:
        draw_rotor(document, full=full)
        for entity in document.modelspace():
            entity.translate(moved, 30.0, 0.0)

    laid = read_and_lay(saved(tmp_path / "r.dxf", draw))
    assert laid.axes[0].reason == "a centre line" and laid.axis.at_mm == pytest.approx(moved)
    assert laid.placed.full is full
    found = taken(laid)
    assert np.array(seat_of(found)) == pytest.approx(np.array(SEAT), abs=EXACT_MM)
    assert found.machine.feed_pipe_mm == pytest.approx(40.0) and found.machine.feed_pipe_end_mm == pytest.approx(120.0)
    assert "a seat alone does not say where the lip ends" in found.sentence


def test_the_axis_of_a_full_section_without_a_centre_line_is_its_symmetry(tmp_path: Path) -> None:
    def draw(document) -> None:
        draw_rotor(document, full=True, centre=False)
        for entity in document.modelspace():
            entity.translate(77.5, 0.0, 0.0)

    laid = read_and_lay(saved(tmp_path / "r.dxf", draw))
    assert laid.axes[0].reason == "the line of symmetry" and laid.axis.at_mm == pytest.approx(77.5)


def test_upside_down_and_scaled_drawings_give_the_same_seat(tmp_path: Path) -> None:
    def draw(document) -> None:
        draw_rotor(document)
        for entity in document.modelspace():
            entity.scale(0.2, -0.2, 0.2)

    read = read_dxf(saved(tmp_path / "r.dxf", draw))
    found = taken(laid_out(read, Laying(factor=5.0, upside_down=True)))
    assert np.array(seat_of(found)) == pytest.approx(np.array(SEAT), abs=EXACT_MM)


@pytest.mark.parametrize(("gap", "closed"), [(0.0, 0), (0.09, 1)])
def test_gaps_up_to_a_tenth_are_closed_and_said(gap: float, closed: int, tmp_path: Path) -> None:
    def draw(document) -> None:
        space = document.modelspace()
        space.add_line((0, 0), (160, 0))
        space.add_line((160 + gap, 0), (225, 200))
        space.add_line((225, 200), (227, 262))

    laid = read_and_lay(saved(tmp_path / "g.dxf", draw))
    assert laid.placed.joints.closed_gaps == closed
    assert ("gap" in " ".join(laid.remarks)) is bool(closed)
    assert len(taken(laid).machine.seat) == 3


def test_a_wider_gap_is_left_open(tmp_path: Path) -> None:
    def draw(document) -> None:
        document.modelspace().add_line((0, 0), (160, 0))
        document.modelspace().add_line((160.11, 0), (225, 200))

    assert read_and_lay(saved(tmp_path / "g.dxf", draw)).placed.joints.closed_gaps == 0


def test_crossing_chains_are_said_and_end_where_they_meet(tmp_path: Path) -> None:
    def draw(document) -> None:
        for end in ((100, 100), (100, -80), (200, 7)):
            document.modelspace().add_line((50, 0), end)

    laid = read_and_lay(saved(tmp_path / "c.dxf", draw))
    assert laid.placed.joints.forks == 1 and len(laid.placed.chains) == 3
    assert "branch at 1 place" in " ".join(laid.remarks)


def test_a_drawn_bowl_in_its_seat_gives_lip_height_flange_and_hub(tmp_path: Path) -> None:
    """The section and the seat from two exports, brought into one file by ezdxf."""
    import ezdxf
    from ezdxf.addons import importer

    paths = [tmp_path / "bowl.dxf", tmp_path / "seat.dxf"]
    for path, part in zip(paths, (Part.LINER, Part.SEAT), strict=True):
        write_profile(path, SHAPE, options=ProfileOptions(part), machine=MACHINE)
    both = ezdxf.readfile(paths[0])
    importing = importer.Importer(ezdxf.readfile(paths[1]), both)
    importing.import_modelspace()
    importing.finalize()
    both.saveas(tmp_path / "both.dxf")
    found = taken(read_and_lay(tmp_path / "both.dxf"))
    assert found.machine.lip_radius_mm == pytest.approx(217.6) and found.machine.height_mm == pytest.approx(330.0)
    body = found.design.body
    assert (body.flange_mm, body.floor_plate_mm, body.hub_hole_mm) == pytest.approx((14.0, 16.0, 76.0))
    assert found.bowl is not None and len(found.bowl.grooves) == 14


def test_points_pasted_with_heads_commas_and_diameters() -> None:
    for text in (
        "radius;height\n0;0\n160;0\n225;200\n227;262",
        "height\tdiameter\n0\t0\n0\t320\n200\t450\n262\t454",
        "0, 0\n160, 0\n225, 200\n227, 262\n",
        "0 0\n160,0 0\n225,0 200,0\n227 262",
    ):
        laid = laid_out(pasted_points(text), Laying())
        assert laid.read.unit_mm is None
        assert np.array(seat_of(taken(laid))) == pytest.approx(np.array(SEAT)), text


@pytest.mark.parametrize("text", ["", "a;b\n1;2\n3;4", "1;2\nx;y", "5;5", "1;2\n1;2"])
def test_points_that_are_none_are_one_sentence(text: str) -> None:
    with pytest.raises(UnreadableDrawing) as told:
        pasted_points(text)
    assert "\n" not in str(told.value)


@pytest.mark.parametrize("before", ["", "radius,height\n", "# invented\n", "\n\nradius,height\n\n"])
def test_a_line_that_is_no_point_is_named_as_an_editor_counts_it(before: str) -> None:
    wrong = before.count("\n") + 2
    with pytest.raises(UnreadableDrawing, match=f"Line {wrong} of "):
        pasted_points(f"{before}120,0\nabc,5\n217,330\n")


def test_a_seat_narrower_than_the_lip_and_a_height_below_zero_change_nothing(tmp_path: Path) -> None:
    laid = read_and_lay(saved(tmp_path / "r.dxf", draw_rotor))
    for roles, words in (
        (replace_roles(laid, lip_radius_mm=240.0), "narrower than the lip radius of 240 mm"),
        (replace_roles(laid, height_mm=-3.0), "Bowl height is −3.0 mm"),
    ):
        with pytest.raises(NoEnvelope, match=words):
            taken(laid, roles)


def replace_roles(laid: LaidOut, **members: float) -> Roles:
    from dataclasses import replace as changed

    return changed(laid.roles, **members)


def test_a_chain_that_is_no_seat_says_why(tmp_path: Path) -> None:
    laid = read_and_lay(saved(tmp_path / "c.dxf", lambda d: draw_kind(d, "LINE")))
    flat = laid_out(pasted_points("10 5\n90 5"), Laying())
    with pytest.raises(NoEnvelope, match="cannot be the seat"):
        taken(flat, Roles(seat=0))
    assert replace(MACHINE, name="x").name == "x" and laid.placed.chains
