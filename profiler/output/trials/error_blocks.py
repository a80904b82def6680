"""Where the scatter of a trial comes from, and what its gain is worth in a year, as blocks."""

from math import isfinite

from profiler.assess.trials.balances import AssayError
from profiler.assess.trials.verdicts import TrialEvaluation
from profiler.numbers import counted, fixed
from profiler.output.blocks.blocks import DASH, Block, Grid, Heading, Paragraph
from profiler.output.trials.verdict_blocks import sentence
from profiler.statistics.trial.worth import Amount


def scatter_blocks(found: TrialEvaluation) -> list[Block]:
    """The error budget of one run against the scatter that was seen, and the assay errors behind it."""
    heading, budget = Heading("Where the scatter comes from", 2), found.budget
    if budget is None:
        return [heading, Paragraph(found.budget_trouble), _assays(found)]
    rows = [(part.name, fixed(part.sd_points, 2)) for part in budget.parts]
    rows += [(f"{name}: not known", DASH) for name in budget.missing]
    rows.append(("One run, as far as known", fixed(budget.expected_sd_points, 2)))
    if budget.observed_sd_points is not None and budget.observed_interval is not None:
        low, high = (fixed(limit, 2) for limit in (budget.observed_interval.low, budget.observed_interval.high))
        rows.append((f"One run, as seen (95 % interval {low} to {high})", fixed(budget.observed_sd_points, 2)))
    heads = ("Standard deviation of one run", "points of recovery")
    return [
        heading,
        Grid(heads, tuple(rows), (3.0, 1.0), share=0.7),
        Paragraph(sentence(budget.advice)),
        _assays(found),
    ]


def _assays(found: TrialEvaluation) -> Grid:
    errors = found.balances.feed_error, found.balances.concentrate_error, found.balances.tail_error
    rows = tuple((name, *_assay(error)) for name, error in zip(("feed", "concentrate", "tail"), errors, strict=True))
    return Grid(("Error of one assay", "relative, %", "from"), rows, (1.4, 1.0, 2.0), share=0.7)


def _assay(error: AssayError) -> tuple[str, str]:
    if not isfinite(error.rsd):
        return DASH, "not known: no duplicates"
    source = counted(error.duplicates, "duplicate") if error.duplicates else "your own number"
    return fixed(100.0 * error.rsd, 1), source


def worth_blocks(found: TrialEvaluation) -> list[Block]:
    """Ounces and money a year, each with its interval; what is missing is asked for."""
    heading = Heading("What the gain is worth in a year", 2)
    worth = None if found.judgement is None else found.judgement.worth
    if worth is None:
        return [heading, Paragraph("Give tonnes a year and head grade, and there must be a comparison.")]
    rows = [("Caught by gravity, troy oz", *_amount(worth.caught_oz))]
    if worth.extra_oz is not None:
        rows.append(("Of it extra metal, troy oz", *_amount(worth.extra_oz)))
    else:
        rows.append(("Of it extra metal, troy oz: give the three returns", DASH, DASH, DASH))
    if found.net_a_year is not None:
        rows.append((_net_label(found.net_lacks), *_amount(found.net_a_year)))
    return [heading, Grid(("In a year", "estimate", "95 % from", "to"), tuple(rows), (3.0, 1.0, 1.0, 1.0), share=0.9)]


def _net_label(lacks: tuple[str, ...]) -> str:
    net = "Net of wear and other cost" if not lacks else f"Before {' and '.join(lacks)}, not given"
    return f"{net}; in the currency of the price"


def _amount(amount: Amount) -> tuple[str, str, str]:
    return fixed(amount.estimate, 0), fixed(amount.interval.low, 0), fixed(amount.interval.high, 0)
