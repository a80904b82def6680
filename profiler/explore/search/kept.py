"""What a search found, made a design of the study, with its lineage."""

from msgspec.structs import replace

from profiler.explore.search.goal import CLAIM
from profiler.explore.search.search import Found
from profiler.explore.search.tried import Tried
from profiler.numbers import as_printed, counted
from profiler.study import Design, Lineage, Study, Way
from profiler.study.edits.list_edits import free_name


def with_found(study: Study, found: Found, chosen: Tried) -> Study:
    """The study with a candidate as a design after the one it was made from, and shown."""
    origin = found.asked.design
    name = free_name(f"{origin.name}, found", tuple(d.name for d in study.designs))
    made = replace(chosen.design, name=name, lineage=Lineage(Way.SEARCH, origin.name, told=terms(found, chosen)))
    designs: list[Design] = []
    for design in study.designs:
        designs += [design, made] if design.name == origin.name else [design]
    return replace(study, designs=tuple(designs), shown=replace(study.shown, design=name))


def terms(found: Found, chosen: Tried) -> str:
    """For which goal, on which conditions, with which seed and friction it was found."""
    asked = found.asked
    goal, start = asked.goal, found.start
    was = f" ({goal.text(start.value)} at the start)" if start.value == start.value else ""
    parts = [
        f"to {_to_do(goal.words)}: {goal.text(chosen.value)}{was}",
        *(f"condition: {c.words}" for c in asked.conditions),
        f"{counted(found.evaluations, 'evaluation')}, seed {asked.seed}, {asked.points} points",
        *(f"“{d.name}”: friction {d.friction:g}, band {d.friction_low:g} to {d.friction_high:g}" for d in asked.duties),
    ]
    return as_printed(f"{'; '.join(parts)}. {CLAIM}")


def _to_do(words: str) -> str:
    return words if words.startswith(("raise", "lower")) else f"come near to {words}"
