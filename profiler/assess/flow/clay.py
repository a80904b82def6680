"""What a yield stress of the carrier does to the slope, and how readers are told of one that is given or not."""

import numpy as np

from profiler.assess.flow.flow_stage import MIDDLE, Flow
from profiler.geometry.wall import FloatArray
from profiler.physics.grains import suspension
from profiler.study import Duty
from profiler.study.records.duty import YIELD_STRESS

LEFT_OUT = "Yield stress not given: the slope that clay would hold up is left out."


def clay_words(duty: Duty) -> str:
    """Whether clay's strength is in the slope, as one sentence."""
    stress = duty.yield_stress_pa
    if stress is None:
        return LEFT_OUT
    if stress <= 0.0:
        return "Yield stress measured as none: clay holds up no slope."
    return (
        f"Yield stress {YIELD_STRESS.with_unit(stress)}: it holds up slope of its own, the same all the way up; film "
        "friction and settling are those of a liquid without one."
    )


def clay_slope(flow: Flow) -> FloatArray:
    """(d, m) rad of the slope at the nodes, at middle friction, that a yield stress holds up beside the grains."""
    film = flow.film
    slope, field, depth, lag_angle, place = (
        getattr(film, name)[:, MIDDLE] for name in ("slope", "acceleration", "depth", "lag_angle", "in_place_fraction")
    )
    if flow.feed.yield_stress is None:
        return np.zeros_like(slope)
    dense = suspension.mixture_density(place, flow.feed.solids_density[:, None], flow.carrier.density[:, 0])
    held = flow.feed.yield_stress[:, None] * np.cos(lag_angle) / (dense * field * depth)
    return np.asarray(slope - np.arctan(np.tan(slope) - held))
