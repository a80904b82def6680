"""Paints a sheet with QPainter at any scale: the window's preview and the system's printer use the same strokes."""

from PySide6.QtCore import QLineF, QPointF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen

from profiler.geometry.beziers import curves_of
from profiler.geometry.chain import Chain
from profiler.pictures.basics.palette import PRINT, SHEET_INK
from profiler.pictures.sheet.items import Path, Pen, Placed, Sheet, Text
from profiler.pictures.sheet.lettering import EM_PER_CAPITAL
from profiler.pictures.sheet.plain import Plain, plain
from profiler.ui.widgets.painter import paint, polygon

FONT_UNITS = 100.0  # letters are laid out large and drawn small: hinting would move them otherwise


def paint_sheet(painter: QPainter, sheet: Sheet, drawn: Plain | None = None) -> None:
    """Paint a sheet whose lower left corner is the painter's origin; one unit of the painter is one millimetre.

    The painter's y runs downward, as ever: the sheet's upper left corner is at (0, 0). Line widths are true.
    """
    drawn = drawn or plain(sheet)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for placed in drawn.pictures:
        _paint_picture(painter, placed, sheet.height)
    painter.save()
    painter.translate(0.0, sheet.height)
    painter.scale(1.0, -1.0)
    painter.setPen(_pen(Pen.HATCH.style.width))
    for lines in drawn.hatches:
        painter.drawLines([QLineF(*ends) for ends in lines.reshape(-1, 4).tolist()])
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for path in drawn.paths:
        _paint_path(painter, path)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(SHEET_INK))
    for arrow in drawn.arrows:
        painter.drawPolygon(polygon(arrow.corners))
    painter.restore()
    painter.setPen(QColor(SHEET_INK))
    for text in drawn.texts:
        paint_text(painter, text, sheet.height)


def path_of(chain: Chain) -> QPainterPath:
    """A chain with its arcs as cubic curves, the same as on a written page; y up, as on the sheet."""
    path = QPainterPath(QPointF(*chain.points[0].tolist()))
    for points in curves_of(chain):
        if len(points) == 1:
            path.lineTo(*points[0].tolist())
        for curve in points.reshape(-1, 3, 2).tolist() if len(points) > 1 else ():
            path.cubicTo(*(QPointF(*point) for point in curve))
    if chain.closed:
        path.closeSubpath()
    return path


def paint_text(painter: QPainter, text: Text, sheet_height: float) -> None:
    """Squeezed to the very width that was reckoned with, whatever the device makes of its letters."""
    font = QFont("DejaVu Sans")
    font.setPixelSize(round(FONT_UNITS))
    font.setBold(text.bold)
    laid_out = QFontMetricsF(font).horizontalAdvance(text.text)
    if laid_out <= 0.0:
        return
    painter.save()
    painter.translate(text.x, sheet_height - text.y)
    painter.rotate(-text.angle_deg)
    painter.translate(-text.left, 0.0)
    painter.scale(text.width / laid_out, text.height * EM_PER_CAPITAL / FONT_UNITS)
    painter.setFont(font)
    painter.drawText(QPointF(0.0, 0.0), text.text)
    painter.restore()


def _paint_path(painter: QPainter, path: Path) -> None:
    style = path.pen.style
    pen = _pen(style.width)
    if style.dashes:
        pen.setDashPattern([d / style.width for d in style.dashes])
    painter.setPen(pen)
    painter.drawPath(path_of(path.chain))


def _pen(width: float) -> QPen:
    pen = QPen(QColor(SHEET_INK), width)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    return pen


def _paint_picture(painter: QPainter, placed: Placed, sheet_height: float) -> None:
    painter.save()
    painter.translate(placed.x, sheet_height - placed.y)
    painter.scale(placed.mm_per_px, placed.mm_per_px)
    paint(painter, placed.picture, PRINT)
    painter.restore()
