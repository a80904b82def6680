"""Arc fitting against the quarter ellipse a 60, b 30.

The counts of arcs for each tolerance, and the errors of evenly divided biarcs, come from an independent experiment with
equal-tangent biarcs (greedy longest span); no published table. That halving a biarc cuts its error by about eight is
the known order of the method. Biarc joints: closed forms.
"""

import numpy as np
import pytest
from scipy.interpolate import PchipInterpolator

from profiler.geometry.biarcs import Joint, biarc_joint, fit
from profiler.geometry.easing import Eased, fitted, monotone_rates
from profiler.geometry.wall import build_wall


def ellipse(t):
    return 60.0 * np.cos(t), 30.0 * np.sin(t), np.arctan2(30.0 * np.cos(t), -60.0 * np.sin(t))


@pytest.mark.parametrize(("tolerance", "arcs"), [(0.1, 6), (0.05, 6), (0.02, 8), (0.01, 10), (0.005, 12), (0.001, 20)])
def test_the_quarter_ellipse_takes_as_many_arcs_as_the_experiment(tolerance, arcs):
    assert len(fit(ellipse, 0.0, 0.5 * np.pi, tolerance)) - 1 == arcs


@pytest.mark.parametrize(
    ("end", "joint"), [(Joint(10.0, 10.0, 0.5 * np.pi), (7.0711, 2.9289)), (Joint(10.0, 4.0, 0.0), (5.0, 2.0))]
)
def test_the_two_arcs_meet_where_the_closed_form_says(end, joint):
    found = biarc_joint(Joint(0.0, 0.0, 0.0), end)
    assert (found.x, found.y) == pytest.approx(joint, abs=5e-5)


def test_the_rates_are_those_of_the_reference_library():
    heights, angles = np.array([0.0, 40.0, 130.0, 200.0, 330.0]), np.array([0.5, 0.3, 0.28, 0.05, 0.06])
    assert monotone_rates(heights, angles) == pytest.approx(PchipInterpolator(heights, angles).derivative()(heights))


def test_a_fitted_span_keeps_the_tolerance_everywhere():
    """Sampled four hundred times as densely as it was checked; the wall is rebuilt from the arcs alone."""
    span = Eased(20.0, 140.0, 0.45, 0.1, -0.001, -0.006)
    heights, angles = fitted(span, 0.01)
    wall = build_wall(heights, angles[:-1], angles[1:], 100.0, hold_lip=False)
    z = np.linspace(20.0, 140.0, 6800)
    away = np.abs(wall.radius_at(z) - 100.0 - span.radius(z)) * np.cos(span.angle(z))
    assert 1e-4 < np.max(away) < 0.0101
    assert np.min(np.diff(heights)) > 0.05
