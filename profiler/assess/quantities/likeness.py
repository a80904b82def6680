"""What the measured flumes share with the film in a bowl, and what not: the groups that decide, as ranges of both."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from profiler.assess.evidence.flumes import FIELD, VISCOSITY, FloatArray, Record
from profiler.assess.flow.flow_stage import MIDDLE, Flow
from profiler.physics.grains import settling
from profiler.units import GRAVITY, MICRON


@dataclass(frozen=True, slots=True)
class Stream:
    """What moves, in a flume or in a bowl: arrays of one shape, SI."""

    depth: FloatArray
    velocity: FloatArray  # against the wall
    shear_velocity: FloatArray
    field: FloatArray
    grain_size: FloatArray
    solids_density: FloatArray
    liquid_density: FloatArray
    viscosity: FloatArray

    @property
    def grain(self) -> tuple[FloatArray, ...]:
        return self.grain_size, self.solids_density, self.liquid_density, self.viscosity, self.field


@dataclass(frozen=True, slots=True)
class Likeness:
    """A group's least and greatest value, over the clear-water runs and along the film; None without a film."""

    label: str
    equation: str
    runs: tuple[float, float]
    film: tuple[float, float] | None

    @property
    def cells(self) -> tuple[str, ...]:
        """Label, group, range of the runs, and of the film with the verdict where there is one."""
        told = (self.label, self.equation, _text(self.runs))
        return told if self.film is None else (*told, _text(self.film), self.verdict)

    @property
    def verdict(self) -> str:
        """Whether the film lies within what the runs span; empty without a film."""
        if self.film is None:
            return ""
        (low, high), (least, most) = self.runs, self.film
        if low <= least and most <= high:
            return "shared"
        return "not shared" if most < low or high < least else "partly shared"


GROUPS: tuple[tuple[str, str, Callable[[Stream], FloatArray]], ...] = (
    ("Film depth over grain size", "h/d", lambda s: s.depth / s.grain_size),
    ("Froude number of the film", "V/√(a h)", lambda s: s.velocity / np.sqrt(s.field * s.depth)),
    ("Film speed over settling velocity", "V/v", lambda s: s.velocity / settling.terminal_velocity(*s.grain)),
    ("Grain number", "D* = Ar^(1/3)", lambda s: np.cbrt(settling.archimedes_number(*s.grain))),
    ("Reynolds number of the sheared grains", "u* d/ν",
     lambda s: s.shear_velocity * s.grain_size * s.liquid_density / s.viscosity),
    ("Field, multiples of g", "a/g", lambda s: s.field / GRAVITY),
    ("Grain size, µm", "d", lambda s: s.grain_size / MICRON),
)  # fmt: skip


def likenesses(record: Record, flow: Flow | None = None) -> tuple[Likeness, ...]:
    """Each group of the measured runs beside that of a flow's first duty at middle friction."""
    streams = (of_runs(record), None if flow is None else of_film(flow))
    found = []
    for label, equation, group in GROUPS:
        runs, film = (None if s is None else _range(group(s)) for s in streams)
        assert runs is not None
        found.append(Likeness(label, equation, runs, film))
    return tuple(found)


def of_runs(record: Record) -> Stream:
    """The clear-water runs as they were measured."""
    at, r = record.clear, record.runs
    field = np.full(int(np.sum(at)), FIELD)
    depth = r.depth[at]
    shear = np.sqrt(field * depth * r.slope[at])
    grain = (r.grain_size[at], r.solids_density[at], r.carrier_density[at], np.full_like(depth, VISCOSITY))
    return Stream(depth, r.water_velocity[at], shear, field, *grain)


def of_film(flow: Flow) -> Stream:
    """The film at the nodes, against the wall, with the d50 of what is not liquid counted as one size."""
    film, feed, liquid = flow.film, flow.feed, flow.carrier
    velocity = film.velocity[0, MIDDLE] / np.cos(film.lag_angle[0, MIDDLE])
    shear = velocity * np.sqrt(film.friction_factor[0, MIDDLE] / 8.0)
    same = np.ones_like(velocity)
    return Stream(
        film.depth[0, MIDDLE], velocity, shear, film.acceleration[0, MIDDLE], feed.grain_size[0] * same,
        feed.solids_density[0] * same, liquid.density[0, 0] * same, liquid.viscosity[0, 0] * same,
    )  # fmt: skip


def _text(span: tuple[float, float]) -> str:
    """Both ends to two digits, from 100 to three; one number where they are alike."""
    low, high = (f"{float(f'{v:.3g}' if v >= 100.0 else f'{v:.2g}'):g}" for v in span)
    return low if low == high else f"{low} to {high}"


def _range(values: FloatArray) -> tuple[float, float]:
    return float(np.min(values)), float(np.max(values))
