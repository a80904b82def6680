"""What the planner says, as blocks."""

from profiler.assess.trials.planning import Answer
from profiler.numbers import significant
from profiler.output.blocks.blocks import Block, Grid, Paragraph


def size_of_trial_blocks(said: Answer) -> list[Block]:
    """How many it takes, then how many at other spreads and gains."""
    blocks: list[Block] = [Paragraph(sentence) for sentence in said.of_trial]
    table = said.table
    if table is None:
        return blocks
    heads = (f"{said.noun} at a spread of", *(f"gain {significant(gain, 3)}" for gain in table.gains))
    rows = tuple(
        (significant(spread, 3), *(significant(count) for count in counts))
        for spread, counts in zip(table.spreads, table.units, strict=True)
    )
    return [*blocks, Grid(heads, rows, share=0.8)]


def sample_blocks(said: Answer) -> list[Block]:
    """What feed and samples can hold."""
    return [Paragraph(sentence) for sentence in said.of_samples]
