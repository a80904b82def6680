"""Tolerances against their standards.

ISO 2768-1:1989: three printed tables agree. ISO 286-1: the formula of the standard, i = 0.45 D^(1/3) + 0.001 D
micrometres to 500 mm and I = 0.004 D + 2.1 above, D the geometric mean of the step, grades at 10 16 25 40 64 100;
printed values are rounded, by at most 7 % here. ISO 3302-1: monotony only, its values are from memory.
"""

import itertools

import pytest

from profiler.pictures.drawing.tolerances import (
    GENERAL,
    GRADES,
    MOULDED,
    SHAFTS,
    UNCHECKED,
    deviations,
    general_steps,
    general_words,
)

MULTIPLES = dict(zip(GRADES, (10, 16, 25, 40, 64, 100), strict=True))
STEPS = (3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150)


@pytest.mark.parametrize(
    ("name", "printed"),
    [
        ("f", {3: 0.05, 6: 0.05, 30: 0.1, 120: 0.15, 400: 0.2, 1000: 0.3, 2000: 0.5}),
        ("m", {3: 0.1, 6: 0.1, 30: 0.2, 120: 0.3, 400: 0.5, 1000: 0.8, 2000: 1.2, 4000: 2.0}),
        ("c", {3: 0.2, 6: 0.3, 30: 0.5, 120: 0.8, 400: 1.2, 1000: 2.0, 2000: 3.0, 4000: 4.0}),
    ],
)
def test_general_tolerances_are_the_printed_ones(name, printed):
    steps = general_steps(f"ISO 2768-1 {name}")
    assert {size: next(v for low, high, v in steps if low < size <= high) for size in printed} == printed


@pytest.mark.parametrize("grade", GRADES)
def test_a_grade_is_what_the_standards_formula_gives_but_for_rounding(grade):
    for low, high in itertools.pairwise(STEPS):
        mean = (low * high) ** 0.5
        unit = 0.45 * mean ** (1 / 3) + 0.001 * mean if high <= 500 else 0.004 * mean + 2.1
        upper, lower = deviations(f"H{grade}", high)
        assert lower == 0.0 and upper * 1e3 == pytest.approx(MULTIPLES[grade] * unit, rel=0.07, abs=1.0)
        assert deviations(f"h{grade}", high) == (0.0, -upper)


def test_the_best_known_values_of_the_table():
    """H7 over 50 to 80 is +30, H7 over 315 to 400 +57, h9 over 400 to 500 -155, H11 over 18 to 30 +130."""
    assert deviations("H7", 76.0) == pytest.approx((0.030, 0.0))
    assert deviations("H7", 360.0) == pytest.approx((0.057, 0.0))
    assert deviations("h9", 486.69) == pytest.approx((0.0, -0.155))
    assert deviations("H11", 25.0) == pytest.approx((0.130, 0.0))
    assert deviations("H7", 4000.0) is None


@pytest.mark.parametrize(("name", "end"), [("ISO 2768-1 f", 2000), ("ISO 2768-1 m", 4000), ("ISO 2768-1 c", 4000)])
def test_a_part_larger_than_the_table_is_told_that_it_has_none(name, end):
    """ISO 2768-1 table 1, as far as it is remembered: f ends at 2000 mm, m and c at 4000."""
    assert "NONE" not in general_words(name, end) and f"over {end} NONE" in general_words(name, end + 1.0)


@pytest.mark.parametrize("name", MOULDED)
def test_moulded_classes_widen_with_size_and_class_and_say_they_were_not_checked(name):
    reaches = [deviations(name, size)[0] for size in (2, 5, 8, 12, 20, 30, 50, 80, 120, 170, 500, 2000)]
    assert reaches == sorted(reaches) and UNCHECKED in general_words(f"ISO 3302-1 {name}", 500.0)
    coarser = MOULDED[min(MOULDED.index(name) + 1, len(MOULDED) - 1)]
    assert deviations(coarser, 500.0)[0] >= deviations(name, 500.0)[0]


def test_every_class_on_offer_has_values():
    assert GENERAL[0] == "ISO 2768-1 m"
    assert all(deviations(c, 300.0) is not None for c in SHAFTS)
    for name in GENERAL:
        steps = general_steps(name)
        assert all(a[1] == b[0] and a[2] <= b[2] for a, b in itertools.pairwise(steps))
