"""Staged gravity test of an ore: how much gold gravity can take at all, stage by stage.

Each stage is fed with the tail of the one before, less the sub-sample taken from it. Masses in g, grades in g/t,
metal in mg. Not here: one bowl against another (differences, verdict).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray


@dataclass(frozen=True)
class StagedRecovery:
    """Stage metal (k,) and final tail metal in mg, scaled to the whole feed; recoveries as fractions of the head."""

    stage_metal_mg: NDArray[np.float64]
    tail_metal_mg: float
    stage_recoveries: NDArray[np.float64]
    head_g_t: float

    @property
    def recoverable(self) -> float:
        """Gold recovered by all stages, a fraction of the head."""
        return float(self.stage_recoveries.sum())


def staged_recovery(
    feed_g: float,
    concentrates_g: ArrayLike,
    concentrate_grades_g_t: ArrayLike,
    sub_samples_g: ArrayLike,
    final_tail_g_t: float,
) -> StagedRecovery:
    """k concentrates (k,) and their grades (k,); k - 1 sub-samples (k-1,) taken from the tail between the stages."""
    concentrates = np.asarray(concentrates_g, dtype=np.float64)
    grades = np.asarray(concentrate_grades_g_t, dtype=np.float64)
    removed = np.asarray(sub_samples_g, dtype=np.float64)
    if concentrates.shape != grades.shape or removed.size != concentrates.size - 1:
        raise ValueError("Each stage needs a concentrate with its grade, and a sub-sample lies between two stages.")
    scale, left = 1.0, feed_g
    metal = []
    for stage, (mass, grade) in enumerate(zip(concentrates, grades, strict=True)):
        metal.append(scale * mass * grade / 1000.0)
        left -= mass
        if stage < removed.size:
            if not 0.0 <= removed[stage] < left:
                raise ValueError(f"The sub-sample of {removed[stage]:g} g is not less than the {left:g} g of tail.")
            scale *= left / (left - removed[stage])
            left -= removed[stage]
    if left <= 0.0:
        raise ValueError("Concentrates and sub-samples weigh as much as the feed; no tail is left.")
    tail = scale * left * final_tail_g_t / 1000.0
    total = sum(metal) + tail
    if not total > 0.0:
        raise ValueError("No gold was found in concentrates and tail, so there is no recovery.")
    return StagedRecovery(np.array(metal), float(tail), np.array(metal) / total, float(1000.0 * total / feed_g))
