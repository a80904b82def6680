"""The lineage of the reported design: made from which, what changed, why, what its trial said."""

from profiler.explore.lineages import Told
from profiler.output.blocks.blocks import Block, Grid, Heading, Paragraph


def lineage_blocks(told: Told | None) -> list[Block]:
    """Nothing where no study is at hand to look origins up in."""
    if told is None:
        return []
    blocks: list[Block] = [Heading("Lineage"), Paragraph(told.sentence)]
    if told.changes:
        rows = tuple((c.what, c.before, c.now) for c in told.changes)
        blocks.append(Grid(("what changed", f"“{told.origin}”", f"“{told.design}”"), rows, (2.4, 1.2, 1.2)))
    return blocks
