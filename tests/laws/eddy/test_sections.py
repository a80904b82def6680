"""The section a flow is asked in: areas by closed forms, the bed, and what is refused in one sentence."""

from dataclasses import fields, replace
from math import nan, pi, radians, sqrt, tan

import numpy as np
import pytest

from profiler.physics.eddy import newton
from profiler.physics.eddy.block import block_of
from profiler.physics.eddy.elements import matrices
from profiler.physics.eddy.flow import Cause, Drive, Eddy, NoEddy, solve
from profiler.physics.eddy.measures import MOVING, measure
from profiler.physics.eddy.section import Groove, left_out, sides_of

USUAL = Drive(100.0, rotation=0.7, wall_angle=0.3, lid_lag=0.6)


def area(groove: Groove, elements: int = 24) -> float:
    """Of the elements; curved ones come to the section's with the fourth power of their size."""
    return float(np.sum(matrices(block_of(sides_of(groove), elements, elements)).mass))


def corner_loss(radius: float, turn: float) -> float:
    """What a rounding takes from, or adds to, a corner."""
    return radius**2 * (tan(turn / 2.0) - turn / 2.0)


def test_a_sharp_section_has_the_area_of_its_polygon():
    assert area(Groove.cut(0.8, flank=0.1)) == pytest.approx(0.8 * (1.0 - 0.8 * tan(0.1)), rel=1e-12)
    assert area(Groove.cut(1.1, drop=0.3)) == pytest.approx(1.1 - 0.15, rel=1e-12)


def test_floor_radii_take_their_corners():
    expected = 1.0 - 2.0 * corner_loss(0.2, pi / 2.0)
    assert area(Groove.cut(1.0, floor_radius=0.2)) == pytest.approx(expected, rel=1e-6)


def test_the_lid_ends_where_square_edges_have_turned_by_45_degrees():
    radius = 0.1
    sides = sides_of(Groove.cut(1.0, edge_radius=radius))
    fall = radius * (1.0 - sqrt(0.5))
    assert sides.lid.start == pytest.approx(complex(-fall, -fall))
    assert sides.lid.end == pytest.approx(complex(1.0 + fall, -fall))
    beside = radius**2 * (sqrt(0.5) - 0.25 - pi / 8.0)  # between the arc, the flank's line and the lid
    assert area(Groove.cut(1.0, edge_radius=radius)) == pytest.approx(1.0 - fall + 2.0 * beside, rel=1e-6)


def test_an_even_groove_filled_by_half_holds_half():
    assert area(Groove.cut(0.9, fill=0.5)) == pytest.approx(0.45, rel=1e-12)


def test_a_bed_cuts_both_flanks_at_the_same_share():
    sides = sides_of(Groove.cut(1.0, drop=0.2, flank=0.1, fill=0.25))
    lower, upper = sides.floor[0].start, sides.floor[-1].end
    assert lower.imag == pytest.approx(-0.75)
    assert upper.imag == pytest.approx(-0.2 - 0.75 * 0.8)


@pytest.mark.parametrize("lean", [-0.3, 0.2, 0.5])
def test_a_leaning_bed_turns_about_its_middle(lean):
    level, leaning = (area(Groove.cut(1.0, fill=0.5, bed_lean=angle)) for angle in (0.0, lean))
    assert leaning == pytest.approx(level, rel=1e-12)
    sides = sides_of(Groove.cut(1.0, fill=0.5, bed_lean=lean))
    rise = sides.floor[-1].end - sides.floor[0].start
    assert rise.imag == pytest.approx(tan(lean) * rise.real)


def test_a_bed_that_leans_far_leaves_part_of_the_floor_bare():
    groove = Groove.cut(1.0, flank=0.1, floor_radius=0.15, fill=0.2, bed_lean=0.75)
    floor = sides_of(groove).floor
    assert len(floor) == 3  # half a rounding, floor, bed
    assert floor[1].end.imag == pytest.approx(-1.0)
    assert isinstance(solve(groove, USUAL), Eddy)


@pytest.mark.parametrize("fill", [0.0, 1e-6, 1e-3, 0.02, 0.1, 0.17, 0.3])
def test_a_little_bed_changes_the_section_a_little(fill):
    """Wherever it cuts the floor's roundings."""
    groove = Groove.cut(0.92, flank=0.1, floor_radius=0.15, edge_radius=0.045)
    here, more = (area(replace(groove, fill=f)) for f in (fill, fill + 0.01))
    assert 0.0 < here - more < 0.01


REFUSED = {
    "no depth": Groove.cut(0.0),
    "upside down": Groove.cut(-0.4),
    "no mouth": Groove(((0.0, 0.0), (0.1, -1.0), (0.9, -1.0), (0.0, 0.0))),
    "a step": Groove.cut(0.04),
    "a shaft": Groove.cut(13.0),
    "full": Groove.cut(1.0, fill=1.0),
    "nearly full": Groove.cut(1.0, fill=0.97),
    "more than full": Groove.cut(1.0, fill=1.2),
    "less than empty": Groove.cut(1.0, fill=-0.1),
    "flanks cross": Groove.cut(1.0, flank=radians(35.0)),
    "flanks meet": Groove.cut(1.0, flank=np.arctan(0.5)),
    "edges too round": Groove.cut(1.0, edge_radius=0.16),
    "radii do not fit": Groove.cut(0.5, floor_radius=0.45, edge_radius=0.1),
    "floor radii meet": Groove.cut(1.0, floor_radius=0.55),
    "negative radius": Groove.cut(1.0, floor_radius=-0.1),
    "bed over the mouth": Groove.cut(1.0, fill=0.7, bed_lean=0.8),
    "bed upright": Groove.cut(1.0, fill=0.5, bed_lean=1.5),
    "not a number": Groove.cut(nan),
}


@pytest.mark.parametrize("groove", REFUSED.values(), ids=REFUSED)
def test_what_is_no_groove_is_refused_in_a_sentence(groove):
    found = solve(groove, USUAL)
    assert isinstance(found, NoEddy) and found.cause is Cause.REFUSED
    assert found.reason.endswith(".") and found.reason.count(". ") == 0


ANSWERED = {
    "mouth wider than three depths": Groove.cut(0.3),
    "as wide as is answered": Groove.cut(0.06),
    "slot of ten": Groove.cut(10.0, floor_radius=0.3),
    "upper edge fallen": Groove.cut(1.2, drop=0.6),
    "upper edge raised": Groove.cut(1.0, drop=-0.2),
    "undercut": Groove.cut(0.9, flank=-0.15, edge_radius=0.05, floor_radius=0.1),
    "round all over": Groove.cut(1.0, floor_radius=0.5),
    "nearly a wedge": Groove.cut(1.0, flank=radians(23.0)),
    "square to the axis": Groove(((0.0, 0.0), (0.3, -0.75), (1.15, -0.27), (1.0, 0.0))),
    "bed level with the roundings' ends": Groove.cut(1.0, floor_radius=0.2, fill=0.2),
    "a wedge with a bed": Groove.cut(1.0, flank=np.arctan(0.5), fill=0.3),
    "edges as round as they may be": Groove.cut(1.0, edge_radius=0.15),
}


@pytest.mark.parametrize("groove", ANSWERED.values(), ids=ANSWERED)
def test_odd_grooves_are_answered(groove):
    found = solve(groove, USUAL)
    assert isinstance(found, Eddy)
    said = measure(found)
    assert said.psi_min < -0.001 and 0.0 < said.reach < said.depth


@pytest.mark.parametrize(
    "change",
    [
        {"reynolds": 0.0},
        {"reynolds": -5.0},
        {"reynolds": 1e5},
        {"reynolds": nan},
        {"rotation": -0.1},
        {"lid_lag": -0.2},
        {"wall_angle": 1.6},
        {"through_flow": 0.7},
    ],
    ids=str,
)
def test_a_drive_that_means_nothing_is_refused_in_a_sentence(change):
    found = solve(Groove.cut(1.0), replace(USUAL, **change))
    assert isinstance(found, NoEddy) and found.cause is Cause.REFUSED
    assert found.reason.endswith(".") and found.reason.count(". ") == 0


def test_from_a_flow_that_does_not_settle_no_number_comes(monkeypatch):
    monkeypatch.setattr(newton, "_MOST_STEPS", 1)
    found = solve(Groove.cut(1.0), Drive(400.0))
    assert isinstance(found, NoEddy) and found.cause is Cause.UNSETTLED
    assert [field.name for field in fields(found)] == ["cause", "reason"]
    assert "does not settle" in found.reason and "nothing is shown" in found.reason


def test_water_that_blows_the_eddy_out_leaves_no_centre():
    found = solve(Groove.cut(1.0), Drive(100.0, rotation=1.5, lid_lag=1.0, through_flow=0.4))
    assert isinstance(found, Eddy)
    said = measure(found)
    assert said.centre is None and said.circulation is None and said.turnover is None and said.stacked == ()
    assert said.percolation == pytest.approx(0.4) and said.percolation > MOVING


def test_what_is_left_out_is_said():
    assert left_out(Groove.cut(1.0)) == ()
    assert "left out" in left_out(Groove.cut(1.0, edge_radius=0.1))[0]
    assert "wider than three depths" in left_out(Groove.cut(0.3))[0]
    assert "wider than three depths" in left_out(Groove.cut(0.6, fill=0.6))[0]
