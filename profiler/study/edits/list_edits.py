"""Pure edits of a study's lists: several designs and several duties, which of them is shown, which is the reference.

Each takes a study and returns a new one, or refuses with one sentence (ValueError). What is inside a design or a duty
is edited in `design_edits`, single values through their fields.
"""

from collections.abc import Callable
from enum import StrEnum

from msgspec.structs import replace

from profiler.study.edits import trial_edits
from profiler.study.edits.design_edits import plain_cone
from profiler.study.edits.names import typed_name
from profiler.study.records.design import Design
from profiler.study.records.duty import Duty, following
from profiler.study.records.lineage import Lineage, Way
from profiler.study.records.machine import Machine
from profiler.study.records.record import LONGEST_NAME
from profiler.study.records.study import Study

LONGEST_START = LONGEST_NAME - 5  # of a name that a number may have to follow
MOST_IN_WINDOW = 9  # as many columns as the ore ladder has room for


class Listed(StrEnum):
    """Which list of a study is meant; the value is the word for one of its items."""

    DESIGN = "design"
    DUTY = "duty"


Item = Design | Duty


def items(study: Study, kind: Listed) -> tuple[Item, ...]:
    return study.designs if kind is Listed.DESIGN else study.duties


def shown(study: Study, kind: Listed) -> Item:
    return study.design if kind is Listed.DESIGN else study.duty


def turned_to(study: Study, kind: Listed, item: Item) -> Study:
    """The study with this one of its items shown."""
    return study.having("shown", study.shown.having(kind.value, item.name))


def cone_as_it_is(name: str, machine: Machine) -> Design:
    """A plain cone of the machine's height and lip radius; whether it fits the seat is not asked."""
    return plain_cone(name, machine.height_mm, machine.lip_radius_mm)


def add(study: Study, kind: Listed, start: Callable[[str, Machine], Design] = cone_as_it_is) -> Study:
    """A new item after the shown one, and shown: a plain cone, or a duty of usual values on this machine.

    `start` makes the cone; one that fits it to the seat too needs more than is known here.
    """
    names = tuple(i.name for i in items(study, kind))
    if kind is Listed.DESIGN:
        item: Item = start(free_name("Plain cone", names), study.machine)
    else:
        item = Duty(free_name("New duty", names), speed_rpm=study.duty.speed_rpm)
    return _inserted(study, kind, item)


def add_design(study: Study, wanted: str, made: Callable[[str], Design]) -> Study:
    """A design after the shown one, and shown, made under the wanted name or the first free one."""
    name = free_name(wanted, tuple(d.name for d in study.designs))
    return _inserted(study, Listed.DESIGN, made(name))


def duplicate(study: Study, kind: Listed) -> Study:
    """A copy of the shown item after it, under a name of its own, and shown."""
    item = shown(study, kind)
    name = free_name(f"{item.name}, copy", tuple(i.name for i in items(study, kind)))
    copy = item.having("name", name)
    if isinstance(copy, Design):
        copy = copy.having("lineage", Lineage(Way.COPY, origin=item.name))
    return _inserted(study, kind, copy)


def rename(study: Study, kind: Listed, name: str) -> Study:
    """Another name for the shown item; marks and the runs of the trials follow it."""
    item = shown(study, kind)
    name = typed_name(name, kind, item.name)
    if name != item.name and any(i.name == name for i in items(study, kind)):
        raise ValueError(f"There is a {kind} called “{name}” already; “{item.name}” stays.")
    changed = tuple(replace(i, name=name) if i is item else i for i in items(study, kind))
    if kind is Listed.DESIGN:
        trials = tuple(trial_edits.with_design_renamed(trial, item.name, name) for trial in study.trials)
        reference = name if study.reference == item.name else study.reference
        study = replace(study, trials=trials, reference=reference)
        changed = tuple(_descended(i, lambda lineage: lineage.renamed(item.name, name)) for i in changed)
    return _with(study, kind, changed, name)


def delete(study: Study, kind: Listed) -> Study:
    """The study without the shown item; its neighbour is shown then. The last one stays."""
    group, item = items(study, kind), shown(study, kind)
    if len(group) == 1:
        raise ValueError(f"A study needs at least one {kind}; “{item.name}” is the only one.")
    place = group.index(item)
    rest = tuple(i for i in group if i is not item)
    if kind is Listed.DESIGN:
        study = replace(study, reference="") if study.reference == item.name else study
        rest = tuple(_descended(i, lambda lineage: lineage.without(item.name)) for i in rest)
    return _with(study, kind, rest, rest[min(place, len(rest) - 1)].name)


def move(study: Study, kind: Listed, by: int) -> Study:
    """The shown item so many places later in its list (earlier when negative), as far as the list goes."""
    group, item = list(items(study, kind)), shown(study, kind)
    place = group.index(item)
    group.insert(min(max(place + by, 0), len(group) - 1), group.pop(place))
    return _with(study, kind, tuple(group), item.name)


def mark_reference(study: Study, name: str) -> Study:
    """Set the design that differences are taken against; an empty name lets go of it."""
    if name and all(d.name != name for d in study.designs):
        raise ValueError(f"There is no design “{name}” to refer to.")
    return replace(study, reference=name)


def mark_in_window(study: Study, name: str, inside: bool) -> Study:
    """Take a duty into the ore window, or out of it."""
    if inside and len([d for d in study.window if d.name != name]) >= MOST_IN_WINDOW:
        raise ValueError(f"The ore window holds at most {MOST_IN_WINDOW} duties; take one out first.")
    return replace(study, duties=tuple(replace(d, in_window=inside) if d.name == name else d for d in study.duties))


def free_name(wanted: str, taken: tuple[str, ...]) -> str:
    """The wanted name, or that name with the first number that makes it another."""
    wanted = wanted[:LONGEST_START]
    if wanted not in taken:
        return wanted
    return next(name for n in range(2, len(taken) + 3) if (name := f"{wanted} {n}") not in taken)


def _descended(item: Item, change: Callable[[Lineage], Lineage]) -> Item:
    return item.having("lineage", change(item.lineage)) if isinstance(item, Design) else item


def _inserted(study: Study, kind: Listed, item: Item) -> Study:
    group = items(study, kind)
    place = group.index(shown(study, kind)) + 1
    return _with(study, kind, (*group[:place], item, *group[place:]), item.name)


def _with(study: Study, kind: Listed, group: tuple[Item, ...], name: str) -> Study:
    if kind is Listed.DESIGN:
        designs = tuple(i for i in group if isinstance(i, Design))
        return replace(study, designs=designs, shown=replace(study.shown, design=name))
    duties = tuple(i for i in group if isinstance(i, Duty))
    return replace(study, duties=following(duties), shown=replace(study.shown, duty=name))
