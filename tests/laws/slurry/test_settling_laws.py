"""Laws of settling: force balance, limits, monotony, and that only the submerged weight counts."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from profiler.physics.grains import settling
from tests.oracles.settling import drag_coefficient

LOG_ARCHIMEDES = st.floats(-6.0, 10.2)  # decades: from 1 um at 1 g to the upper end of the drag law


@given(LOG_ARCHIMEDES)
def test_drag_carries_the_submerged_weight(decades: float) -> None:
    archimedes = 10.0**decades
    reynolds = settling.terminal_reynolds(archimedes)
    assert abs(0.75 * drag_coefficient(reynolds) * reynolds**2 / archimedes - 1.0) < 1e-12


@given(LOG_ARCHIMEDES)
def test_one_newton_step_has_the_right_slope(decades: float) -> None:
    log_reynolds = np.log(settling.terminal_reynolds(10.0**decades))
    step = 1e-5

    def log_archimedes(shift: float) -> float:
        reynolds = np.exp(log_reynolds + shift)
        return float(np.log(0.75 * drag_coefficient(reynolds) * reynolds**2))

    _, slope = settling.improve_log_reynolds(log_reynolds, np.log(np.float64(10.0**decades)))
    difference = (log_archimedes(step) - log_archimedes(-step)) / (2.0 * step)
    assert abs(slope - difference) < 1e-8  # central difference: step^2 and rounding over step
    assert 1.0 <= slope <= 2.1


def test_slowest_grains_follow_stokes() -> None:
    # by hand: Re = Ar/18 as Re falls to nothing; the drag law's first correction is 0.18 Re^0.65
    archimedes = np.array([1e-6, 1e-4])
    reynolds = settling.terminal_reynolds(archimedes)
    correction = 1.0 - reynolds / (archimedes / 18.0)
    assert np.all(correction > 0.0)
    assert np.all(correction < 0.2 * reynolds**0.64)


@given(
    st.floats(5e-6, 3e-3), st.floats(1500.0, 19300.0), st.floats(800.0, 1300.0), st.floats(3e-4, 2e-2),
    st.floats(1.0, 3000.0), st.floats(1.01, 3.0),
)  # fmt: skip
def test_more_weight_never_settles_slower(
    size: float, solids: float, liquid: float, viscosity: float, acceleration: float, factor: float
) -> None:
    velocity = settling.terminal_velocity(size, solids, liquid, viscosity, acceleration)
    assert velocity > 0.0
    assert settling.terminal_velocity(size * factor, solids, liquid, viscosity, acceleration) > velocity
    assert settling.terminal_velocity(size, solids * factor, liquid, viscosity, acceleration) > velocity
    assert settling.terminal_velocity(size, solids, liquid, viscosity, acceleration * factor) > velocity
    if velocity * size * liquid / viscosity < 2000.0:  # beyond some 4000 the drag of a sphere rises with Re
        assert settling.terminal_velocity(size, solids, liquid, viscosity * factor, acceleration) < velocity


@given(st.floats(1.0, 200.0), st.floats(10e-6, 1e-3))
def test_field_and_excess_density_are_one(multiple: float, size: float) -> None:
    # only (rho_s - rho_l) a enters: a denser grain in a weaker field settles alike
    strong = settling.terminal_velocity(size, 2700.0, 1000.0, 1e-3, 10.0 * multiple)
    dense = settling.terminal_velocity(size, 1000.0 + 1700.0 * multiple, 1000.0, 1e-3, 10.0)
    assert abs(strong / dense - 1.0) < 1e-12


def test_grain_that_floats_has_no_settling_velocity() -> None:
    velocity = settling.terminal_velocity(1e-4, np.array([900.0, 1000.0, 2700.0]), 1000.0, 1e-3, 10.0)
    assert np.isnan(velocity[0])
    assert not velocity[1] > 0.0
    assert velocity[2] > 0.0


def test_arguments_broadcast() -> None:
    sizes, fields = np.array([[5e-5], [1e-4]]), np.array([10.0, 100.0, 1000.0])
    velocity = settling.terminal_velocity(sizes, 2700.0, 1000.0, 1e-3, fields)
    assert velocity.shape == (2, 3)
    assert velocity[1, 2] == settling.terminal_velocity(1e-4, 2700.0, 1000.0, 1e-3, 1000.0)
