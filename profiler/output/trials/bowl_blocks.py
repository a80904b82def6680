"""The castings that ran, each with its hours and tonnes over its runs and why it was taken out, as blocks."""

from profiler.assess.trials.verdicts import TrialEvaluation
from profiler.numbers import counted, significant
from profiler.output.blocks.blocks import DASH, Block, Grid, Heading
from profiler.study.records.trial import Run

_HEADS = ("casting", "design", "runs", "hours on it", "tonnes through it", "taken out because")


def bowl_blocks(found: TrialEvaluation) -> list[Block]:
    """A row per casting in the order in which they first ran; nothing where no run names one."""
    by_serial: dict[tuple[str, str], list[Run]] = {}
    for run in found.trial.runs:
        if run.serial:
            by_serial.setdefault((run.serial, run.design), []).append(run)
    if not by_serial:
        return []
    rows = tuple(_row(serial, design, runs) for (serial, design), runs in by_serial.items())
    return [Heading("Castings that ran", 2), Grid(_HEADS, rows, (1.0, 1.5, 0.6, 1.0, 1.2, 2.0))]


def _row(serial: str, design: str, runs: list[Run]) -> tuple[str, ...]:
    hours = _from_to([run.wear_h for run in runs])
    tonnes = _from_to([run.bowl_t for run in runs])
    why = "; ".join(dict.fromkeys(run.removed_because for run in runs if run.removed_because))
    return serial, design, counted(len(runs), "run"), hours, tonnes, why or DASH


def _from_to(values: list[float | None]) -> str:
    known = [value for value in values if value is not None]
    if not known:
        return DASH
    low, high = significant(min(known), 4), significant(max(known), 4)
    return low if low == high else f"{low} to {high}"
