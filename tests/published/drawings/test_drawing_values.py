"""Area, length, volume and inertia of outlines against closed forms and a reference section.

The reference section (a ring with three round grooves in its inner wall) was worked with a solid modeller, an
independent CAD kernel and Pappus's theorem; its figures are given to the digits those agree on. Torus: Pappus
(any text on solids of revolution). Frustum and tube: closed forms of any mechanics text. Bulge facts: DXF reference,
LWPOLYLINE, group 42 (tangent of a quarter of the included angle).
"""

import numpy as np
import pytest

from profiler.geometry.chain import Chain, arcs, figures, sampled

GROOVED = (
    (100.0, 0.0, 0.0), (104.2, 28.0, 0.5), (107.8, 52.0, 0.0), (113.2, 88.0, 0.5), (116.8, 112.0, 0.0),
    (122.2, 148.0, 0.5), (125.8, 172.0, 0.0), (130.0, 200.0, 0.0), (150.0, 200.0, 0.0), (120.0, 0.0, 0.0),
)  # fmt: skip


def chain(*corners):
    table = np.array(corners, dtype=float)
    return Chain(table[:, :2], table[:, 2])


def polygon(*corners):
    return chain(*((x, y, 0.0) for x, y in corners))


def ring(major, minor):
    """A torus: two half circles."""
    return chain((major - minor, 0.0, 1.0), (major + minor, 0.0, 1.0))


def test_the_reference_section_has_the_modellers_figures():
    found = figures(chain(*GROOVED))
    # printed to six decimals, four for the volume and two for the inertia
    assert found.area == pytest.approx(3691.282432, abs=5e-7)
    assert found.length == pytest.approx(456.059707, abs=5e-7)
    assert found.volume == pytest.approx(2_913_778.0376, abs=5e-5)
    assert found.centre_height == pytest.approx(104.098982, abs=5e-7)
    assert found.polar_inertia == pytest.approx(46_926_919_969.72, abs=5e-3)


def test_pappus_holds_for_the_reference_section():
    found = figures(chain(*GROOVED))
    centroid_radius = 125.631725  # printed to six decimals: 4e-9 of the radius
    assert found.volume == pytest.approx(2.0 * np.pi * centroid_radius * found.area, rel=5e-9)


def test_reading_chords_for_arcs_would_give_four_thousand():
    straight = Chain(chain(*GROOVED).points, np.zeros(len(GROOVED)))
    assert figures(straight).area == pytest.approx(4000.0, abs=1e-9)


def test_a_groove_of_the_reference_section_is_an_arc_about_its_stated_centre():
    centre, radius, sweep, curved = arcs(chain(*GROOVED))
    assert curved.tolist() == [False, True, False, True, False, True, False, False, False, False]
    assert radius[1] == pytest.approx(15.167811, abs=5e-7)
    assert centre[1] == pytest.approx((97.0, 41.35), abs=1e-9)
    assert sweep[1] == pytest.approx(4.0 * np.arctan(0.5))


@pytest.mark.parametrize(
    ("angle_deg", "bulge", "sagitta"),
    [(90.0, 0.41421356, 1.0 - np.sqrt(0.5)), (180.0, 1.0, 1.0)],
)
def test_a_bulge_is_the_tangent_of_a_quarter_of_the_angle(angle_deg, bulge, sagitta):
    assert np.tan(np.radians(angle_deg) / 4.0) == pytest.approx(bulge, abs=5e-9)
    end = (np.cos(np.radians(angle_deg)), np.sin(np.radians(angle_deg)))
    arc = Chain(np.array([(1.0, 0.0), end]), np.array([bulge, 0.0]), closed=False)
    assert arcs(arc)[1][0] == pytest.approx(1.0, abs=1e-8)
    chord = np.hypot(end[0] - 1.0, end[1])
    assert bulge * chord / 2.0 == pytest.approx(sagitta, abs=1e-8)
    # the arc runs counter-clockwise: its middle lies on the unit circle at half the angle
    middle = sampled(arc, 1e-6)
    assert np.hypot(*middle.T) == pytest.approx(np.ones(len(middle)), abs=1e-8)


def test_a_torus_obeys_pappus():
    # printed: 78.957 for R 4, r 1, to three decimals
    assert figures(ring(4.0, 1.0)).volume == pytest.approx(78.957, abs=5e-4)
    large = figures(ring(100.0, 10.0))
    assert large.volume == pytest.approx(197_392.088, abs=5e-4)
    assert large.polar_inertia == pytest.approx(1_988_725_286.82, abs=5e-3)
    assert large.area == pytest.approx(np.pi * 100.0, rel=1e-12)
    assert large.length == pytest.approx(20.0 * np.pi, rel=1e-12)


def test_a_frustum_has_its_handbook_figures():
    found = figures(polygon((0, 0), (100, 0), (130, 200), (0, 200)))
    assert found.volume == pytest.approx(8_356_636.4585, abs=5e-5)
    assert found.polar_inertia == pytest.approx(56_819_473_051.36, abs=5e-3)
    assert found.centre_height == pytest.approx(108.646617, abs=5e-7)


def test_a_tube_has_its_handbook_figures():
    found = figures(polygon((100, 0), (120, 0), (120, 200), (100, 200)))
    assert found.volume == pytest.approx(2_764_601.5352, abs=5e-5)
    assert found.polar_inertia == pytest.approx(33_728_138_728.94, abs=5e-3)
    assert found.centre_height == pytest.approx(100.0, abs=1e-9)
    assert found.length == pytest.approx(440.0, abs=1e-9)


def test_figures_do_not_depend_on_the_sense_of_rotation():
    one, other = figures(chain(*GROOVED)), figures(chain(*GROOVED).reversed())
    assert other.area == pytest.approx(one.area, rel=1e-12)
    assert other.volume == pytest.approx(one.volume, rel=1e-12)
    assert other.polar_inertia == pytest.approx(one.polar_inertia, rel=1e-12)


def test_an_open_chain_has_no_area():
    with pytest.raises(ValueError, match="closed"):
        figures(Chain(chain(*GROOVED).points, np.zeros(len(GROOVED)), closed=False))
