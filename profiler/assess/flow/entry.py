"""Up to which height the film still comes up to speed: no state is claimed there."""

import numpy as np

from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.wall import FloatArray
from profiler.physics.slurry.repose import Film
from profiler.study import Machine
from profiler.units import MM

MIDDLE = 1  # friction


def entry_heights(machine: Machine, shape: Shape, film: Film) -> FloatArray:
    """(d,) mm above the floor below which no state is claimed: the film is still coming up to speed there.

    The machine's own number, or four film depths over the friction factor at the floor, at least one pitch.
    """
    if machine.entry_mm is not None:
        return np.full(len(film.depth), float(machine.entry_mm))
    run = 4.0 * film.depth[:, MIDDLE, 0] / np.maximum(film.friction_factor[:, MIDDLE, 0], 1e-9) / MM
    pitch = float(np.min(np.diff(shape.mouths.middle))) if len(shape.mouths) > 1 else 0.0
    return np.asarray(np.minimum(np.maximum(run * np.cos(shape.stations.angle[0]), pitch), shape.height))
