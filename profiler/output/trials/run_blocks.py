"""The runs of a trial as blocks: all of them in a table, and one with everything that was worked out of it."""

from math import isfinite

from profiler.assess.trials.balances import NO_ERROR, Z95
from profiler.assess.trials.verdicts import TrialEvaluation
from profiler.numbers import fixed, significant, with_minus
from profiler.output.blocks.blocks import DASH, Block, Grid, Heading, Paragraph
from profiler.statistics.balances.balance import Estimates
from profiler.statistics.balances.products import distribution

_HEADS = ("run", "design", "pair or block", "recovery %", "± 95 %", "feed grade g/t", "flags (nothing is changed)")


def runs_blocks(found: TrialEvaluation) -> list[Block]:
    """A row per run; nothing for an empty ledger."""
    rows = tuple(_row(found, row) for row in range(len(found.trial.runs)))
    if not rows:
        return []
    grid = Grid(_HEADS, rows, (0.6, 1.6, 0.8, 0.9, 0.7, 0.8, 2.4))
    unknown = any(found.balances.recovery_half_pct(row) is None for row in range(len(rows)))
    words = [Paragraph(f"{DASH} under ± 95 %: {NO_ERROR}.")] if unknown else []
    return [Heading("Runs", 2), grid, *words]


def _row(found: TrialEvaluation, row: int) -> tuple[str, ...]:
    run, given = found.trial.runs[row], found.runs[row]
    left_out = [f"left out: {run.exclusion_reason or 'no reason given'}"] if run.excluded else []
    said = "; ".join([*left_out, *(with_minus(flag.text) for flag in found.balances.flags[row])])
    grade = DASH if given.feed_grade_g_t is None else fixed(given.feed_grade_g_t, 2)
    half = found.balances.recovery_half_pct(row)
    recovery = fixed(float(found.balances.recovery_pct[row]), 2), DASH if half is None else fixed(half, 2)
    return run.run, run.design, run.block or DASH, *recovery, grade, said or DASH


def run_blocks(found: TrialEvaluation, row: int) -> list[Block]:
    """One run: its recoveries by every way of working them out, where its gold went, flags, what was predicted."""
    run = found.trial.runs[row]
    left_out = f", left out: {run.exclusion_reason or 'no reason given'}" if run.excluded else ""
    blocks: list[Block] = [Paragraph(f"Run {run.run}, {run.design}{left_out}", strong=True), _ways(found, row)]
    blocks += _where_it_went(found, row)
    flags = found.balances.flags[row]
    if flags:
        blocks.append(Heading("Flags (nothing is changed by them)", 2))
        blocks += [Paragraph(with_minus(flag.text)) for flag in flags]
    predicted = next((p.text for p in found.predictions if p.design == run.design), "")
    if predicted:
        blocks += [Heading("Predicted groove states of its design (no recovery)", 2), Paragraph(with_minus(predicted))]
    return [*blocks, *([Paragraph(run.remarks)] if run.remarks else [])]


def _ways(found: TrialEvaluation, row: int) -> Grid:
    run, b, r = found.trial.runs[row], found.balances.balances, found.balances.reconciled
    entered = DASH if run.recovery_pct is None else f"{significant(run.recovery_pct)} %, {NO_ERROR}"
    rows = (
        ("built-up head", _estimate(b.built_up, row)),
        ("concentrate over assayed feed", _estimate(b.over_feed, row)),
        ("two-product formula", _estimate(b.two_product, row)),
        ("reconciled", _estimate(Estimates(r.recovery, r.recovery_sd), row)),
        *_ways_of_cleaner(found, row),
        ("as entered", entered),
        ("accountability", _estimate(b.accountability, row)),
        ("mass pull", _number(100.0 * float(b.mass_pull[row]), 4, " %")),
        ("upgrade", _number(float(b.upgrade[row]), 0)),
        ("built-up head", _number(float(b.built_up_head[row]), 2, " g/t")),
        ("chi-square of the balance", f"{_number(float(r.chi_square[row]), 2)} (limit 3.84)"),
    )
    return Grid(("recovery by", "± 95 %"), rows, (2.0, 1.8), share=0.8)


def _ways_of_cleaner(found: TrialEvaluation, row: int) -> list[tuple[str, str]]:
    """Recoveries to the cleaner's two products, where there was one."""
    cleaner = found.balances.cleaner
    if not isfinite(float(cleaner.to_concentrate.value[row])):
        return []
    return [
        ("to the cleaner's concentrate", _estimate(cleaner.to_concentrate, row)),
        ("to the cleaner's tail", _estimate(cleaner.to_tail, row)),
    ]


def _where_it_went(found: TrialEvaluation, row: int) -> list[Block]:
    """Mass, grade and gold of the products; nothing where a mass or grade is missing."""
    streams, cleaner = found.balances.streams, found.balances.cleaner
    products = [("concentrate", streams.concentrate), ("tail", streams.tail)]
    if isfinite(float(cleaner.to_concentrate.value[row])):
        products[:1] = [("cleaner's concentrate", cleaner.concentrate), ("cleaner's tail", cleaner.tail)]
    parts = [part for _, part in products]
    masses = [float(part.mass[row]) for part in parts]
    grades = [float(part.grade[row]) for part in parts]
    if not isfinite(masses[-1]):
        masses[-1] = float(streams.feed.mass[row]) - float(streams.concentrate.mass[row])
    if not all(isfinite(v) and v >= 0.0 for v in (*masses, *grades)) or not masses[0] * grades[0] > 0.0:
        return []
    went = distribution(masses, grades)
    rows = [
        (name, significant(masses[k], 5), fixed(100.0 * went.mass_shares[k], 3), significant(grades[k], 4),
         fixed(went.metal[k] / 1000.0, 2), fixed(100.0 * went.metal_shares[k], 2))
        for k, (name, _) in enumerate(products)
    ]  # fmt: skip
    total = ("together", significant(sum(masses), 5), fixed(100.0, 3), significant(went.head_grade, 4))
    rows.append((*total, fixed(float(went.metal.sum()) / 1000.0, 2), fixed(100.0, 2)))
    heads = ("Where the gold went", "dry kg", "mass %", "g/t", "gold g", "gold %")
    return [Grid(heads, tuple(rows), (1.8, 1.0, 1.0, 1.0, 1.0, 1.0), share=0.9)]


def _estimate(estimates: Estimates, row: int) -> str:
    value, sd = float(estimates.value[row]), float(estimates.sd[row])
    if not isfinite(value):
        return DASH
    return f"{fixed(100.0 * value, 2)} % " + (f"± {fixed(100.0 * Z95 * sd, 2)}" if isfinite(sd) else f"({NO_ERROR})")


def _number(value: float, decimals: int, unit: str = "") -> str:
    return f"{fixed(value, decimals)}{unit}" if isfinite(value) else DASH
