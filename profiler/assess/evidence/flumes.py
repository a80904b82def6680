"""The slurry model held against measured flumes: the slope it predicts for every run, and what those runs measured.

A flume is a bowl of endless radius: the field is gravity, the film does not lag, and a slope is one against the level.
Nothing is fitted: slip and friction are the model's own, at their published values. The runs and their source are in
the packaged data. What may be said of it is in `words`.
"""

from dataclasses import dataclass
from functools import cache
from importlib.resources import files

import numpy as np
from numpy.typing import NDArray

from profiler.physics.slurry.carpet import BED_FRACTION, SLIP, Slurry
from profiler.physics.slurry.repose import Film, repose
from profiler.study import FRICTIONS, Duty
from profiler.units import MM

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

WITHIN = 0.30  # of the measured slope: the working band the runs are counted against
THICKEST_CARRIER = 1250.0  # kg/m3; thicker clay suspensions need more slope than their density explains
FIELD = 9.81  # m/s2
_RADIUS = 1e4  # m; wide enough that a rim is straight
VISCOSITY = 1.1e-3  # Pa s of water; the temperature is not told, and the slope does not depend on it


@dataclass(frozen=True, slots=True)
class Runs:
    """(n,) each, SI."""

    number: NDArray[np.int64]  # row of the source
    clay: BoolArray  # carried by a suspension of clay instead of clear water
    grain_size: FloatArray
    solids_density: FloatArray
    carrier_density: FloatArray
    slope: FloatArray  # tangent
    water_velocity: FloatArray
    depth: FloatArray
    flow: FloatArray  # m2/s of water and grains, per width
    fraction: FloatArray  # delivered, by volume

    @property
    def excess(self) -> FloatArray:
        return (self.solids_density - self.carrier_density) / self.carrier_density


@dataclass(frozen=True, slots=True)
class Record:
    """Predicted slopes (n,), tangents, at low, middle and high friction; the film at middle friction."""

    runs: Runs
    low: FloatArray
    middle: FloatArray
    high: FloatArray
    film: Film

    @property
    def ratio(self) -> FloatArray:
        """Predicted over measured."""
        return self.middle / self.runs.slope

    @property
    def clear(self) -> BoolArray:
        """Clear water, enough grains for a bed."""
        return ~self.runs.clay & self.bedded

    @property
    def clay(self) -> BoolArray:
        """Suspensions thin enough that density is what they add."""
        return self.runs.clay & self.bedded & (self.runs.carrier_density <= THICKEST_CARRIER)

    @property
    def thick_clay(self) -> BoolArray:
        return self.runs.clay & self.bedded & (self.runs.carrier_density > THICKEST_CARRIER)

    @property
    def bedded(self) -> BoolArray:
        """Runs the model has something to say of: below it claims no bed, and the slope is the water's own."""
        return self.runs.fraction >= BED_FRACTION


@dataclass(frozen=True, slots=True)
class Tally:
    """How a part of the runs came out."""

    count: int
    median: float  # of predicted over measured
    within: int  # within `WITHIN` of the measured slope
    in_band: int  # measured slope between those predicted at low and high friction


def tally(record: Record, chosen: BoolArray) -> Tally:
    ratio, slope = record.ratio[chosen], record.runs.slope[chosen]
    in_band = (record.low[chosen] <= slope) & (slope <= record.high[chosen])
    within = np.abs(ratio - 1.0) <= WITHIN
    return Tally(int(np.sum(chosen)), float(np.median(ratio)), int(np.sum(within)), int(np.sum(in_band)))


@cache
def flume_runs() -> Runs:
    """The runs as they are packaged, in SI."""
    text = (files("profiler.data") / "evidence" / "steep_flume.csv").read_text(encoding="utf-8")
    heads, *rows = (line.split(",") for line in text.splitlines() if line and not line.startswith("#"))
    told = dict(zip(heads, zip(*rows, strict=True), strict=True))

    def column(name: str) -> FloatArray:
        return np.array([float(value) for value in told[name]])

    solids = column("bed_load_kg_s_m") / column("solids_kg_m3")
    flow = column("water_l_s") * 1e-3 / column("width_m") + solids
    return Runs(
        number=np.array([int(value) for value in told["row"]]),
        clay=np.array([value == "clay" for value in told["carrier"]]),
        grain_size=column("grain_mm") * MM,
        solids_density=column("solids_kg_m3"),
        carrier_density=column("carrier_kg_m3"),
        slope=column("slope"),
        water_velocity=column("water_m_s"),
        depth=column("depth_m"),
        flow=flow,
        fraction=solids / flow,
    )


@cache
def record() -> Record:
    """The model against every run, at the friction a duty has unless another is typed."""
    usual = Duty("usual")
    films = [flume_film(flume_runs(), getattr(usual, name)) for name in FRICTIONS]
    low, middle, high = (np.tan(film.slope) for film in films)
    return Record(flume_runs(), low, middle, high, films[1])


def flume_film(runs: Runs, friction: float, slip: float = SLIP) -> Film:
    """What the model says of the runs; the slope is that of the film against the level."""
    slurry = Slurry(runs.solids_density, runs.grain_size, runs.carrier_density, VISCOSITY)
    rim = 2.0 * np.pi * _RADIUS
    return repose(
        _RADIUS, np.sqrt(FIELD / _RADIUS), runs.flow * rim, runs.fraction, slurry, friction, lag=False, slip=slip
    )
