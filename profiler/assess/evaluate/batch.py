"""One shape under many duties: the same evaluate(), with the shape handed over, and its batch taken apart again."""

from collections.abc import Sequence
from dataclasses import fields, is_dataclass, replace
from typing import TypeVar

import numpy as np

from profiler.assess.evaluate.evaluation import Evaluation, StageCache, Stages, evaluate
from profiler.assess.flow.sizes import usable
from profiler.study import Duty, objections

Stage = TypeVar("Stage")
_OF_NO_DUTY = frozenset(("design", "machine", "duties", "shape", "body", "findings"))  # every other stage is batched


def under(e: Evaluation, duties: Sequence[Duty], want: Stages = Stages.FLOW) -> Evaluation:
    """The design of an evaluation under other duties, worked in one batch; its shape is taken over, not made again."""
    cache = StageCache()
    if e.shape is not None:
        shape = e.shape
        cache.once("shape", (e.design, e.machine), lambda: (shape, ()))
    return evaluate(e.design, e.machine, duties, want, cache)


def workable(duties: Sequence[Duty]) -> tuple[Duty, ...]:
    """The duties all of whose numbers lie within their bounds: one that does not would keep the rest from a flow."""
    return tuple(d for d in duties if not objections(d) and usable(d))


def each(e: Evaluation) -> tuple[Evaluation, ...]:
    """One evaluation per duty of a batch, with views into its arrays; without findings, which speak of the first."""
    batched = {m.name: getattr(e, m.name) for m in fields(e) if m.name not in _OF_NO_DUTY}
    found = []
    for i, duty in enumerate(e.duties):
        stages = {name: _one(stage, i, len(e.duties)) for name, stage in batched.items() if stage is not None}
        found.append(replace(e, duties=(duty,), findings=(), **stages))
    return tuple(found)


def _one(stage: Stage, i: int, count: int) -> Stage:
    """The stage with every array cut to one duty along its leading axis; parts of it likewise."""
    values: dict[str, object] = {}
    for member in fields(stage):  # type: ignore[arg-type]
        value = getattr(stage, member.name)
        if isinstance(value, np.ndarray) and value.ndim and value.shape[0] == count:
            values[member.name] = value[i : i + 1]
        elif is_dataclass(value) and not isinstance(value, type):
            values[member.name] = _one(value, i, count)
        else:
            values[member.name] = value
    return type(stage)(**values)
