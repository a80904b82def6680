"""Which design runs first in each pair: by chance, but as often the one as the other.

A coin for every pair could by bad luck put one design first nearly always; here half the pairs go either way and
chance decides which. Not here: whether an order that was run was fair (gate_checks).
"""

import numpy as np


def chance_order(pairs: int, seed: int) -> tuple[bool, ...]:
    """(pairs,), true where the reference goes first. The same seed gives the same order, so it can be shown."""
    if pairs < 1:
        raise ValueError(f"An order is drawn for at least one pair, not {pairs}.")
    draw = np.random.default_rng(seed)
    leads = pairs // 2 + int(pairs % 2 and draw.random() < 0.5)
    return tuple(bool(first) for first in draw.permutation(np.arange(pairs) < leads))
