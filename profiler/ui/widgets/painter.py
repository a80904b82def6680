"""Paints a picture with QPainter. The one place where roles become pens and brushes."""

from functools import lru_cache

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF, QStaticText, QTransform
from shiboken6 import VoidPtr

from profiler.pictures.basics.display import Align, Area, Dot, FloatArray, Item, Label, Line, Picture, Role, Strokes
from profiler.pictures.basics.palette import Palette

LEAST_RIM_PX = 2.5
_FLAGS = {Align.LEFT: 0.0, Align.CENTRE: 0.5, Align.RIGHT: 1.0}


def paint(painter: QPainter, picture: Picture, theme: Palette, faded: bool = False) -> None:
    """Paint every item in its order; `faded` for a picture that no longer tells the present state."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setOpacity(0.35 if faded else 1.0)
    family = painter.font().family()
    for item in picture.items:
        _paint_item(painter, item, theme, family)
    painter.setOpacity(1.0)


def polygon(points: FloatArray) -> QPolygonF:
    """A QPolygonF from (n, 2) numbers, copied in one go: a list of QPointF costs ten times as much."""
    shape = QPolygonF()
    shape.resize(len(points))
    if len(points):
        buffer = VoidPtr(shape.data(), len(points) * 16, True)  # type: ignore[call-arg, arg-type]
        np.frombuffer(buffer, dtype=np.float64)[:] = np.ravel(points)  # type: ignore[call-overload]
    return shape


def _paint_item(painter: QPainter, item: Item, theme: Palette, family: str) -> None:
    if isinstance(item, Label):
        _paint_label(painter, item, theme, family)
    elif isinstance(item, Area):
        _paint_area(painter, item, theme)
    elif isinstance(item, Line):
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if item.steep and 1.0 < item.width <= 2.0 and not item.dashes:
            painter.setPen(_pen(theme.roles[item.role], 1.0))
            for aside in (0.5 * (1.0 - item.width), 0.5 * (item.width - 1.0)):
                painter.drawPolyline(polygon(item.points + np.array([aside, 0.0])))
            return
        painter.setPen(_pen(theme.roles[item.role], item.width, item.dashes))
        painter.drawPolyline(polygon(item.points))
    elif isinstance(item, Strokes):
        painter.setPen(_pen(theme.roles[item.role], item.width))
        upright = bool(((item.ends[:, 0] == item.ends[:, 1]).any(axis=1)).all())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, not upright)  # level and upright ones are crisp as is
        painter.drawLines([QLineF(*ends) for ends in item.ends.reshape(-1, 4).tolist()])
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    else:
        _paint_dot(painter, item, theme)


def _paint_area(painter: QPainter, item: Area, theme: Palette) -> None:
    own = theme.roles[item.role]
    colour = _mixed(own, theme.roles[Role.PAPER], item.opacity) if item.bare else _colour(own, item.opacity)
    box = _upright_box(item.points)
    if box is not None:
        painter.fillRect(box, colour)
        return
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(colour))
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)  # a fill's edge is drawn as a line, or faint
    painter.drawPolygon(polygon(item.points))
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)


@lru_cache(maxsize=256)
def _colour(colour: str, opacity: float) -> QColor:
    mixed = QColor(colour)
    mixed.setAlphaF(opacity)
    return mixed


@lru_cache(maxsize=64)
def _mixed(colour: str, paper: str, opacity: float) -> QColor:
    """What a colour of this opacity looks like on paper."""
    above, below = QColor(colour).getRgb(), QColor(paper).getRgb()
    parts = (round(opacity * a + (1.0 - opacity) * b) for a, b in zip(above[:3], below[:3], strict=True))  # type: ignore[index]
    return QColor(*parts)


@lru_cache(maxsize=256)
def _pen(colour: str, width: float, dashes: tuple[float, ...] = ()) -> QPen:
    pen = QPen(QColor(colour), width)
    pen.setJoinStyle(Qt.PenJoinStyle.BevelJoin)
    if dashes:
        pen.setDashPattern([d / width for d in dashes])
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    return pen


def _paint_dot(painter: QPainter, item: Dot, theme: Palette) -> None:
    if item.filled:
        rim = item.radius > LEAST_RIM_PX  # a paper rim parts a dot from what it lies on
        painter.setPen(_pen(theme.roles[Role.PAPER], 1.2) if rim else Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(_colour(theme.roles[item.role], 1.0)))
    else:
        painter.setPen(_pen(theme.roles[item.role], 1.6))
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
def _lettering(family: str, size: float, bold: bool) -> tuple[QFont, float, float]:
    """A font, its height, and how far its middle line lies below its top."""
    font = QFont(family)
    font.setPointSizeF(size)
    font.setBold(bold)
    metrics = QFontMetricsF(font)
    return font, metrics.height(), 0.5 * (metrics.ascent() + metrics.descent())


@lru_cache(maxsize=2048)
def _written(text: str, family: str, size: float, bold: bool) -> tuple[QStaticText, float, QFont, float, float]:
    """A text laid out once, with its width: most of a picture's texts stay the same from move to move."""
    font, height, middle = _lettering(family, size, bold)
    written = QStaticText(text)
    written.setTextFormat(Qt.TextFormat.PlainText)
    written.prepare(QTransform(), font)
    return written, written.size().width(), font, height, middle


def _paint_label(painter: QPainter, item: Label, theme: Palette, family: str) -> None:
    written, width, font, height, middle = _written(item.text, family, item.size, item.bold)
    left = item.x - _FLAGS[item.align] * width
    if item.paper:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(_colour(theme.roles[Role.PAPER], 0.82)))
        painter.drawRoundedRect(QRectF(left - 3.0, item.y - 0.5 * height, width + 6.0, height), 3.0, 3.0)
    painter.setPen(_pen(theme.roles[item.role], 1.0))
    painter.setFont(font)
    painter.drawStaticText(QPointF(left, item.y - middle), written)
