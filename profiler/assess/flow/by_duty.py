"""A stage's arrays lead with the duty: some duties of it cut out, and put back in where they belong."""

from collections.abc import Callable, Sequence
from dataclasses import fields, is_dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

Stage = TypeVar("Stage")


def cut(stage: Stage, duties: NDArray[np.intp], count: int) -> Stage:
    """The stage for these of its `count` duties."""
    if len(duties) == 1:  # a view of it does
        first = int(duties[0])
        return _each(stage, count, lambda a, _: a[first : first + 1], None)
    return _each(stage, count, lambda a, _: a[duties], None)


def put(stage: Stage, duties: NDArray[np.intp], count: int, part: Stage) -> Stage:
    """The stage of `count` duties with those of `part` in these places."""

    def placed(whole: NDArray[np.generic], here: object) -> NDArray[np.generic]:
        new = whole.copy()
        new[duties] = np.asarray(here)
        return new

    return _each(stage, count, placed, part)


def apart(stage: Stage, count: int) -> tuple[Stage, ...]:
    """The stage for each of its `count` duties by itself: views of the whole, looked through once for all of them."""
    columns: list[Sequence[object]] = []
    for member in fields(stage):  # type: ignore[arg-type]
        value = getattr(stage, member.name)
        if isinstance(value, np.ndarray) and value.ndim and value.shape[0] == count:
            columns.append([value[i : i + 1] for i in range(count)])
        elif is_dataclass(value) and not isinstance(value, type):
            columns.append(apart(value, count))
        else:
            columns.append((value,) * count)
    return tuple(type(stage)(*row) for row in zip(*columns, strict=True))


def _each(
    stage: Stage, count: int, do: Callable[[NDArray[np.generic], object], NDArray[np.generic]], part: Stage | None
) -> Stage:
    values: dict[str, object] = {}
    for name in _members(type(stage)):
        value, other = getattr(stage, name), None if part is None else getattr(part, name)
        if isinstance(value, np.ndarray):
            if value.ndim and value.shape[0] == count:
                value = do(value, other)
        elif _members(type(value)):
            value = _each(value, count, do, other)
        values[name] = value
    return type(stage)(**values)


_MEMBERS: dict[type, tuple[str, ...]] = {}


def _members(of: type) -> tuple[str, ...]:
    """Names of a dataclass's members; nothing for any other type. Kept: this is asked some thousand times a search."""
    known = _MEMBERS.get(of)
    if known is None:
        known = _MEMBERS[of] = tuple(member.name for member in fields(of)) if is_dataclass(of) else ()
    return known
