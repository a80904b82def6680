"""What a measurement is: how often, how long by the clock and by the processor, and how that stands to a plain redraw.

Machines drift and are shared, so no figure says much alone: beside each stands the plain four-panel redraw of `plain`,
taken in the same run right before and after, and what is compared from one commit to another is the ratio of ratios.
The processor's time is what other people's work on the machine moves least; where it is known the ratio is made of it.
"""

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import isfinite, nan
from typing import NamedTuple

import numpy as np


class Took(NamedTuple):
    """Seconds of one go."""

    wall: float
    cpu: float = nan  # of this process; nan where the work is done by another, or is waiting


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the table."""

    what: str
    took: tuple[Took, ...]
    asked_ms: float  # median
    asked_p99_ms: float | None = None
    plain: tuple[Took, ...] = ()  # the plain redraw, about when this was measured

    @property
    def wall_ms(self) -> float:
        return self._percentile(50.0)

    @property
    def p95_ms(self) -> float:
        return self._percentile(95.0)

    @property
    def p99_ms(self) -> float:
        return self._percentile(99.0)

    @property
    def cpu_ms(self) -> float:
        return float(np.median([t.cpu for t in self.took])) * 1e3

    @property
    def ratio(self) -> float:
        """How many times as long the plain redraw takes; nan where none was taken."""
        if not self.plain:
            return nan
        by_cpu = float(np.median([t.cpu for t in self.plain])) * 1e3 / max(self.cpu_ms, 1e-9)
        by_wall = float(np.median([t.wall for t in self.plain])) * 1e3 / max(self.wall_ms, 1e-9)
        return by_cpu if isfinite(by_cpu) else by_wall

    def _percentile(self, share: float) -> float:
        return float(np.percentile([t.wall for t in self.took], share)) * 1e3


def timed(do: Callable[[], object]) -> Took:
    wall, cpu = time.perf_counter(), time.process_time()
    do()
    return Took(time.perf_counter() - wall, time.process_time() - cpu)


def beside(groups: Sequence[Callable[[], Sequence[Row]]], plain: Callable[[], Sequence[Took]]) -> list[Row]:
    """All rows, group after group, each with the plain redraws taken right before and right after its group."""
    found: list[Row] = []
    before = tuple(plain())
    for group in groups:
        rows, after = group(), tuple(plain())
        found += [row if row.plain else replace(row, plain=before + after) for row in rows]
        before = after
    return found


def table(rows: Sequence[Row]) -> str:
    """Medians by clock and processor against what is asked, the slow end, and how many times quicker than plain."""
    heads = ("median", "asked", "cpu", "p95", "p99", "asked", "ratio", "times")
    lines = [f"{'':46}" + "".join(f"{head:>9}" for head in heads)]
    for row in rows:
        asked = "" if row.asked_p99_ms is None else f"{row.asked_p99_ms:g}"
        lines.append(
            f"{row.what:46}{row.wall_ms:9.2f}{row.asked_ms:9g}{_number(row.cpu_ms)}{row.p95_ms:9.2f}{row.p99_ms:9.2f}"
            f"{asked:>9}{_number(row.ratio)}{len(row.took):9d}"
        )
    return "\n".join(lines)


def _number(value: float) -> str:
    return f"{value:9.2f}" if isfinite(value) else f"{'-':>9}"
