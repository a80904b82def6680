"""How much of a wall is in which state, by height and by area, and other single numbers that sum a whole bowl up.

States are carried half-way to the neighbouring stations, as the state tape shows them. Where no state is claimed, below
the entry height and without a bed, wall and grooves count as just that.
"""

import numpy as np

from profiler.assess.evaluate.evaluation import Evaluation
from profiler.assess.flow.flow_stage import MIDDLE, Flow
from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.wall import FloatArray
from profiler.physics.slurry.overturn import State
from profiler.units import MM, RPM


def height_shares(shape: Shape, flow: Flow, state: State) -> FloatArray:
    """(1,) share of the wall's height, in per cent, that is in this state under the first duty."""
    return _share(_halves(np.diff(shape.stations.height)), flow, state)


def area_shares(shape: Shape, flow: Flow, state: State) -> FloatArray:
    """(1,) the same by the area the wall line sweeps: each interval a frustum."""
    at = shape.stations
    slant = np.hypot(np.diff(at.height), np.diff(at.radius))
    return _share(_halves(slant * (at.radius[1:] + at.radius[:-1])), flow, state)


def state_height_mm(shape: Shape, flow: Flow, state: State) -> FloatArray:
    """(1,) mm of wall height in this state."""
    return height_shares(shape, flow, state) / 100.0 * shape.height


def state_count(flow: Flow, state: State) -> FloatArray:
    """(1,) grooves in this state."""
    return np.array([float(np.sum(flow.groove_state[0] == state))])


def exposed_count(flow: Flow) -> FloatArray:
    """(1,) grooves whose lower edge no bed covers at middle friction."""
    return np.array([float(np.sum(flow.groove_buried[0] <= 0.0))])


def deep_count(shape: Shape, flow: Flow) -> FloatArray:
    """(1,) grooves under a bed deeper, square to the wall, than they are cut."""
    if not len(shape.mouths):
        return np.zeros(1)
    deep = flow.groove_buried[0] / MM * np.cos(shape.wall.angle_at(shape.mouths.lower))
    return np.array([float(np.sum(deep > shape.cut.depth))])


def total_power_w(flow: Flow) -> FloatArray:
    return np.array([float(np.sum(flow.groove_power[0]))])


def deepest_mm(shape: Shape, flow: Flow) -> FloatArray:
    """(1,) deepest bed over the wall line, measured radially."""
    return np.array([float(np.max(flow.bed.buried(shape.stations.line)[0, MIDDLE])) / MM])


def body_energy_j(e: Evaluation) -> FloatArray:
    """(1,) J in the turning body alone at the duty's speed."""
    if e.body is None:
        return np.array([np.nan])
    return np.array([0.5 * e.body.inertia_kg_m2 * (e.duty.speed_rpm * RPM) ** 2])


def _halves(interval: FloatArray) -> FloatArray:
    """(n,) what of the intervals between stations belongs to each station, as shares of the whole."""
    each = np.zeros(len(interval) + 1)
    each[1:] += 0.5 * interval
    each[:-1] += 0.5 * interval
    return np.asarray(each / np.sum(each))


def _share(weight: FloatArray, flow: Flow, state: State) -> FloatArray:
    return np.array([100.0 * float(np.sum(weight[flow.state[0] == state]))])
