"""What is written is told by the file's extension: sheets, pictures, tables, solids. Sections as DXF have options of
their own and are not here."""

from collections.abc import Callable

from ..assess import Evaluation
from .tables_csv import CsvTable, csv_bytes


def file_bytes(suffix: str, e: Evaluation, table: CsvTable = CsvTable.STATIONS) -> bytes:
    """The bytes of a file with this extension (see SUFFIXES).

    Raises ValueError where there is no shape, or where no standard sheet holds the drawing.
    """
    if e.shape is None:
        raise ValueError("there is no section as the design stands.")
    return csv_bytes(e, table) if suffix == ".csv" else _WRITERS[suffix](e)


def _pdf(e: Evaluation) -> bytes:
    from ..pictures.sheet.compose import drawing
    from .sheet_page import sheets_pdf

    return sheets_pdf(drawing(e).sheets, e.design.name)


def _svg(e: Evaluation) -> bytes:
    from ..pictures.sheet.compose import drawing
    from .sheet_svg import sheet_svg

    return sheet_svg(drawing(e).sheets[0]).encode()


def _png(e: Evaluation) -> bytes:
    from ..pictures.sheet.compose import drawing
    from .sheet_page import sheet_png

    return sheet_png(drawing(e).sheets[0])


def _stl(e: Evaluation) -> bytes:
    from .solid import stl_bytes, turned

    assert e.shape is not None
    return stl_bytes(turned(e.shape.outline), e.design.name)


def _threemf(e: Evaluation) -> bytes:
    from .solid import threemf_bytes, turned

    assert e.shape is not None
    return threemf_bytes(turned(e.shape.outline), e.design.name)


_WRITERS: dict[str, Callable[[Evaluation], bytes]] = {
    ".pdf": _pdf, ".svg": _svg, ".png": _png, ".stl": _stl, ".3mf": _threemf,
}  # fmt: skip
SUFFIXES = (*_WRITERS, ".csv")
