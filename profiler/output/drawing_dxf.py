"""The drawing as DXF: the dimensioned section with hatch, centre line, tables, title block, notes and caution."""

from dataclasses import dataclass
from pathlib import Path

from ..assess import Evaluation
from ..pictures.sheet.compose import DrawingOptions, drawing
from ..pictures.sheet.papers import scale_text
from ..study.file import write_whole
from .sheet_dxf import sheets_dxf


@dataclass(frozen=True, slots=True)
class WrittenDrawing:
    size: str
    scale: str
    sheets: int


def write_drawing(path: Path, e: Evaluation, options: DrawingOptions | None = None) -> WrittenDrawing:
    """Write the drawing whole or not at all.

    Raises DoesNotFit where no standard sheet holds it, ValueError where there is no shape, BowlFileError where the
    path cannot be written.
    """
    found = drawing(e, options or DrawingOptions())
    write_whole(path, sheets_dxf(found.sheets))
    return WrittenDrawing(found.size.name, scale_text(found.scale), len(found.sheets))
