"""A feed by size classes: what rides on its neighbours, what counts as liquid, how it passes the sieves.

Grains that the film carries leave the contact load one class at a time: F is the sum over classes of exp(-k V_rel/v),
weighted by mass. Grains so fine that half of them would leave it are no grains at all: they count as liquid, which they
thicken and make denser, and each is counted once. So one d50 is the case of a single class coarser than that size.

Within a class the passing curve is a straight line over the logarithm of the size, and its grains settle like those
at the middle of that line. Not here: the film's balance (`repose`), what was typed (the study's size classes).
"""

from dataclasses import dataclass
from math import log
from typing import NamedTuple

import numpy as np

from profiler.physics.grains import settling, suspension
from profiler.physics.rotor.rotation import FloatArray, Values

# k: how fast grains leave the contact load, per V_rel/v. Gillies, Shook & Xu (2004), not yet checked against the
# source; none at all or twice as much moves the repose angle by less than a degree (UNCHECKED in assess).
CONTACT_DECAY = 0.0097
HALF = 0.5  # of the contact load that the film carries: finer grains count as liquid
LARGEST_STEP = 2.0  # between sieves; how far the coarsest class may reach above its own

_THOMAS_CLEAR = float(suspension.relative_viscosity(0.0))  # 1.0027: the fit does not give 1
_TINY = 1e-300  # keeps 0/0 out where every class has left the contact load
_STEPS = 4  # the error squares at each; viscous drag is a good start for grains this fine


@dataclass(frozen=True, slots=True)
class SizeClasses:
    """Classes coarse first along the last axis, each ending where the next begins; shares sum to one.

    A class of share 0 and no width may follow the last: it counts for nothing. Sizes in m.
    """

    lower: FloatArray  # (..., k)
    upper: FloatArray  # (..., k)
    share: FloatArray  # (..., k) of the solids' mass


class Mixture(NamedTuple):
    """Grains of several sizes, the class a leading axis before the points; shares sum to one."""

    size: FloatArray  # (k, ...) m
    share: FloatArray  # (k, ...)


class Divided(NamedTuple):
    """Classes cut at a size: what is coarser, and how much is not."""

    size: FloatArray  # (..., k) m, middle of what is left of each class
    share: FloatArray  # (..., k) of the solids left
    median: FloatArray  # (...) m, of the solids left
    fine: FloatArray  # (...) share of all solids below the cut


class ContactLoad(NamedTuple):
    """F, and how it fades: derivatives of -ln F as if the grains were of one size."""

    fraction: FloatArray  # F
    exponent: FloatArray  # d(-ln F)/d ln V_rel
    settling_slope: FloatArray  # d ln a'/d ln v, so that d ln F/d ln a' is exponent over slope
    log_reynolds: FloatArray  # of settling grains, one pass better; the class leads where there are several


def sieve_classes(sieve: FloatArray, retained: FloatArray) -> SizeClasses:
    """Classes from what stays on each sieve, (..., k) from coarse to fine; `retained` in any measure.

    A class reaches up to the sieve above. The coarsest reaches as far as the class below it does, at most twice its
    sieve; a lone one has no width.
    """
    step = sieve[..., :1] / sieve[..., 1:2] if sieve.shape[-1] > 1 else np.ones_like(sieve)
    top = sieve[..., :1] * np.minimum(step, LARGEST_STEP)
    share = retained / np.sum(retained, axis=-1, keepdims=True)
    return SizeClasses(sieve, np.concatenate((top, sieve[..., :-1]), axis=-1), share)


def passing_size(classes: SizeClasses, share: Values) -> FloatArray:
    """Size [m] that this share [-] of the solids' mass is finer than."""
    left = (1.0 - np.asarray(share))[..., None]
    before = np.cumsum(classes.share, axis=-1) - classes.share
    with np.errstate(divide="ignore", invalid="ignore"):
        inside = np.where(classes.share > 0.0, (left - before) / classes.share, (left > before) * 1.0)
    down = np.clip(inside, 0.0, 1.0) * np.log(classes.upper / classes.lower)
    return np.asarray(classes.upper[..., 0] * np.exp(-np.sum(down, axis=-1)))


def divide(classes: SizeClasses, limit: Values) -> Divided:
    """The classes cut at `limit` [m], one for each set. Where nothing is coarser all is left uncut, and `fine` is 1."""
    cut = np.asarray(limit)[..., None]
    lower = np.clip(cut, classes.lower, classes.upper)
    wide = classes.upper > classes.lower
    width = np.where(wide, np.log(classes.upper / classes.lower), 1.0)
    kept = np.where(wide, np.log(classes.upper / lower) / width, (cut <= classes.lower) * 1.0)
    share = classes.share * kept
    coarse = np.sum(share, axis=-1)
    some = coarse > 0.0
    share = np.where(some[..., None], share / np.where(some, coarse, 1.0)[..., None], classes.share)
    fine = np.where(some, 1.0 - coarse, 1.0)
    fine = np.where(np.all((kept == 1.0) | (classes.share == 0.0), axis=-1), 0.0, fine)  # no rounding where none is cut
    return Divided(np.sqrt(lower * classes.upper), share, passing_size(classes, 0.5 * (1.0 + fine) * some), fine)


def liquid_size(
    velocity: Values,
    acceleration: Values,
    solids_density: Values,
    liquid_density: Values,
    viscosity: Values,
    start: FloatArray | None = None,
) -> FloatArray:
    """Size [m] of the grains that half leave the contact load: exp(-k V_rel/v) = 1/2. Finer ones count as liquid.

    `velocity` [m/s] and `acceleration` [m/s2] of the film against the wall. The liquid is clear water: fines that made
    it thicker would make more grains count as fines, and those again. About 25 um at 60 g and 2.2 m/s for common
    minerals. Sphere drag as in `settling`, solved for the size; `start`, a size within a few per cent, saves passes.
    """
    settles = CONTACT_DECAY * np.asarray(velocity) / -log(HALF)
    kinematic = viscosity / liquid_density
    excess = (solids_density - liquid_density) / liquid_density
    with np.errstate(all="ignore"):
        wanted = np.log(4.0 / 3.0 * excess * acceleration * kinematic / settles**3)  # ln of C_D/Re, free of the size
        viscous = 0.5 * (log(24.0) - wanted)
        log_reynolds = viscous if start is None else np.log(start * settles / kinematic)
        for _ in range(_STEPS if start is None else 2):
            reynolds = np.exp(log_reynolds)
            error, slope = settling.log_drag_over_reynolds(reynolds)
            log_reynolds = log_reynolds - (error - wanted) / slope
        return np.asarray(np.exp(log_reynolds) * kinematic / settles)


def thickened(fines: Values, viscosity: Values) -> FloatArray:
    """Viscosity [Pa s] of a liquid of this `viscosity` with a volume fraction `fines` [-] of fine solids in it.

    Thomas (1965) over its own value without solids, so that a liquid without fines is itself.
    """
    return np.asarray(viscosity * (suspension.relative_viscosity(fines) / _THOMAS_CLEAR))


def start_log_reynolds(log_archimedes: FloatArray, relative: Mixture | None) -> FloatArray:
    """Where `contact_load` starts: ln Re of each class within about a hundredth."""
    if relative is not None:
        log_archimedes = log_archimedes + 3.0 * np.log(relative.size)
    near = settling.approximate_log_reynolds(np.exp(log_archimedes))
    return settling.improve_log_reynolds(near, log_archimedes)[0]


def contact_load(
    log_reynolds: FloatArray, log_archimedes: FloatArray, pull: FloatArray, relative: Mixture | None
) -> ContactLoad:
    """Share of the solids that ride on their neighbours; settling velocities improve by a Newton step.

    `log_archimedes` and `pull`, the exponent of F times a settling Reynolds number, are those of the grain that
    `relative` sizes refer to; without classes every grain is that one.
    """
    if relative is None:
        log_reynolds, slope = settling.improve_log_reynolds(log_reynolds, log_archimedes)
        exponent = pull * np.exp(-log_reynolds)
        return ContactLoad(np.exp(-exponent), exponent, slope, log_reynolds)
    log_reynolds, slope = settling.improve_log_reynolds(log_reynolds, log_archimedes + 3.0 * np.log(relative.size))
    exponent = pull * relative.size * np.exp(-log_reynolds)
    held = relative.share * np.exp(-exponent)
    fading = held * exponent
    fraction, faded = np.sum(held, axis=0) + _TINY, np.sum(fading, axis=0) + _TINY
    return ContactLoad(fraction, faded / fraction, faded / (np.sum(fading / slope, axis=0) + _TINY), log_reynolds)
