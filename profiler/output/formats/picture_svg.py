"""A picture of the program as an SVG element, in the colours it has on paper."""

from xml.sax.saxutils import escape

from profiler.output.formats.picture_page import FONT_PX, INK
from profiler.pictures.basics.display import Align, Area, Dot, FloatArray, Item, Label, Line, Picture, Role, Strokes

_ANCHORS = {Align.LEFT: "start", Align.CENTRE: "middle", Align.RIGHT: "end"}
MIDDLE = 0.36  # of the font size: from the middle line down to the base line


def picture_svg(picture: Picture, title: str = "") -> str:
    """One <svg> element, to stand in a page or alone."""
    w, h = f"{picture.width:g}", f"{picture.height:g}"
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{w}" height="{h}" viewBox="0 0 {w} {h}" '
        'font-family="DejaVu Sans, sans-serif">',
        *([f"<title>{escape(title)}</title>"] if title else []),
        *map(_item, picture.items),
        "</svg>",
    ]
    return "\n".join(parts)


def _item(item: Item) -> str:
    colour = INK[item.role]
    if isinstance(item, Area):
        return f'<polygon points="{_points(item.points)}" fill="{colour}" fill-opacity="{item.opacity:g}"/>'
    if isinstance(item, Line):
        dashes = f' stroke-dasharray="{" ".join(f"{d:g}" for d in item.dashes)}"' if item.dashes else ""
        return (
            f'<polyline points="{_points(item.points)}" fill="none" stroke="{colour}" '
            f'stroke-width="{item.width:g}"{dashes}/>'
        )
    if isinstance(item, Strokes):
        moves = "".join(f"M{a:.2f} {b:.2f}L{c:.2f} {d:.2f}" for a, b, c, d in item.ends.reshape(-1, 4))
        return f'<path d="{moves}" stroke="{colour}" stroke-width="{item.width:g}"/>'
    return _dot(item, colour) if isinstance(item, Dot) else _label(item, colour)


def _points(points: FloatArray) -> str:
    return " ".join(f"{x:.2f},{y:.2f}" for x, y in points)


def _dot(item: Dot, colour: str) -> str:
    fill = f'fill="{colour}"' if item.filled else f'fill="none" stroke="{colour}"'
    if item.square:
        side = 2.0 * item.radius
        left, top = item.x - item.radius, item.y - item.radius
        return f'<rect x="{left:.2f}" y="{top:.2f}" width="{side:.2f}" height="{side:.2f}" {fill}/>'
    return f'<circle cx="{item.x:.2f}" cy="{item.y:.2f}" r="{item.radius:g}" {fill}/>'


def _label(item: Label, colour: str) -> str:
    size = item.size * FONT_PX
    y = item.y + MIDDLE * size
    halo = f' stroke="{INK[Role.PAPER]}" stroke-width="3" paint-order="stroke"' if item.paper else ""
    weight = ' font-weight="bold"' if item.bold else ""
    return (
        f'<text x="{item.x:.2f}" y="{y:.2f}" font-size="{size:.2f}" fill="{colour}" '
        f'text-anchor="{_ANCHORS[item.align]}"{weight}{halo}>{escape(item.text)}</text>'
    )
