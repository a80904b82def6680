"""`python -m tests.benchmarks [--counts N] [--json OUT] [--against FILE] [--chart OUT.png]`: print one table."""

import argparse
import json
import os
import platform
import subprocess
import sys
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from tests.benchmarks.against import against, as_json, ratios_of
from tests.benchmarks.growth import chart, slopes
from tests.benchmarks.measures import Counts, groups
from tests.benchmarks.memory import MOST_MB
from tests.benchmarks.plain import redraws
from tests.benchmarks.rows import Row, beside, table

SIZE = (1400, 900)
REDRAWS = 12


def main() -> None:
    given = _parser().parse_args()
    counts = Counts() if given.counts is None else Counts(*(given.counts,) * 5, 10 * given.counts)
    before = None if given.against is None else ratios_of(given.against.read_text(encoding="utf-8"))
    plain = redraws(*SIZE, max(min(REDRAWS, counts.drag), 1))
    rows = beside(groups(counts), plain)
    rows = [Row(f"plain redraw of four panels, {SIZE[0]}x{SIZE[1]}", plain(), 0.0), *rows]
    memory = _memory(counts.edits)
    where = f"Python {platform.python_version()}, {os.cpu_count()} cores, {os.environ['QT_QPA_PLATFORM']}"
    print(f"Milliseconds; ratio: the plain redraw over this, by processor time where it is known; {where}")
    print(table(rows))
    print("growth, slope in logarithms: " + ", ".join(f"{what} {slope:.2f}" for what, slope in slopes(rows).items()))
    print(f"MB after edits (asked: {MOST_MB:g}): " + ", ".join(f"{edits}: {mb:.0f}" for edits, mb in memory))
    if before is not None:
        print(against(rows, before))
    if given.json is not None:
        given.json.write_text(as_json(rows, memory), encoding="utf-8")
    if given.chart is not None:
        chart(rows, given.chart)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks")
    parser.add_argument("--counts", type=int, help="do everything only so often")
    parser.add_argument("--json", metavar="OUT", type=Path, help="write the rows, to hold another run against them")
    parser.add_argument("--against", metavar="FILE", type=Path, help="print ratios over those of an earlier --json")
    parser.add_argument("--chart", metavar="OUT", type=Path, help="draw how an evaluation grows")
    return parser


def _memory(edits: int) -> list[tuple[int, float]]:
    """In a process of its own: nothing that was measured before counts."""
    words = [sys.executable, "-m", "tests.benchmarks.memory", str(edits)]
    done = subprocess.run(words, capture_output=True, text=True, timeout=3600, check=True)
    return [(int(n), float(mb)) for n, mb in json.loads(done.stdout.splitlines()[-1])]


if __name__ == "__main__":
    main()
