"""The link from a trial to its designs: what else differs, and one sentence on the prediction, never a recovery."""

import pytest
from msgspec.structs import replace

from profiler.assess.trials.design_link import LIMIT
from profiler.assess.trials.verdicts import evaluate_trial
from profiler.output.blocks.as_text import blocks_text
from profiler.output.trials.trial_blocks import report_blocks, verdict_pane_blocks
from profiler.study.files import examples
from profiler.study.records.design import GROOVE_MOUTH

STUDY = examples.read("trial")
TRIAL = STUDY.trials[0]
A, B = "Plain cone", "Graded, first try"


def with_designs(change):
    return replace(STUDY, designs=tuple(change(d) if d.name == B else d for d in STUDY.designs))


@pytest.fixture(scope="module")
def found():
    return evaluate_trial(TRIAL, STUDY)


def test_the_sentence_names_the_better_design_and_its_limit_and_no_recovery(found):
    assert found.of_prediction.startswith(f"“{B}”, which recovered more, is the design in which")
    assert found.of_prediction.endswith(LIMIT) and "%" not in found.of_prediction
    for blocks in (report_blocks(found), verdict_pane_blocks(found)):
        assert LIMIT in " ".join(blocks_text(blocks).split())


def test_what_else_differs_is_measured_on_both_bowls():
    """A mouth wider by a fifth is said; the measures that stay are not."""
    wide = with_designs(lambda d: replace(d, grooves=replace(d.grooves, mouth_mm=1.2 * d.grooves.mouth_mm)))
    before = {d.label: d for d in evaluate_trial(TRIAL, STUDY).differences}
    after = {d.label: d for d in evaluate_trial(TRIAL, wide).differences}
    mouth = after["Groove mouth, mean"]
    assert mouth.new == pytest.approx(1.2 * GROOVE_MOUTH.get(next(d for d in STUDY.designs if d.name == B)), rel=1e-6)
    assert "Volume of all grooves" in after
    for label in set(before) & set(after):
        assert before[label].reference == after[label].reference


def test_two_bowls_of_one_drawing_differ_in_nothing_and_test_nothing():
    first = next(d for d in STUDY.designs if d.name == A)
    found = evaluate_trial(TRIAL, with_designs(lambda d: replace(first, name=B)))
    assert found.differences == ()
    assert "does not test the prediction" in found.of_prediction


def test_a_trial_that_is_not_fair_or_not_resolved_says_nothing_of_the_prediction():
    faster = tuple(replace(r, speed_rpm=700.0) if r.design == B else r for r in TRIAL.runs)
    unfair = evaluate_trial(replace(TRIAL, runs=faster), STUDY)
    assert "not fair, so it says nothing" in unfair.of_prediction
    few = evaluate_trial(replace(TRIAL, runs=TRIAL.runs[:8]), STUDY)
    assert "does not tell the designs apart" in few.of_prediction


def test_without_both_designs_nothing_is_said():
    gone = replace(STUDY, designs=tuple(d for d in STUDY.designs if d.name != B))
    found = evaluate_trial(TRIAL, gone)
    assert found.differences == () and found.of_prediction == ""
    assert evaluate_trial(TRIAL).of_prediction == ""


def test_the_other_reference_turns_the_columns_and_keeps_the_sentence(found):
    turned = evaluate_trial(replace(TRIAL, plan=replace(TRIAL.plan, reference=B)), STUDY)
    assert turned.of_prediction == found.of_prediction
    assert [(d.label, d.new, d.reference) for d in turned.differences] == [
        (d.label, d.reference, d.new) for d in found.differences
    ]
