"""Pressure at the jacket's inlet against the water asked for: what whoever runs the bowl can read off a gauge.

At three of the moments the network knows: turning without slurry, running, at the end of a cycle. Pipes and the rotary
joint before the inlet are not in it.
"""

from dataclasses import dataclass

import numpy as np
from msgspec.structs import replace

from profiler.assess import Evaluation
from profiler.assess.evaluate.batch import under, workable
from profiler.assess.evaluate.evaluation import Stages
from profiler.assess.flow.water_network import MOMENTS
from profiler.geometry.wall import FloatArray
from profiler.units import KILOPASCAL, LITRE_PER_MINUTE

SHARES = (0.5, 0.75, 1.0, 1.25, 1.5)  # of the duty's water
SHOWN = MOMENTS[:3]
EVEN = "not given: without a plan of water holes no pressure can be told"
NO_FLOW = "not given: the flow of this duty could not be worked out"
NO_INLET = "not given: at which radius water enters the jacket is not given"
NO_WATER = "not given: the duty asks for no water"


@dataclass(frozen=True, slots=True)
class WaterCurve:
    """n flows, from the least; k moments as SHOWN."""

    asked_l_min: FloatArray  # (n,)
    given_l_min: FloatArray  # (n, k) what the supply gives of it
    inlet_kpa: FloatArray  # (n, k); nan where there is no answer, below zero where the jacket runs part full
    runs_back: FloatArray  # (n, k) rings into which slurry runs back

    @property
    def duty_at(self) -> int:
        """Which of the flows is the duty's own."""
        return SHARES.index(1.0)


def water_curve(e: Evaluation) -> WaterCurve | str:
    """The curve, or why there is none."""
    if e.shape is not None and e.shape.holes is None:
        return EVEN
    if e.shape is None or e.flow is None:
        return NO_FLOW
    if e.duty.water_l_min <= 0.0:
        return NO_WATER
    if e.machine.jacket_inlet_mm is None:
        return NO_INLET
    duties = workable([replace(e.duty, water_l_min=share * e.duty.water_l_min) for share in SHARES])
    if len(duties) < len(SHARES):
        return NO_FLOW
    found = under(e, duties, Stages.FLOW | Stages.CATCH).catch
    if found is None or found.moments is None:
        return NO_FLOW
    moments, shown = found.moments, slice(0, len(SHOWN))
    flow = moments.flow[:, shown]
    return WaterCurve(
        np.array([d.water_l_min for d in duties]),
        flow.sum(axis=-1) / LITRE_PER_MINUTE,
        moments.inlet_pressure[:, shown] / KILOPASCAL,
        np.sum(flow < 0.0, axis=-1).astype(float),
    )
