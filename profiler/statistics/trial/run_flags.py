"""What is odd about a run, as data: a flag names the run, says what was found and against which limit.

A flag changes nothing; runs are left out by the person who keeps the ledger, with a reason. Not here: the
numbers themselves (balance, reconciliation).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import isfinite

import numpy as np

from profiler.numbers import Against
from profiler.statistics.balances.balance import Balances, Stream, Streams, Values
from profiler.statistics.balances.closing import DOUBTFUL_ERRORS, FALLBACK
from profiler.statistics.balances.reconciliation import ReconciledRuns
from profiler.statistics.inference.probability import chi_square_quantile

_DEVIATIONS = DOUBTFUL_ERRORS
_NAMES = ("feed mass", "concentrate mass", "feed grade", "concentrate grade", "tail grade")


@dataclass(frozen=True)
class RunFlag:
    """`run` is the row, counted from 0; `value` stands against `limit`, both NaN where the flag has no number."""

    run: int
    code: str
    text: str
    value: float = float("nan")
    limit: float = float("nan")


def flag_runs(streams: Streams, balances: Balances, reconciled: ReconciledRuns) -> tuple[RunFlag, ...]:
    """All flags of n runs, in the order of the runs."""
    found = [
        *_impossible(streams),
        *_grade_order(streams),
        *_mass_closure(streams),
        *_too_much(balances),
        *_accountability(balances),
        *_reconciliation(reconciled),
    ]
    return tuple(sorted(found, key=lambda flag: flag.run))


def cleaner_flags(concentrate: Stream, cleaned: Stream, left: Stream) -> Iterator[RunFlag]:
    """What is odd about a cleaner's two products beside the concentrate they came from; arrays (n,)."""
    for run in np.flatnonzero(cleaned.grade <= left.grade):
        yield RunFlag(
            int(run),
            "cleaner-upside-down",
            f"cleaner's concentrate {cleaned.grade[run]:g} g/t is no richer than its tail, {left.grade[run]:g} g/t",
            float(cleaned.grade[run]),
            float(left.grade[run]),
        )
    into, out = concentrate.mass * concentrate.grade, cleaned.mass * cleaned.grade + left.mass * left.grade
    errors = [(p.mass * p.grade * np.hypot(p.mass_rsd, p.grade_rsd)) ** 2 for p in (concentrate, cleaned, left)]
    sd = np.sqrt(sum(errors))
    limit = np.where(sd > 0.0, _DEVIATIONS * sd, FALLBACK[DOUBTFUL_ERRORS] * into)
    for run in np.flatnonzero(np.abs(out - into) > limit):
        share = Against(100.0 * out[run] / into[run], 100.0)
        yield RunFlag(
            int(run),
            "cleaner-does-not-close",
            f"the cleaner's products hold {share:.1f} % of the concentrate's gold",
            float(out[run] - into[run]),
            float(limit[run]),
        )


def _impossible(streams: Streams) -> Iterator[RunFlag]:
    parts: tuple[tuple[str, Stream], ...] = (
        ("feed", streams.feed),
        ("concentrate", streams.concentrate),
        ("tail", streams.tail),
    )
    for name, part in parts:
        least_grade = 0.0 if name == "tail" else np.nextafter(0.0, 1.0)
        for run in np.flatnonzero(np.isinf(part.mass) | (part.mass <= 0.0)):
            yield RunFlag(
                int(run),
                "mass-impossible",
                f"{name} mass {part.mass[run]:g} kg; it must be above 0",
                float(part.mass[run]),
                0.0,
            )
        for run in np.flatnonzero(np.isinf(part.grade) | (part.grade < least_grade)):
            yield RunFlag(
                int(run),
                "grade-impossible",
                f"{name} grade {part.grade[run]:g} g/t cannot be used",
                float(part.grade[run]),
                0.0,
            )


def _grade_order(streams: Streams) -> Iterator[RunFlag]:
    f, c, t = streams.feed.grade, streams.concentrate.grade, streams.tail.grade
    for run in np.flatnonzero(c <= f):
        yield RunFlag(
            int(run),
            "concentrate-below-feed",
            f"concentrate {c[run]:g} g/t is not above feed {f[run]:g} g/t: no two-product recovery",
            float(c[run]),
            float(f[run]),
        )
    for run in np.flatnonzero(t >= f):
        yield RunFlag(
            int(run),
            "tail-above-feed",
            f"tail {t[run]:g} g/t is not below feed {f[run]:g} g/t: no two-product recovery",
            float(t[run]),
            float(f[run]),
        )


def _mass_closure(streams: Streams) -> Iterator[RunFlag]:
    feed, concentrate, tail = streams.feed, streams.concentrate, streams.tail
    gap = feed.mass - concentrate.mass - tail.mass
    sd = np.sqrt(sum((part.mass * part.mass_rsd) ** 2 for part in (feed, concentrate, tail)))
    for run in np.flatnonzero(np.abs(gap) > _DEVIATIONS * sd):
        yield RunFlag(
            int(run),
            "masses-do-not-close",
            f"feed mass exceeds concentrate and tail by {gap[run]:.4g} kg, more than "
            f"{_DEVIATIONS:g} deviations ({_DEVIATIONS * sd[run]:.4g} kg)",
            float(gap[run]),
            float(_DEVIATIONS * sd[run]),
        )
    for run in np.flatnonzero(concentrate.mass >= feed.mass):
        yield RunFlag(
            int(run),
            "concentrate-above-feed-mass",
            f"concentrate {concentrate.mass[run]:g} kg is not less than feed {feed.mass[run]:g} kg",
            float(concentrate.mass[run]),
            float(feed.mass[run]),
        )


def _too_much(balances: Balances) -> Iterator[RunFlag]:
    recovery = balances.over_feed.value
    for run in np.flatnonzero(recovery > 1.0):
        yield RunFlag(
            int(run),
            "recovery-above-100",
            f"concentrate holds {Against(100.0 * recovery[run], 100.0):.1f} % of the metal assayed in the feed",
            float(recovery[run]),
            1.0,
        )


def _accountability(balances: Balances) -> Iterator[RunFlag]:
    value, sd = balances.accountability.value, balances.accountability.sd
    for run in np.flatnonzero(np.isfinite(value)):
        off = float(value[run] - 1.0)
        if isfinite(sd[run]):
            if abs(off) > _DEVIATIONS * sd[run]:
                yield RunFlag(
                    int(run),
                    "accountability",
                    f"accountability {_beyond(value[run], _DEVIATIONS * sd[run]):.1f} %, further from 100 than "
                    f"{_DEVIATIONS:g} deviations ({100.0 * _DEVIATIONS * sd[run]:.1f})",
                    float(value[run]),
                    float(_DEVIATIONS * sd[run]),
                )
        elif abs(off) > FALLBACK[DOUBTFUL_ERRORS]:
            yield RunFlag(
                int(run),
                "accountability",
                f"accountability {_beyond(value[run], FALLBACK[DOUBTFUL_ERRORS]):.1f} %, outside 90 to 110 "
                "(assay error not known)",
                float(value[run]),
                FALLBACK[DOUBTFUL_ERRORS],
            )


def _beyond(share: float, allowed: float) -> Against:
    """A share in per cent, told apart from 100 less and more what is allowed."""
    return Against(100.0 * share, 100.0 * (1.0 - allowed), 100.0 * (1.0 + allowed))


def _reconciliation(reconciled: ReconciledRuns) -> Iterator[RunFlag]:
    limit = chi_square_quantile(0.95, 1.0)
    for run in np.flatnonzero(reconciled.chi_square > limit):
        found = Against(reconciled.chi_square[run], limit)
        yield RunFlag(
            int(run),
            "does-not-close",
            f"chi-square {found:.2f} above {limit:.2f}: the balance does not close within its errors",
            float(reconciled.chi_square[run]),
            limit,
        )
    moved: Values = np.abs(reconciled.adjustments)
    for part, run in np.argwhere(moved > _DEVIATIONS):
        by = Against(moved[part, run], _DEVIATIONS)
        yield RunFlag(
            int(run),
            "adjustment",
            f"{_NAMES[part]} would have to move by {by:.1f} deviations to close the balance",
            float(moved[part, run]),
            _DEVIATIONS,
        )
