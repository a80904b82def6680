"""Flow over steps, after Chanson, The Hydraulics of Stepped Chutes and Spillways (2002), from memory.

No worked example is at hand; what is checked is the definition of critical depth and the order of the two limits over
the slopes they were measured on.
"""

import numpy as np
import pytest

from profiler.physics.slurry.stepped import critical_depth, jet_limit, skimming_limit


@pytest.mark.parametrize(("flow", "field"), [(1.0, 9.80665), (0.002, 600.0), (3.5e-3, 950.0)])
def test_at_critical_depth_the_froude_number_is_one(flow, field):
    """Any hydraulics text: V^2 = a d at critical flow in a wide channel."""
    depth = float(critical_depth(np.array(flow), np.array(field)))
    assert (flow / depth) ** 2 / (field * depth) == pytest.approx(1.0, rel=1e-12)


def test_limits_leave_a_transition_between_them_over_the_measured_slopes():
    """Chutes of 3.4 to 60 degrees."""
    steepness = np.tan(np.radians(np.linspace(3.4, 60.0, 50)))
    assert (jet_limit(steepness) < skimming_limit(steepness)).all()
    assert (np.diff(jet_limit(steepness)) < 0.0).all() and (np.diff(skimming_limit(steepness)) < 0.0).all()


def test_a_level_step_has_the_published_limits():
    assert jet_limit(np.array(0.0)) == 0.89 and skimming_limit(np.array(0.0)) == 1.2
    assert jet_limit(np.array(1.0)) == pytest.approx(0.49) and skimming_limit(np.array(1.0)) == pytest.approx(0.875)
