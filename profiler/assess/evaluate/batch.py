"""One shape under many duties: the same evaluate(), with the shape handed over, and its batch taken apart again."""

from collections.abc import Sequence
from dataclasses import fields, replace

from profiler.assess.evaluate.evaluation import Evaluation, StageCache, Stages, evaluate
from profiler.assess.flow.by_duty import apart
from profiler.assess.flow.sizes import usable
from profiler.study import Duty, objections

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
    """One evaluation per duty of a batch, with its part of the arrays; without findings, which speak of the first."""
    names = [m.name for m in fields(e) if m.name not in _OF_NO_DUTY and getattr(e, m.name) is not None]
    parts = [apart(getattr(e, name), len(e.duties)) for name in names]
    found = []
    for i, duty in enumerate(e.duties):
        stages = {name: part[i] for name, part in zip(names, parts, strict=True)}
        one = replace(e, duties=(duty,), findings=(), **stages)
        if one.flow is not None and one.flow.answers.missing[0]:
            one = replace(one, flow=None, catch=None, spin=None)
        found.append(one)
    return tuple(found)
