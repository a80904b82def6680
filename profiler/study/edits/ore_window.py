"""An ore window built from one duty: plus and minus chosen amounts of some of its numbers, named by what differs.

Weights are those of going from low over middle to high: 1, 2, 1 for each number, multiplied where several are crossed.
"""

from collections.abc import Mapping, Sequence
from enum import StrEnum
from itertools import product

from msgspec.structs import replace

from profiler.study.edits.list_edits import MOST_IN_WINDOW, free_name
from profiler.study.records.duty import D50, DRY_FEED, SOLIDS, SOLIDS_DENSITY, SPEED, WATER, Duty
from profiler.study.records.fields import Field
from profiler.study.records.study import Study

VARIED = (SOLIDS, D50, DRY_FEED, SPEED, WATER, SOLIDS_DENSITY)
COUNTS = (3, 5, 9)
MIDDLE = 2.0  # weight of a number as it is, against 1 at either end


class Way(StrEnum):
    """How several numbers are varied."""

    TOGETHER = "all together"
    EACH = "one at a time"
    CROSSED = "every combination"


Steps = tuple[tuple[Field[float], int], ...]  # which numbers go down (-1) or up (1)


def built(study: Study, amounts: Mapping[Field[float], float], way: Way) -> Study:
    """The study with the window's duties after the shown one; duties that were in the window leave it, and stay.

    Raises ValueError, one sentence, for amounts that are none, a number that would leave its bounds, or a window that
    is not of 3, 5 or 9 duties.
    """
    base = study.duty
    fields = [field for field in VARIED if amounts.get(field, 0.0) != 0.0]
    if not fields:
        raise ValueError("Give at least one amount: by how much the ore or the running goes up and down.")
    if any(not amounts[field] > 0.0 for field in fields):
        raise ValueError("Amounts are above zero: each goes both down and up.")
    if base.size_classes and D50 in fields:
        raise ValueError(
            f"The size of “{base.name}” follows from its classes: vary another number, or go back to one d50."
        )
    plans = _plans(fields, way)
    if len(plans) + 1 not in COUNTS or len(plans) + 1 > MOST_IN_WINDOW:
        raise ValueError(
            f"{len(fields)} numbers, {way}, make {len(plans) + 1} duties; an ore window is built of 3, 5 or 9."
        )
    middle = replace(base, in_window=True, weight=_weight((), fields, way))
    names = [d.name for d in study.duties]
    new: list[Duty] = []
    for steps in plans:
        duty = _stepped(middle, steps, amounts)
        duty = replace(
            duty, name=free_name(_name(base, steps, amounts), tuple(names)), weight=_weight(steps, fields, way)
        )
        names.append(duty.name)
        new.append(duty)
    place = study.duties.index(base)
    others = [replace(d, in_window=False) if d.in_window else d for d in study.duties]
    return study.having("duties", (*others[:place], middle, *new, *others[place + 1 :]))


def in_all(study: Study, field: Field[float]) -> Study:
    """The shown duty's value of one number in every duty. Raises ValueError where all have it already."""
    value = field.get(study.duty)
    duties = tuple(field.set(d, value) for d in study.duties)
    if duties == study.duties:
        raise ValueError(f"All duties have {field.label.lower()} {field.with_unit(value)} already.")
    return study.having("duties", duties)


def _plans(fields: Sequence[Field[float]], way: Way) -> list[Steps]:
    if way is Way.TOGETHER:
        return [tuple((f, sign) for f in fields) for sign in (-1, 1)]
    if way is Way.EACH:
        return [((f, sign),) for f in fields for sign in (-1, 1)]
    crossed = product((-1, 0, 1), repeat=len(fields))
    return [tuple((f, s) for f, s in zip(fields, signs, strict=True) if s) for signs in crossed if any(signs)]


def _stepped(duty: Duty, steps: Steps, amounts: Mapping[Field[float], float]) -> Duty:
    for field, sign in steps:
        value = round(field.get(duty) + sign * amounts[field], field.decimals + 2)
        objection = field.objection(value)
        if objection is not None:
            raise ValueError(f"{objection} Choose a smaller amount.")
        duty = field.set(duty, value)
    return duty


def _weight(steps: Steps, fields: Sequence[Field[float]], way: Way) -> float:
    """Products of 1, 2, 1 where numbers are crossed; else 1 at an end and 2 in the middle."""
    if way is Way.CROSSED:
        return float(MIDDLE ** (len(fields) - len(steps)))
    return 1.0 if steps else MIDDLE


def _name(base: Duty, steps: Steps, amounts: Mapping[Field[float], float]) -> str:
    parts = [
        f"{field.label.lower()} {'+' if sign > 0 else '−'}{amounts[field]:g} {field.unit}".strip()
        for field, sign in steps
    ]
    return f"{base.name}, {', '.join(parts)}"
