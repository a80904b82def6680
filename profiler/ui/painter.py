"""Paints a picture with QPainter. The one place where roles become pens and brushes."""

from functools import lru_cache

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF, QStaticText, QTransform
from shiboken6 import VoidPtr

from ..pictures.display import Align, Area, Dot, FloatArray, Item, Label, Line, Picture, Role, Strokes
from .theme import Theme

_FLAGS = {Align.LEFT: 0.0, Align.CENTRE: 0.5, Align.RIGHT: 1.0}


def paint(painter: QPainter, picture: Picture, theme: Theme, faded: bool = False) -> None:
    """Paint every item in its order; `faded` for a picture that no longer tells the present state."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setOpacity(0.35 if faded else 1.0)
    for item in picture.items:
        _paint_item(painter, item, theme)
    painter.setOpacity(1.0)


def polygon(points: FloatArray) -> QPolygonF:
    """A QPolygonF from (n, 2) numbers, copied in one go: a list of QPointF costs ten times as much."""
    shape = QPolygonF()
    shape.resize(len(points))
    if len(points):
        buffer = VoidPtr(shape.data(), len(points) * 16, True)  # type: ignore[call-arg, arg-type]
        np.frombuffer(buffer, dtype=np.float64)[:] = np.ravel(points)  # type: ignore[call-overload]
    return shape


def _paint_item(painter: QPainter, item: Item, theme: Theme) -> None:
    if isinstance(item, Area):
        colour = theme.colour(item.role)
        colour.setAlphaF(item.opacity)
        box = _upright_box(item.points)
        if box is not None:
            painter.fillRect(box, colour)
            return
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(colour))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)  # a fill's edge is drawn as a line, or faint
        painter.drawPolygon(polygon(item.points))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    elif isinstance(item, Line):
        painter.setPen(_pen(theme.colour(item.role), item.width, item.dashes))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolyline(polygon(item.points))
    elif isinstance(item, Strokes):
        painter.setPen(_pen(theme.colour(item.role), item.width, ()))
        painter.drawLines([QLineF(a[0], a[1], b[0], b[1]) for a, b in item.ends.tolist()])
    elif isinstance(item, Dot):
        _paint_dot(painter, item, theme)
    else:
        _paint_label(painter, item, theme)


def _pen(colour: QColor, width: float, dashes: tuple[float, ...]) -> QPen:
    pen = QPen(colour, width)
    pen.setJoinStyle(Qt.PenJoinStyle.BevelJoin)
    if dashes:
        pen.setDashPattern([d / width for d in dashes])
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    return pen


def _paint_dot(painter: QPainter, item: Dot, theme: Theme) -> None:
    colour = theme.colour(item.role)
    if item.filled:
        painter.setPen(_pen(theme.colour(Role.PAPER), 1.2, ()))
        painter.setBrush(QBrush(colour))
    else:
        painter.setPen(_pen(colour, 1.6, ()))
        painter.setBrush(Qt.BrushStyle.NoBrush)
    box = QRectF(item.x - item.radius, item.y - item.radius, 2.0 * item.radius, 2.0 * item.radius)
    if item.square:
        painter.drawRect(box)
    else:
        painter.drawEllipse(box)


def _upright_box(points: FloatArray) -> QRectF | None:
    """The rectangle that four points are, or None: bars and boxes are many, and filling one costs a fifth."""
    if len(points) != 4:
        return None
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = points.tolist()
    if ay != by or bx != cx or cy != dy or dx != ax:
        return None
    return QRectF(ax, ay, cx - ax, cy - ay)


@lru_cache(maxsize=32)
def _lettering(family: str, size: float, bold: bool) -> tuple[QFont, QFontMetricsF]:
    font = QFont(family)
    font.setPointSizeF(size)
    font.setBold(bold)
    return font, QFontMetricsF(font)


@lru_cache(maxsize=2048)
def _written(text: str, family: str, size: float, bold: bool) -> QStaticText:
    """A text laid out once: most of a picture's texts stay the same from move to move."""
    written = QStaticText(text)
    written.setTextFormat(Qt.TextFormat.PlainText)
    written.prepare(QTransform(), _lettering(family, size, bold)[0])
    return written


def _paint_label(painter: QPainter, item: Label, theme: Theme) -> None:
    font, metrics = _lettering(painter.font().family(), item.size, item.bold)
    written = _written(item.text, painter.font().family(), item.size, item.bold)
    width = written.size().width()
    left = item.x - _FLAGS[item.align] * width
    if item.paper:
        patch = theme.colour(Role.PAPER)
        patch.setAlphaF(0.82)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(patch))
        painter.drawRoundedRect(
            QRectF(left - 3.0, item.y - 0.5 * metrics.height(), width + 6.0, metrics.height()), 3.0, 3.0
        )
    painter.setPen(_pen(theme.colour(item.role), 1.0, ()))
    painter.setFont(font)
    painter.drawStaticText(QPointF(left, item.y - 0.5 * (metrics.ascent() + metrics.descent())), written)
