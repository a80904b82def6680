"""The rotor in the section: shell and jacket gap lie where the machine says, each named once, where there is room."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from shapely import LineString, Point

from profiler.assess import evaluate
from profiler.pictures.basics.display import Dot, Label, Line, Role
from profiler.pictures.strips.rotor_lines import rotor_lines
from profiler.pictures.strips.scene import lowest_mm
from profiler.pictures.strips.section_strip import radius_scale, section_strip
from profiler.study import HolePlan, Machine, SeatPoint
from tests.pictures.scenes import STUDY, axis, of_kind, scene

WIDTH, HEIGHT = 440.0, 532.0
MACHINE = STUDY.machine
WORDS = ("jacket", "seat", "shell")


@st.composite
def machines(draw: st.DrawFn) -> Machine:
    """Seats that open, narrow and stand upright, of two to six points."""
    steps = draw(st.lists(st.tuples(st.floats(25.0, 90.0), st.floats(-20.0, 45.0)), min_size=1, max_size=5))
    points = np.cumsum(np.array([(0.0, 190.0), *steps]), axis=0)
    seat = tuple(SeatPoint(round(float(z), 1), round(float(r), 1)) for z, r in points)
    shell, gap, floor = (draw(st.floats(low, 12.0)) for low in (1.0, 0.5, 0.0))
    return replace(MACHINE, seat=seat, shell_mm=shell, jacket_gap_mm=gap, shell_floor_mm=floor)


@given(machines())
@settings(max_examples=60, deadline=None)
def test_shell_and_gap_lie_square_to_the_seat_at_their_thickness(machine: Machine) -> None:
    """Against distances by shapely (GEOS), a general geometry library, in the middle of every stretch."""
    lines = rotor_lines(machine)
    assert lines is not None and lines.shell is not None and lines.nearest is not None
    outside = lines.shell[-len(lines.seat) - 1 : -1]
    for moved, away, side in ((outside, machine.shell_mm, 1.0), (lines.nearest, machine.jacket_gap_mm, -1.0)):
        for a, b, c, d in zip(lines.seat[:-1], lines.seat[1:], moved[:-1], moved[1:], strict=True):
            stretch = LineString([a + 3.0 * (a - b), b + 3.0 * (b - a)])
            middle = Point(0.5 * (c + d))
            assert stretch.distance(middle) == pytest.approx(away, rel=1e-9)
            up, to = b - a, np.array(middle.coords[0]) - a
            assert side * (up[1] * to[0] - up[0] * to[1]) > 0.0  # outward is to the right


def test_the_shell_runs_from_the_axis_round_its_floor_to_the_rim_and_shares_its_heights_with_the_seat() -> None:
    lines = rotor_lines(MACHINE)
    assert lines is not None and lines.shell is not None
    shell, seat = lines.shell, lines.seat
    assert shell[0].tolist() == [0.0, -MACHINE.shell_floor_mm] and shell[1, 1] == -MACHINE.shell_floor_mm
    assert shell[2, 1] == seat[0, 1] == 0.0 and shell[-2, 1] == seat[-1, 1]
    assert shell[-1].tolist() == seat[-1].tolist()


def test_what_the_machine_does_not_say_is_not_drawn() -> None:
    bare = rotor_lines(replace(MACHINE, shell_mm=None, jacket_gap_mm=None))
    assert bare is not None and bare.shell is None and bare.nearest is None
    assert rotor_lines(replace(MACHINE, seat=())) is None
    folded = rotor_lines(replace(MACHINE, seat=(SeatPoint(0.0, 200.0), SeatPoint(0.0, 210.0))))
    assert folded is not None and folded.shell is None and len(folded.seat) == 2


def test_the_lines_are_made_once_for_a_machine() -> None:
    again = replace(MACHINE, name="The same under another name", drive_kw=9.0)
    assert rotor_lines(again) is rotor_lines(MACHINE)
    of = scene(replace(scene().design, holes=HolePlan()))  # the marks of holes belong to the design
    first, second = (section_strip(of, radius_scale(of, WIDTH), WIDTH, HEIGHT).items for _ in range(2))
    drawn = [[i for i in items if getattr(i, "role", None) is Role.SEAT] for items in (first, second)]
    assert len(drawn[0]) > 5 and all(a is b for a, b in zip(*drawn, strict=True))


@pytest.mark.parametrize("width", [150.0, 300.0, 440.0, 620.0, 900.0])
@pytest.mark.parametrize("high", [200.0, 344.0, 900.0])
def test_each_part_is_named_once_inside_the_picture_with_a_leader_to_it(width: float, high: float) -> None:
    of = scene(None, axis(-36.0, high))
    scale = radius_scale(of, width)
    picture = section_strip(of, scale, width, HEIGHT)
    named = [i for i in of_kind(picture, Label, Role.SEAT) if i.text in WORDS]
    dots = [i.x for i in of_kind(picture, Dot, Role.SEAT)]
    if scale.x(300.0) + 44.0 < width:
        assert named
    assert [i.text for i in named] == list(WORDS) if named else not dots
    assert all(i.x + 38.0 <= width and of.axis.top < i.y < of.axis.bottom for i in named)
    assert np.all(np.diff([i.y for i in named]) >= 12.0)
    assert all(0.0 < x < label.x for x, label in zip(dots, named, strict=True))


def test_the_words_stand_in_the_picture_at_every_usual_width() -> None:
    for width in (230.0, 300.0, 440.0, 620.0, 900.0):
        of = scene(None, axis(-36.0, 344.0))
        picture = section_strip(of, radius_scale(of, width), width, HEIGHT)
        assert [i.text for i in of_kind(picture, Label, Role.SEAT) if i.text in WORDS] == list(WORDS)


def test_a_bowl_that_fills_its_seat_shows_the_gap_by_its_own_outside() -> None:
    filling = replace(STUDY.design, body=replace(STUDY.design.body, fill_seat=True))

    def dotted(design) -> int:
        of = scene(design)
        picture = section_strip(of, radius_scale(of, WIDTH), WIDTH, HEIGHT)
        return sum(i.dashes == (1.6, 4.0) for i in of_kind(picture, Line, Role.SEAT))

    assert (dotted(STUDY.design), dotted(filling)) == (1, 0)


def test_the_lowest_part_in_sight_is_the_shells_floor() -> None:
    e = evaluate(STUDY.design, MACHINE, STUDY.duty)
    assert e.shape is not None
    assert lowest_mm(e) == -STUDY.design.body.floor_plate_mm - MACHINE.shell_floor_mm
