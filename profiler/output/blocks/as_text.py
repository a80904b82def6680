"""Blocks as text for the terminal: paragraphs wrapped, tables in columns, pictures left to other outputs."""

from collections.abc import Iterable, Sequence
from textwrap import wrap

from profiler.output.blocks.blocks import Block, Figure, Grid, Heading, Paragraph

WIDTH = 100  # columns
INDENT = "  "
GAP = 2  # between columns
LONG_WORD = 24  # letters; a longer word may be broken


def blocks_text(blocks: Iterable[Block]) -> str:
    """All blocks in turn, an empty line before each heading below the first; ends with a newline."""
    lines: list[str] = []
    for block in blocks:
        if isinstance(block, Heading):
            lines += [*([""] if lines else []), *wrap(block.text, WIDTH)]
        elif isinstance(block, Paragraph):
            lines += wrap(block.text, WIDTH, initial_indent=INDENT, subsequent_indent=INDENT)
        elif isinstance(block, Grid):
            lines += _table(block)
        elif isinstance(block, Figure):
            continue
    return "\n".join(lines) + "\n"


def _table(grid: Grid) -> list[str]:
    shown = [grid.heads, *grid.rows] if any(grid.heads) else list(grid.rows)
    if not shown:
        return []
    widths = _widths(shown)
    numeric = grid.numeric
    return [line for cells in shown for line in _row(cells, widths, numeric)]


def _widths(rows: Sequence[Sequence[str]]) -> list[int]:
    """Each column as wide as its longest cell; where that is too much, the widest that still can gives way first."""
    columns = list(zip(*rows, strict=True))
    widths = [max(len(cell) for cell in column) for column in columns]
    least = [
        min(LONG_WORD, max((len(word) for cell in column for word in cell.split()), default=0)) for column in columns
    ]
    room = WIDTH - len(INDENT) - GAP * (len(widths) - 1)
    while sum(widths) > room and any(width > low for width, low in zip(widths, least, strict=True)):
        spare = [width - low for width, low in zip(widths, least, strict=True)]
        giving = max((k for k in range(len(widths)) if spare[k] > 0), key=lambda k: widths[k])
        widths[giving] -= 1
    return widths


def _row(cells: Sequence[str], widths: Sequence[int], numeric: Sequence[bool]) -> list[str]:
    wrapped = [wrap(cell, width) or [""] for cell, width in zip(cells, widths, strict=True)]
    lines = []
    for k in range(max(len(parts) for parts in wrapped)):
        texts = [parts[k] if k < len(parts) else "" for parts in wrapped]
        set_out = [
            text.rjust(width) if right else text.ljust(width)
            for text, width, right in zip(texts, widths, numeric, strict=True)
        ]
        lines.append((INDENT + (" " * GAP).join(set_out)).rstrip())
    return lines
