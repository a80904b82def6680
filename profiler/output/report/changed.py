"""What changed against an earlier revision, as a section of the report."""

from profiler.explore.what_changed import Change, Changes
from profiler.output.blocks.blocks import Block, Grid, Heading, Paragraph

HEADS = ("What", "before", "now")


def changed_blocks(changes: Changes | None) -> list[Block]:
    """Nothing where nothing was to be compared with."""
    if changes is None:
        return []
    blocks: list[Block] = [Heading(f"What changed since {changes.file}")]
    if not changes.every:
        return [*blocks, Paragraph("Nothing: dimensions, duty, figures and findings are the same.")]
    parts = (("Dimensions, machine and choices", changes.dimensions), ("Duty", changes.duties),
             ("Figures that follow", changes.figures), ("Findings", changes.findings))  # fmt: skip
    for title, found in parts:
        blocks.append(Heading(title, 2))
        blocks.append(Grid(HEADS, tuple(map(_row, found)), (2.0, 2.0, 2.0)) if found else Paragraph("The same."))
    return blocks


def _row(change: Change) -> tuple[str, str, str]:
    return change.what, change.before, change.now
