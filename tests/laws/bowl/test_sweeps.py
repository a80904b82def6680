"""Along every input, from its lowest to its highest value: every number exists, bands stay in order, nothing jumps."""

import numpy as np
import pytest

from tests.laws.bowl.sweeps import KEPT, SMALL_ANGLE, SMALL_RATIO, SWEEPS, Sweep, moves, sound, told

HALVINGS = 6


def largest_move_left(sweep: Sweep, key: str, low: float, high: float, small: float) -> float:
    """What is left of the largest move between two neighbouring values after halving the step, again and again."""
    left = 0.0
    for _ in range(HALVINGS):
        middle = float(np.sqrt(low * high)) if sweep.by_ratio else 0.5 * (low + high)
        found = moves(getattr(told(sweep, np.array([low, middle, high])), key))
        k = int(np.argmax(found))
        low, high, left = (low, middle, float(found[0])) if k == 0 else (middle, high, float(found[1]))
        if left <= small:
            break
    return left


def swept(name: str, steps: int) -> None:
    sweep = SWEEPS[name]
    values = sweep.values(steps)
    all_told = told(sweep, values, sound)
    assert np.isfinite(all_told.angle).any(axis=1).sum() > 0.3 * steps
    for key, small in (("angle", SMALL_ANGLE), ("ratio", SMALL_RATIO)):
        found = moves(getattr(all_told, key))
        i = int(np.argmax(found))
        left = largest_move_left(sweep, key, float(values[i]), float(values[i + 1]), small)
        assert left <= max(small, KEPT**HALVINGS * found[i]), f"{key} jumps between {values[i]} and {values[i + 1]}"


@pytest.mark.no_cover
@pytest.mark.parametrize("name", SWEEPS)
def test_along_every_input_all_is_sound_and_nothing_jumps(name: str) -> None:
    swept(name, 60)


@pytest.mark.long
@pytest.mark.parametrize("name", SWEEPS)
def test_along_every_input_in_a_thousand_steps(name: str) -> None:
    swept(name, 1000)
