"""The benchmarks run. What they measure is for people to read: no test passes or fails by the clock."""

import subprocess
import sys
from pathlib import Path

import pytest

from profiler.output.outputs import OUTPUTS
from tests.benchmarks.trials import READ, RUNS, STRUCTURES

ROOT = Path(__file__).parents[2]


@pytest.mark.long  # it measures everything once: over a minute
def test_the_table_is_printed_with_a_row_for_everything_measured() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "tests.benchmarks", "--counts", "2"],
        cwd=ROOT, capture_output=True, text=True, timeout=300, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    rows = {line[:46].strip(): [float(n) for n in line[46:].split()] for line in done.stdout.splitlines()[2:]}
    exports = [f"{suffix} {output.key}, warm" for output in OUTPUTS for suffix in output.suffixes]
    assert list(rows) == [
        "recompute, 40 grooves, in sight",
        "recompute, 40 grooves, all stages",
        "drag, all strips at 1400x900",
        "process start to first paint",
        "ore map, one step of 20 duties",
        "a fit, 40 grooves",
        "a fit that finds no way, 40 grooves",
        "a DXF of 20,000 entities",
        *exports,
        "eddy, 16 x 16 elements from rest",
        "eddy, 24 x 24 elements from a neighbour",
        "eddies of 16 grooves, in the worker",
        "wait of the window meanwhile, beyond a frame",
        *(f"{RUNS} runs judged, {structure}" for structure in STRUCTURES),
        f"{READ} runs read from a table and judged",
    ]
    assert all(numbers[0] > 0.0 and numbers[-1] == 2 for numbers in rows.values())
