"""A judged trial as the records of `trial --json`. Keys are a promise: more may come, none is renamed.

Nothing is computed here. Differences and intervals are percentage points of recovery, `relative` is per cent of the
reference, fractions of one are probabilities. What does not exist is null.
"""

import json

import msgspec

from profiler.assess.trials.verdicts import TrialEvaluation
from profiler.statistics.inference.comparison import Interval
from profiler.statistics.trial.judge import Judgement
from profiler.study.ledger.reading import ColumnRead

SCHEMA = 2  # since 2 a firm state goes with the design it favours, and no state is 1
Limits = tuple[float, float]


class GateRow(msgspec.Struct, frozen=True):
    code: str
    label: str
    state: str
    text: str
    reason: str


class FlagRow(msgspec.Struct, frozen=True):
    run: str
    code: str
    text: str


class OddRow(msgspec.Struct, frozen=True):
    """What is odd about runs, none of which is dropped for it: outlier, copy or repeat."""

    kind: str
    runs: tuple[str, ...]
    text: str


class StreamRow(msgspec.Struct, frozen=True):
    """A stream beside the recovery: its own difference in its unit, and what it says of the recovery's."""

    name: str
    unit: str
    difference: float
    ci95: Limits
    agreement: str


class ReadAsRow(msgspec.Struct, frozen=True):
    """What a column of an imported table was taken for; no column: it was passed over, for the reason in the note."""

    heading: str
    column: str | None
    meaning: str | None
    unit: str | None
    cells: int
    note: str


class DiffersRow(msgspec.Struct, frozen=True):
    """A measure in which the two bowls differ, besides the wall's curve."""

    name: str
    unit: str
    reference: float
    new: float


class TrialReport(msgspec.Struct, frozen=True):
    schema: int
    trial: str
    reference: str
    new: str
    structure: str
    basis: str
    units: tuple[int, int]
    reference_recovery: float
    new_recovery: float
    reference_recovery_ci95: Limits | None
    new_recovery_ci95: Limits | None
    state: int  # 0 not fair, 2 worthwhile, 3 below it, 4 size open (each for `favours`), 5 none, 6 not resolved
    favours: str | None
    size: str | None  # worthwhile, below, open
    verdict: str
    difference: float
    ci95: Limits
    ci90: Limits
    p: float
    permutation_p: float
    permutation_exact: bool
    relative: float | None
    relative_ci95: Limits | None
    adjusted: float | None
    adjusted_ci95: Limits | None
    not_adjusted_because: str
    spread: float
    detectable: float
    worthwhile: float | None
    pairs_needed: int | None
    gates: tuple[GateRow, ...]
    flags: tuple[FlagRow, ...]
    odd: tuple[OddRow, ...]
    streams: tuple[StreamRow, ...]
    ounces_caught: float | None
    ounces_caught_ci95: Limits | None
    ounces_extra: float | None
    ounces_extra_ci95: Limits | None
    predictions: tuple[str, ...]
    differs: tuple[DiffersRow, ...]
    of_prediction: str
    read_as: tuple[ReadAsRow, ...] | None  # null: of a study, where nothing was in doubt
    remarks: tuple[str, ...]
    sentence: str


def trial_json(
    found: TrialEvaluation, judgement: Judgement, remarks: tuple[str, ...] = (), columns: tuple[ColumnRead, ...] = ()
) -> str:
    """One JSON object, keys in the order of the record. `columns`: of the table it was read from."""
    report = msgspec.to_builtins(trial_report(found, judgement, remarks, columns))
    return json.dumps(report, ensure_ascii=False, indent=1, allow_nan=False)


def trial_report(
    found: TrialEvaluation, judgement: Judgement, remarks: tuple[str, ...] = (), columns: tuple[ColumnRead, ...] = ()
) -> TrialReport:
    c, verdict, relative = judgement.comparison, judgement.verdict, judgement.relative
    adjusted, worth = judgement.adjustment.result, judgement.worth
    extra = None if worth is None else worth.extra_oz
    return TrialReport(
        schema=SCHEMA,
        trial=found.trial.name,
        reference=verdict.reference,
        new=verdict.new,
        structure=judgement.plan.structure.value,
        basis=judgement.plan.basis.value,
        units=c.units,
        reference_recovery=c.reference_mean,
        new_recovery=c.new_mean,
        reference_recovery_ci95=_known(judgement.reference_interval),
        new_recovery_ci95=_known(judgement.new_interval),
        state=int(verdict.state),
        favours=verdict.favours,
        size=verdict.size,
        verdict=verdict.text,
        difference=c.difference,
        ci95=_limits(c.interval95),
        ci90=_limits(c.interval90),
        p=c.p,
        permutation_p=judgement.permutation.two_sided,
        permutation_exact=judgement.permutation.exact,
        relative=None if relative is None else relative.gain_percent,
        relative_ci95=None if relative is None else _limits(relative.gain_interval_percent),
        adjusted=None if adjusted is None else adjusted.difference,
        adjusted_ci95=None if adjusted is None else _limits(adjusted.interval95),
        not_adjusted_because=judgement.adjustment.reason,
        spread=c.spread,
        detectable=judgement.detectable_points,
        worthwhile=verdict.worthwhile,
        pairs_needed=judgement.needed,
        gates=tuple(GateRow(g.code, g.label, g.state.value, g.text, g.reason) for g in verdict.gates),
        flags=tuple(
            FlagRow(run.run, flag.code, flag.text)
            for run, flags in zip(found.trial.runs, found.balances.flags, strict=True)
            for flag in flags
        ),
        odd=tuple(OddRow(o.kind.value, o.runs, o.text) for o in judgement.odd),
        streams=tuple(
            StreamRow(s.name, s.unit, s.comparison.difference, _limits(s.comparison.interval95), s.agreement.value)
            for s in judgement.secondary_outcomes
        ),
        ounces_caught=None if worth is None else worth.caught_oz.estimate,
        ounces_caught_ci95=None if worth is None else _limits(worth.caught_oz.interval),
        ounces_extra=None if extra is None else extra.estimate,
        ounces_extra_ci95=None if extra is None else _limits(extra.interval),
        predictions=tuple(prediction.text for prediction in found.predictions),
        differs=tuple(DiffersRow(d.label, d.unit, d.reference, d.new) for d in found.differences),
        of_prediction=found.of_prediction,
        read_as=tuple(map(_read_as, columns)) or None,
        remarks=(*remarks, *found.problems),
        sentence=found.account,
    )


def _read_as(c: ColumnRead) -> ReadAsRow:
    return ReadAsRow(c.heading, c.key or None, c.meaning or None, c.unit or None, c.cells, c.note)


def _known(interval: Interval | None) -> Limits | None:
    return None if interval is None else _limits(interval)


def _limits(interval: Interval) -> Limits:
    return interval.low, interval.high
