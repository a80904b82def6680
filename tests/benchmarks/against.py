"""Rows as JSON, and two runs held against one another: what counts is the ratio of ratios, not milliseconds."""

import json
import platform
import subprocess
from collections.abc import Sequence
from math import isfinite, nan
from pathlib import Path

from tests.benchmarks.rows import Row

FORM = "bowl-profiler benchmarks 1"


def commit() -> str:
    """What was measured; empty where the program is no work tree of git."""
    try:
        done = subprocess.run(
            ["git", "describe", "--always", "--dirty"],
            cwd=Path(__file__).parent, capture_output=True, text=True, timeout=20, check=True,
        )  # fmt: skip
    except (OSError, subprocess.SubprocessError):
        return ""
    return done.stdout.strip()


def as_json(rows: Sequence[Row], memory: Sequence[tuple[int, float]] = ()) -> str:
    """Milliseconds; None where a figure was not taken."""
    told = [
        {
            "what": row.what,
            "wall_ms": _figure(row.wall_ms),
            "cpu_ms": _figure(row.cpu_ms),
            "p95_ms": _figure(row.p95_ms),
            "p99_ms": _figure(row.p99_ms),
            "ratio": _figure(row.ratio),
            "times": len(row.took),
        }
        for row in rows
    ]
    held = [{"edits": edits, "resident_mb": round(mb, 1)} for edits, mb in memory]
    about = {"form": FORM, "commit": commit(), "python": platform.python_version()}
    return json.dumps(about | {"rows": told, "memory": held}, indent=1) + "\n"


def ratios_of(text: str) -> dict[str, float]:
    """The ratios of an earlier run by what was measured. Raises ValueError where the text is no such run."""
    read = json.loads(text)
    if not isinstance(read, dict) or read.get("form") != FORM:
        raise ValueError(f"This is no run of the benchmarks; it should say “{FORM}”.")
    return {row["what"]: nan if row["ratio"] is None else float(row["ratio"]) for row in read["rows"]}


def against(rows: Sequence[Row], before: dict[str, float]) -> str:
    """How many times quicker each row is than it was: its ratio to the plain redraw over what that was then."""
    lines = [f"{'':46}{'ratio':>9}{'before':>9}{'quicker':>9}"]
    for row in rows:
        was = before.get(row.what, nan)
        if isfinite(was) and isfinite(row.ratio):
            lines.append(f"{row.what:46}{row.ratio:9.2f}{was:9.2f}{row.ratio / was:9.2f}")
    gone = [what for what in before if what not in {row.what for row in rows}]
    return "\n".join([*lines, *(f"{what:46}measured before, not now" for what in gone)])


def _figure(value: float) -> float | None:
    return round(value, 4) if isfinite(value) else None
