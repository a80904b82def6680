"""Films drawn at random, and what the documented equations say of them: for the laws of the repose model."""

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq

from profiler.physics.grains import settling, suspension
from profiler.physics.rotor import rotation
from profiler.physics.slurry import film as film_room
from profiler.physics.slurry.carpet import CONTACT_DECAY, PACKED, SLIP
from profiler.physics.slurry.measured_friction import friction_from_angle
from profiler.physics.slurry.repose import Film, Slurry, repose
from profiler.units import GRAVITY, RPM
from tests.oracles.rotation import angular_speed_for
from tests.oracles.suspension import volume_fraction

Array = NDArray[np.float64]
WATER = 998.2


@dataclass(frozen=True)
class Sample:
    """Points of operation drawn at random, all fields of one shape."""

    radius: Array
    speed: Array
    flow: Array
    fraction: Array
    slurry: Slurry
    friction: Array

    @property
    def excess(self) -> Array:
        return (self.slurry.solids_density - self.slurry.liquid_density) / self.slurry.liquid_density

    def film(self, lag: bool = True, slip: float = SLIP) -> Film:
        at = (self.radius, self.speed, self.flow, self.fraction, self.slurry, self.friction)
        return repose(*at, lag=lag, slip=slip)

    def friction_from(self, angle: Array, lag: bool) -> Array:
        return friction_from_angle(angle, self.radius, self.speed, self.flow, self.fraction, self.slurry, lag=lag)


def usual(count: int = 4000) -> Sample:
    """What such bowls run at."""
    random = np.random.default_rng(20)
    radius = log_uniform(random, 0.05, 0.9, count)
    speed = angular_speed_for(log_uniform(random, 20.0, 200.0, count), radius)
    flow = 6.0 / 3600.0 * (radius / 0.15) ** 2 * log_uniform(random, 0.3, 4.0, count)
    size, viscosity = log_uniform(random, 30e-6, 600e-6, count), log_uniform(random, 0.5e-3, 3e-3, count)
    slurry = Slurry(random.uniform(2500.0, 3500.0, count), size, np.full(count, WATER), viscosity)
    friction = random.uniform(0.35, 0.9, count)
    return Sample(radius, speed, flow, random.uniform(0.04, 0.45, count), slurry, friction)


def corners(count: int = 4000) -> Sample:
    """Far outside what such bowls run at, in every direction."""
    random = np.random.default_rng(21)
    speed = log_uniform(random, 50.0, 3000.0, count) * RPM
    size, viscosity = log_uniform(random, 10e-6, 3e-3, count), log_uniform(random, 0.3e-3, 20e-3, count)
    slurry = Slurry(random.uniform(2000.0, 5200.0, count), size, np.full(count, WATER), viscosity)
    flow = log_uniform(random, 0.05, 600.0, count) / 3600.0
    fraction, friction = random.uniform(0.03, 0.5, count), random.uniform(0.15, 1.4, count)
    return Sample(log_uniform(random, 0.03, 1.5, count), speed, flow, fraction, slurry, friction)


def anywhere(count: int, seed: int) -> Sample:
    """All that may be typed of a slurry, 20 to 400 g, and flows over three decades."""
    random = np.random.default_rng(seed)
    radius = log_uniform(random, 0.05, 0.9, count)
    speed = angular_speed_for(log_uniform(random, 20.0, 400.0, count), radius)
    flow = 6.0 / 3600.0 * (radius / 0.15) ** 2 * log_uniform(random, 10.0**-1.5, 10.0**1.5, count)
    solids = random.uniform(2000.0, 5200.0, count)
    fraction = volume_fraction(random.uniform(0.01, 0.70, count), solids, WATER)
    size, viscosity = log_uniform(random, 10e-6, 3e-3, count), log_uniform(random, 0.3e-3, 5e-3, count)
    slurry = Slurry(solids, size, np.full(count, WATER), viscosity)
    return Sample(radius, speed, flow, fraction, slurry, random.uniform(0.15, 1.4, count))


def log_uniform(random: np.random.Generator, low: float, high: float, count: int) -> Array:
    return np.exp(random.uniform(np.log(low), np.log(high), count))


def imbalance(sample: Sample, film: Film) -> tuple[Array, Array, Array]:
    """Relative errors of slope and pull, and 2 (V/(w r))^2 sin(theta)/sin(alpha), as the model's text states them."""
    liquid, viscosity = sample.slurry.liquid_density, sample.slurry.liquid_viscosity
    grain = (sample.slurry.grain_size, sample.slurry.solids_density, liquid, viscosity)
    relative = film.velocity / np.cos(film.lag_angle)
    settles = settling.terminal_velocity(*grain, film.acceleration)
    contact, carried, heap = in_place(sample.fraction, np.exp(-CONTACT_DECAY * relative / settles), sample.excess)
    shields = film_room.critical_shields(np.cbrt(settling.archimedes_number(*grain, film.acceleration)))
    held = contact * sample.excess * sample.friction + shields * sample.excess * sample.slurry.grain_size / film.depth
    dense = 1.0 + (contact + carried) * sample.excess
    held = np.minimum(held / dense, most_held(sample)) + held_by_clay(sample, film) / dense
    held = held * np.cos(film.lag_angle)
    drive = film.acceleration * heap * film.depth * np.sin(film.slope)
    pull = 8.0 * drive / (film.friction_factor * np.cos(film.lag_angle))
    speed_share = film.velocity / (sample.speed * sample.radius)
    turning = 2.0 * speed_share**2 * np.sin(film.slope + rotation.tilt(film.acceleration)) / (np.sin(film.slope) * heap)
    return np.tan(film.slope) / held - 1.0, relative**2 / pull - 1.0, turning


def most_held(sample: Sample) -> Array:
    """What friction holds up of a bed as dense as beds are: no slope, before cos(b), is above it."""
    load = np.maximum(sample.fraction, PACKED) * sample.excess
    return sample.friction * load / (1.0 + load)


def held_by_clay(sample: Sample, film: Film) -> Array | float:
    """Yield stress over the weight of the liquid alone in the film's field and depth."""
    stress = sample.slurry.yield_stress
    return 0.0 if stress is None else stress / (sample.slurry.liquid_density * film.acceleration * film.depth)


def at_most(sample: Sample, film: Film) -> NDArray[np.bool_]:
    """Where the slope is as large as a bed holds: there the size of the grains and the depth no longer matter."""
    return np.asarray(np.tan(film.slope) / np.cos(film.lag_angle) > (1.0 - 1e-9) * most_held(sample))


def in_place(fraction: Array, contact: Array, excess: Array) -> tuple[Array, Array, Array]:
    """Grains in contact and carried ones by volume of what is there, and the mass in place over the mass delivered."""
    standing = np.minimum(contact * fraction * (1.0 / SLIP - 1.0), np.maximum(PACKED - fraction, 0.0) / (1.0 - PACKED))
    held, carried = (contact * fraction + standing) / (1.0 + standing), (1.0 - contact) * fraction / (1.0 + standing)
    return held, carried, (1.0 + (held + carried) * excess) / (1.0 + fraction * excess)


def turning_surplus(sample: Sample, index: int, lag: float) -> float:
    """L (1 - L) less what turning asks of the film that this lag would have; -inf if that would fill the bowl."""
    pick = {
        f.name: float(getattr(sample.slurry, f.name)[index])
        for f in fields(Slurry)
        if f.name not in ("mixture", "yield_stress")
    }
    radius, speed, friction = (float(a[index]) for a in (sample.radius, sample.speed, sample.friction))
    most = float(most_held(sample)[index])
    rim_flow, fraction = float(sample.flow[index]) / (2.0 * np.pi * radius), float(sample.fraction[index])
    field = speed**2 * radius * (1.0 - lag) ** 2
    grain = (pick["grain_size"], pick["solids_density"], pick["liquid_density"], pick["liquid_viscosity"], field)
    excess = pick["solids_density"] / pick["liquid_density"] - 1.0
    load = fraction * excess
    viscosity = pick["liquid_viscosity"] * float(suspension.relative_viscosity(fraction))
    reynolds = 4.0 * rim_flow * pick["liquid_density"] * (1.0 + load) / viscosity
    settles = float(settling.terminal_velocity(*grain))
    threshold = float(film_room.critical_shields(np.cbrt(settling.archimedes_number(*grain)))) * excess * grain[0]

    def slope_and_excess(depth: float) -> tuple[float, float, float]:
        velocity = rim_flow / depth
        relative = np.hypot(velocity, lag * speed * radius)
        contact, carried, heap = (
            float(x)
            for x in in_place(np.array(fraction), np.exp(-CONTACT_DECAY * relative / settles), np.array(excess))
        )
        held = contact * excess * friction + threshold / depth
        tangent = velocity / relative * min(held / (1.0 + (contact + carried) * excess), most)
        factor = float(film_room.film_friction(depth, grain[0], reynolds).factor)
        pull = 8.0 * field * heap * depth * np.sin(np.arctan(tangent)) * velocity / relative / factor
        return tangent, np.log(pull / velocity**2), heap

    if slope_and_excess(radius)[1] < 0.0:
        return -np.inf
    depth = float(np.exp(brentq(lambda x: slope_and_excess(np.exp(x))[1], -25.0, np.log(radius), xtol=1e-12)))
    tangent, _, heap = slope_and_excess(depth)
    slope = np.arctan(tangent)
    angle = slope + np.arctan(GRAVITY / field)
    share = rim_flow / depth / (speed * radius)
    return float(lag * (1.0 - lag) - 2.0 * share**2 * np.sin(angle) / (np.sin(slope) * heap))
