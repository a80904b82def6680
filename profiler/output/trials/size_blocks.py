"""Size classes of a trial as blocks: what each recovers under either design and contributes to the gain."""

from math import isfinite

from profiler.assess.trials.size_results import TrialSizes
from profiler.assess.trials.verdicts import TrialEvaluation
from profiler.numbers import fixed, significant
from profiler.output.blocks.blocks import DASH, Block, Grid, Heading, Paragraph
from profiler.statistics.inference.comparison import Interval
from profiler.statistics.inference.multiplicity import false_alarm

_HEADS = ("size µm", "reference %", "new %", "difference", "Holm p", "contributes", "interval")


def size_blocks(found: TrialEvaluation) -> list[Block]:
    """Nothing where no class was recorded on both sides."""
    sizes = found.sizes
    if sizes is None:
        return []
    gain = sizes.gain
    together = (
        f"Together {fixed(100.0 * gain.raw, 2, signed=True)} points: "
        f"{fixed(100.0 * gain.design, 2, signed=True)} by the design, {fixed(100.0 * gain.head, 2, signed=True)} by "
        "heads that differ."
    )
    rows = tuple(_row(sizes, k) for k in range(len(sizes.words)))
    grid = Grid(_HEADS, rows, (1.2, 1.2, 1.2, 1.5, 0.8, 1.2, 1.5))
    return [
        Heading("Size classes", 2),
        grid,
        Paragraph(f"Intervals are 95 %, contributions points. {together}{_tested(sizes)}"),
    ]


def _row(sizes: TrialSizes, k: int) -> tuple[str, ...]:
    recoveries = (
        _recovery(sizes.reference_recoveries[k], sizes.reference_half[k]),
        _recovery(sizes.new_recoveries[k], sizes.new_half[k]),
    )
    part, test = fixed(100.0 * sizes.gain.by_design[k], 2, signed=True), sizes.tests[k]
    if test is None:
        return sizes.words[k], *recoveries, DASH, DASH, part, DASH
    contribution = _limits(test.contribution_interval95, 2)
    return sizes.words[k], *recoveries, _limits(test.interval95, 1), significant(test.holm_p, 2), part, contribution


def _recovery(value: float, half: float) -> str:
    return f"{fixed(100.0 * value, 1)} ± {fixed(100.0 * half, 1) if isfinite(half) else '?'}"


def _limits(interval: Interval, decimals: int) -> str:
    low, high = (fixed(100.0 * end, decimals, signed=True) for end in (interval.low, interval.high))
    return f"{low} to {high}"


def _tested(sizes: TrialSizes) -> str:
    count = sum(test is not None for test in sizes.tests)
    if count < 2:
        return ""
    alarm = 100.0 * false_alarm(count)
    return (
        f" {count} classes are tested at once: uncorrected, alike designs would show a difference in one of them in "
        f"{alarm:.0f} % of trials, which Holm's p allows for. Classes explain the result, they do not decide it."
    )
