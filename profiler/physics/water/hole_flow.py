"""Water through a drilled hole: how much of the ideal jet comes through, and how many holes a ring takes.

Burrs and countersinks move the coefficient between 0.6 and 0.95, and published laws differ by 10 to 15 % where the
Reynolds number is below 2000: the flow of a hole is known no better. Which pressure drives it is in `jacket`.
"""

from math import pi

import numpy as np

from profiler.physics.rotor.rotation import FloatArray, Values

SHORTEST = 1.5  # L/d below which the jet may or may not cling to the hole: its flow jumps
LONGEST_SHORT = 10.0  # L/d beyond which friction along the hole is reckoned
CREEPING = 10.0  # Reynolds number below which the coefficient follows the viscous limit

# Idelchik I.E., Handbook of Hydraulic Resistance, diagram 4-18: loss of a thick-edged hole in a large wall, no friction
_IDELCHIK_RATIO = (0.0, 0.2, 0.4, 0.6, 0.8, 1.0, 1.2, 1.4, 1.6, 1.8, 2.0, 4.0)
_IDELCHIK_LOSS = (2.85, 2.72, 2.60, 2.34, 1.95, 1.76, 1.67, 1.62, 1.60, 1.58, 1.55, 1.55)
_LONG_LOSS = 1.55
_PASSES = 12
_ASIDE = 1.01  # the secant's other point over the first
_LOG_ASIDE = np.log(_ASIDE)


def discharge_coefficient(reynolds: Values, length_ratio: Values) -> FloatArray:
    """Flow over ideal flow [-] by the hole's Reynolds number and its length over diameter.

    From 1.5 to 10 diameters: Lichtarowicz A., Duggins R.K. & Markland E. (1965) J. Mech. Eng. Sci. 7(2) 210-219,
    10 < Re < 2e4, within 0.02. Shorter: Idelchik's thick-edged hole. Longer: 1/sqrt(1.55 + f L/d), f the smooth pipe's.
    Below Re 10 it falls with the square root of Re, as flow governed by viscosity does. At 10 diameters the laws join
    within 10 % from Re 2000 up; at Re 300 the longer hole's reads a half higher than the shorter one's.

    >>> f"{discharge_coefficient(1e4, 2.0):.4f}"
    '0.8081'
    """
    re = np.maximum(reynolds, 1e-9)
    fast = np.maximum(re, CREEPING)
    ratio = np.asarray(length_ratio)
    value = _lichtarowicz(fast, np.minimum(np.maximum(ratio, SHORTEST), LONGEST_SHORT))
    long, short = ratio > LONGEST_SHORT, ratio < SHORTEST
    if long.any():  # a bowl's holes are mostly of one kind: the laws of the others are not reckoned
        value = np.where(long, 1.0 / np.sqrt(_LONG_LOSS + _pipe_friction(fast) * ratio), value)
    if short.any():
        value = np.where(short, 1.0 / np.sqrt(idelchik_loss(ratio) + _pipe_friction(fast) * ratio), value)
    return np.asarray(value * np.sqrt(np.minimum(re / CREEPING, 1.0)))


def idelchik_loss(length_ratio: Values) -> FloatArray:
    """Loss coefficient [-] of a thick-edged hole without friction, by its length over diameter."""
    return np.asarray(np.interp(length_ratio, _IDELCHIK_RATIO, _IDELCHIK_LOSS))


def hole_velocity(
    pressure_drop: Values, diameter: Values, length: Values, liquid_density: Values, liquid_viscosity: Values
) -> FloatArray:
    """Mean velocity [m/s] in a hole under a pressure drop [Pa]; negative where the drop is."""
    ideal = np.sqrt(2.0 * np.abs(pressure_drop) / liquid_density)
    scale = diameter * liquid_density / liquid_viscosity
    ratio = length / diameter
    velocity = ideal * discharge_coefficient(ideal * scale, ratio)
    for _ in range(_PASSES):
        velocity = closer_velocity(velocity, ideal, scale, ratio)
    return np.asarray(np.sign(pressure_drop) * velocity)


def closer_velocity(velocity: FloatArray, ideal: FloatArray, scale: Values, ratio: Values) -> FloatArray:
    """One secant step, in ln V, towards the V [m/s] that is Cd(V) times the ideal velocity.

    `scale` is Reynolds number per velocity, `ratio` L/d. Cd rises with V, but slower than V.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        here, there = discharge_coefficient(np.array([velocity, _ASIDE * velocity]) * scale, ratio)
        slope = np.minimum(np.maximum(np.log(there / here) / _LOG_ASIDE, 0.0), 0.9)
        step = np.minimum(np.maximum(np.log(ideal * here / velocity) / (1.0 - slope), -3.0), 3.0)
        return np.asarray(np.where(ideal > 0.0, velocity * np.exp(step), 0.0))


def skewed_length(inner_radius: Values, outer_radius: Values, skew: Values) -> FloatArray:
    """Length of a straight hole, square to the axis, between two radii, that leans `skew` [rad] off the inner one."""
    along, aside = inner_radius * np.cos(skew), inner_radius * np.sin(skew)
    return np.asarray(np.sqrt(np.maximum(outer_radius**2 - aside**2, 0.0)) - along)


def spacing(radius: Values, count: Values) -> FloatArray:
    """Distance round the ring from hole to hole [m]; infinite without holes."""
    with np.errstate(divide="ignore"):
        return np.asarray(2.0 * pi * np.asarray(radius) / np.asarray(count, dtype=float))


def _lichtarowicz(reynolds: FloatArray, ratio: FloatArray) -> FloatArray:
    ultimate = np.where(ratio < 2.0, 0.810, 0.827 - 0.0085 * ratio)
    viscous = 20.0 / reynolds * (1.0 + 2.25 * ratio)
    hump = 0.005 * ratio / (1.0 + 7.5 * np.log10(0.00015 * reynolds) ** 2)
    return np.asarray(1.0 / (1.0 / ultimate + viscous - hump))


def _pipe_friction(reynolds: FloatArray) -> FloatArray:
    """Darcy factor of a smooth pipe: laminar or Haaland (1983), the larger."""
    turbulent = (-1.8 * np.log10(6.9 / np.maximum(reynolds, CREEPING))) ** -2
    return np.asarray(np.maximum(64.0 / reynolds, np.where(reynolds > 1000.0, turbulent, 0.0)))
