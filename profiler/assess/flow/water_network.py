"""What water each groove gets: spread evenly, or through the holes of a plan against what lies over them.

One network per duty, at middle friction. The water of a pass meets the bed of the pass before. SI.
"""

from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from profiler.assess.flow.feed import Feed
from profiler.assess.shape.rings import HoleRings
from profiler.physics.grains import packing, suspension
from profiler.physics.slurry.surface import FloatArray
from profiler.physics.water.jacket import Jacket, back_pressure, balance

Number = TypeVar("Number", np.float64, np.bool_)


@dataclass(frozen=True, slots=True)
class Water:
    """d duties, g grooves."""

    ring: FloatArray  # (d, g) m3/s; negative where slurry runs back into the jacket
    total: FloatArray  # (d,) m3/s supplied; the rings' flows add up to it
    jacket: Jacket | None  # None where no hole plan is given and the water is spread evenly
    last_change: FloatArray  # (d,) rad, by which the last pass still moved the repose angle
    unsettled: FloatArray  # (d,) share of the mean ring flow that further passes would still move
    angle_unsettled: FloatArray  # (d,) rad, by which further passes would still move the repose angle

    @property
    def added_below(self) -> FloatArray:
        """(d, g) m3/s of water the stream has taken up below each groove."""
        return added(self.ring)[:, :-1]


@dataclass(frozen=True, slots=True)
class Cover:
    """What lies over each ring's holes: (d, g), SI."""

    mouth_radius: FloatArray  # (g,) of the wall line at mid-mouth
    surface_radius: FloatArray  # of the bed at mid-mouth
    film_depth: FloatArray
    in_place_fraction: FloatArray  # all solids in the film by volume: what is there weighs, not what is delivered


def even(feed: Feed, grooves: int) -> FloatArray:
    """(d, g) the water asked for, spread evenly."""
    share = feed.water_flow[:, None] / max(grooves, 1)
    return np.asarray(np.broadcast_to(share, (len(feed.water_flow), grooves)))


def added(ring: FloatArray) -> FloatArray:
    """(d, g + 1) m3/s taken up by the stream below groove 1, 2, ... and below the lip.

    Slurry that runs back takes its solids along: it thins nothing, and is not counted here.
    """
    start = np.zeros((len(ring), 1))
    return np.concatenate((start, np.cumsum(np.maximum(ring, 0.0), axis=1)), axis=1)


def network(holes: HoleRings, feed: Feed, cover: Cover, start: Jacket | None, rounds: int) -> Jacket:
    """The jacket's balance while running, grooves full of gangue."""
    return _balanced(holes, feed, running_resistance(holes, feed, cover), feed.water_flow, start, rounds)


def running_resistance(holes: HoleRings, feed: Feed, cover: Cover) -> FloatArray:
    """(d, g) Pa at the groove floors while running, grooves full of gangue."""
    bed = packing.bulk_density(feed.solids_density, feed.water_density)
    return _resistance(holes, feed, cover, bed, bed)


MOMENTS = ("run-up, no slurry", "running", "end of cycle", "water off")


@dataclass(frozen=True, slots=True)
class Moments:
    """The jacket at four times: k runs over MOMENTS."""

    flow: FloatArray  # (d, k, g) m3/s
    inlet_pressure: FloatArray  # (d, k) Pa; nan where the inlet's radius is not given
    free_surface: FloatArray  # (d, k) m; nan where the jacket is full
    dry: NDArray[np.bool_]  # (d, k, g)


def moments(holes: HoleRings, feed: Feed, cover: Cover, heavy_density: FloatArray, running: Jacket) -> Moments:
    """Run-up without slurry, running, end of a cycle with heavy minerals in the grooves, water off."""
    gangue = packing.bulk_density(feed.solids_density, feed.water_density)
    dense = packing.bulk_density(heavy_density, feed.water_density)
    wet = np.broadcast_to(cover.mouth_radius, cover.film_depth.shape)
    bare = Cover(cover.mouth_radius, wet, np.zeros_like(cover.film_depth), np.zeros_like(cover.film_depth))
    clear = _resistance(holes, feed, bare, feed.water_density, feed.water_density)
    full = _resistance(holes, feed, cover, gangue, dense)
    still = running_resistance(holes, feed, cover)
    asked, nothing = feed.water_flow, np.zeros_like(feed.water_flow)
    others = _balanced(holes, feed, np.concatenate((clear, full, still)), np.concatenate((asked, asked, nothing)))
    names = ("flow", "inlet_pressure", "free_surface", "dry")
    flow, pressure, level, dry = (_beside(getattr(others, name), getattr(running, name)) for name in names)
    return Moments(flow, holes.at_inlet(pressure), level, dry)


def _beside(others: NDArray[Number], running: NDArray[Number]) -> NDArray[Number]:
    """(d, k, ...) from the three moments that were balanced together, one after the other, and that of running."""
    start, end, off = np.split(others, 3)
    return np.stack((start, running, end, off), axis=1)


def _resistance(
    holes: HoleRings, feed: Feed, cover: Cover, bed_density: FloatArray, fill_density: FloatArray
) -> FloatArray:
    """(d, g) Pa at the groove floors: film, the bed over the mouth, and what fills the groove."""
    floor = holes.rings.radius
    surface = np.minimum(cover.surface_radius, floor)
    mouth = np.minimum(np.maximum(cover.mouth_radius, surface), floor)
    solids, liquid = feed.solids_density[:, None], feed.water_density[:, None]
    slurry = suspension.mixture_density(cover.in_place_fraction, solids, liquid)
    speed = feed.angular_speed[:, None]
    over = back_pressure(speed, mouth, surface, cover.film_depth, slurry, bed_density[:, None])
    return over + back_pressure(speed, floor, mouth, np.zeros_like(surface), slurry, fill_density[:, None])


def _balanced(
    holes: HoleRings,
    feed: Feed,
    resisting: FloatArray,
    flow: FloatArray,
    start: Jacket | None = None,
    rounds: int = 8,
) -> Jacket:
    """For the feed's duties, or for all of them several times over."""
    times = len(flow) // len(feed.water_flow)
    asked = (np.tile(a, times) for a in (feed.angular_speed, feed.water_density, feed.water_viscosity))
    speed, density, viscosity = asked
    return balance(holes.rings, holes.supply(flow), speed, resisting, density, viscosity, start, rounds)
