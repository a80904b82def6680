"""A number that cannot be is a finding on its run and counts as not recorded; the rest is judged all the same."""

import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.assess.trials.usable import usable
from profiler.assess.trials.verdicts import evaluate_trial
from profiler.output.blocks.as_document import report_html
from profiler.output.report.content import Job, report_of
from profiler.study.files import examples
from profiler.study.records.fields import fields_of
from profiler.study.records.trial import Plan, Run, SamplingInputs, WorthInputs

STUDY = examples.read("trial")
TRIAL = STUDY.trials[0]
ROW = 2
VALUES = (1e308, -1e308, 1e-308)


def with_run(run: Run):
    return replace(TRIAL, runs=(*TRIAL.runs[:ROW], run, *TRIAL.runs[ROW + 1 :]))


def spoilt():
    """The third run with one number of it spoilt, one at a time."""
    run = TRIAL.runs[ROW]
    for value in VALUES:
        for name, field in fields_of(Run).items():
            if not field.low <= value <= field.high:
                yield f"{name} {value:g}", replace(run, **{name: value})
        for name in ("feed", "concentrate", "tail"):
            stream = getattr(run, name)
            yield f"{name} mass {value:g}", replace(run, **{name: replace(stream, mass_kg=value)})
            yield f"{name} grade {value:g}", replace(run, **{name: replace(stream, grades_g_t=(value,))})
    yield "sizes", replace(run, sizes=(replace(run.sizes[0], tail_g_t=1e308), *run.sizes[1:]))


SPOILT = dict(spoilt())


@pytest.mark.parametrize("what", SPOILT)
def test_one_number_that_cannot_be_is_flagged_on_its_run_and_the_rest_is_judged(what):
    trial = with_run(SPOILT[what])
    found = evaluate_trial(trial, STUDY)
    assert found.trial is trial  # the file's number stays
    assert found.judgement is not None
    assert "out-of-bounds" in [flag.code for flag in found.balances.flags[ROW]]
    assert sum(len(flags) for row, flags in enumerate(found.balances.flags) if row != ROW and flags) == 0
    assert any(problem.startswith("Run 3: ") and "counts as not recorded" in problem for problem in found.problems)
    assert found.judgement.verdict.favours == "Graded, first try"


def test_a_sound_trial_is_left_the_very_same():
    assert usable(TRIAL).trial is TRIAL


@pytest.mark.parametrize(("part", "kind"), [("plan", Plan), ("sampling", SamplingInputs), ("worth", WorthInputs)])
def test_numbers_of_plan_samples_and_worth_that_cannot_be_are_named_and_passed_over(part, kind):
    for name in fields_of(kind):
        value = 10**9 if fields_of(kind)[name].is_whole else 1e308
        trial = replace(TRIAL, **{part: replace(getattr(TRIAL, part), **{name: value})})
        found = evaluate_trial(trial, STUDY)
        assert found.judgement is not None and any("counts as not recorded" in p for p in found.problems), name


def test_one_bad_trial_never_takes_away_the_report():
    spoilt_runs = tuple(replace(run, run=f"S{i}") for i, run in enumerate(list(SPOILT.values())[::9]))
    found = tuple(evaluate_trial(t, STUDY) for t in (replace(TRIAL, name="Bad", runs=spoilt_runs), TRIAL))
    html = report_html(report_of(evaluate(STUDY.design, STUDY.machine, STUDY.duty), Job("J", "D", "1"), found))
    assert "Trial: Bad" in html and f"Trial: {TRIAL.name}" in html
