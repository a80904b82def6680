"""The n-product balance: published three-product examples, and a gold cleaner by hand.

Copper and zinc: after B. A. Wills and J. Finch, Mineral Processing Technology, three-product formula (the numbers from
memory). Lead and zinc: a public course example of the same formula. Gold: own example, sums by hand.
"""

import numpy as np
import pytest

from profiler.statistics.balances.balance import Stream
from profiler.statistics.balances.products import distribution, product_masses, product_recoveries, together

COPPER_ZINC = [0.7, 1.94], [[24.6, 0.4, 0.1], [3.40, 49.7, 0.16]]
LEAD_ZINC = [3.0, 6.0], [[50.0, 2.0, 0.2], [8.0, 55.0, 0.5]]
GOLD_KG, GOLD_G_T = [1.25, 3.40, 995.35], [1450.0, 95.0, 2.10]


def stream(mass: float, grade: float, mass_rsd: float = 0.0, grade_rsd: float = 0.0) -> Stream:
    return Stream(*(np.array([value]) for value in (mass, grade, mass_rsd, grade_rsd)))


@pytest.mark.parametrize(
    ("fed", "grades", "shares", "recoveries"),
    [
        (*COPPER_ZINC, (2.406911, 3.435640, 94.157449), (84.5857, 88.0161)),
        (*LEAD_ZINC, (5.284011, 9.364586, 85.351403), (88.066849, 85.842035)),
    ],
)
def test_three_products_of_two_metals(fed, grades, shares, recoveries) -> None:
    found = product_masses(100.0, fed, grades)
    assert found == pytest.approx(shares, abs=5e-7)
    caught = [found[k] * grades[k][k] / fed[k] for k in range(2)]
    assert caught == pytest.approx(recoveries, abs=5e-5)


def test_gold_to_three_products_with_their_masses() -> None:
    found = distribution(GOLD_KG, GOLD_G_T)
    assert found.metal == pytest.approx([1812.50, 323.00, 2090.235])
    assert found.head_grade == pytest.approx(4.225735, abs=5e-7)
    assert 100 * found.metal_shares == pytest.approx([42.8919, 7.6436, 49.4644], abs=5e-5)
    recoveries = product_recoveries([stream(m, g) for m, g in zip(GOLD_KG, GOLD_G_T, strict=True)])
    assert [100 * r.value[0] for r in recoveries] == pytest.approx([42.8919, 7.6436, 49.4644], abs=5e-5)
    assert [r.sd[0] for r in recoveries] == [0.0, 0.0, 0.0]


def test_a_mass_that_was_not_weighed_is_told_by_the_assays() -> None:
    head = 4.225735
    found = product_masses(1000.0, [head], [GOLD_G_T], [1.25, np.nan, np.nan])
    assert found == pytest.approx(GOLD_KG, abs=1e-4)
    assert np.isnan(product_masses(1000.0, [head], [GOLD_G_T])).all()  # three masses, two equations
    assert np.isnan(product_masses(1000.0, [9000.0], [GOLD_G_T], [1.25, np.nan, np.nan])[1])  # a mass below nothing


def test_two_products_are_the_one_they_came_from() -> None:
    both = together(stream(1.25, 1450.0), stream(3.40, 95.0))
    assert both.mass[0] == pytest.approx(4.65) and both.grade[0] == pytest.approx(2135.5 / 4.65)


def test_the_error_of_a_recovery_is_that_of_a_simulation() -> None:
    """First order against 200,000 draws with errors of 1 % on masses and 6, 8, 8 % on grades."""
    errors = (0.06, 0.08, 0.08)
    parts = [stream(m, g, 0.01, e) for m, g, e in zip(GOLD_KG, GOLD_G_T, errors, strict=True)]
    draw = np.random.default_rng(4)
    metal = np.stack(
        [m * (1 + 0.01 * draw.standard_normal(200_000)) * g * (1 + e * draw.standard_normal(200_000))
         for m, g, e in zip(GOLD_KG, GOLD_G_T, errors, strict=True)]
    )  # fmt: skip
    seen = (metal / metal.sum(axis=0)).std(axis=1)
    assert [r.sd[0] for r in product_recoveries(parts)] == pytest.approx(seen, rel=0.02)
