"""The states, the order of their rules, the same for either design, and that no word stands without its interval."""

import dataclasses
import re

import pytest

from profiler.statistics.inference.comparison import Comparison, Kind
from profiler.statistics.trial.gates import Gate
from profiler.statistics.trial.judge import judge
from profiler.statistics.trial.verdict import Verdict
from profiler.words import GainSize, GateState, VerdictState
from tests.laws.trials.test_trials_two_sets import ALIKE_B, GAIN_B, ledger, plan


@pytest.mark.parametrize(
    ("recoveries", "worthwhile", "state"),
    [
        (GAIN_B, 1.0, VerdictState.WORTHWHILE),
        (GAIN_B, 2.0, VerdictState.SIZE_OPEN),
        (GAIN_B, 4.0, VerdictState.BELOW_WORTHWHILE),
        (GAIN_B, 3.4, VerdictState.BELOW_WORTHWHILE),  # between the upper limits at 90 (3.34) and 95 per cent (3.55)
        (GAIN_B, 3.3, VerdictState.SIZE_OPEN),
        (GAIN_B, None, VerdictState.SIZE_OPEN),
        (ALIKE_B, 1.0, VerdictState.NO_DIFFERENCE),
        (ALIKE_B, 0.5, VerdictState.NOT_RESOLVED),
        (ALIKE_B, None, VerdictState.NOT_RESOLVED),
    ],
)
def test_state_of_the_invented_trials(recoveries: list[float], worthwhile: float | None, state: VerdictState) -> None:
    assert judge(ledger(recoveries), plan(worthwhile)).verdict.state is state


@pytest.mark.parametrize(
    ("difference", "error", "worthwhile", "units", "state"),
    [
        (3.0, 0.5, 1.0, 10, 2),
        (3.0, 0.1, 1.0, 5, 6),  # below six pairs nothing is firm
        (0.5, 0.1, 1.0, 10, 3),
        (1.0, 0.3, 1.0, 10, 4),
        (0.1, 0.2, 1.0, 10, 5),
        (0.1, 0.2, 1.0, 5, 6),
        (0.1, 0.2, None, 10, 6),
        (0.8, 0.5, 1.0, 10, 6),
    ],
)
def test_rules_are_tried_in_order(
    difference: float, error: float, worthwhile: float | None, units: int, state: int
) -> None:
    """The other way round too: which of the two is called new does not change what is known."""
    verdict, mirrored = (_verdict(sign * difference, error, worthwhile, units) for sign in (1.0, -1.0))
    assert verdict.state == mirrored.state == state
    firm = state in (2, 3, 4)
    assert (verdict.favours, mirrored.favours) == (("B", "A") if firm else (None, None))
    assert verdict.size == mirrored.size == (GainSize(["worthwhile", "below", "open"][state - 2]) if firm else None)


@pytest.mark.parametrize(("kind", "units"), [(Kind.PAIRED, 6), (Kind.UNPAIRED, 4), (Kind.EXCHANGED, 8)])
def test_below_what_a_permutation_needs_no_word_is_firm_either_way(kind: Kind, units: int) -> None:
    """2 of 64 sign flips, 2 of 70 splits of eight: below 5 per cent; with one fewer it cannot be reached."""
    for sign, name in ((1.0, "B"), (-1.0, "A")):
        enough = _verdict(3.0 * sign, 0.1, 1.0, units, kind=kind, least_way=units // 2)
        few = _verdict(3.0 * sign, 0.1, 1.0, units - 1, kind=kind, least_way=(units - 1) // 2)
        assert enough.favours == name and few.favours is None
        assert f"points to {name}, too few pairs" in few.text
    assert _verdict(0.0, 0.1, 1.0, units - 1, kind=kind, least_way=units).state is VerdictState.NOT_RESOLVED


def test_inside_experimental_error_is_said_only_of_an_interval_that_holds_zero() -> None:
    for difference, units, holds in ((0.1, 10, True), (0.1, 5, True), (3.0, 5, False), (-3.0, 5, False)):
        verdict = _verdict(difference, 0.3, None, units)
        assert verdict.state is VerdictState.NOT_RESOLVED
        assert ("inside experimental error" in verdict.text) == holds == (not verdict.interval95.excludes_zero())


def test_a_failed_gate_goes_before_every_other_rule() -> None:
    for difference in (-3.0, 0.0, 3.0):
        verdict = _verdict(difference, 0.1, 1.0, 10, GateState.FAILED)
        assert verdict.state is VerdictState.NOT_FAIR
        assert "not a fair comparison (feed grades differ: 4.0 against 5.0)" in verdict.text


@pytest.mark.parametrize("state", [GateState.MET, GateState.WAIVED, GateState.NOT_RECORDED])
def test_any_other_gate_does_not_close_the_trial(state: GateState) -> None:
    assert _verdict(3.0, 0.1, 1.0, 10, state).state is VerdictState.WORTHWHILE


@pytest.mark.parametrize("difference", [-3.0, -0.4, 0.0, 0.3, 0.6, 1.0, 3.0])
@pytest.mark.parametrize("units", [3, 10])
@pytest.mark.parametrize("worthwhile", [None, 0.5, 1.0])
@pytest.mark.parametrize("gate", [GateState.MET, GateState.FAILED])
def test_every_text_of_a_verdict_carries_its_interval(
    difference: float, units: int, worthwhile: float | None, gate: GateState
) -> None:
    verdict = _verdict(difference, 0.2, worthwhile, units, gate)
    limits = verdict.interval95
    for text in (verdict.text, str(verdict), f"{verdict}"):
        assert f"95 % interval {limits.low:+.2f} to {limits.high:+.2f}" in text


def test_a_state_on_its_own_prints_as_a_number() -> None:
    for state in VerdictState:
        assert re.fullmatch(r"\d", f"{state}")
        assert re.fullmatch(r"\d", str(state))


def test_a_verdict_cannot_be_made_without_a_comparison_or_given_a_state() -> None:
    names = {field.name for field in dataclasses.fields(Verdict)}
    assert "state" not in names
    with pytest.raises(TypeError):
        Verdict(gates=(), worthwhile=1.0, reference="A", new="B")  # type: ignore[call-arg]
    with pytest.raises(dataclasses.FrozenInstanceError):
        _verdict(1.0, 0.2, 1.0, 10).worthwhile = 0.1  # type: ignore[misc]


def test_a_comparison_without_an_error_is_refused() -> None:
    with pytest.raises(ValueError, match="positive standard error"):
        _verdict(1.0, 0.0, 1.0, 10)


def test_exchanged_machines_need_four_blocks_each_way() -> None:
    for least_way, state in ((3, VerdictState.NOT_RESOLVED), (4, VerdictState.WORTHWHILE)):
        verdict = _verdict(3.0, 0.1, 1.0, 10, kind=Kind.EXCHANGED, least_way=least_way)
        assert verdict.state is state


@pytest.mark.parametrize("gain", [0.0, -1.0, float("nan"), float("inf")])
def test_a_worthwhile_gain_must_be_above_zero(gain: float) -> None:
    with pytest.raises(ValueError, match="worthwhile gain must be above zero"):
        plan(gain)


@pytest.mark.parametrize("edge", [0.0, 1.0])
@pytest.mark.parametrize("off", [-0.004, -0.0009, 0.0002, 0.003])
def test_a_limit_never_reads_as_what_it_is_held_against(edge: float, off: float) -> None:
    """Where the lower limit of 95 per cent lies a hair beside zero, or beside the worthwhile point."""
    error = 0.3
    low = _verdict(2.0, error, 1.0, 10).interval95.low
    verdict = _verdict(2.0 - low + edge + off, error, 1.0, 10)
    assert verdict.interval95.low == pytest.approx(edge + off, abs=1e-9)
    told = re.search(r"95 % interval ([+-][0-9.]+) to", verdict.text)
    assert told is not None
    assert (float(told[1]) > edge) == (off > 0.0) and float(told[1]) != edge


def _verdict(
    difference: float,
    error: float,
    worthwhile: float | None,
    units: int,
    gate: GateState = GateState.MET,
    kind: Kind = Kind.PAIRED,
    least_way: int | None = None,
) -> Verdict:
    comparison = Comparison(
        kind=kind,
        difference=difference,
        standard_error=error,
        df=units - 1.0,
        reference_mean=40.0,
        new_mean=40.0 + difference,
        spread=error * units**0.5,
        units=(units, units),
    )
    return Verdict(
        comparison=comparison,
        gates=(Gate("feed-grade", "feed grade", gate, "feed grades differ: 4.0 against 5.0"),),
        worthwhile=worthwhile,
        reference="A",
        new="B",
        least_way=least_way,
    )
