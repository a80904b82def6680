"""A negative number is printed with a true minus; hyphens of dates, standards and words stay."""

import random

import pytest

from profiler.assess import evaluate
from profiler.numbers import with_minus
from profiler.study import Knot, fields_of
from profiler.study.files import examples
from tests.safety.any_edits import any_edit


@pytest.mark.parametrize(
    ("text", "printed"),
    [
        ("at -16 mm", "at −16 mm"),
        ("(-0.3 to -0.1)", "(−0.3 to −0.1)"),
        ("2031-03-04", "2031-03-04"),
        ("ISO 21940-11", "ISO 21940-11"),
        ("run-up of 5 s - or more", "run-up of 5 s - or more"),
        ("±2°", "±2°"),
    ],
)
def test_only_a_hyphen_that_means_minus_becomes_one(text: str, printed: str) -> None:
    assert with_minus(text) == printed


def test_a_field_says_its_bounds_with_a_true_minus() -> None:
    objection = fields_of(Knot)["angle_deg"].objection(-61.0)
    assert objection is not None and "−61.00" in objection and "-" not in objection


def test_no_finding_of_any_study_has_a_hyphen_for_a_minus() -> None:
    negative = 0
    for seed in range(12):
        chance = random.Random(seed)
        study = examples.read(chance.choice(examples.names()))
        for _ in range(10):
            study = any_edit(study, chance)
        for finding in evaluate(study.design, study.machine, study.duty).findings:
            texts = (finding.text, "" if finding.remedy is None else finding.remedy.label)
            assert all(text == with_minus(text) for text in texts)
            negative += any("−" in text for text in texts)
    assert negative > 0
