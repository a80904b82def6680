"""The verdict: seven states, read off the interval, the gates and the worthwhile gain.

A verdict holds its comparison and works its state out of it, so there is no verdict without an interval and no
word that contradicts one. The only text of a verdict carries the interval with it. Not here: the full account
(account).
"""

from dataclasses import dataclass
from math import isfinite

from profiler.statistics.inference.comparison import Comparison, Interval, Kind
from profiler.statistics.trial.gates import Gate
from profiler.statistics.trial.planner import LEAST_UNITS
from profiler.words import GateState, VerdictState

LEAST_EACH_WAY = 4  # blocks of exchanged machines each way round: 4 against 4 is the least that can reach 5 per cent


@dataclass(frozen=True, kw_only=True)
class Verdict:
    """New against reference, in percentage points. `least_way` is the smaller number of blocks either way round."""

    comparison: Comparison
    gates: tuple[Gate, ...]
    worthwhile: float | None
    reference: str
    new: str
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
        """Whether there are repeats enough for a firm statement in favour or for no difference."""
        if self.comparison.kind is Kind.EXCHANGED and (self.least_way or 0) < LEAST_EACH_WAY:
            return False
        return min(self.comparison.units) >= LEAST_UNITS

    @property
    def state(self) -> VerdictState:
        """The first rule that applies, read off the intervals every time it is asked for."""
        wide, narrow, gain = self.interval95, self.interval90, self.worthwhile
        rules = (
            (VerdictState.NOT_FAIR, bool(self.failed)),
            (VerdictState.WORSE, wide.high < 0.0),
            (VerdictState.NOT_RESOLVED, not self.enough),
            (VerdictState.WORTHWHILE, gain is not None and wide.low > gain),
            (VerdictState.BELOW_WORTHWHILE, gain is not None and wide.low > 0.0 and narrow.high < gain),
            (VerdictState.BETTER, wide.low > 0.0),
            (VerdictState.NO_DIFFERENCE, gain is not None and narrow.within(gain)),
        )
        return next((state for state, holds in rules if holds), VerdictState.NOT_RESOLVED)

    @property
    def text(self) -> str:
        """The state in words with the difference and its 95 per cent interval, and the 90 where that decided."""
        narrow = f", 90 % {signed(self.interval90)}" if self.state in _BY_NARROW else ""
        return f"{self._words()}: {self.difference_text}{narrow}"

    @property
    def difference_text(self) -> str:
        return f"{self.comparison.difference:+.2f} percentage points, 95 % interval {signed(self.interval95)}"

    def _words(self) -> str:
        state = self.state
        if state is VerdictState.NOT_FAIR:
            return f"not a fair comparison ({'; '.join(f'{gate.label}: {gate.text}' for gate in self.failed)})"
        gain = 0.0 if self.worthwhile is None else self.worthwhile
        words = {
            VerdictState.WORSE: f"{self.new} recovers less than {self.reference}",
            VerdictState.WORTHWHILE: f"{self.new} is better by more than the worthwhile {points(gain)}",
            VerdictState.BELOW_WORTHWHILE: f"{self.new} is better, but by less than the worthwhile {points(gain)}",
            VerdictState.BETTER: f"{self.new} is better, by how much is not yet pinned down",
            VerdictState.NO_DIFFERENCE: f"no difference larger than +-{points(gain)}",
            VerdictState.NOT_RESOLVED: "not resolved, inside experimental error",
        }
        return words[state]

    def __str__(self) -> str:
        return self.text


def points(gain: float) -> str:
    """A number of percentage points with its noun."""
    return f"{gain:g} point" if gain == 1.0 else f"{gain:g} points"


def signed(interval: Interval, decimals: int = 2) -> str:
    """Both limits with their sign."""
    return f"{interval.low:+.{decimals}f} to {interval.high:+.{decimals}f}"


_BY_NARROW = (VerdictState.BELOW_WORTHWHILE, VerdictState.NO_DIFFERENCE)
