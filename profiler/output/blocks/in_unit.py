"""Blocks with their lengths in another unit: sentences, tables whose heads, labels or unit cells say mm, captions."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from profiler.assess import Evaluation
from profiler.numbers import MINUS, NOTHING, THOUSANDS
from profiler.output.blocks.blocks import Block, Figure, Grid, Report
from profiler.pictures.basics.lengths import LengthUnit, pictured

_NUMBERS_ALONE = re.compile(rf"(?:[\d.,()/ {MINUS}{THOUSANDS}{NOTHING}+ØR-]|to|or|and)+")


def report_in(report: Report, e: Evaluation, lengths: LengthUnit) -> Report:
    """A report on an evaluation; what its designer called things stays."""
    unit = lengths.keeping(e.design.name, e.machine.name, e.duty.name)
    return replace(report, blocks=blocks_in(report.blocks, unit), front=blocks_in(report.front, unit))


def blocks_in(blocks: Iterable[Block], unit: LengthUnit) -> tuple[Block, ...]:
    return tuple(blocks) if unit.is_mm else tuple(_block(block, unit) for block in blocks)


def _block(block: Block, unit: LengthUnit) -> Block:
    if isinstance(block, Grid):
        heads, rows = table_in(block.heads, block.rows, unit)
        return replace(block, heads=heads, rows=rows)
    if isinstance(block, Figure):
        return Figure(tuple(pictured(p, unit) for p in block.pictures), unit.told(block.caption))
    return replace(block, text=unit.told(block.text))


def table_in(
    heads: Sequence[str], rows: Sequence[Sequence[str]], unit: LengthUnit
) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """A table: a column whose head says mm, a row whose label or unit cell does, and lengths within cells."""
    if unit.is_mm:
        return tuple(heads), tuple(map(tuple, rows))
    columns = [unit.heads(head) for head in heads]
    return tuple(map(unit.head, heads)), tuple(_row(row, columns, unit) for row in rows)


def _row(row: Sequence[str], columns: Sequence[bool], unit: LengthUnit) -> tuple[str, ...]:
    by_label = [cell == "mm" or (k == 0 and unit.heads(cell) and unit.told(cell) == cell) for k, cell in enumerate(row)]
    if any(by_label) and not any(columns):
        return tuple(
            unit.head(c) if said else unit.cell(c) if _bare(c) else unit.told(c)
            for c, said in zip(row, by_label, strict=True)
        )
    return tuple(unit.cell(c) if in_mm and _bare(c) else unit.told(c) for c, in_mm in zip(row, columns, strict=True))


def _bare(cell: str) -> bool:
    """Whether a cell holds numbers alone, and what joins them: no unit of its own, no equation, no standard's name."""
    return _NUMBERS_ALONE.fullmatch(cell) is not None
