"""No finding reads as what it denies: its number and its limit are written so that one sees which is the larger.

Each case runs over a few dozen designs with every test run, and over thousands with `-m long`.
"""

import re
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from profiler.assess import Finding, evaluate
from profiler.assess.quantities.table import quantity
from profiler.numbers import MINUS, THOUSANDS, Against
from profiler.study import Duty
from profiler.study.files import examples
from tests.laws.bowl.any_design import designs, numbers, plans
from tests.laws.bowl.test_any_design import FEW, MACHINE

WRITTEN = re.compile(rf"(?<![\w.,])[{MINUS}-]?\d+(?:{THOUSANDS}\d{{3}})*(?:\.\d+)?")
SHOWN_AT_ALL = 1e-4  # of a number's own unit; less is nothing, written in any way


def written(text: str) -> list[tuple[float, float]]:
    """Every number of a sentence, and half of what its last digit stands for."""
    found = []
    for match in WRITTEN.findall(text):
        digits = match.replace(THOUSANDS, "").replace(MINUS, "-")
        found.append((float(digits), 0.5 * 10.0 ** -len(digits.partition(".")[2])))
    return found


def misread(text: str, value: float | None, limit: float | None) -> bool:
    """Whether every number that may be the value reads as the limit, though it is another."""
    if value is None or limit is None or abs(value - limit) < SHOWN_AT_ALL:
        return False
    if limit == 0.0:  # how far beyond is often told without a sign
        may = [n for n, half in written(text) if abs(abs(n) - abs(value)) <= half * (1.0 + 1e-9)]
        return bool(may) and not any(may)
    value_may, limit_may = (
        [n for n, half in written(text) if abs(n - v) <= half * (1.0 + 1e-9)] for v in (value, limit)
    )
    return len(value_may) > 1 and len(limit_may) > 1 and len({*value_may, *limit_may}) == 1


def faults(findings: tuple[Finding, ...]) -> list[str]:
    return [
        f.text
        for f in findings
        if misread(f.text, f.value, f.limit) or re.search(rf"{MINUS}0(?:\.0+)?(?![\d.])", f.text)
    ]


def told_apart(design, plan, speed, solids, water):
    duty = Duty("any", dry_feed_t_h=1.5, speed_rpm=float(speed), solids_pct=solids, water_l_min=water)
    found = faults(evaluate(replace(design, holes=plan), MACHINE, duty).findings)
    assert not found, "\n".join(found)


ANY = given(designs(), plans(), st.integers(150, 900), numbers(5, 65, 1), numbers(0, 150, 1))


@pytest.mark.no_cover  # repeats by the hundred what others cover
def test_the_findings_of_any_design_are_told_apart_from_their_limits():
    FEW(ANY(told_apart))()


@pytest.mark.long
def test_the_findings_of_thousands_of_designs_are_told_apart_from_their_limits():
    settings(FEW, max_examples=4000)(ANY(told_apart))()


@pytest.mark.parametrize("name", examples.names())
def test_the_findings_of_an_example_near_by_are_told_apart(name):
    """What drags and steps come by: an example with its foot turned a little, at its speed and at half of it."""
    study = examples.read(name)
    knots = study.design.wall.knots
    for turn, speed in product((-0.07, 0.07), (0.55, 1.0)):
        wall = replace(study.design.wall, knots=(replace(knots[0], angle_deg=knots[0].angle_deg + turn), *knots[1:]))
        duty = replace(study.duty, speed_rpm=round(study.duty.speed_rpm * speed))
        assert not faults(evaluate(replace(study.design, wall=wall), study.machine, duty).findings)


@pytest.mark.parametrize(("text", "value", "limit"), [
    ("the mouth overlaps the next one by 0.0 mm.", 0.047, 0.0),
    ("the film lags by up to 0.15 of the speed; above 0.15 the model is strained.", 0.1536, 0.15),
    ("holes 32 mm apart, over four mouth widths (32 mm)", 32.2, 32.0),
])  # fmt: skip
def test_a_sentence_that_reads_as_its_limit_is_noticed(text, value, limit):
    assert misread(text, value, limit)


@pytest.mark.parametrize(("value", "limit", "spec", "text"), [
    (0.047, 0.0, ".1f", "0.05"),
    (0.1536, 0.15, ".2f", "0.154"),
    (32.2, 32.0, ".0f", "32.2"),
    (31.96, 32.0, ".0f", "31.96"),
    (4.546, 4.54, ".1f", "4.55"),
    (3.26, 3.3, ".1f", "3.26"),
    (7.2, 6.52, ".0f", "7.2"),
    (6.52, 7.2, ".0f", "6.5"),
    (12.34, 10.0, ".1f", "12.3"),
    (5.0, 5.0, ".1f", "5.0"),
    (-0.017, 34.3, ".0f", "-0"),
    (1e-9, 0.0, ".1f", "0.0"),
    (2.0, 1.0, "g", "2"),
])  # fmt: skip
def test_a_number_takes_as_many_decimals_as_tell_it_from_its_limit(value, limit, spec, text):
    assert f"{Against(value, limit):{spec}}" == text


@pytest.mark.parametrize(
    ("ratio", "text"), [(1.9971, "1.997"), (2.0, "2.00"), (2.004, "2.004"), (0.001, "0.001"), (2.36, "2.36")]
)
def test_a_ratio_beside_its_state_never_reads_as_that_of_another(ratio, text):
    assert quantity("groove_ratio").text(ratio) == text
