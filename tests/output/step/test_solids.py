"""Turned solids as our own reader finds them in the file: closed, on their surfaces, of the right volume.

The reference section and its figures: see test_drawing_values. Torus: Pappus's theorem; frustum, cone and cylinder:
closed forms of any mechanics text; the barrel: quadrature of its own circle by scipy.
"""

from collections import Counter
from dataclasses import replace as with_
from functools import cache
from math import hypot, pi, sqrt

import numpy as np
import pytest
from hypothesis import HealthCheck, Phase, assume, given, settings
from msgspec.structs import replace
from scipy.integrate import quad

from profiler.assess import Stages, evaluate
from profiler.geometry.chain import Chain, figures
from profiler.geometry.section import outline
from profiler.output.drawings.parts import Part, part_chain
from profiler.output.solids.solid_output import CROSSED
from profiler.output.step.solid import Label, file_text, solid_of
from profiler.output.step.write import CAUTION, StepOptions, step_text, write_step
from profiler.study.files import examples
from tests.laws.bowl.any_design import designs
from tests.output.step.solid_reader import Solid
from tests.published.drawings.test_drawing_values import GROOVED, chain, polygon, ring
from tests.tiers import TWO, kept

CLOSE = 1e-9  # of a volume: both sides are closed forms or nearly so; figures are written with 15 digits


def read(section):
    solid = Solid(file_text(solid_of(section), Label("any", "any")))
    solid.assert_closed()
    assert solid.apart() < 1e-9
    return solid


def arc_through(start, end, centre_r, left):
    """A section's arc about a centre at a given radius on the chord's mid height, with its bulge."""
    half = 0.5 * (end[1] - start[1])
    aside = start[0] - centre_r
    bulge = abs(half) / (hypot(aside, half) + abs(aside))
    return bulge if left else -bulge


def test_the_reference_ring_has_the_modellers_volume_and_its_own_surfaces():
    solid = read(chain(*GROOVED))
    assert solid.volume() == pytest.approx(2_913_778.0376, abs=5e-5)
    assert solid.kinds == {"TOROIDAL_SURFACE": 3, "CONICAL_SURFACE": 5, "PLANE": 2}
    assert solid.genus() == 1


def test_a_torus_is_two_half_tubes_of_pappuss_volume():
    solid = read(ring(100.0, 10.0))
    assert solid.volume() == pytest.approx(197_392.088, abs=5e-4)
    assert solid.kinds == {"TOROIDAL_SURFACE": 2} and solid.genus() == 1


def test_a_tube_is_two_cylinders_and_two_levels():
    solid = read(polygon((100, 0), (120, 0), (120, 200), (100, 200)))
    assert solid.volume() == pytest.approx(pi * (120**2 - 100**2) * 200, rel=CLOSE)
    assert solid.kinds == {"CYLINDRICAL_SURFACE": 2, "PLANE": 2}


def test_a_section_that_reaches_the_axis_has_discs_and_no_hole():
    solid = read(polygon((0, 0), (100, 0), (130, 200), (0, 200)))
    assert solid.volume() == pytest.approx(8_356_636.4585, abs=5e-5)  # frustum 130/100, 200 high
    assert solid.kinds == {"CONICAL_SURFACE": 1, "PLANE": 2} and solid.genus() == 0
    assert Counter(len(face.loops) for face in solid.faces) == {1: 3}


@pytest.mark.parametrize("tip", [0.0, 300.0])
def test_a_cone_ends_in_its_tip(tip):
    foot = 150.0
    solid = read(polygon((0, foot), (80, foot), (0, tip)) if tip > foot else polygon((0, tip), (80, foot), (0, foot)))
    assert solid.volume() == pytest.approx(pi * 80**2 * 150 / 3.0, rel=CLOSE)
    assert solid.kinds == {"CONICAL_SURFACE": 1, "PLANE": 1} and solid.genus() == 0


BARRELS = [(100.0, "TOROIDAL_SURFACE"), (40.0, "SURFACE_OF_REVOLUTION"), (0.0, "SURFACE_OF_REVOLUTION"),
           (-60.0, "SURFACE_OF_REVOLUTION"), (-5e6, "SURFACE_OF_REVOLUTION")]  # fmt: skip


@pytest.mark.parametrize(("centre", "kind"), BARRELS)
@pytest.mark.parametrize("outside", [True, False])
def test_an_arc_about_any_centre_turns_into_its_true_surface(centre, kind, outside):
    """A wall of 150 at its ends and more between them, as the outside of a barrel or as the inside of a tube."""
    bulge = arc_through((150.0, 0.0), (150.0, 80.0), centre, left=outside)
    if outside:
        section = chain((20, 0, 0), (150, 0, bulge), (150, 80, 0), (20, 80, 0))
    else:
        section = chain((300, 0, 0), (300, 80, 0), (150, 80, bulge), (150, 0, 0))
    radius = hypot(150.0 - centre, 40.0)

    def area(z):
        between = 150.0 + (40.0**2 - (z - 40.0) ** 2) / (sqrt(radius**2 - (z - 40.0) ** 2) + 150.0 - centre)
        return pi * abs(between**2 - (20.0 if outside else 300.0) ** 2)

    solid = read(section)
    assert solid.kinds[kind] == 1
    assert solid.volume() == pytest.approx(quad(area, 0.0, 80.0, epsabs=0.0, epsrel=1e-12)[0], rel=CLOSE)


def test_a_long_arc_is_parted_so_that_none_of_its_poles_runs_away():
    """Most of a circle that would cross the axis; one quadratic over more than half a turn has no poles."""
    section = chain((10.0, -40.0, np.tan(0.25 * 1.4 * pi)), (10.0, 40.0, 0.0))
    solid = read(section)
    assert solid.kinds["SURFACE_OF_REVOLUTION"] == 1
    assert solid.volume() == pytest.approx(figures(section).volume, rel=CLOSE)


def test_which_way_round_a_section_is_given_is_all_one():
    section = chain(*GROOVED)
    assert read(section.reversed()).volume() == pytest.approx(read(section).volume(), rel=1e-14)


def test_what_no_tool_sees_is_left_out_or_straight():
    section = chain((100, 0, 0), (120, 0, 0), (120, 5e-7, 0), (120 + 4e-7, 50, 1e-9), (100, 50 + 4e-7, 0))
    solid = read_loosely(section)
    assert solid.kinds == {"CYLINDRICAL_SURFACE": 2, "PLANE": 2}
    assert solid.volume() == pytest.approx(pi * (120**2 - 100**2) * 50, rel=1e-6)


def read_loosely(section):
    """Within the uncertainty the file states."""
    solid = Solid(file_text(solid_of(section), Label("any", "any")))
    solid.assert_closed()
    assert solid.apart() < 1e-6
    return solid


REFUSED = {
    "crosses the spin axis": polygon((-5, 0), (50, 0), (50, 20), (-5, 20)),
    "touches the spin axis in a point": polygon((0, 10), (50, 0), (50, 20)),
    "an arc of the section touches": chain((30, -40, 0), (60, -40, 0), (60, 40, 0), (30, 40, 0.75)),
    "a dome: an arc of the section touches": chain((0, 0, 0), (50, 0, np.tan(pi / 8)), (0, 50, 0)),
    "has no area": polygon((10, 0), (20, 0), (30, 0)),
    "crosses itself": polygon((10, 0), (30, 0), (12, 20), (40, 20)),
    "is not a closed line": Chain(np.array([[10.0, 0.0], [20.0, 0.0], [20.0, 9.0]]), np.zeros(3), closed=False),
    "no number: is not a closed line": polygon((10, 0), (np.nan, 0), (20, 9)),
}


@pytest.mark.parametrize("why", REFUSED)
def test_a_section_that_gives_no_solid_is_refused_in_a_sentence(why):
    with pytest.raises(ValueError, match=why.split(": ")[-1]) as refusal:
        solid_of(REFUSED[why])
    assert str(refusal.value).startswith("no solid can be made: ") and str(refusal.value).endswith(".")


@cache
def evaluation(name):
    study = examples.read(name)
    return evaluate(study.design, study.machine, study.duty)


@cache
def solid_read(name, part=Part.LINER):
    return Solid(step_text(evaluation(name), StepOptions(part, holes=False))[0])


PARTS = [(name, Part.LINER) for name in examples.names()] + [("graded", Part.FORMER), ("graded", Part.SEAT)]


@pytest.mark.parametrize(("name", "part"), kept(PARTS, [p for p in PARTS if p[0] in TWO]))
def test_every_example_is_a_closed_solid_of_its_chains_volume(name, part):
    e, solid = evaluation(name), solid_read(name, part)
    solid.assert_closed()
    section = part_chain(part, e.shape, e.machine)
    assert len(solid.faces) == section.segments - (part is Part.SEAT)
    assert solid.apart() < 1e-6
    assert solid.genus() == (0 if part is Part.SEAT else 1)
    assert solid.volume() == pytest.approx(figures(section).volume, rel=CLOSE)


def test_faces_bear_the_names_of_what_they_are():
    e = evaluation("graded")
    names = Counter(face.name for face in solid_read("graded").faces)
    grooves = len(e.shape.mouths)
    for part in ("lower edge", "lower flank", "lower floor radius", "floor", "upper floor radius", "upper flank"):
        assert all(names[f"groove {k} {part}"] == 1 for k in range(1, grooves + 1))
    assert all(names[one] == 1 for one in ("hub hole", "floor", "underside", "lip", "flange rim", "flange underside"))
    assert names["wall"] >= grooves + 1 and names["outside"] >= 1 and not names[""]


def test_the_header_says_what_it_is_and_whether_it_was_checked():
    calm, faulty = (solid_read(name).file.header for name in ("graded", "faulty"))
    assert not any("NOT CHECKED" in line for line in calm["FILE_DESCRIPTION"][0])
    assert any(line.startswith("NOT CHECKED: ") and "stop finding" in line for line in faulty["FILE_DESCRIPTION"][0])
    assert all(CAUTION in header["FILE_DESCRIPTION"][0] for header in (calm, faulty))


def test_the_former_carries_its_shrinkage_and_the_bowl_takes_none():
    e = evaluation("graded")
    plain, grown = solid_read("graded", Part.FORMER), Solid(step_text(e, StepOptions(Part.FORMER, True, 1.5))[0])
    assert grown.volume() == pytest.approx(plain.volume() * 1.015**3, rel=1e-9)
    assert {f.name for f in grown.faces} == {f.name for f in plain.faces}
    assert "Shrinkage +1.5 % added." in grown.file.header["FILE_DESCRIPTION"][0]
    with pytest.raises(ValueError, match="belongs to the groove former"):
        step_text(e, StepOptions(shrinkage_pct=1.5))


def test_what_has_no_solid_is_refused_in_a_sentence():
    e = evaluation("graded")
    with pytest.raises(ValueError, match="no section"):
        step_text(with_(e, shape=None), StepOptions())
    with pytest.raises(ValueError, match="gauge has no solid"):
        step_text(e, StepOptions(Part.GAUGE))
    with pytest.raises(ValueError, match="no seat profile"):
        step_text(with_(e, machine=replace(e.machine, seat=())), StepOptions(Part.SEAT))


def test_a_bowl_without_a_hub_hole_has_a_floor_of_discs():
    """The program asks for a hub hole; the solid does not depend on it. Water holes, left out here, are tunnels too."""
    e = evaluation("graded")
    shell = with_(e.shape.shell, hub_radius=0.0)
    e = with_(e, shape=with_(e.shape, shell=shell, outline=outline(e.shape.edge, shell), holes=None))
    for part in (Part.LINER, Part.FORMER):
        solid = Solid(step_text(e, StepOptions(part))[0])
        solid.assert_closed()
        assert solid.genus() == 0
        section = part_chain(part, e.shape, e.machine)
        assert solid.volume() == pytest.approx(figures(section).volume, rel=1e-9)


@pytest.mark.long
def test_the_file_is_whole_plain_and_the_same_every_time(tmp_path):
    e = evaluation("graded")
    e = with_(e, design=replace(e.design, name="Schüssel 'drei', 碗"))
    first, second = tmp_path / "a.step", tmp_path / "b" / "a.step"
    second.parent.mkdir()
    for path in (first, second):
        write_step(path, e)
    assert first.read_bytes() == second.read_bytes()
    assert Solid(first.read_text("ascii")).file.all("PRODUCT")[0].values[0] == "Schüssel 'drei', 碗, bowl"


@settings(max_examples=8, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck),
          phases=[Phase.generate])  # fmt: skip
@given(designs())
def test_random_bodies_are_closed_solids_of_their_volume(design):
    study = examples.read("graded")
    e = evaluate(design, study.machine, study.duty, want=Stages.FINDINGS | Stages.CLASH)
    assume(e.shape is not None and not any(f.kind in CROSSED for f in e.findings))
    solid = Solid(step_text(e, StepOptions())[0])
    solid.assert_closed()
    assert solid.apart() < 1e-6 and solid.genus() == 1
    assert solid.volume() == pytest.approx(figures(e.shape.outline).volume, rel=1e-8)
