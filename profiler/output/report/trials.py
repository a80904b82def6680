"""The pages of a trial: verdict and gates, pictures, scatter, worth, size classes, the runs themselves.

Nothing is computed here. A verdict word stands only where its interval does.
"""

import re
from math import isfinite

from profiler.assess.trials.verdicts import TrialEvaluation
from profiler.output.report.blocks import DASH, Block, Figure, Grid, Heading, Paragraph
from profiler.pictures.charts.trial_charts import differences, grade_recovery, run_order, size_classes
from profiler.statistics.trial.judge import Judgement
from profiler.statistics.trial.worth import Amount
from profiler.words import GateState

WIDTH, HEIGHT = 320.0, 200.0  # px of a picture; two stand side by side
_ORDER = (GateState.FAILED, GateState.WAIVED, GateState.NOT_RECORDED, GateState.MET)


def trial_blocks(found: TrialEvaluation) -> list[Block]:
    """A section; without a verdict it says why there is none."""
    blocks: list[Block] = [Heading(f"Trial: {found.trial.name}")]
    if found.judgement is None:
        blocks.append(Paragraph(f"No verdict: {found.trouble}", strong=True))
    else:
        blocks += [Paragraph(_sentence(found.judgement.verdict.text), strong=True)]
        blocks.append(Paragraph(_typed(found.account)))
        blocks += _pictures(found)
        blocks += _gates(found.judgement)
    blocks += [*_budget(found), *_worth(found), *_sizes(found), *_runs(found)]
    if found.predictions:
        blocks.append(Heading("What the program says of the designs", 2))
        blocks += [Paragraph(_typed(p.text)) for p in found.predictions]
    if found.problems:
        blocks.append(Heading("Remarks", 2))
        blocks += [Paragraph(_typed(problem)) for problem in found.problems]
    return blocks


def _pictures(found: TrialEvaluation) -> list[Block]:
    pair = differences(found, WIDTH, HEIGHT), run_order(found, WIDTH, HEIGHT)
    words = "Differences with their mean and its 95 % interval; recoveries in the order in which they were run."
    blocks: list[Block] = [Figure(pair, words)]
    last = [grade_recovery(found, WIDTH, HEIGHT)]
    words = "Recovery against feed grade"
    if found.sizes is not None:
        last.append(size_classes(found, WIDTH, HEIGHT))
        words += "; differences by size class with their 95 % intervals"
    return [*blocks, Figure(tuple(last), f"{words}.")] if len(last) > 1 else blocks


def _gates(judgement: Judgement) -> list[Block]:
    gates = sorted(judgement.verdict.gates, key=lambda gate: _ORDER.index(gate.state))
    rows = []
    for gate in gates:
        text = "" if gate.text == gate.state.value else _typed(gate.text)
        reason = f" (reason: {gate.reason})" if gate.reason else ""
        rows.append((gate.state.value, gate.label, f"{text}{reason}".strip() or DASH))
    return [Heading("Gates: was it a fair comparison", 2),
            Grid(("", "Gate", "What was found"), tuple(rows), (0.8, 1.6, 4.6))]  # fmt: skip


def _budget(found: TrialEvaluation) -> list[Block]:
    blocks: list[Block] = [Heading("Where the scatter comes from", 2)]
    budget = found.budget
    if budget is None:
        return [*blocks, Paragraph(found.budget_trouble)]
    rows = [(part.name, f"{part.sd_points:.2f}") for part in budget.parts]
    rows += [(f"{name}: not known", DASH) for name in budget.missing]
    rows.append(("One run, as far as known", f"{budget.expected_sd_points:.2f}"))
    if budget.observed_sd_points is not None and budget.observed_interval is not None:
        low, high = budget.observed_interval.low, budget.observed_interval.high
        rows.append((f"One run, as seen (95 % interval {low:.2f} to {high:.2f})", f"{budget.observed_sd_points:.2f}"))
    heads = ("Standard deviation of one run", "points of recovery")
    return [*blocks, Grid(heads, tuple(rows), (3.0, 1.0), share=0.7), Paragraph(_sentence(budget.advice))]


def _worth(found: TrialEvaluation) -> list[Block]:
    worth = None if found.judgement is None else found.judgement.worth
    if worth is None:
        return []
    rows = [("Caught by gravity, oz", *_amount(worth.caught_oz))]
    if worth.extra_oz is not None:
        rows.append(("Of it extra metal, oz", *_amount(worth.extra_oz)))
    if found.net_a_year is not None:
        rows.append(("Net of wear and other cost, in the money of the price", *_amount(found.net_a_year)))
    heads = ("In a year", "estimate", "95 % from", "to")
    return [Heading("What the gain is worth", 2), Grid(heads, tuple(rows), (3.0, 1.0, 1.0, 1.0), share=0.9)]


def _sizes(found: TrialEvaluation) -> list[Block]:
    sizes = found.sizes
    if sizes is None:
        return []
    rows = []
    for k, (word, test) in enumerate(zip(sizes.words, sizes.tests, strict=True)):
        recoveries = [f"{100.0 * r[k]:.1f}" for r in (sizes.reference_recoveries, sizes.new_recoveries)]
        interval, p = DASH, DASH
        if test is not None:
            low, high = 100.0 * test.interval95.low, 100.0 * test.interval95.high
            interval, p = _typed(f"{low:+.1f} to {high:+.1f}"), f"{test.holm_p:.2g}"
        rows.append((word, *recoveries, interval, p, _typed(f"{100.0 * sizes.gain.by_design[k]:+.2f}")))
    heads = ("size µm", "reference %", "new %", "difference, 95 %", "Holm p", "gives points")
    gain = sizes.gain
    words = (f"Together {100.0 * gain.raw:+.2f} points: {100.0 * gain.design:+.2f} by the design, "
             f"{100.0 * gain.head:+.2f} by heads that differ.")  # fmt: skip
    weights = (1.2, 1.0, 1.0, 1.6, 1.0, 1.0)
    return [Heading("Size classes", 2), Grid(heads, tuple(rows), weights), Paragraph(_typed(words))]


def _runs(found: TrialEvaluation) -> list[Block]:
    rows = []
    for run, given, recovery, flags in zip(
        found.trial.runs, found.runs, found.balances.recovery_pct.tolist(), found.balances.flags, strict=True
    ):
        left_out = [f"left out: {run.exclusion_reason or 'no reason given'}"] if run.excluded else []
        said = "; ".join([*left_out, *(_typed(flag.text) for flag in flags)])
        grade = DASH if given.feed_grade_g_t is None else f"{given.feed_grade_g_t:.2f}"
        shown = f"{recovery:.2f}" if isfinite(recovery) else DASH
        rows.append((run.run, run.design, run.block or DASH, shown, grade, said or DASH))
    if not rows:
        return []
    heads = ("run", "design", "pair or block", "recovery %", "feed grade g/t", "flags (nothing is changed by them)")
    return [Heading("Runs", 2), Grid(heads, tuple(rows), (0.6, 1.6, 0.9, 0.9, 0.9, 2.6))]


def _amount(amount: Amount) -> tuple[str, str, str]:
    values = amount.estimate, amount.interval.low, amount.interval.high
    one, low, high = (_typed(f"{value:,.0f}") for value in values)
    return one, low, high


def _sentence(text: str) -> str:
    return f"{_typed(text[:1].upper() + text[1:])}."


def _typed(text: str) -> str:
    """Minus signs as a printer sets them; dates keep their hyphens."""
    return re.sub(r"(?<![\w.])-(?=\d)", "−", text)
