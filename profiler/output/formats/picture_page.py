"""Pictures on paper: display lists drawn with matplotlib at their own size, for PDF and PNG, in light colours."""

import io
from typing import TYPE_CHECKING, Literal

import numpy as np

from profiler.output.formats.print_fonts import print_font
from profiler.pictures.basics.display import Align, Area, Dot, FloatArray, Item, Label, Line, Picture, Role, Strokes
from profiler.pictures.basics.palette import PRINT
from profiler.pictures.sheet.items import Placed

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.figure import Figure
    from matplotlib.transforms import Transform

MM_PER_INCH = 25.4
SCREEN_MM = MM_PER_INCH / 96.0  # a pixel on the screen
FONT_PX = 96.0 / 72.0  # of a point: texts of a picture are in points, everything else in px
INK = PRINT.roles
_ALIGN: dict[Align, Literal["left", "center", "right"]] = {
    Align.LEFT: "left", Align.CENTRE: "center", Align.RIGHT: "right",
}  # fmt: skip


def add_picture(figure: "Figure", placed: Placed, on_paper: "Transform") -> None:
    """Draw a picture where it is placed; `on_paper` carries mm, upward from the lower left corner, onto the figure."""
    from matplotlib.transforms import Affine2D

    mm = placed.mm_per_px
    to_paper = Affine2D().scale(mm, -mm).translate(placed.x, placed.y) + on_paper
    points = mm / MM_PER_INCH * 72.0  # of one pixel
    for order, item in enumerate(placed.picture.items):
        artist = _artist(item, points)
        artist.set_transform(to_paper)
        artist.set_zorder(10.0 + order * 1e-4)
        figure.add_artist(artist)


def page(placed: tuple[Placed, ...], width: float, height: float) -> "Figure":
    """One page of so many mm."""
    from matplotlib.figure import Figure
    from matplotlib.transforms import Affine2D

    figure = Figure(figsize=(width / MM_PER_INCH, height / MM_PER_INCH), facecolor=INK[Role.PAPER])
    on_paper = Affine2D().scale(1.0 / MM_PER_INCH) + figure.dpi_scale_trans
    for part in placed:
        add_picture(figure, part, on_paper)
    return figure


def png_bytes(picture: Picture) -> bytes:
    """The picture as PNG, two device pixels for each of its own."""
    data = io.BytesIO()
    width, height = picture.width * SCREEN_MM, picture.height * SCREEN_MM
    page((Placed(picture, 0.0, height, SCREEN_MM),), width, height).savefig(data, dpi=192, format="png")
    return data.getvalue()


def _artist(item: Item, points: float) -> "Artist":
    from matplotlib.lines import Line2D
    from matplotlib.patches import Polygon

    colour = INK[item.role]
    if isinstance(item, Area):
        return Polygon(item.points, closed=True, facecolor=colour, alpha=item.opacity, edgecolor="none")
    if isinstance(item, Line):
        x, y = item.points.T
        line = Line2D(x, y, color=colour, linewidth=item.width * points)
        if item.dashes:
            line.set_dashes([d / item.width for d in item.dashes])
        return line
    if isinstance(item, Strokes):
        x, y = _broken(item.ends).T
        return Line2D(x, y, color=colour, linewidth=item.width * points)
    return _dot(item, points) if isinstance(item, Dot) else _label(item, points)


def _broken(ends: FloatArray) -> FloatArray:
    """Separate lines (n, 2, 2) as one run of points with gaps."""
    gaps = np.full((len(ends), 1, 2), np.nan)
    return np.concatenate((ends, gaps), axis=1).reshape(-1, 2)


def _dot(item: Dot, points: float) -> "Artist":
    from matplotlib.lines import Line2D

    colour = INK[item.role]
    return Line2D(
        [item.x], [item.y], linestyle="none", marker="s" if item.square else "o",
        markersize=2.0 * item.radius * points, markerfacecolor=colour if item.filled else "none",
        markeredgecolor=INK[Role.PAPER] if item.filled else colour, markeredgewidth=1.2 * points,
    )  # fmt: skip


def _label(item: Label, points: float) -> "Artist":
    from matplotlib.text import Text

    patch = {"facecolor": INK[Role.PAPER], "alpha": 0.82, "edgecolor": "none", "pad": 2.0 * points}
    return Text(
        item.x, item.y, item.text, color=INK[item.role], horizontalalignment=_ALIGN[item.align],
        fontproperties=print_font(item.size * FONT_PX * points, item.bold), verticalalignment="center",
        bbox=patch if item.paper else None, parse_math=False,
    )  # fmt: skip
