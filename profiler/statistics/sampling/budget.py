"""Where the scatter of a run comes from, what dominates, and what to do about it.

The parts that can be calculated beforehand (grains, samples, assays, weighing) against the scatter the trial shows.
Points of recovery on built-up head, one run. Not here: the parts one by one (grains, duplicates, balance).
"""

from dataclasses import dataclass
from enum import Enum
from math import sqrt

from profiler.statistics.inference.comparison import Comparison, Interval, Kind
from profiler.statistics.inference.probability import chi_square_quantile


class Reading(Enum):
    """Observed scatter against the budget."""

    EXPLAINED = "explained"
    UNEXPLAINED = "more than explained"
    OVERSTATED = "less than the budget"
    NOT_OBSERVED = "not observed"


@dataclass(frozen=True, kw_only=True)
class Sampling:
    """What is known of one run's samples. None: not known (the part is then missing from the budget).

    Relative deviations are those of the mean grade used, one assay's error over the root of the assays. Grain
    counts of samples: give them only where the duplicates were split after the sample was taken; duplicates of
    the whole stream already hold that error. `float("inf")` where the whole stream was assayed.
    """

    grains_fed: float | None = None
    tail_sample_grains: float | None = None
    concentrate_sample_grains: float | None = None
    tail_rsd: float | None = None
    concentrate_rsd: float | None = None
    mass_rsd: float | None = None


@dataclass(frozen=True)
class Part:
    """One source of scatter, in points of recovery."""

    name: str
    sd_points: float


@dataclass(frozen=True)
class ErrorBudget:
    """Parts from the largest down; `observed` is the deviation of one run with its 95 per cent interval."""

    parts: tuple[Part, ...]
    missing: tuple[str, ...]
    expected_sd_points: float
    observed_sd_points: float | None
    observed_interval: Interval | None
    reading: Reading
    advice: str


_ASSAYS = ("tail assay", "concentrate assay")
_REMEDY = {
    "grains fed": "feed more per run or run more pairs",
    "grains in the tail sample": "take and assay a larger tail sample, screened",
    "grains in the concentrate sample": "assay the whole concentrate or its coarse fraction to extinction",
    "tail assay": "assay the tail more often or by a better method",
    "concentrate assay": "assay the concentrate more often or by a better method",
    "weighing": "weigh the dry masses better",
}


def error_budget(recovery_percent: float, sampling: Sampling, observed: Comparison | None = None) -> ErrorBudget:
    """Budget of one run at this recovery, against the scatter of a comparison in points if there is one."""
    if not 0.0 < recovery_percent < 100.0:
        raise ValueError(f"An error budget needs a recovery between 0 and 100 %, not {recovery_percent:g}.")
    known, missing = _parts(recovery_percent / 100.0, sampling)
    if not known:
        raise ValueError("Nothing is known of the samples, so there is no error budget.")
    expected = sqrt(sum(part.sd_points**2 for part in known))
    if observed is None:
        return ErrorBudget(known, missing, expected, None, None, Reading.NOT_OBSERVED, _advice(known[0], missing))
    sd = run_sd(observed)
    limits = _sd_interval(sd, observed.df)
    reading = _reading(expected, limits)
    return ErrorBudget(known, missing, expected, sd, limits, reading, _reading_advice(reading, known, missing))


def run_sd(comparison: Comparison) -> float:
    """Deviation of one run: a difference of two runs scatters by root 2 more."""
    return comparison.spread if comparison.kind is Kind.UNPAIRED else comparison.spread / sqrt(2.0)


def _parts(recovery: float, sampling: Sampling) -> tuple[tuple[Part, ...], tuple[str, ...]]:
    product = recovery * (1.0 - recovery)
    table: tuple[tuple[str, float | None], ...] = (
        ("grains fed", None if sampling.grains_fed is None else sqrt(product / sampling.grains_fed)),
        ("grains in the tail sample", _of_count(product, sampling.tail_sample_grains)),
        ("grains in the concentrate sample", _of_count(product, sampling.concentrate_sample_grains)),
        ("tail assay", _of_rsd(product, sampling.tail_rsd)),
        ("concentrate assay", _of_rsd(product, sampling.concentrate_rsd)),
        ("weighing", _of_rsd(product * sqrt(2.0), sampling.mass_rsd)),
    )
    known = sorted((Part(name, 100.0 * sd) for name, sd in table if sd is not None), key=lambda part: -part.sd_points)
    return tuple(known), tuple(name for name, sd in table if sd is None)


def _of_count(product: float, grains: float | None) -> float | None:
    return None if grains is None else product / sqrt(grains)


def _of_rsd(product: float, rsd: float | None) -> float | None:
    return None if rsd is None else product * rsd


def _sd_interval(sd: float, df: float) -> Interval:
    return Interval(sd * sqrt(df / chi_square_quantile(0.975, df)), sd * sqrt(df / chi_square_quantile(0.025, df)))


def _reading(expected: float, observed: Interval) -> Reading:
    if expected < observed.low:
        return Reading.UNEXPLAINED
    return Reading.OVERSTATED if expected > observed.high else Reading.EXPLAINED


def _advice(largest: Part, missing: tuple[str, ...]) -> str:
    """What weighs most and what to do about it; that assays are no use is said only where their error is known."""
    said = f"{largest.name} weighs most ({largest.sd_points:.2f} points)"
    unknown = [name for name in missing if name in _ASSAYS]
    if unknown:
        return (
            f"of what is known {said}: {_REMEDY[largest.name]}; duplicates would tell the {' and the '.join(unknown)}"
        )
    return f"{said}: {_REMEDY[largest.name]}{'; more assays will not help' if largest.name == 'grains fed' else ''}"


def _reading_advice(reading: Reading, known: tuple[Part, ...], missing: tuple[str, ...]) -> str:
    if reading is Reading.EXPLAINED:
        return _advice(known[0], missing)
    if reading is Reading.OVERSTATED:
        return "the runs scatter less than the budget: its grain sizes or assay errors are too pessimistic"
    unknown = f", or one of the parts not known ({', '.join(missing)})" if missing else ""
    assays = [name for name in missing if name in _ASSAYS]
    end = f"duplicates would tell how much of it is {' and '.join(assays)}" if assays else "more assays will not help"
    return (
        "the runs scatter more than grains, samples and assays explain: the test itself varies (feed, timing, water, "
        f"clean-out){unknown}; {end}"
    )
