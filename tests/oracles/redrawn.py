"""A bowl's half section drawn anew from the texts of its drawing, as a shop without the CAD file would.

Heights and diameters of the pieces and their radii come from the tables WALL and OUTSIDE, grooves from GROOVES and the
details, flange, floor and hub from the dimensions. Roundings are made with shapely's buffers, not with our fillets.
"""

import re
from dataclasses import dataclass
from math import atan2, cos, hypot, radians, sin, tan

import numpy as np
import shapely

STEP = 0.002  # rad between the points of an arc
SAG_MM = 0.001  # nor farther than this from their chord, however large the radius
HAIR = 0.002  # mm
ROW = 1.0  # mm on paper within which texts stand in one row


@dataclass(frozen=True)
class Said:
    """One text of a sheet and where it begins."""

    x: float
    y: float
    text: str


def section_of(texts: list[Said], dimensions: list[str], scale: float) -> shapely.Polygon:
    """The half section (radius, height) from texts of the model space, the numbers of its dimensions, and the scale."""
    wall = _pieces(_table(texts, "WALL", scale))
    outside = _pieces(_table(texts, "OUTSIDE", scale))
    across = sorted(_number(d) for d in dimensions if d.startswith("%%c"))
    tall = sorted(_number(d) for d in dimensions if not d.startswith("%%c"))
    lip = wall[-1]
    under, underside = outside[-1], outside[0]
    overall = underside[1] - lip[1]
    assert any(abs(t + overall) < 0.011 for t in tall), "the overall height is dimensioned"
    hub, flange = 0.5 * across[0], 0.5 * across[-1]
    ring = [*outside, (flange, under[1]), (flange, lip[1]), *wall[::-1], (hub, wall[0][1]), (hub, underside[1])]
    return _grooved(shapely.Polygon(ring), np.array(wall), texts, scale)


def _grooved(body, wall, texts, scale):
    details = _details(texts, scale)
    for number, height, _, mouth, depth, *_ in _table(texts, "GROOVES", scale):
        flank, floor, edge = next(d[1:] for d in details if int(number) in d[0])
        low, high = _mouth(wall, _number(height), _number(mouth))
        body = _cut(body, low, high, _number(depth), flank, floor, edge)
    for by in (HAIR, -2.0 * HAIR, HAIR):  # unions leave spikes and slits without width
        body = body.buffer(by, join_style="mitre")
    return body


def _cut(body, low, high, depth, flank, floor_radius, edge_radius):
    along = (high - low) / hypot(*(high - low))
    into = np.array([along[1], -along[0]])
    lean = tan(radians(flank))
    out = 30.0  # past the wall, so that only the floor's corners are rounded
    corners = [low + t * (into + lean * along) for t in (-out, depth)]
    corners += [high + t * (into - lean * along) for t in (depth, -out)]
    void = shapely.Polygon(corners)
    if floor_radius:
        void = void.buffer(-floor_radius, quad_segs=32).buffer(floor_radius, quad_segs=32)
    sides = low - 50.0 * along, high + 50.0 * along
    beyond = [p - 0.5 * out * into for p in sides] + [p + 50.0 * into for p in sides[::-1]]
    void = void.intersection(shapely.Polygon(beyond))
    body = body.difference(void)
    if edge_radius:
        rounded = body.buffer(-edge_radius, quad_segs=32).buffer(edge_radius, quad_segs=32)
        near = shapely.union_all([shapely.Point(p).buffer(3.0 * edge_radius) for p in (low, high)])
        body = body.difference(near).union(rounded.intersection(near))
    return body


def _mouth(wall, height, mouth):
    """The edges of a mouth: as long along the wall as the table says, its middle half way up between them."""
    steps = np.hypot(*np.diff(wall, axis=0).T)
    length = np.concatenate(([0.0], np.cumsum(steps)))

    def at(s):
        return np.array([np.interp(s, length, wall[:, k]) for k in (0, 1)])

    s = float(np.interp(height, wall[:, 1], length))
    for _ in range(30):
        low, high = at(s - 0.5 * mouth), at(s + 0.5 * mouth)
        s += (height - 0.5 * (low[1] + high[1])) / max(0.2, (high[1] - low[1]) / mouth)
    return low, high


def _pieces(rows):
    """Points along pieces of a table, each an arc by its ends and radius, or a line."""
    points = []
    for _, z0, z1, d0, d1, _, _, radius, side in rows:
        a = np.array([0.5 * _number(d0), _number(z0)])
        b = np.array([0.5 * _number(d1), _number(z1)])
        points += [tuple(a)] if not points else []
        if radius != "straight":
            points += _arc(a, b, _number(radius), side == "axis side")
        points.append(tuple(b))
    return points


def _arc(a, b, radius, centre_inward):
    chord = b - a
    square = np.array([-chord[1], chord[0]]) / hypot(*chord)  # towards the axis, going up
    reach = np.sqrt(max(0.0, radius**2 - 0.25 * float(chord @ chord)))
    centre = 0.5 * (a + b) + (reach if centre_inward else -reach) * square
    first, last = (atan2(*(p - centre)[::-1]) for p in (a, b))
    turn = (last - first + np.pi) % (2.0 * np.pi) - np.pi
    count = 2 + int(abs(turn) * max(1.0 / STEP, np.sqrt(radius / (8.0 * SAG_MM))))
    return [(centre[0] + radius * cos(t), centre[1] + radius * sin(t))
            for t in np.linspace(first, first + turn, count)[1:-1]]  # fmt: skip


def _details(texts, scale):
    """Of each detail: the grooves it stands for, flank in degrees, floor and edge radius."""
    found = []
    for said in texts:
        title = re.match(r"[A-Z] \(.*\)  GROOVE (\d+)", said.text)
        if title:
            like = [
                t.text
                for t in texts
                if t.text.startswith(("grooves ", "typical of grooves ")) and _near(t, said, 0.4 * scale)
            ]
            numbers = _numbers(like[0].split(",  ")[0]) if like else {int(title[1])}
            radii = sorted(
                _number(t.text) for t in texts if re.match(r"R[\d.]+ \(2x\)", t.text) and _near(t, said, scale)
            )
            flank = next(
                _number(t.text) for t in texts if re.match(r"[\d.]+%%d \(2x\)", t.text) and _near(t, said, scale)
            )
            edge, floor = (radii[0], radii[-1]) if len(radii) > 1 else (0.0, radii[0] if radii else 0.0)
            found.append((numbers, flank, floor, edge))
    return found


def _near(text, title, scale):
    return hypot(text.x - title.x, text.y - title.y) < 160.0 * scale and text.y < title.y


def _numbers(text):
    found = set()
    for part in text.removeprefix("typical of ").removeprefix("grooves ").split(", "):
        first, _, last = part.partition(" to ")
        if first.isdigit():
            found |= set(range(int(first), int(last or first) + 1))
    return found


def _table(texts, title, scale):
    """The rows of a table by its title: texts below it, grouped by height, as long as the first cell counts on."""
    heading = next((t for t in texts if t.text == title), None)
    if heading is None:
        return []  # a bowl without grooves has no such table
    right = heading.x + 178.0 * scale
    below = [t for t in texts if heading.x - 1.0 <= t.x < right and t.y < heading.y]
    rows = {}
    for text in below:
        rows.setdefault(next((y for y in rows if abs(y - text.y) < ROW * scale), text.y), []).append(text)
    found = []
    for y in sorted(rows, reverse=True):
        cells = [t.text for t in sorted(rows[y], key=lambda t: t.x)]
        if cells[0] == str(len(found) + 1):
            found.append(cells)
        elif found:
            break
    return found


def _number(text):
    return float(re.search(r"-?[\d.]+", text.removeprefix("%%c").replace("−", "-"))[0])
