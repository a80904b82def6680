"""What a trial hands over to be judged: its runs, the plan they were run to, what was settled beforehand.

One record per run, fields None where nothing was recorded. Not here: how runs become pairs (layout), whether
the comparison is fair (gates), the verdict (judge).
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from math import isfinite

from profiler.statistics.balances.closing import RunClosing
from profiler.words import Basis, FeedGrade, Ordering, Structure, Waiver


@dataclass(frozen=True, kw_only=True)
class TrialRun:
    """One run (cycle). `recovery_percent` and `mass_pull_percent` as worked out; `order` 1 or 2 within the pair.

    Members have the names they have in a study, so that a record becomes one of these as a whole; those with other
    names are worked out of it.

    `feed_metal_g` weights cycles within an installation and the mean quoted for money. `downstream_g_t` is the stream
    that takes what the machine misses (circuit overflow, leach feed); lower is better. `feed_assay_g_t` is the
    balance's own, for the gate where no other feed grade is recorded; `closing` says how the balance closes;
    `measured` holds all that was weighed and assayed, in one order for every run. `since_change_h` counts from the
    mounting of the bowl, `wear_h` from its new liner; `serial` names the casting that ran.
    """

    run: str
    design: str
    recovery_percent: float | None = None
    block: str = ""
    installation: str = ""
    machine: str = ""
    serial: str = ""
    order: int | None = None
    began: datetime | None = None
    feed_grade_g_t: float | None = None
    feed_assay_g_t: float | None = None
    feed_f80_um: float | None = None
    feed_metal_g: float | None = None
    speed_rpm: float | None = None
    water_l_min: float | None = None
    feed_t_h: float | None = None
    solids_pct: float | None = None
    cycle_min: float | None = None
    mass_pull_percent: float | None = None
    wear_h: float | None = None
    since_change_h: float | None = None
    cleaned_out: bool | None = None
    downstream_g_t: float | None = None
    gold_output_g: float | None = None
    excluded: bool = False
    exclusion_reason: str = ""
    closing: RunClosing | None = None
    measured: tuple[float | None, ...] = ()


@dataclass(frozen=True, kw_only=True)
class TrialPlan:
    """What holds for the whole trial. Basis, size cut, exclusions and worthwhile gain are frozen together.

    Members have the names they have in a study. `reference` empty: the first design by name. `in_circuit`:
    the machine's own tail comes back to it. `load_residence_h` is the residence time of the circuit's load, of
    which three must pass after a change of bowl. `adjust_also` names fields of a run beside the feed grade.
    """

    structure: Structure
    reference: str = ""
    worthwhile_points: float | None = None
    worthwhile_source: str = ""
    basis: Basis = Basis.STATED
    size_cut: str = ""
    frozen_on: date | None = None
    planned_units: int | None = None
    ordering: Ordering = Ordering.NOT_RECORDED
    feed_grade: FeedGrade = FeedGrade.NOT_STATED
    in_circuit: bool = False
    load_residence_h: float | None = None
    adjust_also: tuple[str, ...] = ()
    downstream_name: str = "downstream stream"
    feed_tolerance_pct: float = 10.0
    running_tolerance_pct: float = 10.0
    waivers: tuple[Waiver, ...] = ()

    def __post_init__(self) -> None:
        gain = self.worthwhile_points
        if gain is not None and not (isfinite(gain) and gain > 0.0):
            raise ValueError(f"The worthwhile gain must be above zero percentage points, not {gain:g}.")


@dataclass(frozen=True)
class Column:
    """A number of a run that is averaged and compared; `covariate`: it may be chosen to be adjusted for."""

    label: str
    get: Callable[[TrialRun], float | None]
    covariate: bool = True


COLUMNS: dict[str, Column] = {
    "recovery_percent": Column("recovery", lambda run: run.recovery_percent, covariate=False),
    "feed_grade_g_t": Column("feed grade", lambda run: run.feed_grade_g_t, covariate=False),  # adjusted for anyway
    "feed_assay_g_t": Column("feed assay", lambda run: run.feed_assay_g_t, covariate=False),  # part of recoveries
    "feed_f80_um": Column("feed F80", lambda run: run.feed_f80_um),
    "feed_metal_g": Column("metal fed", lambda run: run.feed_metal_g),
    "speed_rpm": Column("speed", lambda run: run.speed_rpm),
    "water_l_min": Column("fluidising water", lambda run: run.water_l_min),
    "feed_t_h": Column("feed rate", lambda run: run.feed_t_h),
    "solids_pct": Column("solids", lambda run: run.solids_pct),
    "cycle_min": Column("cycle", lambda run: run.cycle_min),
    "mass_pull_percent": Column("mass pull", lambda run: run.mass_pull_percent),
    "wear_h": Column("hours of wear", lambda run: run.wear_h),
    "downstream_g_t": Column("downstream grade", lambda run: run.downstream_g_t),
    "gold_output_g": Column("gold output", lambda run: run.gold_output_g),
    "started_day": Column("start", lambda run: None if run.began is None else _day(run.began)),
}


def _day(moment: datetime) -> float:
    """Days on one clock; time zones are not read."""
    seconds = moment.hour * 3600 + moment.minute * 60 + moment.second
    return moment.toordinal() + seconds / 86_400.0
