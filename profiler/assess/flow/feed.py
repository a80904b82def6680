"""The duties as arrays in SI: what is fed, how fast the bowl turns, what water is asked for."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from profiler.assess.flow.sizes import batch_of, d50_um
from profiler.physics.grains.classed_grains import SizeClasses
from profiler.physics.slurry.surface import FloatArray
from profiler.physics.water import properties as water
from profiler.study import Calibrated, Duty
from profiler.units import LITRE_PER_MINUTE, MICRON, PERCENT, RPM, TONNE_PER_HOUR

FAR = 1.0 / 3.0  # of the measured condition: farther away a calibration is less sure


@dataclass(frozen=True, slots=True)
class Feed:
    """The duties as arrays over them, (d,), SI."""

    angular_speed: FloatArray
    slurry_flow: FloatArray  # m3/s
    solids_flow: FloatArray  # m3/s
    mass_flow: FloatArray  # kg/s
    water_flow: FloatArray  # m3/s, fluidising
    water_density: FloatArray
    water_viscosity: FloatArray
    solids_density: FloatArray
    grain_size: FloatArray  # d50
    yield_stress: FloatArray | None  # (d,) Pa of the carrier, 0 where none is given; None where no duty has any
    friction: FloatArray  # (d, 3)
    classes: SizeClasses | None  # (d, k); None where every duty gives one d50
    classed: NDArray[np.bool_]  # (d,) which duties give classes
    measured_radius: FloatArray  # (d,) mm, lip radius of the bowl the friction was measured in; nan where it was not
    measured_elsewhere: NDArray[np.bool_]  # (d,) at solids or a size that differ by more than a third


def feed_of(duties: Sequence[Duty]) -> Feed:
    def column(name: str, factor: float = 1.0) -> FloatArray:
        return np.array([getattr(d, name) for d in duties], dtype=float) * factor

    temperature = column("temperature_c")
    liquid, solids = np.asarray(water.density(temperature)), column("solids_density_kg_m3")
    solids_mass = column("dry_feed_t_h", TONNE_PER_HOUR)
    mass = solids_mass / column("solids_pct", PERCENT)
    solids_flow = solids_mass / solids
    flow = solids_flow + (mass - solids_mass) / liquid
    friction = np.stack([column(n) for n in ("friction_low", "friction", "friction_high")], axis=1)
    viscosity = np.asarray(water.viscosity(temperature))
    return Feed(
        column("speed_rpm", RPM), flow, solids_flow, mass, column("water_l_min", LITRE_PER_MINUTE), liquid, viscosity,
        solids, np.array([d50_um(d) for d in duties]) * MICRON, _yield_stress(duties), friction, batch_of(duties),
        np.array([bool(d.size_classes) for d in duties]),
        np.array([np.nan if d.calibrated is None else d.calibrated.lip_radius_mm for d in duties]),
        np.array([d.calibrated is not None and _is_elsewhere(d, d.calibrated) for d in duties]),
    )  # fmt: skip


def _yield_stress(duties: Sequence[Duty]) -> FloatArray | None:
    found = np.array([d.yield_stress_pa or 0.0 for d in duties])
    return found if found.any() else None


def _is_elsewhere(duty: Duty, measured: Calibrated) -> bool:
    return differs(duty.solids_pct, measured.solids_pct) or differs(d50_um(duty), measured.d50_um)


def differs(value: float, measured: float) -> bool:
    """Whether a condition differs by more than a third from the measured one."""
    return not abs(value - measured) <= FAR * measured
