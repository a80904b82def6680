"""Eddies stacked in a deep slot: Moffatt H.K. (1964) J. Fluid Mech. 18, 1-18, from memory.

Creeping flow between parallel plates: psi goes as exp of (4.212 + 2.251 i) times the depth over the half width, so each
eddy is 357.7 times weaker than the one above it, 1.396 widths higher. The roots of sin z + z = 0 are found anew below.
The driven eddy feels the lid; from the second on the ratio holds.
"""

import numpy as np
import pytest

from profiler.physics.eddy.flow import Drive, Eddy, solve
from profiler.physics.eddy.measures import measure, turns
from profiler.physics.eddy.section import Groove

RATIO, SPACING = 357.7, 1.396
CREEPING = Drive(1e-4)


@pytest.fixture(scope="module")
def slot() -> Eddy:
    found = solve(Groove.cut(5.5), CREEPING, (16, 48))
    assert isinstance(found, Eddy)
    return found


def test_ratio_and_spacing_follow_from_the_plates():
    z = 4.2 + 2.2j
    for _ in range(20):
        z -= (np.sin(z) + z) / (np.cos(z) + 1.0)
    assert np.exp(np.pi * z.real / z.imag) == pytest.approx(RATIO, rel=1e-3)
    assert np.pi / z.imag == pytest.approx(SPACING, rel=1e-3)


def test_the_second_eddy_stands_over_the_third_as_between_plates(slot):
    _, second, third, *_ = turns(slot, weakest=1e-9)
    assert -second.psi / third.psi == pytest.approx(RATIO, rel=0.02)
    assert second.centre[1] - third.centre[1] == pytest.approx(SPACING, rel=0.02)


def test_eddies_turn_by_turns_down_the_middle(slot):
    found = turns(slot, weakest=1e-9)
    assert [turn.psi < 0.0 for turn in found] == [True, False, True, False]
    assert [turn.centre[0] for turn in found] == pytest.approx([0.5] * 4, abs=1e-6)


def test_what_is_ten_thousand_times_weaker_is_not_told(slot):
    assert len(measure(slot).stacked) == 1
