"""Balances against published and recomputed examples.

Copper: Wills and Finch, Mineral Processing Technology, chapter 1 (from memory, recomputed). Exam problem: a public
engineering examination. Gold, generic and half recovery: own examples, by the closed form and by derivatives.
"""

import numpy as np
import pytest

from profiler.statistics.balances.balance import Streams, balance
from profiler.statistics.balances.products import distribution
from profiler.statistics.inference.differences import metal_weighted, unpaired
from tests.oracles.trials import (
    equal_error_amplification,
    split_by_grades,
    stream,
    two_product_pull,
    two_product_recovery,
)

# feed, concentrate, tail; pull %, recovery %, ratio of concentration, enrichment; sd points, relative %, amplification
CASES = [
    (0.8, 25, 0.15, 2.615694, 81.740443, 38.2308, 31.25, 1.3167, 1.6109, 0.32217),
    (10, 30, 1, 31.034483, 93.103448, 3.2222, 3.0, 0.6485, 0.6965, 0.13931),
    (2.0, 40, 0.3, 4.282116, 85.642317, 23.3529, 20, 1.0465, 1.2220, 0.24440),
    (1.0, 42, 0.5, 1.204819, 50.602410, 83.0, 42, 3.5568, 7.0289, 1.40577),
    (4.0, 1800, 2.6, 0.0778903, 35.050629, 1283.857, 450, 4.6011, 13.1269, 2.62537),
]


@pytest.mark.parametrize("case", CASES)
def test_two_product_formula_and_its_error(case: tuple[float, ...]) -> None:
    f, c, t, pull, recovery, ratio, enrichment, sd, relative, amplification = case
    assert 100 * two_product_recovery(f, c, t) == pytest.approx(recovery, abs=5e-7)
    assert 100 * two_product_pull(f, c, t) == pytest.approx(pull, abs=5e-7)
    assert 1 / two_product_pull(f, c, t) == pytest.approx(ratio, rel=1e-4)
    assert c / f == pytest.approx(enrichment)
    found = balance(_grades(f, c, t, 0.05, 0.05, 0.05))
    assert 100 * found.two_product.value[0] == pytest.approx(recovery, abs=5e-7)
    assert 100 * found.two_product.sd[0] == pytest.approx(sd, abs=5e-5)
    assert 100 * found.two_product.sd[0] / found.two_product.value[0] == pytest.approx(relative, abs=5e-5)
    of_recovery, of_pull = equal_error_amplification(recovery / 100, pull / 100)
    assert of_recovery == pytest.approx(amplification, rel=1e-4)
    assert found.assay_pull.sd[0] / found.assay_pull.value[0] == pytest.approx(0.05 * of_pull, rel=1e-4)


def test_amplification_tends_to_the_published_limit_at_small_pull() -> None:
    """Abstract of a 2023 preprint: about root 2 * (1 - R) / |R - Y| for recovery."""
    assert equal_error_amplification(0.35, 1e-9)[0] == pytest.approx(2**0.5 * 0.65 / 0.35, rel=1e-6)
    root_at_half = equal_error_amplification(0.5, 0.01)[1] * 0.49 / 0.99
    assert root_at_half == pytest.approx(1.225, abs=5e-4)  # against root 2 in the preprint's yield form


def test_gold_bowl_error_by_derivatives_and_by_simulation() -> None:
    found = balance(_grades(4.0, 1800, 2.6, 0.08, 0.05, 0.08))
    assert 100 * found.two_product.sd[0] == pytest.approx(7.36168, abs=5e-6)
    draw = np.random.default_rng(4)
    f = 4.0 * (1 + 0.08 * draw.standard_normal(400_000))
    c = 1800 * (1 + 0.05 * draw.standard_normal(400_000))
    t = 2.6 * (1 + 0.08 * draw.standard_normal(400_000))
    recovery = 100 * c * (f - t) / (f * (c - t))
    assert recovery.mean() == pytest.approx(34.63, abs=0.05)
    assert recovery.std() == pytest.approx(7.49, abs=0.05)  # a little more than first order: the answer is skewed
    assert np.percentile(recovery, [2.5, 97.5]) == pytest.approx([18.7, 48.1], abs=0.15)
    assert 10_000 * two_product_pull(4.0, 1800, 2.6) == pytest.approx(7.7890, abs=5e-5)  # kg from 10 t


@pytest.mark.parametrize(("argument", "slope"), [(0, 0.162735), (1, -2.81677e-7), (2, -0.250167)])
def test_derivatives_of_the_two_product_formula(argument: int, slope: float) -> None:
    grades = [4.0, 1800.0, 2.6]
    step = 1e-5 * grades[argument]
    ends = []
    for sign in (-1, 1):
        moved = list(grades)
        moved[argument] += sign * step
        ends.append(two_product_recovery(*moved))
    assert (ends[1] - ends[0]) / (2 * step) == pytest.approx(slope, rel=2e-5)
    rsd = [0.0, 0.0, 0.0]
    rsd[argument] = 0.01
    alone = balance(_grades(*grades, *rsd)).two_product.sd[0]
    assert alone == pytest.approx(abs(slope) * 0.01 * grades[argument], rel=2e-5)


@pytest.mark.parametrize(
    ("recovery", "two_product", "over_feed", "built_up"),
    [
        (20, 9.07, 1.91, 1.53),
        (35, 7.37, 3.34, 2.17),
        (50, 5.67, 4.77, 2.38),
        (70, 3.40, 6.68, 2.00),
        (90, 1.13, 8.59, 0.86),
    ],
)
def test_built_up_head_scatters_least(recovery: float, two_product: float, over_feed: float, built_up: float) -> None:
    """Own table: feed 4, concentrate 1800 g/t, assays 8, 5 and 8 %, masses 1 %."""
    mass = recovery / 100 * 4000 / 1800
    found = balance(
        Streams(
            stream(mass=1000, grade=4, grade_rsd=0.08),
            stream(mass=mass, grade=1800, grade_rsd=0.05),
            stream(mass=1000 - mass, grade=(4000 - 1800 * mass) / (1000 - mass), grade_rsd=0.08),
        )
    )
    got = [100 * part.sd[0] for part in (found.two_product, found.over_feed, found.built_up)]
    assert got == pytest.approx([two_product, over_feed, built_up], abs=6e-3)


def test_batch_of_a_bowl() -> None:
    """30 t/h for 60 min at 4 g/t feeds 120 g; at 35 % 42.0 g; 25 kg of concentrate hold 1680 g/t, pull 0.0833 %."""
    fed = 30_000.0
    found = balance(
        Streams(stream(mass=fed, grade=4), stream(mass=25, grade=1680), stream(mass=np.nan, grade=78_000 / (fed - 25)))
    )
    assert 100 * found.over_feed.value[0] == pytest.approx(35.0)
    assert 120 * found.built_up.value[0] == pytest.approx(42.0)  # g caught of 120 g fed
    assert 100 * found.mass_pull[0] == pytest.approx(0.0833, abs=5e-5)
    assert found.accountability.value[0] == pytest.approx(1.0)
    assert found.upgrade[0] == pytest.approx(420.0)


def test_copper_and_zinc_from_three_products() -> None:
    """Wills-type example, from memory, recomputed."""
    found = split_by_grades([0.7, 1.94], [[24.6, 0.4, 0.1], [3.40, 49.7, 0.16]])
    assert 100 * found.mass_shares == pytest.approx([2.406911, 3.435640, 94.157449], abs=5e-7)
    assert 100 * found.recoveries[0, 0] == pytest.approx(84.5857, abs=5e-5)
    assert 100 * found.recoveries[1, 1] == pytest.approx(88.0161, abs=5e-5)


def test_lead_and_zinc_from_three_products() -> None:
    found = split_by_grades([3.0, 6.0], [[50, 2, 0.2], [8, 55, 0.5]])
    assert 100 * found.mass_shares == pytest.approx([5.284011, 9.364586, 85.351403], abs=5e-7)
    assert 100 * found.recoveries[0, 0] == pytest.approx(88.066849, abs=5e-7)
    assert 100 * found.recoveries[1, 1] == pytest.approx(85.842035, abs=5e-7)


def test_gold_in_three_weighed_products() -> None:
    found = distribution([1.25, 3.40, 995.35], [1450, 95, 2.10])
    assert found.metal / 1000 == pytest.approx([1.81250, 0.32300, 2.09024], abs=6e-6)
    assert found.head_grade == pytest.approx(4.225735, abs=5e-7)
    assert 100 * found.metal_shares == pytest.approx([42.8919, 7.6436, 49.4644], abs=5e-5)
    assert 100 * found.mass_shares[:2] == pytest.approx([0.125, 0.340])


def test_mean_of_runs_plain_and_by_metal() -> None:
    """Own example: plain mean 40.66667, weighted by the metal fed 41.17957; the second side only makes a comparison."""
    recoveries = np.array([36.0, 47, 41, 33, 45, 42])
    metal = np.array([410.0, 365, 388, 452, 401, 377]) * [3.6, 5.2, 4.1, 3.2, 4.8, 4.4]
    found = unpaired(recoveries, recoveries + 1.0)
    assert found.reference_mean == pytest.approx(40.66667, abs=5e-6)
    weighted = metal_weighted(found, (recoveries, recoveries + 1.0), (metal, metal))
    assert weighted.reference_mean == pytest.approx(41.17957, abs=5e-6)


def test_two_products_are_the_general_split_of_one_metal() -> None:
    for f, c, t, *_ in CASES:
        split = split_by_grades([f], [[c, t]])
        found = balance(_grades(f, c, t, 0.05, 0.05, 0.05))
        assert found.two_product.value[0] == pytest.approx(split.recoveries[0, 0], rel=1e-12)
        assert found.assay_pull.value[0] == pytest.approx(split.mass_shares[0], rel=1e-12)


def _grades(f: float, c: float, t: float, rsd_f: float, rsd_c: float, rsd_t: float) -> Streams:
    return Streams(
        stream(mass=np.nan, grade=f, grade_rsd=rsd_f),
        stream(mass=np.nan, grade=c, grade_rsd=rsd_c),
        stream(mass=np.nan, grade=t, grade_rsd=rsd_t),
    )
