"""A thousand runs are balanced, flagged, judged and put into words in under half a second, scipy loaded before."""

import subprocess
import sys
import time
from dataclasses import replace

import numpy as np
import pytest

from profiler.statistics.balances.balance import Streams, balance, stream
from profiler.statistics.balances.bases import Basis, FeedGrade, recoveries_on
from profiler.statistics.balances.reconciliation import reconcile_runs
from profiler.statistics.trial.account import account
from profiler.statistics.trial.judge import judge
from profiler.statistics.trial.run_flags import flag_runs
from profiler.statistics.trial.runs import Structure, TrialPlan, TrialRun

RUNS = 1000


@pytest.mark.parametrize("structure", [Structure.PAIRS, Structure.UNPAIRED, Structure.INSTALLATIONS])
def test_a_thousand_runs_take_less_than_half_a_second(structure: Structure) -> None:
    draw = np.random.default_rng(0)
    grades = [part * (1 + 0.05 * draw.standard_normal(RUNS)) for part in (4.0, 1400.0, 2.45)]
    plan = TrialPlan(structure=structure, worthwhile_points=0.5, basis=Basis.BUILT_UP, feed_grade=FeedGrade.INDEPENDENT)
    _evaluate([part[:40] for part in grades], plan)  # loads scipy
    best = min(_timed(grades, plan) for _ in range(3))  # other work on the machine must not decide
    assert best < 0.5


def _timed(grades: list[np.ndarray], plan: TrialPlan) -> float:
    start = time.perf_counter()
    _evaluate(grades, plan)
    return time.perf_counter() - start


def _evaluate(grades: list[np.ndarray], plan: TrialPlan) -> str:
    count = grades[0].size
    streams = Streams(
        stream(mass=np.full(count, 1000.0), grade=grades[0], grade_rsd=0.08),
        stream(mass=np.full(count, 1.2), grade=grades[1], grade_rsd=0.05),
        stream(mass=np.full(count, np.nan), grade=grades[2], grade_rsd=0.08),
    )
    balances, reconciled = balance(streams), reconcile_runs(streams)
    flag_runs(streams, balances, reconciled)
    recoveries = 100 * recoveries_on(plan.basis, balances, reconciled).value
    blank = TrialRun(run="", design="", recovery_percent=0.0)
    runs = [
        replace(blank, run=str(row), design="AB"[row % 2], block=str(row // 2), installation=f"{row % 2}-{row // 20}",
                recovery_percent=float(recoveries[row]), feed_grade_g_t=float(grades[0][row]), feed_metal_g=4000.0,
                speed_rpm=640.0, water_l_min=40.0, feed_f80_um=400.0, mass_pull_percent=0.12, wear_h=float(row))
        for row in range(count)
    ]  # fmt: skip
    if plan.structure is Structure.INSTALLATIONS:
        runs = [replace(run, block="") for run in runs]
    return account(judge(runs, plan))


def test_loading_the_room_does_not_load_scipy() -> None:
    used = ("trial.account", "sampling.budget", "balances.sizes", "trial.planner")
    code = "import sys; " + "".join(f"import profiler.statistics.{name}; " for name in used)
    code += "sys.exit('scipy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
