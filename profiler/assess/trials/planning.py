"""Numbers for a trial that has not been run, as sentences: pairs for a gain and a spread, what a sample can hold."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated

from profiler.assess.trials.error_budget import NATIVE_GOLD
from profiler.assess.trials.verdicts import TrialEvaluation
from profiler.numbers import significant
from profiler.statistics.inference.comparison import Kind
from profiler.statistics.inference.power import half_width, spread_relative_sd
from profiler.statistics.sampling.fundamental_error import Ore, gold_composition, least_sample_g, relative_sd
from profiler.statistics.sampling.grains import (
    LEAST_GRAINS,
    effective_grain_mass_mg,
    feed_for_floor,
    grain_count,
    mean_limits,
    recovery_floor,
)
from profiler.statistics.trial.planner import LEAST_UNITS, sample_floor, size_table, trial_size
from profiler.study.records.fields import fields_of, number, objections
from profiler.study.records.record import Record
from profiler.study.records.trial import Run
from profiler.units import MICRON, PERCENT

KINDS = {"pairs": Kind.PAIRED, "unpaired runs": Kind.UNPAIRED, "exchanged machines": Kind.EXCHANGED}
NOUNS = {Kind.PAIRED: "pairs", Kind.UNPAIRED: "runs of each design", Kind.EXCHANGED: "blocks"}
SKEWED_BELOW = 100  # grains: with fewer the limits of a count lie unevenly about it
GOOD_SAMPLE_RSD = 0.10  # what the sample mass named beside Gy's formula is for; own choice
GY_FACTOR = 3.0  # calibrations of low-grade gold ores differ by so much (see fundamental_error)
_CM = 1e2  # per m


class Question(Record, frozen=True):
    """What is asked of the planner; nothing of it is kept in the study."""

    gain: Annotated[float, number("Gain to detect", "% points", 0.01, 100, 0.1, 2, "True difference to be found.")] = (
        1.0
    )
    spread: Annotated[
        float, number("Spread", "% points", 0.01, 100, 0.1, 2, "Deviation of a pair difference, or of one run.")
    ] = 2.0
    spread_from: (
        Annotated[int, number("Spread estimated from", "pairs", 2, 10_000, 1, 0, "Empty: known exactly.")] | None
    ) = None
    recovery_pct: Annotated[
        float, number("Recovery (assumed)", "%", 0.1, 99.9, 1, 1, "Your assumption: none is predicted.")
    ] = 40.0
    feed_kg: Annotated[float, number("Feed per run", "kg", 0.01, 1e9, 10, 2, "Dry.")] = 1000.0
    grade_g_t: Annotated[float, number("Feed grade", "g/t", 0.001, 1e5, 0.1, 3, "Of the feed.")] = 4.0
    grain_um: Annotated[float, number("Gold grains", "µm", 1, 20_000, 5, 0, "Size that carries most of the gold.")] = (
        150.0
    )
    sample_kg: Annotated[float, number("Tail sample", "kg", 0.001, 1e6, 0.1, 3, "Mass assayed, not only taken.")] = 1.0
    top_um: (
        Annotated[float, number("Sample ground to", "µm", 1, 100_000, 10, 0, "95 % pass; empty: gold taken as free.")]
        | None
    ) = None


_ASKED = fields_of(Question)
OF_TRIAL = (_ASKED["gain"], _ASKED["spread"], _ASKED["spread_from"])  # the rest of a question is of its samples
OF_SAMPLES = tuple(field for field in _ASKED.values() if field not in OF_TRIAL)


@dataclass(frozen=True, slots=True)
class UnitsTable:
    """Pairs (runs of each design, blocks) by power alone, a row per spread and a column per gain, in points."""

    spreads: tuple[float, ...]
    gains: tuple[float, ...]
    units: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True)
class Answer:
    """What the planner says of the trial and of its samples.

    `units` at the spread as given, `planned` at one that the samples allow: what the sentences lead with and what is to
    be run. Both are None where the question cannot be answered; `of_trial` then says why.
    """

    units: int | None
    of_trial: tuple[str, ...]
    planned: int | None = None
    of_samples: tuple[str, ...] = ()
    noun: str = ""
    table: UnitsTable | None = None

    @property
    def sentences(self) -> tuple[str, ...]:
        return (*self.of_trial, *self.of_samples)


def answer(question: Question, kind: Kind = Kind.PAIRED, was_seen: bool = False) -> Answer:
    """Size of trial and grain floors. Never raises: what cannot be answered is said.

    `was_seen`: the spread is one that a trial showed, so that no assumed sample makes it impossible.
    """
    wrong = [sentence for _, _, sentence in objections(question)]
    if wrong:
        return Answer(None, tuple(wrong))
    given = trial_size(question.gain, question.spread, kind, spread_from=question.spread_from)
    least = 0.0 if was_seen else _least_spread(question, kind)
    possible = max(question.spread, least)
    size = given if possible == question.spread else trial_size(question.gain, possible, kind)
    noun = NOUNS[kind]
    sentences = [
        f"{size.units} {noun} find a true gain of {_points(question.gain)} with 80 % power (two-sided 5 %); the "
        f"95 % interval is then about ±{size.half_width:.2f} % points. Fewer than {LEAST_UNITS[kind]} are never called "
        "firm."
    ]
    if size is not given:
        sentences.append(
            f"That is at a spread of {possible:.2f} % points, the least that the samples below allow; at the "
            f"{question.spread:.2f} given, which they do not reach, it would be {given.units}."
        )
    elif question.spread_from is not None and size.cautious > size.units:
        known = 100.0 * spread_relative_sd(question.spread_from)
        sentences.append(
            f"The spread comes from {question.spread_from} differences only and is itself known to ±{known:.0f} %: "
            f"plan {size.cautious} {noun}, which covers its 80 % upper limit."
        )
    two = 2 if kind is not Kind.EXCHANGED else 4
    sentences.append(f"{two} {noun} would leave ±{half_width(two, kind) * possible:.1f} % points: they prove nothing.")
    of_samples = (*_grains(question, kind, was_seen), *_fundamental(question))
    return Answer(given.units, tuple(sentences), size.units, of_samples, noun, _table(question, possible, kind))


def asked_of(found: TrialEvaluation) -> tuple[Question, Kind] | None:
    """The question with this trial's own scatter, and what else its runs tell; None before there is a comparison."""
    if found.judgement is None:
        return None
    comparison = found.judgement.comparison
    question = Question(
        gain=found.trial.plan.worthwhile_points or Question().gain,
        spread=round(comparison.spread, 2),
        spread_from=min(comparison.units) if comparison.kind is not Kind.UNPAIRED else sum(comparison.units) - 1,
        recovery_pct=round((comparison.reference_mean + comparison.new_mean) / 2.0, 1),
        feed_kg=_mean_of(found, lambda run: run.feed.mass_kg) or Question().feed_kg,
        grade_g_t=_mean_of(found, lambda run: run.feed_grade_g_t or run.feed.grade_g_t) or Question().grade_g_t,
        grain_um=max((gold.size_um for gold in found.trial.sampling.gold), default=Question().grain_um),
        sample_kg=found.trial.sampling.tail_sample_kg or Question().sample_kg,
    )
    return None if objections(question) else (question, comparison.kind)


def _mean_of(found: TrialEvaluation, get: Callable[[Run], float | None]) -> float | None:
    known = [value for run in found.trial.runs if not run.excluded and (value := get(run)) is not None]
    return float(f"{sum(known) / len(known):.4g}") if known else None


def _least_spread(question: Question, kind: Kind) -> float:
    """What grains fed and grains in the tail sample alone make a pair difference, or a run, scatter by; points."""
    grain = effective_grain_mass_mg([question.grain_um], [1.0], NATIVE_GOLD)
    fed = grain_count(question.grade_g_t, question.feed_kg, grain)
    sample = sample_floor(_tail_grade(question), question.sample_kg, grain)
    runs = 2**0.5 if kind is Kind.PAIRED else 1.0
    return runs * 100.0 * recovery_floor(question.recovery_pct * PERCENT, fed, sample.grains)


def _table(question: Question, spread: float, kind: Kind) -> UnitsTable:
    spreads = tuple(spread * share for share in (0.5, 1.0, 1.5, 2.0))
    gains = tuple(question.gain * share for share in (0.5, 1.0, 2.0, 3.0))
    return UnitsTable(spreads, gains, size_table(spreads, gains, kind))


def _grains(question: Question, kind: Kind, was_seen: bool) -> tuple[str, ...]:
    """Grain floors of feed and tail sample."""
    grain = effective_grain_mass_mg([question.grain_um], [1.0], NATIVE_GOLD)
    recovery = question.recovery_pct * PERCENT
    fed = grain_count(question.grade_g_t, question.feed_kg, grain)
    sample = sample_floor(_tail_grade(question), question.sample_kg, grain)
    floor = 100.0 * recovery_floor(recovery, fed, sample.grains)
    alone = 100.0 * recovery_floor(recovery, fed)
    enough = "" if sample.enough else f", fewer than the {LEAST_GRAINS} it should hold: take a larger one"
    of_pair = f", so a pair difference by no less than {2**0.5 * floor:.2f}" if kind is Kind.PAIRED else ""
    return (
        f"A run is fed about {_about(fed)} grains; chance alone scatters its recovery by {alone:.2f} % points.",
        f"The tail sample of {question.sample_kg:g} kg holds about {_about(sample.grains)} grains (relative error "
        f"{100.0 * sample.rsd:.0f} %{_skewed(sample.grains)}){enough}. With it a run scatters by no less than "
        f"{floor:.2f} % points{of_pair}.{_doubt(question, kind, grain, floor, was_seen)}",
    )


def _skewed(grains: float) -> str:
    count = round(grains)
    if not 1 <= count < SKEWED_BELOW:
        return ""
    limits = mean_limits(count)
    return f", 95 % limits −{100.0 - 100.0 * limits.low / count:.0f} to +{100.0 * limits.high / count - 100.0:.0f} %"


def _doubt(question: Question, kind: Kind, grain_mg: float, floor: float, was_seen: bool) -> str:
    """That the spread asked with cannot be had from such samples, and what would help; empty if it can."""
    runs = 2**0.5 if kind is Kind.PAIRED else 1.0
    if question.spread >= runs * floor:
        return ""
    if was_seen:
        return " The trial scattered less: its gold is finer, or its samples were larger, than is assumed here."
    said = (
        f" The spread of {question.spread:.2f} given above is less than that: take larger samples, or plan with "
        f"{runs * floor:.2f} at least."
    )
    feed = feed_for_floor(
        question.recovery_pct * PERCENT, question.spread * PERCENT / runs, question.grade_g_t, grain_mg
    )
    return said if feed <= question.feed_kg else f"{said} The grains fed alone ask for {_about(feed)} kg a run."


def _fundamental(question: Question) -> tuple[str, ...]:
    """Gy's error of the tail sample where it is not ground until the gold is free."""
    if question.top_um is None:
        return ()
    ore = Ore(
        composition=gold_composition(_tail_grade(question)),
        top=question.top_um * MICRON * _CM,
        liberation=question.grain_um * MICRON * _CM,
    )
    error = 100.0 * relative_sd(ore, 1000.0 * question.sample_kg)
    return (
        f"Ground to {question.top_um:g} µm only, the same sample has a relative error of about {error:.0f} % by Gy's "
        f"formula ({error / GY_FACTOR:.0f} to {error * GY_FACTOR:.0f} %: it is uncertain by a factor of about "
        f"{GY_FACTOR:g}, duplicates decide); for {100.0 * GOOD_SAMPLE_RSD:.0f} % it asks for "
        f"{_about(least_sample_g(ore, GOOD_SAMPLE_RSD) / 1000.0)} kg.",
    )


def _tail_grade(question: Question) -> float:
    return question.grade_g_t * (1.0 - question.recovery_pct * PERCENT)


def _about(count: float) -> str:
    """Two or three figures: no more is known."""
    return significant(count, 2 if count < 100.0 else 3)


def _points(gain: float) -> str:
    return f"{gain:g} % point" if gain == 1.0 else f"{gain:g} % points"
