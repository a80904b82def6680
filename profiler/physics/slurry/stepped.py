"""A stream over steps: whether it falls from step to step as a jet or skims over them. SI; any consistent field.

Chanson H., The Hydraulics of Stepped Chutes and Spillways (Balkema, 2002): with d_c the critical depth of the stream, h
the height and l the length of a step, a nappe flow (a jet) exists for d_c/h < 0.89 - 0.4 h/l, skimming flow for d_c/h >
1.2 - 0.325 h/l, a transition between. Measured in water on chutes of 3.4 to 60 degrees under gravity: in a spinning
bowl, with slurry, it is a view and no prediction. Not yet checked against the source: limits a tenth higher or lower
move the wall angle where a jet ends by at most a degree (UNCHECKED in assess).
"""

import numpy as np

from profiler.physics.slurry.surface import FloatArray


def critical_depth(unit_flow: FloatArray, acceleration: FloatArray) -> FloatArray:
    """d_c = (q^2/a)^(1/3) [m] for a flow q [m2/s] per width in a field a [m/s2].

    >>> f"{critical_depth(np.array(1.0), np.array(9.80665)):.4f}"
    '0.4672'
    """
    return np.asarray(np.cbrt(unit_flow * unit_flow / acceleration))


def jet_limit(steepness: FloatArray) -> FloatArray:
    """d_c/h below which the stream falls as a jet; steepness = h/l."""
    return np.asarray(0.89 - 0.4 * steepness)


def skimming_limit(steepness: FloatArray) -> FloatArray:
    """d_c/h above which the stream skims; steepness = h/l."""
    return np.asarray(1.2 - 0.325 * steepness)
