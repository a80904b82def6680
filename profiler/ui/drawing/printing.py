"""Sheets on the system's printers, at true scale; each page as large as its sheet."""

from collections.abc import Sequence

from PySide6.QtCore import QMarginsF, QRectF, QSizeF
from PySide6.QtGui import QColor, QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QDialog, QWidget

from profiler.pictures.basics.palette import SHEET_PAPER
from profiler.pictures.sheet.items import Sheet, Text
from profiler.pictures.sheet.lettering import text_width
from profiler.pictures.sheet.papers import PAPERS
from profiler.ui.widgets.sheet_painter import paint_sheet, paint_text

MM_PER_INCH = 25.4
ALLOWED = 1.0  # mm a paper may be smaller than the sheet: sizes are named in whole points
UNPRINTED = 5.0  # mm along the edges of a paper that many printers leave white (common practice, no source)
SHRUNK = "PRINTED SMALLER: NOT TO SCALE"


def ask_printer(parent: QWidget, sheets: Sequence[Sheet], title: str) -> QPrinter | None:
    """The printer that was chosen in the system's dialog, which offers the sheet's own paper; None when cancelled."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setDocName(title)
    printer.setFullPage(True)
    printer.setPageLayout(layout_for(sheets[0]))
    dialog = QPrintDialog(printer, parent)
    dialog.setMinMax(1, len(sheets))
    return printer if dialog.exec() == QDialog.DialogCode.Accepted else None


def layout_for(sheet: Sheet) -> QPageLayout:
    """The page that is as large as the sheet, without margins."""
    short, long = sorted((sheet.width, sheet.height))
    size = QPageSize(QSizeF(short, long), QPageSize.Unit.Millimeter)
    lies = sheet.width > sheet.height
    way = QPageLayout.Orientation.Landscape if lies else QPageLayout.Orientation.Portrait
    return QPageLayout(size, way, QMarginsF(), QPageLayout.Unit.Millimeter)


def too_small(printer: QPrinter, sheet: Sheet) -> bool:
    """Whether the printer's paper, turned as may be, is smaller than the sheet."""
    room = sorted(_paper(printer))
    return any(have < need - ALLOWED for have, need in zip(room, sorted((sheet.width, sheet.height)), strict=True))


def paper_name(printer: QPrinter) -> str:
    return printer.pageLayout().pageSize().name()


def sheet_name(sheet: Sheet) -> str:
    size = sorted((sheet.width, sheet.height))
    known = (p.name for p in PAPERS if sorted((p.width, p.height)) == size)
    return next(known, f"{sheet.width:g} × {sheet.height:g} mm")


def print_sheets(printer: QPrinter, sheets: Sequence[Sheet], shrink: bool = False) -> int:
    """Print those in the range that was asked for; returns how many. Raises ValueError where the printer fails.

    `shrink`: on the paper the printer has, smaller than true and marked so; else 1:1, on pages as large as the sheets.
    """
    first = max(printer.fromPage(), 1)
    last = min(printer.toPage() or len(sheets), len(sheets))
    chosen = sheets[first - 1 : last]
    printer.setFullPage(True)
    painter = QPainter()
    try:
        for number, sheet in enumerate(chosen):
            if not shrink:
                printer.setPageLayout(layout_for(sheet))
            if not (painter.begin(printer) if number == 0 else printer.newPage()):
                raise ValueError(f"The printer does not take it: {printer.outputFileName() or printer.printerName()}.")
            _paint(painter, printer, sheet, shrink)
    finally:
        if painter.isActive():
            painter.end()  # a painter left alive would take the program down
    return len(chosen)


def _paint(painter: QPainter, printer: QPrinter, sheet: Sheet, shrink: bool) -> None:
    """One unit of the painter is a millimetre of the sheet."""
    painter.save()
    dots = printer.resolution() / MM_PER_INCH
    painter.scale(dots, dots)
    if shrink:
        width, height = (side - 2.0 * UNPRINTED for side in _paper(printer))
        share = min(width / sheet.width, height / sheet.height, 1.0)
        painter.translate(UNPRINTED, UNPRINTED)
        painter.scale(share, share)
    paint_sheet(painter, sheet)
    if shrink:
        mark = Text(4.0, sheet.height - 7.0, SHRUNK, 5.0, bold=True, in_margin=True)
        wide = text_width(mark.text, mark.height, mark.bold) + 2.0 * mark.x
        painter.fillRect(QRectF(0.5, 0.5, wide, 8.5), QColor(SHEET_PAPER))
        paint_text(painter, mark, sheet.height)
    painter.restore()


def _paper(printer: QPrinter) -> tuple[float, float]:
    """Width and height of the printer's paper as it lies, mm."""
    full = printer.pageLayout().fullRect(QPageLayout.Unit.Millimeter)
    return full.width(), full.height()
