"""The slurry model's record in the report: its picture, how it came out, and the film at hand beside the runs."""

from profiler.assess import Evaluation
from profiler.assess.evidence.flumes import record
from profiler.assess.evidence.words import PICTURE, RECORD_TITLE, paragraphs, standing
from profiler.assess.quantities.likeness import likenesses
from profiler.output.blocks.blocks import Block, Figure, Grid, Heading, Paragraph
from profiler.pictures.charts.flume_record import flume_record

SIZE_PX = (640.0, 330.0)


def record_blocks(e: Evaluation) -> list[Block]:
    found = record()
    blocks: list[Block] = [
        Heading(RECORD_TITLE), Paragraph(f"Slurry model: {standing(e.duty)}."),
        Figure(flume_record(found, *SIZE_PX), PICTURE),
    ]  # fmt: skip
    for head, text in paragraphs(found):
        blocks += [Heading(head, 2), Paragraph(text)]
    rows = tuple(row.cells for row in likenesses(found, e.flow))
    heads = ("Group", "is", "flume runs", f"film of {e.duty.name}", "")
    weights = (2.6, 1.4, 1.2, 1.6, 1.0)
    width = len(rows[0])
    shared = Grid(heads[:width], rows, weights[:width])
    return [*blocks, Heading("What the runs share with the film", 2), shared]
