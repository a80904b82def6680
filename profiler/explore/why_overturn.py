"""Why a groove overturns: overfall ratio and power against the wall's angle, for the present duty and groove.

The curve is what a straight, exposed wall of each angle would do at this groove's radius with the stream that passes
there: repose does not ask which way the wall leans. The grooves as they are lie on it where they are exposed, and below
it where a bed held higher up covers them. The same physics as the flow stage, with the numbers of its evaluation.
"""

from dataclasses import dataclass

import numpy as np

from profiler.assess import Evaluation
from profiler.assess.flow.flow_stage import HIGH, LOW, MIDDLE, Flow
from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.wall import FloatArray
from profiler.physics.rotor import rotation
from profiler.physics.slurry import overturn, stepped
from profiler.units import DEGREE, MM

STEEPEST_DEG = 45.0
COUNT = 181  # every quarter degree


@dataclass(frozen=True, slots=True)
class Stream:
    """What passes one groove, SI; angles rad."""

    repose: tuple[float, float, float]  # low, middle, high
    slope: float  # of the film against the level surface
    mass_flow: float
    unit_flow: float  # m2/s along the wall, per rim length
    acceleration: float  # of the bowl at mid-mouth


@dataclass(frozen=True, slots=True)
class Why:
    """n wall angles; g grooves as they are."""

    groove: int  # from 1
    stream: Stream
    angle_deg: FloatArray  # (n,)
    ratio: FloatArray  # (n,)
    power_w: FloatArray  # (n,)
    depth_ratio: FloatArray  # (n,) critical depth over step height; nan where nothing falls
    jet: FloatArray  # (n,) below: a jet
    skimming: FloatArray  # (n,) above: skimming
    grooves_deg: FloatArray  # (g,) wall angle at mid-mouth
    grooves_ratio: FloatArray
    grooves_power_w: FloatArray
    grooves_state: FloatArray
    grooves_overfall_mm: FloatArray  # (3, g) at low, middle, high friction; negative where the bed stands so far above

    @property
    def repose_deg(self) -> tuple[float, float, float]:
        low, middle, high = self.stream.repose
        return low / DEGREE, middle / DEGREE, high / DEGREE

    def exposed_ratio(self, i: int) -> float:
        """What groove i (from 0) would have, were its wall straight and exposed."""
        return float(np.interp(self.grooves_deg[i], self.angle_deg, self.ratio))

    @property
    def strong_deg(self) -> float:
        """The wall angle from which an exposed wall overturns strongly; nan beyond the curve."""
        above = np.flatnonzero(self.ratio >= overturn.STRONG_RATIO)
        if not len(above) or above[0] == 0:
            return float("nan")
        i = int(above[0])
        return float(np.interp(overturn.STRONG_RATIO, self.ratio[i - 1 : i + 1], self.angle_deg[i - 1 : i + 1]))


def why(e: Evaluation, groove: int) -> Why:
    """The curves for a groove, numbered from 1. Raises ValueError where there is no such groove or no flow."""
    if e.shape is None or e.flow is None:
        reason = f"no answer: {e.no_answer}" if e.no_answer else "no flow to look into"
        raise ValueError(f"“{e.design.name}” has {reason} as it stands.")
    count = len(e.shape.mouths)
    if not 1 <= groove <= count:
        raise ValueError(f"“{e.design.name}” has no groove {groove}; it has {count}.")
    k = groove - 1
    stream = stream_at(e.shape, e.flow, k)
    angle = np.linspace(0.0, STEEPEST_DEG, COUNT)
    rise = np.tan(angle * DEGREE) - np.tan(stream.repose[1])
    mouth = float(e.shape.cut.mouth[k]) * MM * np.cos(angle * DEGREE)
    fall = mouth * rise
    steepness = np.maximum(rise, 0.0)
    step = _pitch(e.shape, k) * MM * np.cos(angle * DEGREE) * steepness
    depth = stepped.critical_depth(np.array(stream.unit_flow), np.array(stream.acceleration))
    return Why(
        groove,
        stream,
        angle,
        overturn.overturn_ratio(fall, mouth, np.tan(np.array(stream.slope))),
        overturn.released_power(np.array(stream.mass_flow), np.array(stream.acceleration), fall),
        np.where(step > 0.0, depth / np.where(step > 0.0, step, 1.0), np.nan),
        stepped.jet_limit(steepness),
        stepped.skimming_limit(steepness),
        e.shape.wall.angle_at(e.shape.mouths.middle) / DEGREE,
        e.flow.groove_ratio[0],
        e.flow.groove_power[0],
        e.flow.groove_state[0].astype(float),
        e.flow.groove_overfall[0] / MM,
    )


def stream_at(shape: Shape, flow: Flow, k: int) -> Stream:
    """The stream at groove k (from 0) under the first duty, from the places where repose was solved."""
    at = shape.stations

    def here(values: FloatArray) -> float:
        left, share = int(at.groove_left_node[k]), float(at.groove_node_share[k])
        return float(values[left] + (values[left + 1] - values[left]) * share)

    station = at.edge_places.lower_index[k]
    repose = tuple(float(flow.angle[0, level, station]) for level in (LOW, MIDDLE, HIGH))
    water = flow.feed.water_density[0] * (np.cumsum(flow.groove_water[0]) - flow.groove_water[0])
    radius = float(shape.wall.radius_at(shape.mouths.middle[k : k + 1])[0]) * MM
    film = flow.film
    return Stream(
        repose=(repose[0], repose[1], repose[2]),
        slope=float(np.arctan(here(np.tan(film.slope[0, MIDDLE])))),
        mass_flow=float(flow.feed.mass_flow[0] + water[k]),
        unit_flow=here(film.velocity[0, MIDDLE] * film.depth[0, MIDDLE]),
        acceleration=float(rotation.acceleration(flow.feed.angular_speed[0], radius)),
    )


def _pitch(shape: Shape, k: int) -> float:
    """mm along the wall from this groove to the next, or from the one below; of a lone groove its mouth and land."""
    lower = shape.mouths.lower_length
    if len(lower) > 1:
        i = min(k, len(lower) - 2)
        return float(lower[i + 1] - lower[i])
    return float(shape.wall.length[-1] - lower[0])
