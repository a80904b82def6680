"""What of a trial's numbers can be worked with: one outside its bounds is a finding on its run, and counts as not
recorded, so that the rest can be judged.

A file may hold any number (1e308 in one cell); nothing is corrected in it. Not here: what a sound number says.
"""

from dataclasses import dataclass
from typing import TypeVar

from msgspec import NODEFAULT
from msgspec.structs import fields, replace

from profiler.study import objections
from profiler.study.records.fields import fields_of
from profiler.study.records.record import Record
from profiler.study.records.trial import Run, SampledStream, SieveAssay, Trial

_GRADES = fields_of(SieveAssay)["concentrate_g_t"]  # assays of a stream are a list; its bounds are those of a class
Kind = TypeVar("Kind", bound=Record)
LEAST_G_T = 1e-6  # no assay finds less; nothing at all is another matter
STREAMS = {"feed": "Feed", "concentrate": "Concentrate", "tail": "Tail"}
STREAMS |= {"cleaner_concentrate": "Cleaner concentrate", "cleaner_tail": "Cleaner tail"}


@dataclass(frozen=True, slots=True)
class Usable:
    """The trial as it is judged; `of_runs` sentences on each run, `of_trial` on plan, samples and worth."""

    trial: Trial
    of_runs: tuple[tuple[str, ...], ...]
    of_trial: tuple[str, ...]


def usable(trial: Trial) -> Usable:
    """The very same trial where every number lies within its bounds."""
    runs, of_runs = [], []
    for run in trial.runs:
        kept, said = _run(run)
        runs.append(kept)
        of_runs.append(said)
    of_trial: list[str] = []
    for name in ("plan", "sampling", "worth"):
        part, said = _within(getattr(trial, name))
        of_trial += said
        trial = trial if not said else replace(trial, **{name: part})
    gold = tuple(each for each in trial.sampling.gold if not objections(each))
    if len(gold) < len(trial.sampling.gold):
        of_trial += [text for each in trial.sampling.gold for _, _, text in objections(each)]
        trial = replace(trial, sampling=replace(trial.sampling, gold=gold))
    if any(of_runs):
        trial = replace(trial, runs=tuple(runs))
    return Usable(trial, tuple(of_runs), tuple(of_trial))


def _run(run: Run) -> tuple[Run, tuple[str, ...]]:
    kept, said = _within(run)
    for name, label in STREAMS.items():
        stream, more = _stream(getattr(kept, name), label)
        if more:
            kept, said = replace(kept, **{name: stream}), (*said, *more)
    of_sizes = tuple(text for size in run.sizes for _, _, text in objections(size))
    return (replace(kept, sizes=()), (*said, *of_sizes)) if of_sizes else (kept, said)


def _stream(stream: SampledStream, label: str) -> tuple[SampledStream, tuple[str, ...]]:
    kept, said = _within(stream)
    said = tuple(f"{label}: {text}" for text in said)
    wrong = [grade for grade in stream.grades_g_t if not _can_be(grade)]
    if not wrong:
        return kept, said
    text = f"{label}: an assay is {wrong[0]:g} g/t, but must lie between 0 and {_GRADES.high:g} g/t."
    return replace(kept, grades_g_t=tuple(g for g in stream.grades_g_t if g not in wrong)), (*said, text)


def _can_be(grade: float) -> bool:
    return grade == 0.0 or LEAST_G_T <= grade <= _GRADES.high


def _within(record: Kind) -> tuple[Kind, tuple[str, ...]]:
    """The record with what lies outside its bounds put back to not recorded, and a sentence on each."""
    found = objections(record)
    if not found:
        return record, ()
    empty = {f.name: f.default for f in fields(record) if f.default is not NODEFAULT}
    members = {field.name: empty[field.name] for field, _, _ in found if field.name in empty}
    return replace(record, **members), tuple(text for _, _, text in found)
