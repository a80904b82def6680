"""Whether a grain reaches the wall, and whether a groove keeps it. Screening groups, none of them a recovery.

No criterion is published for such grooves; these are put together from work on cavities and river embayments. Inputs
are SI; the settling velocities handed in are those at the film's own acceleration.
"""

import numpy as np

from profiler.physics.rotor.rotation import FloatArray, Values

# Not yet checked against their sources; what that means for the figures is bounded by UNCHECKED in assess.
EXCHANGE = (0.01, 0.02, 0.04)  # exchange velocity across a mouth over the stream's: Weitbrecht (2004)
CAPTIVE_WIDTH = 4.0  # width over depth below which one captive eddy fills a groove (d-type): Cui et al. (2003)
ROUSE_TRAP = 2.5  # Rouse number above which grains move as bed load; common practice, no source
STOKES_TRAP = 0.1  # Stokes number from which dense grains are flung out of an eddy
_KARMAN = 0.4
_GROOVE_SHEAR = 0.1  # friction velocity in a groove over the stream's velocity


def overflow_velocity(flow: Values, wetted_area: Values) -> FloatArray:
    """Settling velocity [m/s] that just reaches the wall over a wetted area [m2]: Hazen's Q/A, plug flow."""
    return np.asarray(np.asarray(flow) / wetted_area)


def arrival_plug(velocity: Values, flow: Values, wetted_area: Values) -> FloatArray:
    """Share [-] of grains that reach the wall, no mixing across the film: min(1, v A/Q); Hazen A. (1904)."""
    return np.asarray(np.minimum(velocity * wetted_area / flow, 1.0))


def arrival_mixed(velocity: Values, flow: Values, wetted_area: Values) -> FloatArray:
    """The same with the film fully mixed across: 1 - exp(-v A/Q).

    >>> f"{arrival_mixed(2e-3, 1e-3, 0.5):.4f}"  # v A/Q of 1
    '0.6321'
    """
    return np.asarray(-np.expm1(-velocity * wetted_area / flow))


def exchange_velocity(stream: Values, share: Values) -> FloatArray:
    """Velocity [m/s] with which a groove's content is swapped with the stream that passes its mouth."""
    return np.asarray(share * stream)


def rouse_number(velocity: Values, stream: Values) -> FloatArray:
    """v/(0.4 u*) [-] inside a groove, with u* a tenth of the stream's velocity."""
    return np.asarray(velocity / (_KARMAN * _GROOVE_SHEAR * stream))


def stokes_number(velocity: Values, acceleration: Values, stream: Values, width: Values) -> FloatArray:
    """A grain's stopping time v/a over the eddy's turning time, width/stream [-]."""
    return np.asarray(velocity / acceleration * stream / width)


def shields_at_floor(
    stream: Values,
    liquid_density: Values,
    solids_density: Values,
    acceleration: Values,
    grain_size: Values,
) -> FloatArray:
    """Shields stress [-] at a groove's floor, shear rho u*^2 with u* a tenth of the stream's velocity."""
    shear = liquid_density * (_GROOVE_SHEAR * np.asarray(stream)) ** 2
    return np.asarray(shear / ((solids_density - liquid_density) * acceleration * grain_size))
