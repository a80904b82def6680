"""The benchmarks run. What they measure is for people to read: no test passes or fails by the clock."""

import subprocess
import sys
from pathlib import Path

import pytest

from profiler.explore.ore_map import AT_ONCE
from profiler.output.outputs import OUTPUTS
from tests.benchmarks.against import against, as_json, ratios_of
from tests.benchmarks.growth import LINES, chart, slopes
from tests.benchmarks.rows import Row, Took
from tests.benchmarks.trials import READ, RUNS, STRUCTURES

ROOT = Path(__file__).parents[2]


@pytest.mark.long  # it measures everything once: over a minute
def test_the_table_is_printed_with_a_row_for_everything_measured() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "tests.benchmarks", "--counts", "2"],
        cwd=ROOT, capture_output=True, text=True, timeout=300, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    lines = done.stdout.splitlines()[2:]
    rows = {line[:46].strip(): line[46:].split() for line in lines if not line.startswith(("growth,", "MB after"))}
    exports = [f"{suffix} {output.key}, warm" for output in OUTPUTS for suffix in output.suffixes]
    assert list(rows) == [
        "plain redraw of four panels, 1400x900",
        "recompute, 40 grooves, in sight",
        "recompute, 40 grooves, all stages",
        "drag, all strips at 1400x900",
        "drag, all strips at 2560x1440",
        "drag, all strips at 1280x720, scale 2",
        "process start to first paint",
        f"ore map, one step of {AT_ONCE} duties",
        "ore map of 1600 points, in the window",
        "ore map of 1600 points, from the terminal",
        "ladder of nine duties",
        "a fit, 40 grooves",
        "a fit that finds no way, 40 grooves",
        "a DXF of 20,000 entities",
        *exports,
        *(f"recompute in sight, {many} {what}" for what, line in LINES.items() for many in line),
        "eddy, 16 x 16 elements from rest",
        "eddy, 24 x 24 elements from a neighbour",
        "eddies of 16 grooves, in the worker",
        "wait of the window meanwhile, beyond a frame",
        *(f"{RUNS} runs judged, {structure}" for structure in STRUCTURES),
        f"{READ} runs read from a table and judged",
    ]
    assert all(float(numbers[0]) >= 0.0 and int(numbers[-1]) >= 1 for numbers in rows.values())
    assert lines[-2].startswith("growth,") and lines[-1].startswith("MB after edits")


def test_ratios_of_two_runs_are_held_against_one_another() -> None:
    """Both runs of one program on machines of different speed: nothing has become quicker."""
    slow, quick = (
        [Row("a thing", (Took(2.0 * s, 2.0 * s),), 1.0, plain=(Took(8.0 * s, 8.0 * s),)), Row("bare", (Took(s),), 1.0)]
        for s in (1.0, 0.25)
    )
    assert slow[0].ratio == quick[0].ratio == 4.0
    told = against(quick, ratios_of(as_json(slow)))
    assert [float(n) for n in told.splitlines()[1].split()[2:]] == [4.0, 4.0, 1.0]
    assert "bare" not in told  # nothing to hold against
    better = [Row("a thing", (Took(1.0, 1.0),), 1.0, plain=(Took(8.0, 8.0),))]
    assert against(better, ratios_of(as_json(slow))).splitlines()[1].split()[-1] == "2.00"
    with pytest.raises(ValueError, match="no run of the benchmarks"):
        ratios_of("[]")


def test_waiting_is_compared_by_the_clock_and_work_by_the_processor() -> None:
    plain = (Took(9.0, 3.0),)
    assert Row("busy machine", (Took(3.0, 0.5),), 1.0, plain=plain).ratio == 6.0
    assert Row("another process", (Took(3.0),), 1.0, plain=plain).ratio == 3.0


def test_growth_is_told_by_its_slope_and_drawn_when_asked(tmp_path: Path) -> None:
    rows = [Row("a fit, 40 grooves", (Took(0.0, 1e-6),), 1.0)]  # another thing with so many grooves
    rows += [
        Row(f"recompute in sight, {many} {what}", (Took(0.0, 1e-3 * many**power),), 1.0)
        for (what, line), power in zip(LINES.items(), (1.0, 0.5, 0.25), strict=True)
        for many in line
    ]
    assert [round(slope, 6) for slope in slopes(rows).values()] == [1.0, 0.5, 0.25]
    chart(rows, tmp_path / "growth.png")
    assert (tmp_path / "growth.png").read_bytes().startswith(b"\x89PNG")
