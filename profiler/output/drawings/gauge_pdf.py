"""The gauge as A4 pages at full size, and as their PDF."""

from profiler.assess import Evaluation
from profiler.output.drawings.parts import Part, part_chain
from profiler.output.formats.sheet_page import sheets_pdf
from profiler.pictures.sheet.gauge import gauge_sheets
from profiler.pictures.sheet.items import Sheet
from profiler.pictures.sheet.notes import not_checked


def gauge_pages(e: Evaluation, date: str = "") -> tuple[Sheet, ...]:
    """The pages, to be looked at, printed or written. Raises ValueError where there is no shape."""
    if e.shape is None:
        raise ValueError("there is no section as the design stands.")
    statements = (
        "Join pages at the crosses. Heights from the inner floor.",
        "Paper moves with damp: check before use.",
        *((not_checked(e),) if not_checked(e) else ()),
        *((f"Date {date}.",) if date else ()),
    )
    return gauge_sheets(part_chain(Part.GAUGE, e.shape, e.machine), f"Gauge 1:1, {e.design.name}", statements)


def gauge_pdf(e: Evaluation, date: str = "") -> tuple[int, bytes]:
    """Number of pages, and the file's bytes. Raises ValueError where there is no shape."""
    sheets = gauge_pages(e, date)
    return len(sheets), sheets_pdf(sheets, f"Gauge 1:1, {e.design.name}")
