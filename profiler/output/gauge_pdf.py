"""The gauge as a PDF of A4 pages at full size."""

from ..assess import Evaluation
from ..pictures.sheet.gauge import gauge_sheets
from ..pictures.sheet.notes import not_checked
from .parts import Part, part_chain
from .sheet_page import sheets_pdf


def gauge_pdf(e: Evaluation, date: str = "") -> tuple[int, bytes]:
    """Number of pages, and the file's bytes. Raises ValueError where there is no shape."""
    if e.shape is None:
        raise ValueError("there is no section as the design stands.")
    statements = (
        "Join pages at the crosses. Heights from the inner floor.",
        "Paper moves with damp: check before use.",
        *((not_checked(e),) if not_checked(e) else ()),
        *((f"Date {date}.",) if date else ()),
    )
    title = f"Gauge 1:1, {e.design.name}"
    sheets = gauge_sheets(part_chain(Part.GAUGE, e.shape, e.machine), title, statements)
    return len(sheets), sheets_pdf(sheets, title)
