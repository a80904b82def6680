"""The square with a moving lid: Ghia, Ghia & Shin (1982) J. Comput. Phys. 48, 387-411, and Botella & Peyret (1998)
Computers & Fluids 27, 421-433. All numbers from memory.

Ghia's grid had 129 x 129 points, so centres are told to a grid line; Botella & Peyret's numbers are spectral. Both
count y from the floor, the program from the lid. Tolerances at 24 x 24 elements: least psi within 0.3 % (0.5 % at
Re 1000, which is beyond the use here), centres within one of Ghia's grid lines, velocities within 0.5 % of the lid's.
"""

import numpy as np
import pytest

from profiler.physics.eddy.evaluation import lattice
from profiler.physics.eddy.flow import FINE, Drive, Eddy, solve
from profiler.physics.eddy.measures import measure, velocity
from profiler.physics.eddy.section import Groove

SQUARE = Groove.cut(1.0)


@pytest.fixture(scope="module", params=[100.0, 400.0, 1000.0], ids=lambda re: f"Re {re:.0f}")
def cavity(request) -> Eddy:
    found = solve(SQUARE, Drive(request.param), FINE)
    assert isinstance(found, Eddy)
    return found


PUBLISHED = {  # least psi and its tolerance, centre
    100.0: (-0.103423, 0.003, (0.6172, 0.7344)),
    400.0: (-0.113909, 0.003, (0.5547, 0.6055)),
    1000.0: (-0.1189366, 0.005, (0.5308, 0.5652)),
}


def test_the_least_stream_function_and_its_place_are_the_published_ones(cavity):
    psi, tolerance, (x, y) = PUBLISHED[cavity.drive.reynolds]
    found = measure(cavity)
    assert found.psi_min == pytest.approx(psi, rel=tolerance)
    assert found.centre == pytest.approx((x, y - 1.0), abs=0.01)


def at(eddy: Eddy, x: float, y: float) -> complex:
    """Velocity at a point of the square, y from the floor: its elements lie in straight rows and columns."""
    nodes = eddy.block.nodes
    counts = 0.5 * np.arange(len(nodes))
    across, up = np.interp(x, nodes[0].real, counts), np.interp(y - 1.0, nodes[:, 0].imag, counts)
    return complex(velocity(eddy, lattice(np.array([across]), np.array([up]), eddy.elements))[0, 0])


def test_velocities_on_the_middle_lines_are_the_published_ones():
    """Botella & Peyret, Re 100: least u on the middle column, greatest and least v on the middle row."""
    cavity = solve(SQUARE, Drive(100.0), FINE)
    assert isinstance(cavity, Eddy)
    assert at(cavity, 0.5, 0.4581).real == pytest.approx(-0.2140424, abs=0.005)
    assert at(cavity, 0.2370, 0.5).imag == pytest.approx(0.1795728, abs=0.005)
    assert at(cavity, 0.8104, 0.5).imag == pytest.approx(-0.2538030, abs=0.005)
