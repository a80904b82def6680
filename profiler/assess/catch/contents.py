"""What the grooves contain, and for how long a cycle: volumes, settled masses, time to fill, mass pull, rinse. SI."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from profiler.assess.flow.flow_stage import MIDDLE, Flow
from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.groove_capacity import contents_polygon, rounded_section, turned_volume
from profiler.geometry.wall import FloatArray
from profiler.physics.grains import packing
from profiler.study import Duty
from profiler.units import MM, PERCENT, TONNE_PER_HOUR

MINUTE = 60.0
DAY = 86400.0


@dataclass(frozen=True, slots=True)
class Contents:
    """d duties, g grooves."""

    volume: FloatArray  # (d, g) m3 below the mouth line and the groove's own bed
    capacity: FloatArray  # (d, 3, g) kg of heavy minerals settled in it, packed loosely, as usual, densely
    heavy_flow: FloatArray  # (d,) kg/s fed
    fill_time: FloatArray  # (d,) s until all grooves are full if every heavy grain stayed; nan without either
    mass_pull: FloatArray  # (d,) share of the dry feed that leaves as concentrate, grooves full at every rinse
    concentrate_per_day: FloatArray  # (d,) kg
    rinse_water: FloatArray  # (d,) m3 a rinse
    stays_behind: FloatArray  # (d,) m3 below the lower edges when the bowl stands


def contents_of(shape: Shape, flow: Flow, duties: Sequence[Duty]) -> Contents:
    def column(name: str, factor: float) -> FloatArray:
        return np.array([getattr(d, name) for d in duties], dtype=float) * factor

    section, lower = rounded_section(shape.contours) * MM, shape.contours.corners[:, 0] * MM
    volume = turned_volume(contents_polygon(section, lower, flow.groove_overfall[:, MIDDLE]))
    heavy = column("heavy_density_kg_m3", 1.0)
    loose, usual, dense = (
        packing.settled_mass(volume, heavy[:, None], share)
        for share in (packing.SETTLED_LOW, packing.SETTLED, packing.SETTLED_HIGH)
    )
    whole = np.sum(usual, axis=1)
    feed = column("dry_feed_t_h", TONNE_PER_HOUR)
    heavy_flow = feed * column("heavy_pct", PERCENT)
    cycle, rinse = column("cycle_min", MINUTE), column("rinse_min", MINUTE)
    fill_time = np.divide(whole, heavy_flow, out=np.full_like(whole, np.nan), where=(heavy_flow > 0.0) & (whole > 0.0))
    behind = float(np.sum(shape.retained_ml)) * 1e-6 if len(shape.mouths) else 0.0
    return Contents(
        volume,
        np.stack((loose, usual, dense), axis=1),
        heavy_flow,
        fill_time,
        whole / (feed * cycle),
        whole * DAY / (cycle + rinse),
        flow.water.total * rinse,
        np.full(len(duties), behind),
    )
