"""Statements about grooves: one for each run of neighbours, with the worst of them, instead of one a groove."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from profiler.assess.findings.finding import Finding
from profiler.assess.findings.kinds import Kind, Severity
from profiler.geometry.grooves import IntArray, Mouths
from profiler.geometry.wall import FloatArray
from profiler.numbers import Against


@dataclass(frozen=True, slots=True)
class GrooveRun:
    """Neighbouring grooves, by number from 1, and the stretch of wall they take."""

    grooves: tuple[int, ...]
    from_mm: float
    to_mm: float

    @property
    def at(self) -> IntArray:
        """Their places in arrays over the grooves."""
        return np.array(self.grooves) - 1

    @property
    def who(self) -> str:
        """'Groove 3' or 'Grooves 3 to 7', as a sentence begins."""
        first, last = self.grooves[0], self.grooves[-1]
        return f"Groove {first}" if first == last else f"Grooves {first} to {last}"


def groove_runs(mouths: Mouths, which: NDArray[np.bool_]) -> Iterator[GrooveRun]:
    """The runs of grooves that `which` (g,) marks, from the floor up."""
    if not which.any():
        return
    for run in runs(np.flatnonzero(which).tolist()):
        numbers = tuple(place + 1 for place in run)
        yield GrooveRun(numbers, float(mouths.lower[run[0]]), float(mouths.upper[run[-1]]))


def per_run(
    kind: Kind,
    mouths: Mouths,
    broken: NDArray[np.bool_],
    value: FloatArray,
    limit: FloatArray | float,
    unit: str,
    text: str,
    above: bool = True,
    severity: Severity | None = None,
) -> list[Finding]:
    """A finding for each run of grooves where a rule is `broken`, all (g,).

    Its numbers are those of the groove whose value lies farthest above its limit, or below. `text` names {who},
    {value}, {limit} and {below}, how far the value lies below nought.
    """
    found: list[Finding] = []
    if not broken.any():
        return found
    limits = np.broadcast_to(limit, value.shape)
    for run in groove_runs(mouths, broken):
        over = (value - limits)[run.at]
        worst = run.at[int(np.argmax(over) if above else np.argmin(over))]
        reached, bound = float(value[worst]), float(limits[worst])
        words = text.format(
            who=run.who, value=Against(reached, bound, 0.0), limit=Against(bound, reached), below=Against(-reached, 0.0)
        )
        found.append(
            Finding(
                kind=kind, text=words, value=reached, limit=bound, unit=unit,
                from_mm=run.from_mm, to_mm=run.to_mm, grooves=run.grooves, own_severity=severity,
            )
        )  # fmt: skip
    return found


def runs(numbers: Iterable[int]) -> list[tuple[int, ...]]:
    """Numbers grouped into runs of neighbours."""
    grouped: list[list[int]] = []
    for number in sorted(numbers):
        if grouped and number == grouped[-1][-1] + 1:
            grouped[-1].append(number)
        else:
            grouped.append([number])
    return [tuple(g) for g in grouped]
