"""The verdict: what the interval, the gates and the worthwhile gain say, the same for either design.

A verdict holds its comparison and works its state out of it, so there is no verdict without an interval and no
word that contradicts one. The only text of a verdict carries the interval with it. Which design is the reference
turns signs and nothing else. Not here: the full account (account).
"""

from dataclasses import dataclass
from math import isfinite

from profiler.numbers import Against
from profiler.statistics.inference.comparison import Comparison, Interval, Kind
from profiler.statistics.trial.gates import Gate
from profiler.statistics.trial.planner import LEAST_UNITS
from profiler.words import GainSize, GateState, VerdictState

SIZES = {
    VerdictState.WORTHWHILE: GainSize.WORTHWHILE,
    VerdictState.BELOW_WORTHWHILE: GainSize.BELOW,
    VerdictState.SIZE_OPEN: GainSize.OPEN,
}
_BY_NARROW = (VerdictState.BELOW_WORTHWHILE, VerdictState.NO_DIFFERENCE)


@dataclass(frozen=True, kw_only=True)
class Verdict:
    """New less reference, in percentage points.

    `units_noun` names what repeats, in the plural; `least_way` is the smaller number of blocks either way round.
    """

    comparison: Comparison
    gates: tuple[Gate, ...]
    worthwhile: float | None
    reference: str
    new: str
    units_noun: str = "pairs"
    least_way: int | None = None

    def __post_init__(self) -> None:
        if self.worthwhile is not None and not (isfinite(self.worthwhile) and self.worthwhile > 0.0):
            raise ValueError(f"The worthwhile gain must be above zero percentage points, not {self.worthwhile:g}.")

    @property
    def interval95(self) -> Interval:
        return self.comparison.interval95

    @property
    def interval90(self) -> Interval:
        return self.comparison.interval90

    @property
    def failed(self) -> tuple[Gate, ...]:
        return tuple(gate for gate in self.gates if gate.state is GateState.FAILED)

    @property
    def enough(self) -> bool:
        """Whether there are repeats enough for a firm statement, in favour of either design or for no difference."""
        kind, units = self.comparison.kind, min(self.comparison.units)
        if kind is Kind.EXCHANGED:
            units = min(units, 2 * (self.least_way or 0))
        return units >= LEAST_UNITS[kind]

    @property
    def points_to(self) -> str | None:
        """The design that the interval lies on the side of; None where it holds zero."""
        if not self.interval95.excludes_zero():
            return None
        return self.new if self.comparison.difference > 0.0 else self.reference

    @property
    def state(self) -> VerdictState:
        """The first rule that applies, read off the intervals every time it is asked for."""
        gain, firm = self.worthwhile, self.points_to is not None
        sign = 1.0 if self.comparison.difference > 0.0 else -1.0
        wide, narrow = self.interval95.times(sign), self.interval90.times(sign)  # towards the better design
        rules = (
            (VerdictState.NOT_FAIR, bool(self.failed)),
            (VerdictState.NOT_RESOLVED, not self.enough),
            (VerdictState.WORTHWHILE, gain is not None and wide.low > gain),
            (VerdictState.BELOW_WORTHWHILE, gain is not None and firm and narrow.high < gain),
            (VerdictState.SIZE_OPEN, firm),
            (VerdictState.NO_DIFFERENCE, gain is not None and narrow.within(gain)),
        )
        return next((state for state, holds in rules if holds), VerdictState.NOT_RESOLVED)

    @property
    def size(self) -> GainSize | None:
        """Of a firm difference; None where there is none."""
        return SIZES.get(self.state)

    @property
    def favours(self) -> str | None:
        """The design that is better, where that is firm."""
        return None if self.size is None else self.points_to

    @property
    def text(self) -> str:
        """The state in words with the difference and its 95 per cent interval, and the 90 where that decided."""
        narrow = f", 90 % {self._told(self.interval90)}" if self.state in _BY_NARROW else ""
        return f"{self._words()}: {self.difference_text}{narrow}"

    @property
    def difference_text(self) -> str:
        """New less reference, which is said unless the new design's gain has just been spoken of."""
        less = "" if self.points_to == self.new else f"{self.new} less {self.reference} "
        mean = Against(self.comparison.difference, self.interval95.low, self.interval95.high)
        return f"{less}{mean:+.2f} percentage points, 95 % interval {self._told(self.interval95)}"

    def _told(self, interval: Interval) -> str:
        """Both limits, told apart from what they are held against."""
        gain = 0.0 if self.worthwhile is None else self.worthwhile
        return signed(interval, 2, 0.0, gain, -gain)

    def _words(self) -> str:
        state, better = self.state, self.points_to
        if state is VerdictState.NOT_FAIR:
            return f"not a fair comparison ({'; '.join(gate.text for gate in self.failed)})"
        gain = 0.0 if self.worthwhile is None else self.worthwhile
        words = {
            VerdictState.WORTHWHILE: f"{better} is better by more than the worthwhile {points(gain)}",
            VerdictState.BELOW_WORTHWHILE: f"{better} is better, but by less than the worthwhile {points(gain)}",
            VerdictState.SIZE_OPEN: f"{better} is better, by how much is not yet known",
            VerdictState.NO_DIFFERENCE: f"no difference larger than ±{points(gain)}",
            VerdictState.NOT_RESOLVED: "not resolved, inside experimental error"
            if better is None
            else f"not resolved: points to {better}, too few {self.units_noun}",
        }
        return words[state]

    def __str__(self) -> str:
        return self.text


def points(gain: float) -> str:
    """A number of percentage points with its noun."""
    return f"{gain:g} point" if gain == 1.0 else f"{gain:g} points"


def signed(interval: Interval, decimals: int = 2, *edges: float) -> str:
    """Both limits with their sign, told apart from the edges the interval is held against."""
    low, high = Against(interval.low, *edges), Against(interval.high, *edges)
    return f"{low:+.{decimals}f} to {high:+.{decimals}f}"
