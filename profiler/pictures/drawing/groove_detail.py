"""One groove enlarged, standing as it stands in the section: mouth, depth, flank, floor and edge radii."""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, hypot

import numpy as np

from profiler.assess.shape.bore_rings import Ring
from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.chain import Chain, FloatArray, sampled
from profiler.pictures.drawing.digits import Digits, needed
from profiler.pictures.sheet.blocks import Block, headed
from profiler.pictures.sheet.clashes import boxes_of, crossed, meets, strokes_of, texts_of
from profiler.pictures.sheet.dimensions import angle_of, leader, number
from profiler.pictures.sheet.items import (
    Angle,
    AngleText,
    Dimension,
    Hatch,
    Item,
    Path,
    Pen,
    Point,
    View,
    polyline,
)
from profiler.pictures.sheet.papers import SCALES, scale_text

LEAST, MOST = 18.0, 70.0  # mm, the larger of mouth and depth on paper
LEAST_WIDTH = 90.0  # mm, to which words under the title are wrapped where the groove is narrower
AIR = 0.4  # mm round a text
ASIDE = (8.0, 15.0, 22.0)  # mm from the end of the piece to the depth's measure
REACHES = (12.0, 17.0, 22.0)  # mm from the mouth to its measure
BESIDE, STEP = 4.0, 4.0  # mm from all that is drawn to a leader's elbow, and from one such place to the next
LEAST_LEAN = 1.0  # degrees of flank that can be shown as an angle
LEAST_ROUNDING, CROSS = 0.4, 1.2  # mm on paper: roundings whose virtual corner is marked, half length of the mark
WAVE, WAVE_LENGTH = 0.7, 7.0  # of a freehand break line


@dataclass(frozen=True, slots=True)
class Kind:
    """Grooves cut alike: the index of the one that is drawn, and the numbers of all."""

    index: int
    numbers: tuple[int, ...]
    beside: tuple[int, ...] = ()  # grooves of other mouths and depths that have no detail of their own


@dataclass(frozen=True, slots=True)
class _Piece:
    """What is drawn of the body, mm true: the edge that exists, and the ring closed by break lines."""

    edge: Chain
    back: FloatArray  # from the edge's last point back to its first


def detail_scales(shape: Shape, index: int, least: float) -> list[float]:
    """Standard scales at which the groove stays handy, the largest first; none under the main view's scale."""
    size = max(float(shape.cut.mouth[index]), float(shape.cut.depth[index]))
    handy = [s for s in SCALES if LEAST <= s * size <= MOST and s >= least]
    return handy or [max(next((s for s in SCALES if s * size <= MOST), SCALES[-1]), least)]


def kinds_of(shape: Shape) -> list[Kind]:
    """The kinds of groove by mouth and depth, the commonest first; of each the one nearest to the middle is drawn."""
    cuts = [(round(float(m), 4), round(float(d), 4)) for m, d in zip(shape.cut.mouth, shape.cut.depth, strict=True)]
    middle = 0.5 * len(cuts)
    found = []
    for cut in dict.fromkeys(cuts):
        alike = [k for k, other in enumerate(cuts) if other == cut]
        found.append(Kind(min(alike, key=lambda k: abs(k - middle)), tuple(k + 1 for k in alike)))
    return sorted(found, key=lambda kind: -len(kind.numbers))


def groove_detail(
    shape: Shape, kind: Kind, scale: float, letter: str, digits: Digits, holes: Ring | None = None
) -> Block:
    """The detail of a kind of groove as a block, with the water holes of the one that is drawn."""
    index, words = kind.index, []
    items, untold = _draw(shape, index, _piece(shape, index, scale), View((0.0, 0.0), scale), digits, holes)
    if len(kind.numbers) > 1:
        words.append(f"typical of grooves {runs(kind.numbers)}")
    if kind.beside:
        words.append(f"but for mouth and depth, by the table, of {runs(kind.beside)} too")
    title = f"{letter} ({scale_text(scale)})  GROOVE {index + 1}"
    return headed(items, title, ", ".join([*words, *untold]), LEAST_WIDTH)


def _piece(shape: Shape, index: int, scale: float) -> _Piece:
    """The groove's contour with some land on either side, and a back behind its floor."""
    wall, mouths = shape.wall, shape.mouths
    mouth, depth = float(shape.cut.mouth[index]), float(shape.cut.depth[index])
    start, end = float(mouths.lower_length[index]), float(mouths.upper_length[index])
    below = float(mouths.upper_length[index - 1]) if index else 0.0
    above = float(mouths.lower_length[index + 1]) if index + 1 < len(mouths) else float(wall.length[-1])
    low = float(wall.height_at(max(start - 0.5 * mouth, 0.5 * (start + below))))
    high = float(wall.height_at(min(end + 0.5 * mouth, 0.5 * (end + above))))
    contour, bulges = shape.contours.points[index], shape.contours.bulges[index]
    low, high = min(low, float(contour[0, 1])), max(high, float(contour[7, 1]))
    lower, upper = _land(shape, low, float(contour[0, 1])), _land(shape, float(contour[7, 1]), high)
    points = np.concatenate((lower.points[:-1], contour, upper.points[1:]))
    curls = np.concatenate((lower.bulges[:-1], bulges[:7], upper.bulges))
    edge = Chain(points, curls, closed=False)
    corners = shape.contours.corners[index]
    inward = 0.5 * (corners[1] + corners[2] - corners[0] - corners[3])
    inward = inward / hypot(*inward)
    behind = depth + min(0.5 * depth, max(0.7 * float(shape.wall_behind[index]), 0.05 * depth))
    back = [points[-1], points[-1] + behind * inward, points[0] + behind * inward, points[0]]
    return _Piece(edge, _freehand(back, WAVE / scale, WAVE_LENGTH / scale))


def _land(shape: Shape, low: float, high: float) -> Chain:
    """The wall between two heights, every joint kept."""
    wall = shape.wall
    joints = wall.height[(wall.height > low + 1e-6) & (wall.height < high - 1e-6)]
    heights = np.concatenate(([low], joints, [high])) if high > low + 1e-9 else np.array([low])
    points = np.stack((wall.radius_at(heights), heights), axis=1)
    return Chain(points, np.append(wall.bulge(heights[:-1], heights[1:]), 0.0), closed=False)


def _freehand(corners: list[FloatArray], wave: float, length: float) -> FloatArray:
    """A gently waving line through corners: what lies beyond is not drawn."""
    points = [corners[0]]
    for a, b in itertools.pairwise(corners):
        along = b - a
        size = hypot(*along)
        if size < 1e-9:
            continue
        side = np.array([-along[1], along[0]]) / size
        shares = np.linspace(0.0, 1.0, 8 * max(1, ceil(size / length)) + 1)[1:]
        turns = max(1, round(size / length))
        points += [a + s * along + wave * np.sin(2.0 * np.pi * turns * s) * side for s in shares]
    return np.array(points)


def runs(numbers: Sequence[int]) -> str:
    """Rising numbers in words: 1 to 4, 7, 9 to 12."""
    found: list[list[int]] = []
    for n in numbers:
        if found and n == found[-1][-1] + 1:
            found[-1].append(n)
        else:
            found.append([n])
    return ", ".join(f"{r[0]}" if len(r) == 1 else f"{r[0]} to {r[-1]}" for r in found)


def _draw(
    shape: Shape, index: int, piece: _Piece, view: View, digits: Digits, holes: Ring | None
) -> tuple[list[Item], list[str]]:
    """The groove with its measures, and those measures that found no place beside it."""
    edge = view.chain(piece.edge)
    back = piece.back * view.scale + np.array(view.origin)
    ring = np.concatenate((sampled(edge, 0.01), back[1:-1]))
    items: list[Item] = [Path(edge, Pen.DETAIL), polyline(back, Pen.BREAK)]
    items += _measures(shape, index, piece, view, digits)
    items += _hole(holes, piece, view) if holes is not None else []
    leaders, untold = _leaders(shape, index, view, items, holes, digits)
    return [*items, *leaders, Hatch((Chain(ring, np.zeros(len(ring))),))], untold


def _measures(shape: Shape, index: int, piece: _Piece, view: View, digits: Digits) -> list[Item]:
    cut = shape.cut
    low, floor_low, floor_high, high = (np.array(view.point(*(float(v) for v in c)))
                                        for c in shape.contours.corners[index])  # fmt: skip
    along = (high - low) / hypot(*(high - low))
    hollow = np.array([-along[1], along[0]])
    into = 0.5 * (floor_low + floor_high - low - high)
    into = into / hypot(*into)
    per_mm = 1.0 / view.scale
    end = np.array(view.point(*(float(v) for v in piece.edge.points[-1])))
    mouth_line = 0.5 * (low + high) if cut.square_to_axis else high
    floor = 0.5 * (floor_low + floor_high)
    depth = [
        Dimension(_pair(mouth_line), _pair(floor if cut.square_to_axis else floor_high), angle_of(into),
                  _pair(end + aside * along), digits.length(float(cut.depth[index]), digits.depth), per_mm)
        for aside in ASIDE
    ]  # fmt: skip
    mouth = [
        Dimension(_pair(low), _pair(high), angle_of(along), _pair(low + reach * hollow),
                  digits.length(float(cut.mouth[index]), digits.mouth), per_mm)
        for reach in REACHES
    ]  # fmt: skip
    pairs = itertools.product(depth, mouth)
    return list(next(((m, d) for d, m in pairs if _keep_clear(m, d)), (mouth[0], depth[0])))


def _keep_clear(one: Dimension, other: Dimension) -> bool:
    """Whether neither's text meets the other's, or lies across its lines: that of a small measure stands beside it."""
    boxes = [boxes_of(texts_of([d]), AIR) for d in (one, other)]
    lines = [strokes_of([d]) for d in (one, other)]
    struck = any(crossed(box, lines[1 - k]) for k in (0, 1) for box in boxes[k])
    return not struck and not any(meets(box, boxes[1]) for box in boxes[0])


def _hole(ring: Ring, piece: _Piece, view: View) -> list[Item]:
    """A hole from the groove's floor to where the piece breaks off, and its axis."""
    back = piece.back
    low, high = np.sort(np.stack((back[:-1, 1], back[1:, 1])), axis=0)
    there = (low <= ring.height) & (ring.height <= high)
    end = float(np.max(np.maximum(back[:-1, 0], back[1:, 0])[there], initial=ring.inner))
    (x0, y), (x1, _) = view.point(ring.inner, ring.height), view.point(end, ring.height)
    half = 0.5 * ring.diameter * view.scale
    axis = polyline([(x0 - 3.0, y), (x1 + 2.0, y)], Pen.CENTRE)
    if not (float(back[:, 1].min()) < ring.low and ring.high < float(back[:, 1].max())):
        return [axis]  # wider than what is shown
    return [axis, *(polyline([(x0, y + k), (x1 - WAVE, y + k)], Pen.HOLE) for k in (-half, half))]


def _length(mm: float, digits: Digits) -> str:
    return digits.length(mm, needed([mm]))


def _leaders(
    shape: Shape, index: int, view: View, drawn: list[Item], holes: Ring | None, digits: Digits
) -> tuple[list[Item], list[str]]:
    """Radii and the flank's lean, at the right and below, else anywhere free; and the words of those with no place."""
    cut = shape.cut
    contour = [view.point(*(float(v) for v in p)) for p in shape.contours.points[index]]
    bulges = shape.contours.bulges[index]
    shelf = float(strokes_of([i for i in drawn if isinstance(i, Path)])[..., 0].max()) + 3.0
    floor = _middle(contour[4], contour[5], float(bulges[4]))
    flank = (0.5 * (contour[1][0] + contour[2][0]), 0.5 * (contour[1][1] + contour[2][1]))
    edge = _middle(contour[0], contour[1], float(bulges[0]))
    upward = [(shelf, floor[1] + dy) for dy in (8.0, 12.0, 4.0, 16.0, 20.0)]
    downward = [(shelf, min(flank[1] - 6.0, floor[1] - 4.0) - dy) for dy in (0.0, 5.0, 10.0, 15.0)]
    below = [(edge[0] - dx, edge[1] - dy) for dy in (12.0, 17.0, 22.0, 27.0) for dx in (9.0, 3.0, 15.0)]
    items, lean = _flank_angle(shape, index, view, drawn), f"{number(float(np.degrees(cut.flank)))}° (2x)"
    wanted = [] if items else [(flank, downward, lean, "flank")]
    items += _virtual_corners(shape, index, view)
    if cut.floor_radius > 0.0:
        wanted.append((floor, upward, f"R{_length(cut.floor_radius, digits)} (2x)", "floor"))
    if cut.edge_radius > 0.0:
        wanted.append((edge, below, f"R{_length(cut.edge_radius, digits)} (2x)", "edge"))
    if holes is not None:
        tip = view.point(holes.inner + 1.0 / view.scale, holes.height)
        wanted.append((tip, upward, f"{holes.count}x Ø{_length(holes.diameter, digits)}", "water holes"))
    untold = []
    for tip, elbows, text, name in wanted:
        found = _free_leader(tip, [*elbows, *_around(tip, drawn)], text, [*drawn, *items])
        items += found
        untold += [] if found else [f"{name} {text}"]
    return items, untold


def _flank_angle(shape: Shape, index: int, view: View, drawn: list[Item]) -> list[Item]:
    """The lean of the lower flank from the depth direction, in the groove's hollow; nothing where it has no room."""
    cut = shape.cut
    lean = float(np.degrees(cut.flank))
    if lean < LEAST_LEAN:
        return []
    low, floor_low, floor_high, high = (np.array(view.point(*(float(v) for v in c)))
                                        for c in shape.contours.corners[index])  # fmt: skip
    into = 0.5 * (floor_low + floor_high - low - high)
    begin = 0.0 if cut.square_to_axis else angle_of(into)
    deep = float(hypot(*(floor_low - low)))
    text = f"{number(lean)}° (2x)"
    texts, strokes = boxes_of(texts_of(drawn), AIR), strokes_of(drawn)
    for share, height in itertools.product((0.75, 0.6, 0.9, 0.5), (3.5, 2.5)):
        found = Angle(_pair(low), begin, begin + lean, share * deep, text, height, 0.0, (True, False), AngleText.BEYOND)
        label, own = boxes_of(texts_of([found]), AIR)[0], strokes_of([found])
        if not meets(label, texts) and not crossed(label, np.concatenate((strokes, own))):
            return [found]
    return []


def _virtual_corners(shape: Shape, index: int, view: View) -> list[Item]:
    """Where wall and flanks would meet without the edge radius: mouth and depth are measured there (ISO 129-1)."""
    cut = shape.cut
    if cut.edge_radius * view.scale < LEAST_ROUNDING:
        return []
    corners = [np.array(view.point(*(float(v) for v in shape.contours.corners[index][k]))) for k in (0, 3)]
    ends = [np.array(view.point(*(float(v) for v in shape.contours.corners[index][k]))) for k in (1, 2)]
    along = (corners[1] - corners[0]) / hypot(*(corners[1] - corners[0]))
    items: list[Item] = []
    for corner, floor, sense in zip(corners, ends, (1.0, -1.0), strict=True):
        flank = (floor - corner) / hypot(*(floor - corner))
        items += [polyline([corner - CROSS * v, corner + CROSS * v], Pen.MARK) for v in (flank, sense * along)]
    return items


def _around(tip: Point, drawn: list[Item]) -> list[Point]:
    """Places for an elbow at the right and the left of all that is drawn, the nearest to the tip first."""
    strokes = strokes_of(drawn).reshape(-1, 2)
    (left, low), (right, high) = strokes.min(axis=0), strokes.max(axis=0)
    levels = np.arange(float(low) - BESIDE, float(high) + BESIDE, STEP).tolist()
    found = [(float(x), y) for x in (right + BESIDE, left - BESIDE) for y in levels]
    return sorted(found, key=lambda place: hypot(place[0] - tip[0], place[1] - tip[1]))


def _free_leader(tip: Point, elbows: list[Point], text: str, drawn: list[Item]) -> list[Item]:
    """The leader at the first elbow where its text meets nothing; nothing if there is none."""
    texts, strokes = boxes_of(texts_of(drawn), AIR), strokes_of(drawn)
    for elbow in elbows:
        found = leader(tip, elbow, text, 3.5)
        label, own = boxes_of(texts_of(found), AIR)[0], strokes_of(found)
        if not meets(label, texts) and not crossed(label, strokes) and not any(crossed(box, own) for box in texts):
            return found
    return []


def _middle(a: Point, b: Point, bulge: float) -> Point:
    """The middle of an arc."""
    return (0.5 * (a[0] + b[0]) + 0.5 * bulge * (b[1] - a[1]), 0.5 * (a[1] + b[1]) - 0.5 * bulge * (b[0] - a[0]))


def _pair(p: FloatArray) -> Point:
    return float(p[0]), float(p[1])
