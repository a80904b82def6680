"""Over which range a map of a design tells something: round its own duty, as narrow as shows a change.

A range that is the same for every design is a plain field for most of them. So a few duties are asked over ever wider
ranges round the shown duty, and the first is taken over which the quantity moves. A proposal, to be typed over.
"""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from profiler.assess import Evaluation
from profiler.assess.evaluate.batch import each, under
from profiler.assess.quantities.table import quantity
from profiler.explore.ore_map import Asked, Span, node_duty, node_value, wanted_stages
from profiler.study import Duty

REACHES = (1.25, 1.6, 2.0, 3.0)  # times the duty's number, and its inverse
ASIDE = 1.08
NODES = 5  # each way
MOVED, ANSWERED = 0.5, 0.7  # shares of the nodes that differ from the duty as shown; that have a number at all


def telling(question: Asked, e: Evaluation, window: Sequence[Duty] = (), else_of: Sequence[str] = ()) -> Asked:
    """The question over the range that tells, which holds the ore window's duties too; as asked where there is none.

    `else_of`: quantities of the bowl to ask for, in this order, where the first does not move.
    """
    if e.shape is None or e.flow is None:
        return question
    best, most = question, -1.0
    for one in (question, *(replace(question, quantity=quantity(key), groove=None) for key in else_of)):
        for reach in REACHES:
            x, y = (_around(span, e.duty, window, reach) for span in (question.x, question.y))
            around = replace(one, x=x, y=y)
            moved, answered = _shares(around, e)
            if moved >= MOVED and answered >= ANSWERED:
                return around
            if moved * answered > most:
                best, most = around, moved * answered
    return best


def _around(span: Span, duty: Duty, window: Sequence[Duty], reach: float) -> Span:
    """Within the field's bounds and not far beyond the usual range; a number that is 0 has no range of its own."""
    axis, field = span.axis, span.axis.field
    now = axis.value(duty)
    held = [now, *(axis.value(other) for other in window)]
    if now <= 0.0:
        return span
    least, most = min(held) / ASIDE, max(held) * ASIDE  # so that no duty lies on the map's edge
    low = max(min(least, now / reach), field.low, min(0.5 * axis.low, least))
    high = min(max(most, now * reach), field.high, max(axis.high, most))
    low, high = (float(f"{value:.2g}") for value in (low, high))
    return replace(span, low=min(low, now), high=max(high, now)) if low < high else span


def _shares(question: Asked, e: Evaluation) -> tuple[float, float]:
    """Of a few nodes: how many would be read otherwise than the duty as shown, and how many have a number."""
    x, y = (np.linspace(s.low, s.high, NODES) for s in (question.x, question.y))
    duties = [node_duty(question, e.duty, float(a), float(b)) for b in y for a in x]
    values = [node_value(question, one) for one in each(under(e, duties, wanted_stages(question, e)))]
    shown = question.quantity.text(node_value(question, e))
    known = [question.quantity.text(value) for value in values if value == value]
    return sum(text != shown for text in known) / max(len(known), 1), len(known) / len(values)
