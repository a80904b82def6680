"""A sheet as SVG, written directly: millimetres, true arcs, texts that can be searched and keep their width."""

from xml.sax.saxutils import escape

import numpy as np

from profiler.geometry.chain import Chain, arcs
from profiler.pictures.basics.display import Align
from profiler.pictures.basics.palette import SHEET_INK, SHEET_PAPER
from profiler.pictures.sheet.items import Path, Pen, Sheet, Text
from profiler.pictures.sheet.lettering import EM_PER_CAPITAL
from profiler.pictures.sheet.plain import plain

_ANCHORS = {Align.LEFT: "start", Align.CENTRE: "middle", Align.RIGHT: "end"}


def sheet_svg(sheet: Sheet) -> str:
    """The text of one SVG file, black on white."""
    drawn = plain(sheet)
    w, h = f"{sheet.width:g}", f"{sheet.height:g}"
    parts = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{w}mm" height="{h}mm" viewBox="0 0 {w} {h}">',
        f"<title>{escape(sheet.title)}</title>",
        f'<rect width="{w}" height="{h}" fill="{SHEET_PAPER}"/>',
        f'<g transform="translate(0 {h}) scale(1 -1)" fill="none" stroke="{SHEET_INK}" stroke-linejoin="round">',
    ]
    for lines in drawn.hatches:
        moves = "".join(f"M{a:.4f} {b:.4f}L{c:.4f} {d:.4f}" for a, b, c, d in lines.reshape(-1, 4))
        parts.append(f'<path d="{moves}" stroke-width="{Pen.HATCH.style.width}"/>')
    parts += [_path(path) for path in drawn.paths]
    heads = "".join(_closed(arrow.corners.tolist()) for arrow in drawn.arrows)
    parts.append(f'<path d="{heads}" fill="{SHEET_INK}" stroke="none"/></g>')
    parts.append(f'<g font-family="DejaVu Sans, sans-serif" fill="{SHEET_INK}" style="white-space:pre">')
    parts += [_text(text, sheet.height) for text in drawn.texts]
    return "\n".join([*parts, "</g></svg>", ""])


def _path(path: Path) -> str:
    style = path.pen.style
    dashes = f' stroke-dasharray="{" ".join(f"{d:g}" for d in style.dashes)}"' if style.dashes else ""
    name = style.layer.lower()
    return f'<path class="{name}" d="{_data(path.chain)}" stroke-width="{style.width:g}"{dashes}/>'


def _data(chain: Chain) -> str:
    start, end, _ = chain.ends()
    _, radius, sweep, curved = arcs(chain)
    found = [f"M{start[0, 0]:.6f} {start[0, 1]:.6f}"]
    for i in range(chain.segments):
        x, y = end[i]
        if curved[i]:
            large, counter = int(abs(sweep[i]) > np.pi), int(sweep[i] > 0.0)
            found.append(f"A{radius[i]:.6f} {radius[i]:.6f} 0 {large} {counter} {x:.6f} {y:.6f}")
        else:
            found.append(f"L{x:.6f} {y:.6f}")
    return "".join(found) + ("Z" if chain.closed else "")


def _closed(points: list[list[float]]) -> str:
    return "M" + "L".join(f"{x:.4f} {y:.4f}" for x, y in points) + "Z"


def _text(text: Text, height: float) -> str:
    x, y = text.x, height - text.y
    size = text.height * EM_PER_CAPITAL
    turn = f' transform="rotate({-text.angle_deg:.4f} {x:.4f} {y:.4f})"' if text.angle_deg else ""
    weight = ' font-weight="bold"' if text.bold else ""
    return (
        f'<text x="{x:.4f}" y="{y:.4f}" font-size="{size:.4f}" text-anchor="{_ANCHORS[text.align]}" '
        f'textLength="{text.width:.4f}" lengthAdjust="spacingAndGlyphs"{weight}{turn}>{escape(text.text)}</text>'
    )
