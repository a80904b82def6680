"""The crosshair's line passes no word, and the clearances' numbers lie on no line of the rotor."""

import numpy as np
import pytest

from profiler.assess import evaluate
from profiler.pictures.basics.axis import HeightAxis
from profiler.pictures.basics.display import Align, Label, Line, Role
from profiler.pictures.strips.crosshair import across, crosshair
from profiler.pictures.strips.scene import Scene
from profiler.pictures.strips.section_strip import radius_scale, section_strip
from profiler.study.files import examples

STUDY = examples.read(examples.DEFAULT)
E = evaluate(STUDY.design, STUDY.machine, STUDY.duty)
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
    scene = Scene(E, STUDY.design, HeightAxis(-40.0, 345.0, 12.0, height - 24.0), cursor_mm=cursor_mm)
    items = section_strip(scene, radius_scale(scene, width), width, height).items
    labels = [i for i in items if isinstance(i, Label)]
    clearances = [i for i in labels if i.text.startswith(("jacket ", "wall "))]
    assert len(clearances) == 2
    for label in clearances:
        left, right = across(label)
        assert left >= 0.0 and right <= width, label
        for line in (i for i in items if isinstance(i, Line) and i.role is Role.SEAT):
            beside = (line.points[:, 0] < left) | (line.points[:, 0] > right) | (abs(line.points[:, 1] - label.y) > 6.0)
            assert np.all(beside), label.text
    y = scene.axis.y(cursor_mm)
    under = [across(i) for i in labels if abs(i.y - y) < 4.0 and not i.text.startswith("held at")]
    strokes = next(i for i in items if getattr(i, "role", None) is Role.CURSOR and hasattr(i, "ends"))
    for start, end in strokes.ends:
        assert all(end[0] <= left or start[0] >= right for left, right in under)
