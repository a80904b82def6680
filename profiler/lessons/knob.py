"""The one thing a lesson turns, and what else was changed meanwhile: it shows what its knob does, nothing else."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from msgspec.structs import replace

from profiler.assess import Evaluation
from profiler.study import Design, Duty, Field, GrooveRule, Record
from profiler.study.records.fields import members_of

WITHOUT_BEARING = ("name", "note", "in_window", "weight")  # members that no number of the bowl depends on


@dataclass(frozen=True, slots=True)
class Knob:
    """`turned` gives the first design or duty with the second one's knob, everything else as it was at first."""

    name: str  # as a sentence says it
    of_design: Callable[[Design, Design], Design] = lambda start, now: start
    of_duty: Callable[[Duty, Duty], Duty] = lambda start, now: start

    def others(self, start: Evaluation, now: Evaluation) -> tuple[str, ...]:
        """Labels of everything else that is not as it was at first, each once."""
        pairs = (
            (self.of_design(start.design, now.design), now.design),
            (self.of_duty(start.duty, now.duty), now.duty),
            (start.machine, now.machine),
        )
        return tuple(dict.fromkeys(label for before, after in pairs for label in _differing(before, after)))


def number_of_duty(field: Field[float]) -> Knob:
    return Knob(field.label, of_duty=lambda start, now: field.set(start, field.get(now)))


def wall_angles(name: str = "the wall's angles") -> Knob:
    """Knots and their angles, moved, added or taken away; the end that is held stays."""
    return Knob(name, of_design=lambda a, b: replace(a, wall=replace(a.wall, knots=b.wall.knots)))


def hole_plan(name: str) -> Knob:
    return Knob(name, of_design=lambda start, now: replace(start, holes=now.holes))


def mouths(name: str) -> Knob:
    """By the rule for all grooves, or for single ones."""
    return Knob(name, of_design=lambda start, now: replace(start, grooves=_with_mouths_of(start.grooves, now.grooves)))


def _with_mouths_of(start: GrooveRule, now: GrooveRule) -> GrooveRule:
    """The rule at first, with the mouths of the other; other departures stay those of the first."""
    wide = replace(start, mouth_mm=now.mouth_mm)
    for change in now.changes:
        row = wide.row("changes", change.place)
        wide = wide.having_row("changes", change.place, row.having("mouth_mm", change.mouth_mm))
    return wide


def _differing(before: Record, after: Record) -> Iterator[str]:
    labels = members_of(type(before))
    for name in before.__struct_fields__:
        old, new = getattr(before, name), getattr(after, name)
        if old == new or name in WITHOUT_BEARING:
            continue
        if isinstance(old, Record) and type(old) is type(new):
            yield from _differing(old, new)
        else:
            yield labels[name].label
