"""A judged trial as blocks, put together for whoever shows it: report, terminal, and the panes of the window."""

from collections.abc import Sequence

from profiler.assess.trials.verdicts import TrialEvaluation
from profiler.output.blocks.blocks import Block, Figure, Heading
from profiler.output.trials.bowl_blocks import bowl_blocks
from profiler.output.trials.error_blocks import scatter_blocks, worth_blocks
from profiler.output.trials.run_blocks import runs_blocks
from profiler.output.trials.size_blocks import size_blocks
from profiler.output.trials.verdict_blocks import (
    flag_blocks,
    gate_blocks,
    prediction_blocks,
    remark_blocks,
    verdict_blocks,
)
from profiler.pictures.charts.trial_charts import differences, grade_recovery, run_order, size_classes

WIDTH, HEIGHT = 320.0, 200.0  # px of a picture; two stand side by side
MOST_REMARKS = 12  # in a pane; report and terminal have all


def report_blocks(found: TrialEvaluation) -> list[Block]:
    """A section of the report; without a verdict it says why there is none."""
    return [
        Heading(f"Trial: {found.trial.name}"),
        *verdict_blocks(found),
        *_pictures(found),
        *gate_blocks(found),
        *flag_blocks(found),
        *scatter_blocks(found),
        *([] if found.judgement is None or found.judgement.worth is None else worth_blocks(found)),
        *size_blocks(found),
        *runs_blocks(found),
        *bowl_blocks(found),
        *prediction_blocks(found),
        *remark_blocks(found),
    ]


def terminal_blocks(found: TrialEvaluation, remarks: Sequence[str] = ()) -> list[Block]:
    """What the terminal prints; `remarks` come before the trial's own."""
    of = (
        ""
        if found.judgement is None
        else f": {found.judgement.verdict.new} against {found.judgement.verdict.reference}"
    )
    return [
        Heading(f"Trial: {found.trial.name}{of}"),
        *verdict_blocks(found),
        *gate_blocks(found),
        *flag_blocks(found),
        *size_blocks(found),
        *scatter_blocks(found),
        *bowl_blocks(found),
        *prediction_blocks(found),
        *remark_blocks(found, remarks),
    ]


def verdict_pane_blocks(found: TrialEvaluation) -> list[Block]:
    """Verdict, gates and what goes with them."""
    return [
        *verdict_blocks(found),
        *gate_blocks(found),
        *flag_blocks(found),
        *bowl_blocks(found),
        *prediction_blocks(found),
        *remark_blocks(found, most=MOST_REMARKS),
    ]


def worth_pane_blocks(found: TrialEvaluation) -> list[Block]:
    """Errors, ounces and money."""
    return [*scatter_blocks(found), *worth_blocks(found)]


def _pictures(found: TrialEvaluation) -> list[Block]:
    if found.judgement is None:
        return []
    pair = differences(found, WIDTH, HEIGHT), run_order(found, WIDTH, HEIGHT)
    words = "Differences with their mean and its 95 % interval; recoveries in the order in which they were run, "
    words += "with the 95 % interval of each by its own assay and weighing errors where these are known."
    blocks: list[Block] = [Figure(pair, words)]
    if found.sizes is None:
        return blocks
    last = grade_recovery(found, WIDTH, HEIGHT), size_classes(found, WIDTH, HEIGHT)
    words = "Recovery against feed grade; differences by size class with their 95 % intervals."
    return [*blocks, Figure(last, words)]
