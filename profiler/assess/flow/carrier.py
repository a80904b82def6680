"""The liquid that carries the grains: clear water, or with size classes water and the fines that count as liquid.

One size limit per duty: that at which grains half leave the contact load, in the film at middle friction, at its
velocity and acceleration in the geometric mean over the wall. So grains that are liquid at the floor are liquid at the
lip, and are counted once. Water added on the way up thins the fines in the liquid as it thins the grains in the slurry;
a yield stress that is given stays as given, though it falls where clay is thinned.
SI.
"""

from dataclasses import dataclass

import numpy as np

from profiler.assess.flow.feed import Feed
from profiler.physics.grains import classed_grains, suspension
from profiler.physics.rotor import rotation
from profiler.physics.rotor.rotation import FloatArray, Values
from profiler.physics.slurry import repose

MIDDLE = 1  # friction
FIRST_VELOCITY = 1.8  # m/s of a film that is not known yet
STRIDE = 0.85  # of the way to the next limit: more fines slow the film, which lowers the limit again by some 15 %


@dataclass(frozen=True, slots=True)
class Carrier:
    """d duties, m nodes. A duty of one d50 has no fines: its liquid is the water, its fraction that of all solids."""

    limit: FloatArray  # (d,) m, finer grains count as liquid; 0 where one d50 is given
    fine: FloatArray  # (d,) share of the solids' mass that is finer
    fraction: FloatArray  # (d, 1, m) of the delivered slurry's volume: grains that do not count as liquid
    fines: FloatArray  # (d, 1, m) of the liquid's volume: solids that count as liquid
    density: FloatArray  # (d, 1, m) kg/m3 of the liquid with its fines
    viscosity: FloatArray  # (d, 1, m) Pa s
    grain_size: FloatArray  # (d,) m, half the grains' mass is finer; without the fines that count as liquid

    def with_fines(self, grains: FloatArray) -> FloatArray:
        """All solids' share of the volume where grains take `grains` (d, f, m) of it and the liquid the rest."""
        return np.asarray(grains + self.fines * (1.0 - grains))


def liquid_limit(feed: Feed, film: repose.Film, start: FloatArray | None = None) -> FloatArray:
    """(d,) m: size of the grains that half leave the contact load of this film; `start`, a size near it, saves work."""
    velocity = film.velocity[:, MIDDLE] / np.cos(film.lag_angle[:, MIDDLE])
    nodes = velocity.shape[1]
    speed, field = (np.exp(np.log(a).sum(axis=1) / nodes) for a in (velocity, film.acceleration[:, MIDDLE]))
    return _limit(feed, speed, field, start)


def slurry_of(
    feed: Feed, flow: FloatArray, wall: FloatArray, film: repose.Film | None, before: Carrier | None
) -> tuple[Carrier, repose.Slurry]:
    """Carrier and slurry where `flow` (d, 1, m) m3/s passes walls of radius `wall` (m,).

    `film` and the carrier `before` are those of the pass before; the first pass has none, and takes a usual film's.
    """
    solids, water, thin, grain = (
        a[:, None, None] for a in (feed.solids_density, feed.water_density, feed.water_viscosity, feed.grain_size)
    )
    clay = None if feed.yield_stress is None else feed.yield_stress[:, None, None]
    fraction = feed.solids_flow[:, None, None] / flow
    if feed.classes is None:
        nothing = np.zeros(len(feed.solids_flow))
        density, viscosity = (np.broadcast_to(a, fraction.shape) for a in (water, thin))
        still = Carrier(nothing, nothing, fraction, 0.0 * fraction, density, viscosity, feed.grain_size)
        return still, repose.Slurry(solids, grain, water, thin, None, clay)
    if film is None or before is None:
        field = rotation.acceleration(feed.angular_speed, float(np.mean(wall)))
        limit = _limit(feed, FIRST_VELOCITY, field)
    else:
        limit = liquid_limit(feed, film, before.limit) ** STRIDE * before.limit ** (1.0 - STRIDE)
    limit = np.where(feed.classed, limit, 0.0)
    cut = classed_grains.divide(feed.classes, limit)
    fine = cut.fine[:, None, None]
    fines = fine * fraction / (1.0 - (1.0 - fine) * fraction)
    density = suspension.mixture_density(fines, solids, water)
    viscosity = classed_grains.thickened(fines, thin)
    mixture = classed_grains.Mixture(cut.size.T[..., None, None], cut.share.T[..., None, None])
    slurry = repose.Slurry(solids, cut.median[:, None, None], density, viscosity, mixture, clay)
    return Carrier(limit, cut.fine, (1.0 - fine) * fraction, fines, density, viscosity, cut.median), slurry


def _limit(feed: Feed, velocity: Values, acceleration: FloatArray, start: FloatArray | None = None) -> FloatArray:
    water = (feed.water_density, feed.water_viscosity)
    return classed_grains.liquid_size(velocity, acceleration, feed.solids_density, *water, start)
