"""Whether a groove's water loosens its bed and spares the target: velocities against what they are measured by.

The bed in a groove turns with the bowl, so the bowl's own acceleration acts on it. Arrays are (d, g), SI; a band (d, 3,
g) is low, middle, high over the published correlations.
"""

from dataclasses import dataclass

import numpy as np

from profiler.assess.flow.flow_stage import Flow
from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.wall import FloatArray
from profiler.physics.grains import fluidising
from profiler.physics.rotor import rotation
from profiler.units import MM

LOOSE = (0.5, 1.5)  # good velocity ratios: loosened, not flushed; common practice, no source


@dataclass(frozen=True, slots=True)
class GrooveWater:
    mouth_velocity: FloatArray  # superficial; negative where slurry runs back
    floor_velocity: FloatArray
    least: FloatArray  # (d, 3, g) m/s that just lifts a gangue bed at the mouth: least, median, greatest correlation
    ratio: FloatArray  # (d, 3, g) mouth velocity over it: low, middle, high
    floor_ratio: FloatArray  # (d, 3, g) the same at the groove floor
    dense_ratio: FloatArray  # (d, 3, g) at the mouth for a groove full of heavy minerals


def groove_water(shape: Shape, flow: Flow, heavy_density: FloatArray) -> GrooveWater:
    """`heavy_density` (d,) kg/m3 of what fills the grooves at the end of a cycle."""
    feed = flow.feed
    corners = shape.contours.corners * MM
    mouth_radius = shape.wall.radius_at(shape.mouths.middle) * MM
    floor_radius = np.mean(corners[:, 1:3, 0], axis=1)
    mouth = flow.water.ring / (2.0 * np.pi * mouth_radius * shape.cut.mouth * MM)
    width = np.hypot(*np.moveaxis(corners[:, 2] - corners[:, 1], -1, 0))
    floor = flow.water.ring / (2.0 * np.pi * floor_radius * width)

    def lifting(radius: FloatArray, density: FloatArray) -> FloatArray:
        field = rotation.acceleration(feed.angular_speed[:, None], radius)
        liquid, viscosity = feed.water_density[:, None], feed.water_viscosity[:, None]
        found = fluidising.minimum_velocities(feed.grain_size[:, None], density[:, None], liquid, viscosity, field)
        return np.stack(found, axis=1)

    least = lifting(mouth_radius, feed.solids_density)
    return GrooveWater(
        mouth,
        floor,
        least,
        _over(mouth, least),
        _over(floor, lifting(floor_radius, feed.solids_density)),
        _over(mouth, lifting(mouth_radius, heavy_density)),
    )


def _over(velocity: FloatArray, band: FloatArray) -> FloatArray:
    """Low, middle, high of a ratio from low, middle, high of what divides."""
    ratio = velocity[:, None] / band
    return np.sort(ratio, axis=1)
