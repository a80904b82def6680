"""Streams that ought to move with the recovery: do they agree, stay silent, or contradict?

Gold that a bowl catches is missing further down, and shows in the gold output. Each stream is tested like the
recovery itself, on the same observations. Not here: how runs become observations (layout).
"""

from dataclasses import dataclass

from profiler.statistics.inference.comparison import Comparison
from profiler.statistics.inference.differences import compare
from profiler.statistics.inference.ratio import Ratio, relative_gain
from profiler.statistics.trial.layout import Layout
from profiler.words import Agreement


@dataclass(frozen=True)
class SecondaryOutcome:
    """A stream's own difference in its unit, relative where estimable, and what it says of the recovery's."""

    name: str
    unit: str
    comparison: Comparison
    relative: Ratio | None
    agreement: Agreement


def secondary_outcome(
    layout: Layout, column: str, name: str, unit: str, *, lower_is_better: bool, recovery_difference: float
) -> SecondaryOutcome | None:
    """The stream in `column` of the runs; None where it was not recorded often enough or does not scatter."""
    first, second, swapped, _ = layout.complete(column)
    try:
        found = compare(layout.kind, first, second, swapped)
    except ValueError:
        return None
    better = -found.difference if lower_is_better else found.difference
    if not found.interval95.excludes_zero():
        agreement = Agreement.SILENT
    else:
        agreement = Agreement.AGREES if better * recovery_difference > 0.0 else Agreement.CONTRADICTS
    return SecondaryOutcome(name, unit, found, relative_gain(layout.kind, first, second, swapped), agreement)
