"""A body that turns: mass, centre and inertias of parts apart and together, energy, and the power that spinning takes.

Stresses are in `stress`, balance in `balance`. Rigid bodies about a fixed vertical axis; any mechanics text.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from profiler.physics.rotor.rotation import FloatArray, Values

EN_12547_ENERGY = 200.0  # J; EN 12547:2014 leaves out centrifuges with less kinetic energy


@dataclass(frozen=True, slots=True)
class Mass:
    """One part of the rotor, or several together."""

    mass: FloatArray  # kg
    centre: FloatArray  # m, height of the centre of mass
    polar: FloatArray  # kg m2, about the spin axis
    transverse: FloatArray  # kg m2, about an axis square to it through the part's own centre


@dataclass(frozen=True, slots=True)
class SpinUp:
    """Bringing a rotor up to speed at constant torque."""

    torque: FloatArray  # N m
    peak_power: FloatArray  # W, at the end: twice the mean


def together(parts: Sequence[Mass]) -> Mass:
    """Parts as one body: masses and polar inertias add; transverse ones move to the common centre (Steiner)."""
    mass = sum((p.mass for p in parts), np.asarray(0.0))
    moment = sum((p.mass * p.centre for p in parts), np.asarray(0.0))
    centre = np.divide(moment, mass, out=np.zeros(np.shape(mass)), where=np.asarray(mass != 0.0))
    polar = sum((p.polar for p in parts), np.asarray(0.0))
    transverse = sum((p.transverse + p.mass * (p.centre - centre) ** 2 for p in parts), np.asarray(0.0))
    return Mass(np.asarray(mass), centre, np.asarray(polar), np.asarray(transverse))


def kinetic_energy(polar: Values, angular_speed: Values) -> FloatArray:
    """I w^2/2 [J] of a polar inertia [kg m2] at an angular speed [rad/s].

    >>> f"{kinetic_energy(1.25, 314.159265):.1f}"  # 3000 rpm
    '61685.0'
    """
    return np.asarray(0.5 * polar * np.square(angular_speed))


def rim_speed(angular_speed: Values, radius: Values) -> FloatArray:
    """Speed [m/s] of the rim at `radius` [m]."""
    return np.asarray(angular_speed * radius)


def feed_power(mass_flow: Values, angular_speed: Values, lip_radius: Values, lag: Values = 0.0) -> FloatArray:
    """Power [W] that slurry and water take to leave the lip turning: m (w r)^2 (1 - L).

    `mass_flow` [kg/s] of slurry and fluidising water together, `lag` L the film's at the lip [-]: the torque
    m r (w r)(1 - L) times w. Half of it (at no lag) is carried out as motion, half is lost where the feed is caught.
    """
    return np.asarray(mass_flow * np.square(angular_speed * lip_radius) * (1.0 - np.asarray(lag)))


def spin_up(polar: Values, angular_speed: Values, time: Values) -> SpinUp:
    """Torque I w/t and power of reaching `angular_speed` in `time` [s] at constant torque."""
    torque = np.asarray(polar * np.asarray(angular_speed) / time)
    return SpinUp(torque, np.asarray(torque * angular_speed))
