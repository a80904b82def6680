"""Which grains have reached the wall on their way up: Hazen's overflow over the bed wetted below each groove.

Reaching the wall is not being kept: above some 10 µm nearly everything arrives, and what a groove keeps decides. SI.
"""

from dataclasses import dataclass

import numpy as np

from profiler.assess.flow.flow_stage import LEAST_ROOM, MIDDLE, Flow, at_grooves
from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.wall import FloatArray
from profiler.physics.grains import capture
from profiler.physics.grains import real_grains as grains


@dataclass(frozen=True, slots=True)
class Arrival:
    """d duties, g grooves."""

    wetted: FloatArray  # (d, g) m2 of bed surface run over below
    passing: FloatArray  # (d, g) m3/s of slurry and water that pass
    size: FloatArray  # (d, g) m, smallest target grain that all arrives, film not mixed across
    mixed: FloatArray  # (d, g) share of the duty's target grains that arrives, film fully mixed across
    unmixed: FloatArray  # (d, g) the same, not mixed


def arrival_of(
    shape: Shape,
    flow: Flow,
    velocity: FloatArray,
    target: grains.SizeLaw,
    among: tuple[FloatArray, FloatArray, FloatArray],
) -> Arrival:
    """`velocity` (d, g) m/s of the target grain and the `target` law of its kind at the film's field.

    `among` are the grains' fraction in place and the liquid's density and viscosity, (d, g).
    """
    at, node = shape.stations, shape.stations.node
    height = at.line.height[node]
    # a bed that fills the bowl has no surface left: the slurry runs over what room there is, as in the flow stage
    radius = np.maximum(flow.bed.radius[:, MIDDLE].take(node, axis=-1), LEAST_ROOM * at.line.radius[node])
    slant = np.hypot(np.diff(height), np.diff(radius, axis=1))
    area = np.zeros_like(radius)
    area[:, 1:] = np.cumsum(np.pi * slant * (radius[:, 1:] + radius[:, :-1]), axis=1)
    wetted = at_grooves(shape, area)
    passing = flow.feed.slurry_flow[:, None] + flow.water.added_below
    needed = capture.overflow_velocity(passing, wetted)
    return Arrival(
        wetted,
        passing,
        grains.size_that_settles(needed, lambda d: grains.hindered(target(d), d, *among)),
        capture.arrival_mixed(velocity, passing, wetted),
        capture.arrival_plug(velocity, passing, wetted),
    )
