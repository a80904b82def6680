"""The report's table of models: every equation, where it comes from and what it is valid for; alike ones in one row."""

from itertools import groupby

from profiler.assess.quantities.quantity import Quantity
from profiler.assess.quantities.table import QUANTITIES
from profiler.output.blocks.blocks import DASH, Block, Grid, Heading


def model_blocks() -> list[Block]:
    told = [q for q in QUANTITIES if q.equation]
    rows = []
    for (equation, source, limits), group in groupby(told, key=_statement):
        rows.append((_together([q.label for q in group]), equation, source, limits or DASH))
    heads = ("Quantity", "Equation", "Source", "Valid for")
    grid = Grid(heads, tuple(rows), (1.5, 2.8, 2.0, 1.7), dittos=(2, 3))
    return [Heading("Models, equations and what they are valid for"), grid]


def _statement(q: Quantity) -> tuple[str, str, str]:
    return q.equation, q.source, q.limits


def _together(labels: list[str]) -> str:
    """'Wall by height: strong overturn, weak overturn' for labels that begin alike."""
    labels = list(dict.fromkeys(labels))
    heads = {label.rpartition(", ")[0] for label in labels}
    head = heads.pop()
    if len(labels) == 1 or heads or not head:
        return ", ".join(labels)
    return f"{head}: {', '.join(label[len(head) + 2 :] for label in labels)}"
