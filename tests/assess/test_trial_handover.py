"""A study's records become those of the statistics as a whole: what has the same name is the same thing."""

from dataclasses import fields

import pytest
from msgspec import Struct
from msgspec.structs import replace

from profiler.assess.trials.balances import trial_balances
from profiler.assess.trials.verdicts import FORMER_COLUMNS, evaluate_trial, trial_runs
from profiler.statistics.trial.runs import COLUMNS, TrialPlan, TrialRun
from profiler.study.files import examples
from profiler.study.records.trial import Plan, Run

MADE = {"recovery_percent", "mass_pull_percent", "began", "feed_assay_g_t", "closing", "measured"}
WORKED_OUT = MADE | {"feed_grade_g_t", "feed_metal_g"}


@pytest.mark.parametrize(
    ("taken", "record", "made"),
    [(TrialRun, Run, MADE), (TrialPlan, Plan, {"frozen_on"})],
)
def test_every_member_is_a_records_own_or_worked_out(taken: type, record: type[Struct], made: set[str]) -> None:
    """A member renamed on one side alone would be taken as not recorded without a word."""
    names = {field.name for field in fields(taken)}
    assert names - set(record.__struct_fields__) == made


def test_what_was_recorded_arrives_as_recorded() -> None:
    trial = examples.read("trial").trials[0]
    for run, taken in zip(trial.runs, trial_runs(trial, trial_balances(trial)), strict=True):
        for field in fields(taken):
            if field.name not in WORKED_OUT:
                assert getattr(taken, field.name) == getattr(run, field.name)
        assert taken.began is not None and taken.began.isoformat(timespec="minutes") == run.started


def test_a_covariate_under_its_former_name_is_still_understood() -> None:
    assert set(FORMER_COLUMNS.values()) <= set(COLUMNS)
    trial = examples.read("trial").trials[0]
    runs = tuple(replace(run, solids_pct=40.0 + row * row % 7) for row, run in enumerate(trial.runs))
    judged = [
        evaluate_trial(replace(trial, runs=runs, plan=replace(trial.plan, adjust_also=(name,)))).judgement
        for name in ("solids_percent", "solids_pct")
    ]
    assert judged[0] is not None and judged[1] is not None
    assert judged[0].adjustment == judged[1].adjustment and judged[0].adjustment.result is not None
