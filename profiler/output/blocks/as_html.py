"""Blocks as HTML: for a report in a browser, and for the panes of the window, which know a part of HTML only."""

from collections.abc import Iterable
from html import escape

from profiler.output.blocks.blocks import Block, Figure, Grid, Heading, Paragraph
from profiler.output.formats.picture_svg import picture_svg


def html_of(blocks: Iterable[Block]) -> str:
    """All blocks in turn."""
    return "".join(block_html(block) for block in blocks)


def block_html(block: Block, anchor: str = "", caption: str = "") -> str:
    """One block; headings go by their level, one below the title's. `anchor` names a heading for links, `caption` says
    of a table what it is of, to those who hear it read."""
    if isinstance(block, Heading):
        level = block.level + 1
        name = f' id="{anchor}"' if anchor else ""
        return f"<h{level}{name}>{escape(block.text)}</h{level}>"
    if isinstance(block, Paragraph):
        strong = ' class="strong"' if block.strong else ""
        return f"<p{strong}>{escape(block.text)}</p>"
    if isinstance(block, Figure):
        drawn = "".join(picture_svg(p) for p in block.pictures)
        return f"<figure><div>{drawn}</div><figcaption>{escape(block.caption)}</figcaption></figure>"
    return _table(block, caption)


def _table(grid: Grid, caption: str) -> str:
    head, numeric = "", grid.numeric
    if any(grid.heads):
        head = "<thead><tr>" + _row("th", grid.heads, numeric) + "</tr></thead>"
    rows = "".join(_body_row(grid, k, numeric) for k in range(len(grid.rows)))
    width = f' style="width: {100.0 * grid.share:g}%"' if grid.share < 1.0 else ""
    said = f"<caption>{escape(caption)}</caption>" if caption else ""
    kind = ' class="hand"' if grid.by_hand else ""
    return f"<table{kind}{width}>{said}{head}<tbody>{rows}</tbody></table>"


def _body_row(grid: Grid, index: int, numeric: tuple[bool, ...]) -> str:
    strong = ' class="strong"' if index in grid.strong else ""
    return f"<tr{strong}>{_row('td', grid.rows[index], numeric)}</tr>"


def _row(tag: str, cells: tuple[str, ...], numeric: tuple[bool, ...]) -> str:
    scope = ' scope="col"' if tag == "th" else ""
    kinds = (f'{scope} class="n" align="right"' if right else scope for right in numeric)
    return "".join(f"<{tag}{kind}>{escape(cell)}</{tag}>" for kind, cell in zip(kinds, cells, strict=True))
