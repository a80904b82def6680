"""Numbers for a trial that has not been run, as sentences: pairs for a gain and a spread, what a sample can hold."""

from dataclasses import dataclass
from typing import Annotated

from msgspec import Struct

from profiler.assess.trials.error_budget import NATIVE_GOLD
from profiler.statistics.inference.comparison import Kind
from profiler.statistics.inference.power import half_width
from profiler.statistics.sampling.grains import LEAST_GRAINS, effective_grain_mass_mg, grain_count, recovery_floor
from profiler.statistics.trial.planner import sample_floor, trial_size
from profiler.statistics.trial.verdict import points
from profiler.study.records.fields import number, objections

KINDS = {"pairs": Kind.PAIRED, "unpaired runs": Kind.UNPAIRED, "exchanged machines": Kind.EXCHANGED}


class Question(Struct, frozen=True):
    """What is asked of the planner; nothing of it is kept in the study."""

    gain: Annotated[float, number("Gain to show", "points", 0.01, 100, 0.1, 2, "True difference to be found.")] = 1.0
    spread: Annotated[
        float, number("Spread", "points", 0.01, 100, 0.1, 2, "Deviation of a pair difference, or of one run.")
    ] = 2.0
    spread_from: (
        Annotated[int, number("Spread estimated from", "pairs", 2, 10_000, 1, 0, "Empty: known exactly.")] | None
    ) = None
    recovery_pct: Annotated[float, number("Recovery", "%", 0.1, 99.9, 1, 1, "To expect.")] = 40.0
    feed_kg: Annotated[float, number("Feed per run", "kg", 0.01, 1e9, 10, 2, "Dry.")] = 1000.0
    grade_g_t: Annotated[float, number("Feed grade", "g/t", 0.001, 1e5, 0.1, 3, "Of the feed.")] = 4.0
    grain_um: Annotated[float, number("Gold grains", "µm", 1, 20_000, 5, 0, "Size that carries most of the gold.")] = (
        150.0
    )
    sample_kg: Annotated[float, number("Tail sample", "kg", 0.001, 1e6, 0.1, 3, "Mass assayed, not only taken.")] = 1.0


@dataclass(frozen=True, slots=True)
class Answer:
    """What the planner says; `units` is None where the question cannot be answered, `sentences` then says why."""

    units: int | None
    sentences: tuple[str, ...]


def answer(question: Question, kind: Kind = Kind.PAIRED) -> Answer:
    """Size of trial and grain floors. Never raises: what cannot be answered is said."""
    wrong = [sentence for _, _, sentence in objections(question)]
    if wrong:
        return Answer(None, tuple(wrong))
    size = trial_size(question.gain, question.spread, kind, spread_from=question.spread_from)
    noun = {Kind.PAIRED: "pairs", Kind.UNPAIRED: "runs of each design", Kind.EXCHANGED: "blocks"}[kind]
    sentences = [
        f"{size.units} {noun} find a true gain of {points(question.gain)} four times in five (two-sided 5 %); the "
        f"95 % interval is then about ±{size.half_width:.2f} points. Fewer than 6 are never called firm."
    ]
    if question.spread_from is not None and size.cautious > size.units:
        sentences.append(
            f"The spread comes from {question.spread_from} differences only: plan {size.cautious} {noun}, which covers "
            "its 80 % upper limit."
        )
    two = 2 if kind is not Kind.EXCHANGED else 4
    sentences.append(
        f"{two} {noun} would leave ±{half_width(two, kind) * question.spread:.1f} points: they prove nothing."
    )
    return Answer(size.units, (*sentences, *_grains(question, kind)))


def _grains(question: Question, kind: Kind) -> tuple[str, ...]:
    """Grain floors of feed and tail sample."""
    grain = effective_grain_mass_mg([question.grain_um], [1.0], NATIVE_GOLD)
    recovery = question.recovery_pct / 100.0
    fed = grain_count(question.grade_g_t, question.feed_kg, grain)
    tail_grade = question.grade_g_t * (1.0 - recovery)
    sample = sample_floor(tail_grade, question.sample_kg, grain)
    floor = 100.0 * recovery_floor(recovery, fed, sample.grains)
    alone = 100.0 * recovery_floor(recovery, fed)
    enough = "" if sample.enough else f", fewer than the {LEAST_GRAINS} it should hold: take a larger one"
    least = 2**0.5 * floor if kind is Kind.PAIRED else floor
    of_pair = f", so a pair difference by no less than {least:.2f}" if kind is Kind.PAIRED else ""
    doubt = (
        f" The spread of {question.spread:.2f} given above is less than that: take larger samples, or plan with "
        f"{least:.2f} at least."
        if question.spread < least
        else ""
    )
    return (
        f"A run is fed about {_about(fed)} grains; chance alone scatters its recovery by {alone:.2f} points.",
        f"The tail sample of {question.sample_kg:g} kg holds about {_about(sample.grains)} grains (relative error "
        f"{100.0 * sample.rsd:.0f} %){enough}. With it a run scatters by no less than {floor:.2f} points{of_pair}."
        f"{doubt}",
    )


def _about(count: float) -> str:
    """Three figures: no more is known. Thousands are parted by a thin space."""
    return f"{float(f'{count:.3g}'):,.0f}".replace(",", "\u2009")
