"""The film marched along the whole wall, at middle friction: its speed over every groove, its time on the way.

Where and why a film runs faster than at repose is in `physics.slurry.wall_film`; here a shape's places and a flow's
film become its arguments. SI; d duties, g grooves; a band (d, 3, ...) is over the share of the fall a landing keeps:
slow, middle, fast.
"""

from dataclasses import dataclass

import numpy as np

from profiler.assess.flow.flow_stage import MIDDLE, Flow
from profiler.assess.shape.shape_stage import Shape
from profiler.assess.shape.stations import SAME_MM, IntArray, mouth_of
from profiler.geometry.wall import FloatArray
from profiler.physics.grains import suspension
from profiler.physics.slurry import wall_film
from profiler.physics.slurry.carpet import BoolArray
from profiler.units import MM

STEP_SHARE = 0.005  # of the bowl's height, the longest step
LEAST_STEPS, MOST_STEPS = 4, 64  # of one land or mouth


@dataclass(frozen=True, slots=True)
class ExposedFilm:
    """The film at the lower edge of every groove, where it leaves the land. nan where the march found no answer."""

    velocity: FloatArray  # (d, 3, g) m/s along the wall
    lag_speed: FloatArray  # (d, 3, g) m/s by which it stays behind the wall
    depth: FloatArray  # (d, 3, g) m
    speed: FloatArray  # (d, 3, g) m/s against the wall, both ways together
    acceleration: FloatArray  # (d, 3, g) m/s2 of the film
    repose_velocity: FloatArray  # (d, g) m/s along the wall of the film at repose
    residence: FloatArray  # (d, 3) s from floor to lip, fastest film last


@dataclass(frozen=True, slots=True)
class _Places:
    """Where the film is asked: every land and every mouth has its own two ends, so that edges come twice."""

    height: FloatArray  # (n,) mm
    angle: FloatArray  # (n,) rad of the wall line
    step: FloatArray  # (n - 1,) m along the wall line
    mouth: IntArray  # (n,) index of the groove whose mouth the place belongs to, -1 on a land
    lower: IntArray  # (g,) the place at each groove's lower edge, on the land; the next one begins the mouth


def exposed_film(shape: Shape, flow: Flow, losses: tuple[float, ...] = wall_film.LANDING_LOSS) -> ExposedFilm:
    """Up to the entry height the film is taken to be at repose, where it has no head start to lose.

    The band is over `losses`, the share of the fall a landing loses: from the last to the first.
    """
    at = _places(shape)
    repose, radius = _reposing(shape, flow, at)
    fall = np.maximum(flow.groove_overfall[:, MIDDLE], 0.0)
    falls = np.zeros_like(repose.velocity)
    falls[:, at.lower + 1] = fall
    angle = np.where(at.mouth < 0, at.angle, repose.angle)
    path = wall_film.Path(at.step, radius, angle, falls, _covered(shape, flow, at))
    film = wall_film.march(path, repose, tuple(reversed(losses)))
    velocity, lag_speed = film.velocity.take(at.lower, axis=-1), film.lag_speed.take(at.lower, axis=-1)
    rim = (repose.angular_speed * radius)[:, None, at.lower]
    remaining = 1.0 - lag_speed / rim
    return ExposedFilm(
        velocity=velocity,
        lag_speed=lag_speed,
        depth=film.depth.take(at.lower, axis=-1),
        speed=film.relative.take(at.lower, axis=-1),
        acceleration=repose.angular_speed[:, None] * rim * remaining * remaining,
        repose_velocity=repose.velocity.take(at.lower, axis=-1),
        residence=_residence(at, flow, shape, film),
    )


def _places(shape: Shape) -> _Places:
    wall, mouths = shape.wall, shape.mouths
    lip = float(wall.height[-1])
    ends = np.unique(np.clip(np.concatenate((wall.height, mouths.lower, mouths.upper)), 0.0, lip))
    ends = ends[np.concatenate(([True], np.diff(ends) > SAME_MM))]
    counts = np.clip(np.ceil(np.diff(ends) / (STEP_SHARE * lip)), LEAST_STEPS, MOST_STEPS).astype(int)
    piece = np.repeat(np.arange(len(counts)), counts + 1)
    first = np.cumsum(counts + 1) - (counts + 1)
    last = np.concatenate((piece[1:] > piece[:-1], [True]))
    share = (np.arange(len(piece)) - first[piece]) / counts[piece]
    height = np.where(last, ends[piece + 1], ends[piece] + share * (ends[piece + 1] - ends[piece]))
    angle = wall.angle_at(height, above=True)
    angle[last] = wall.angle_at(ends[1:], above=False)
    return _Places(
        height,
        angle,
        np.diff(wall.length_at(height)) * MM,
        mouth_of(mouths, 0.5 * (ends[1:] + ends[:-1]))[piece],
        np.searchsorted(height, mouths.lower - SAME_MM),
    )


def _reposing(shape: Shape, flow: Flow, at: _Places) -> tuple[wall_film.Reposing, FloatArray]:
    """The film at repose carried from the nodes to these places; and its radius there."""
    node_height = shape.stations.height[shape.stations.node]
    left = np.clip(np.searchsorted(node_height, at.height, side="right") - 1, 0, len(node_height) - 2)
    share = (at.height - node_height[left]) / (node_height[left + 1] - node_height[left])

    def here(values: FloatArray) -> FloatArray:
        return np.asarray(values[:, left] + (values[:, left + 1] - values[:, left]) * share)

    film, carrier, feed = flow.film, flow.carrier, flow.feed
    solids = feed.solids_density[:, None]
    dense, thin = (
        suspension.mixture_density(f[:, MIDDLE], solids, carrier.density[:, 0])
        for f in (film.in_place_fraction, film.delivered_fraction)
    )
    speed = feed.angular_speed[:, None]
    lag = film.lag[:, MIDDLE]
    radius = here(film.acceleration[:, MIDDLE] / (speed * (1.0 - lag)) ** 2)
    repose = wall_film.Reposing(
        angular_speed=speed,
        rim_flow=here(film.velocity[:, MIDDLE] * film.depth[:, MIDDLE]),
        velocity=here(film.velocity[:, MIDDLE]),
        lag=here(lag),
        angle=here(film.angle[:, MIDDLE]),
        heaping=here(dense / thin),
        grain_size=carrier.grain_size[:, None],
        reynolds=here(film.reynolds[:, MIDDLE]),
    )
    return repose, radius


def _covered(shape: Shape, flow: Flow, at: _Places) -> BoolArray:
    """(d, n) where a bed lies over the wall at middle friction, over a whole mouth too; and below the entry height."""
    buried = flow.bed.buried(shape.stations.line)[:, MIDDLE]
    left = np.clip(np.searchsorted(shape.stations.height, at.height, side="right") - 1, 0, buried.shape[1] - 2)
    right = np.clip(np.searchsorted(shape.stations.height, at.height, side="left"), 0, buried.shape[1] - 1)
    bed = np.minimum(buried[:, np.minimum(left, right)], buried[:, right]) > 0.0
    if len(shape.mouths):
        over = (flow.groove_overfall[:, MIDDLE] <= 0.0)[:, np.maximum(at.mouth, 0)]
        bed = np.where(at.mouth >= 0, over, bed)
    return np.asarray(bed | (at.height < flow.entry[:, None]))


def _residence(at: _Places, flow: Flow, shape: Shape, film: wall_film.WallFilm) -> FloatArray:
    """(d, 3) s: along the surface, over the mean velocity of every step."""
    height = shape.stations.height
    surface = np.stack([np.interp(at.height, height, row) for row in flow.bed.radius[:, MIDDLE]])
    path = np.hypot(np.diff(at.height) * MM, np.diff(surface, axis=1))
    mean = 0.5 * (film.velocity[..., 1:] + film.velocity[..., :-1])
    return np.asarray(np.sum(path[:, None] / mean, axis=-1))
