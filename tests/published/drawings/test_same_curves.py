"""What the screen draws is what a file holds: cubic curves against the arcs of the written file, within 0.01 mm.

A cubic with tangents of 4/3 tan(a/4) leaves an arc of 22.5 degrees by under 1e-8 of its radius, and that only between
its ends: short arcs of large radius are met far better, for the error falls with the sixth power of the angle.
"""

import numpy as np
import pytest
from hypothesis import HealthCheck, Phase, assume, given, settings

from profiler.assess import Stages, evaluate
from profiler.geometry.beziers import curves_of
from profiler.geometry.chain import Chain, arcs, sampled
from profiler.output.drawings.parts import Part, part_chain
from profiler.output.formats.segments import ArcSegment, segments_of
from profiler.output.formats.sheet_page import curve_of
from profiler.pictures.drawing.compose import drawing
from profiler.pictures.sheet.gauge import gauge_sheets
from profiler.pictures.sheet.items import Pen
from profiler.pictures.sheet.plain import plain
from profiler.study.files import examples
from profiler.ui.widgets.sheet_painter import path_of
from tests.laws.bowl.any_design import designs
from tests.tiers import kept, two_examples

NEAR_MM = 0.01
SHARES = np.linspace(0.0, 1.0, 9)[:, None]
STUDY = examples.read("graded")


def screen(chain):
    """Points along every element of the painter's path, each beside the number of its segment."""
    path = path_of(chain)
    elements = [path.elementAt(k) for k in range(path.elementCount())]
    at = np.array([elements[0].x, elements[0].y])
    k, found = 1, []
    for number, points in enumerate(curves_of(chain)):
        for _ in range(max(1, len(points) // 3)):
            step = 1 if len(points) == 1 else 3
            to = np.array([[e.x, e.y] for e in elements[k : k + step]])
            found.append((number, line(at, to[0]) if step == 1 else cubic(at, *to)))
            at, k = to[-1], k + step
    return found


def line(a, b):
    return a + SHARES * (b - a)


def cubic(a, b, c, d):
    s, t = SHARES, 1.0 - SHARES
    return t**3 * a + 3.0 * t * t * s * b + 3.0 * t * s * s * c + s**3 * d


def off(segment, points):
    """How far points lie from a written segment's line or circle."""
    if isinstance(segment, ArcSegment):
        return np.max(np.abs(np.hypot(*(points - np.array(segment.centre)).T) - segment.radius))
    a, b = np.array(segment.start), np.array(segment.end)
    along = (b - a) / max(np.hypot(*(b - a)), 1e-12)
    return np.max(np.abs((points - a) @ np.array([-along[1], along[0]])))


def farthest(chain):
    written = segments_of(chain)
    return max(float(off(written[number], points)) for number, points in screen(chain))


@pytest.mark.parametrize("radius", [0.5, 20.0, 1e3, 1e5, 1e6])
@pytest.mark.parametrize("length", [0.2, 30.0, 300.0])
def test_an_arc_of_any_radius_is_drawn_where_the_file_has_it(radius, length):
    """The largest sag is at the middle; a toolkit's own arc of 1e5 mm radius missed it by millimetres."""
    sweep = min(length / radius, 3.0)
    chain = Chain(np.array([[100.0, 5.0], [100.0, 5.0 + 2.0 * radius * np.sin(0.5 * sweep)]]),
                  np.array([np.tan(0.25 * sweep), 0.0]), closed=False)  # fmt: skip
    assert farthest(chain) < NEAR_MM
    (_, points), *_ = screen(chain)
    middle = np.concatenate([p for _, p in screen(chain)])
    assert np.ptp(middle[:, 0]) == pytest.approx(radius * (1.0 - np.cos(0.5 * sweep)), rel=0.04, abs=1e-9)
    assert points[0] == pytest.approx(chain.points[0])
    assert middle[-1] == pytest.approx(chain.points[1], abs=1e-9)


@pytest.mark.parametrize("name", two_examples())
def test_every_path_of_an_examples_sheets_is_the_same_on_screen_on_paper_and_in_the_dxf(name):
    study = examples.read(name)
    for design in study.designs:
        e = evaluate(design, study.machine, study.duty, Stages.FINDINGS)
        for sheet in drawing(e).sheets:
            for path in plain(sheet).paths:
                assert farthest(path.chain) < NEAR_MM
                assert same_on_paper(path.chain)


def same_on_paper(chain):
    path = path_of(chain)
    shown = np.array([[path.elementAt(k).x, path.elementAt(k).y] for k in range(path.elementCount())])
    page = curve_of(chain).vertices
    return np.allclose(page[: len(shown)], shown, atol=1e-9)


def outlines_hold(design):
    e = evaluate(design, STUDY.machine, STUDY.duty, Stages(0))
    assume(e.shape is not None)
    for chain in (e.shape.outline, e.shape.outline.mirrored()):
        assert farthest(chain) < NEAR_MM
    # strips and gauge draw chords: every corner of them lies on the chain, and none strays farther than its sag
    for sag in (0.002, 0.25):
        assert chords_stray(e.shape.edge, sag) <= 1.05 * sag


def chords_stray(chain, sag):
    points = sampled(chain, sag)
    _, radius, _, curved = arcs(chain)
    if not curved.any():
        return 0.0
    _, end, _ = chain.ends()
    worst, at = 0.0, 0
    for i in range(chain.segments):
        last = at + 1
        while not np.allclose(points[last % len(points)], end[i], atol=1e-12):
            last += 1
        if curved[i]:
            chord = np.hypot(*np.diff(points[at : last + 1], axis=0).T)
            worst = max(worst, float(np.max(chord**2 / (8.0 * radius[i]))))
        at = last
    return worst


@settings(max_examples=20, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck),
          phases=[Phase.generate])  # fmt: skip
@given(designs())
def test_outlines_of_random_designs_hold_too(design):
    outlines_hold(design)


@pytest.mark.long
@settings(max_examples=200, deadline=None, suppress_health_check=list(HealthCheck), phases=[Phase.generate])
@given(designs())
def test_outlines_of_many_random_designs_hold_too(design):
    outlines_hold(design)


@pytest.mark.parametrize("name", kept(examples.names(), ["graded", "watered"]))
def test_the_gauges_outline_lies_on_the_template(name):
    study = examples.read(name)
    e = evaluate(study.design, study.machine, study.duty, Stages.FINDINGS)
    template = part_chain(Part.GAUGE, e.shape, e.machine)
    written = segments_of(template)
    for sheet in gauge_sheets(template, "gauge", ()):
        for path in plain(sheet).paths:
            if path.pen is Pen.OUTLINE:
                points = path.chain.points - np.array(sheet.view.origin)
                assert max(min(float(off(segment, p[None])) for segment in written) for p in points) < NEAR_MM
