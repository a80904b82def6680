"""The report's models: every equation with a number of this study, its source, what it is valid for, its symbols.

Equations of one kind stand together; sources and limits that many of them share are numbered and told once.
"""

from collections.abc import Iterable
from itertools import groupby, zip_longest

import numpy as np

from profiler.assess import Evaluation
from profiler.assess.evidence.words import as_it_stands
from profiler.assess.quantities.catch_quantities import CATCH_QUANTITIES
from profiler.assess.quantities.groove_card import groove_card
from profiler.assess.quantities.quantity import Quantity, Scope
from profiler.assess.quantities.references import CITATIONS, FROM_MEMORY, cited
from profiler.assess.quantities.spin_quantities import SPIN_QUANTITIES
from profiler.assess.quantities.symbols import OWN, SYMBOLS, symbols_of
from profiler.assess.quantities.table import QUANTITIES
from profiler.numbers import fixed
from profiler.output.blocks.blocks import DASH, Block, Grid, Heading, Paragraph
from profiler.study import NOT_GIVEN

KINDS = ("Shape and slurry surface", "Water, grains and contents", "What turns")
HEADS = ("Quantity", "Equation", "In this study", "Source", "Valid for")


def model_blocks(e: Evaluation) -> list[Block]:
    told = [q for q in QUANTITIES if q.equation]
    sources, limits = _numbered(q.source for q in told), _numbered(q.limits_under(e.duty) for q in told if q.limits)
    worked = _Worked(e)
    blocks: list[Block] = [Heading("Models, equations and what they are valid for")]
    for k, kind in enumerate(KINDS):
        rows = []
        for (equation, source, limit), group in groupby([q for q in told if _kind(q) == k], key=_statement):
            alike = list(group)
            marks = (f"[{sources[source]}]", f"({limits[as_it_stands(limit, e.duty)]})" if limit else DASH)
            rows.append((_together([q.label for q in alike]), equation, worked.number(alike), *marks))
        blocks += [Heading(kind, 2), Grid(HEADS, tuple(rows), (1.6, 2.8, 2.4, 0.6, 0.7))]
    blocks += [Heading("Sources of the equations", 2), *(Paragraph(f"[{n}]  {text}.") for text, n in sources.items())]
    blocks += [Heading("What they are valid for", 2), *(Paragraph(f"({n})  {text}.") for text, n in limits.items())]
    return [*blocks, *_symbols(told), *_references(told)]


def _kind(q: Quantity) -> int:
    return 1 if q in CATCH_QUANTITIES else 2 if q in SPIN_QUANTITIES else 0


def _numbered(texts: Iterable[str]) -> dict[str, int]:
    return {text: number for number, text in enumerate(dict.fromkeys(texts), 1)}


def _statement(q: Quantity) -> tuple[str, str, str]:
    return q.equation, q.source, q.limits


class _Worked:
    """Numbers of this study: of the groove that overturns most, of the wall at half its height, of the bowl."""

    def __init__(self, e: Evaluation) -> None:
        self._e = e
        has_grooves = e.flow is not None and e.shape is not None and len(e.shape.mouths) > 0
        self._groove = int(np.argmax(e.flow.groove_ratio[0])) + 1 if e.flow is not None and has_grooves else 1
        card = groove_card(e, self._groove) if has_grooves else ()
        self._inputs = {row.label: row.inputs for section in card for row in section.rows if row.inputs}

    def number(self, alike: list[Quantity]) -> str:
        """Of the first of them that has one; what went in where the groove's card tells it."""
        for q in alike:
            found = self._of(q)
            if found:
                inputs = self._inputs.get(q.label, "") if q.scope is Scope.GROOVE else ""
                return f"{found} from {inputs}" if inputs else found
        return NOT_GIVEN

    def _of(self, q: Quantity) -> str:
        values = np.asarray(q.get(self._e), dtype=float)
        if q.scope is Scope.GROOVE:
            number = self._groove
            at = f"groove {number}: "
        elif q.scope is Scope.WALL and self._e.shape is not None:
            heights = self._e.shape.stations.height
            number = int(np.argmin(np.abs(heights - 0.5 * heights[-1]))) + 1
            at = f"at {fixed(float(heights[number - 1]), 1)} mm: "
        else:
            number, at = 1, ""
        if number > len(values) or not np.isfinite(values[number - 1]):
            return ""
        return f"{at}{q.text(float(values[number - 1]))}"


def _symbols(told: list[Quantity]) -> list[Block]:
    """Every letter of an equation, once; below them those that one quantity means in a sense of its own."""
    used = {name for q in told for name in symbols_of(q.equation)}
    pairs = [(name, SYMBOLS[name]) for name in sorted(SYMBOLS) if name in used]
    half = (len(pairs) + 1) // 2
    rows = tuple((*a, *b) for a, b in zip_longest(pairs[:half], pairs[half:], fillvalue=("", "")))
    blocks: list[Block] = [Heading("Symbols"), Grid(("Letter", "means", "Letter", "means"), rows, (0.5, 3.0, 0.5, 3.0))]
    own: dict[tuple[tuple[str, str], ...], list[str]] = {}
    for q in told:
        meant = tuple((n, OWN[q.key][n]) for n in symbols_of(q.equation) if n in OWN.get(q.key, {}))
        if meant:
            own.setdefault(meant, []).append(q.label)
    if own:
        senses = tuple((_together(labels), "; ".join(f"{n} {w}" for n, w in meant)) for meant, labels in own.items())
        blocks += [Heading("Letters with another meaning in one equation", 2),
                   Grid(("Quantity", "means there"), senses, (1.6, 4.0))]  # fmt: skip
    return blocks


def _references(told: list[Quantity]) -> list[Block]:
    named = {name for q in told for name in cited(q.source)}
    works = [Paragraph(text) for name, text in CITATIONS.items() if name in named]
    return [Heading("References"), *works, Paragraph(FROM_MEMORY)]


def _together(labels: list[str]) -> str:
    """'Share of wall height: strong overturn, weak overturn' for labels that begin alike."""
    labels = list(dict.fromkeys(labels))
    heads = {label.rpartition(", ")[0] for label in labels}
    head = heads.pop()
    if len(labels) == 1 or heads or not head:
        return ", ".join(labels)
    return f"{head}: {', '.join(label[len(head) + 2 :] for label in labels)}"
