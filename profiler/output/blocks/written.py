"""A report written: as pages of a PDF or as one HTML file."""

from pathlib import Path

from profiler.output.blocks.blocks import Report
from profiler.output.record.option import CREATOR, Request
from profiler.pictures.sheet.items import Sheet
from profiler.study.files.file import write_whole


def write_document(path: Path, report: Report) -> None:
    """One HTML file that needs no other."""
    from profiler.output.blocks.as_document import report_html

    write_whole(path, report_html(report).encode("utf-8"))


def write_pages(path: Path, sheets: tuple[Sheet, ...], title: str, request: Request) -> None:
    """A PDF with a page for each sheet."""
    from profiler.output.formats.sheet_page import sheets_pdf

    write_whole(path, sheets_pdf(sheets, title, request[CREATOR], progress=request.progress))
