"""Bookmarks and links put into a finished PDF by pypdf: 0.02 s for 14 pages, which themselves take a second."""

import io
from collections.abc import Sequence

from profiler.pictures.sheet.items import Sheet

POINTS_PER_MM = 72.0 / 25.4


def with_marks(pdf: bytes, sheets: Sequence[Sheet]) -> bytes:
    """The same pages, the marks of the sheets as its outline and their links in their places."""
    from pypdf import PdfReader, PdfWriter
    from pypdf.annotations import Link as Annotation
    from pypdf.generic import Fit, IndirectObject

    reader = PdfReader(io.BytesIO(pdf))
    writer = PdfWriter()
    writer.append(reader, import_outline=False)
    writer.add_metadata(reader.metadata or {})
    above: list[tuple[int, IndirectObject]] = []  # headings a deeper one belongs to
    for number, sheet in enumerate(sheets):
        for mark in sheet.marks:
            above = [(level, item) for level, item in above if level < mark.level]
            item = writer.add_outline_item(
                title=mark.text, page_number=number, parent=above[-1][1] if above else None,
                fit=Fit.xyz(left=0.0, top=(mark.y + 4.0) * POINTS_PER_MM),
            )  # fmt: skip
            above.append((mark.level, item))
        for link in sheet.links:
            left, bottom, right, top = (x * POINTS_PER_MM for x in link.box)
            box = (left, bottom, right, top)
            fit = Fit.xyz(left=0.0, top=(link.y + 4.0) * POINTS_PER_MM)
            writer.add_annotation(
                page_number=number, annotation=Annotation(rect=box, target_page_index=link.sheet, fit=fit)
            )
    stream = io.BytesIO()
    writer.write(stream)
    return stream.getvalue()
