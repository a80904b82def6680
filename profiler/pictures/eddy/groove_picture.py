"""The picture of one groove: cut wall, film, drop and landing, beds held from above, water, and the computed flow.

Geometry and surface are those of the evaluation at hand and are drawn at once; the flow is drawn where it has settled.
"""

from dataclasses import dataclass
from textwrap import wrap

import numpy as np

from profiler.assess import Evaluation
from profiler.assess.eddy.answers import Answer, Band
from profiler.assess.eddy.lids import Driving, driving
from profiler.assess.flow.flow_stage import HIGH, LOW, MIDDLE, Flow
from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.chain import sampled
from profiler.numbers import fixed
from profiler.pictures.basics.display import (
    Align,
    Area,
    Dot,
    FloatArray,
    Item,
    Label,
    Line,
    Picture,
    Role,
    Strokes,
    boxed,
    hatch,
)
from profiler.pictures.eddy.flow_lines import flow_items, flow_lines
from profiler.pictures.eddy.groove_view import GrooveView, between, clipped, frame_of, placed, view_of
from profiler.units import DEGREE, LITRE_PER_MINUTE, MM

HATCH_PX = 9.0
SMALL = 8.5
HANDLE_BELOW = 0.6  # mouths below the lower edge, on the land
LEAST_BURIED = 0.02  # mm
LEAST_FILM_PX = 3.0
EDGE_ROOM = 0.15  # mouths
NARROW_PX = 420.0  # below it only the shortest words fit
REASON_LETTERS, REASON_STEP = 38, 16.0
OUT_OF_SIGHT = 14.0  # px from the rim, where an arrow stands for what lies beyond


@dataclass(frozen=True, slots=True)
class GrooveScene:
    """What the picture shows: an evaluation and what was computed of one of its grooves."""

    e: Evaluation
    groove: int  # from 1
    found: Answer | None = None
    waiting: bool = False  # the flow drawn is that of a moment ago
    handle: bool = False
    words: bool = True
    both: bool = True  # a matched groove at both ends of the friction band


@dataclass(frozen=True, slots=True)
class _Side:
    """One drawing: at which friction, where in the picture, and whether the computed flow belongs to it."""

    level: int
    left: float
    width: float
    title: str = ""
    flowing: bool = True


def groove_picture(scene: GrooveScene, width: float, height: float) -> Picture:
    """A matched groove is drawn at low and at high friction, side by side."""
    e, k = scene.e, scene.groove - 1
    if e.shape is None or e.flow is None or not 0 <= k < len(e.shape.mouths):
        return Picture(width, height, (Label(width / 2, height / 2, "no flow here", Role.FAINT, Align.CENTRE),))
    items: list[Item] = []
    sides = _sides(scene, width)
    for side in reversed(sides):  # what of the right one sticks out to the left is covered again
        view = view_of(e.shape, k, side.width, height, side.left)
        if side.width < width:
            items.append(Area(boxed(side.left, 0.0, side.left + side.width, height), Role.PAPER))
        items += _one(scene, side, view, e.shape, e.flow, k)
    if len(sides) > 1:
        items.append(Line(boxed(sides[1].left, 0.0, sides[1].left, height)[1:3], Role.FAINT))
    if scene.handle:
        items += _handle(view_of(e.shape, k, sides[0].width, height), e.shape, k)
    return Picture(width, height, tuple(items))


def handle_at(scene: GrooveScene, width: float, height: float) -> tuple[float, float] | None:
    """Where the handle that turns the wall stands, px; None where nothing is drawn."""
    if scene.e.shape is None or scene.e.flow is None:
        return None
    view = view_of(scene.e.shape, scene.groove - 1, _sides(scene, width)[0].width, height)
    x, y = view.px(_handle_mm(scene.e.shape, scene.groove - 1)[None, :])[0]
    return float(x), float(y)


def angle_from(scene: GrooveScene, width: float, height: float, x: float, y: float) -> float:
    """Wall angle [deg] that leads the wall from under a pixel through the middle of the mouth; nan without a shape."""
    if scene.e.shape is None:
        return float("nan")
    view = view_of(scene.e.shape, scene.groove - 1, _sides(scene, width)[0].width, height)
    corners = scene.e.shape.contours.corners[scene.groove - 1]
    pivot = 0.5 * (corners[0] + corners[3])
    radius, z = view.mm(x, y)
    return float(np.arctan2(pivot[0] - radius, max(pivot[1] - z, 1e-9))) / DEGREE


def _sides(scene: GrooveScene, width: float) -> list[_Side]:
    matched = driving(scene.e, scene.groove) is Driving.IN_DOUBT
    if not matched or not scene.both:
        return [_Side(LOW if matched else MIDDLE, 0.0, width)]
    half = 0.5 * width
    return [
        _Side(LOW, 0.0, half, "at low friction"),
        _Side(HIGH, half, half, "at high friction: a bed lies over it", False),
    ]


def _one(scene: GrooveScene, side: _Side, view: GrooveView, shape: Shape, flow: Flow, k: int) -> list[Item]:
    items = _bed(view, shape, flow, k, side.level)
    if side.flowing:
        items += _flow(scene, view, shape)
    items += _body(view, shape)
    if side.flowing:
        items += _film(scene, view, shape)
    items += _water(view, shape, flow, k, scene.words and side.flowing)
    if scene.words:
        items += _drop(view, shape, flow, k, side.level) if side.flowing else []
        items += [*_holder(view, shape, flow, k, side.level), *(_told(scene, view, shape) if side.flowing else [])]
    if side.title:
        items.append(Label(side.left + 10.0, view.tall - 14.0, side.title, Role.TEXT, size=9.0, bold=True, paper=True))
    return items


def _handle_mm(shape: Shape, k: int) -> FloatArray:
    start, along, _ = frame_of(shape, k)
    return np.asarray(start - HANDLE_BELOW * along)


def _body(view: GrooveView, shape: Shape) -> list[Item]:
    ring = view.px(clipped(sampled(shape.outline, 0.3 / view.scale), view.corners))
    if not len(ring):
        return []
    edge = sampled(shape.edge, 0.3 / view.scale)
    line = view.px(between(edge, *view.heights))
    return [Area(ring, Role.BODY), Strokes(hatch(ring, HATCH_PX, -1.0), Role.HATCH, 0.6), Line(line, Role.WALL, 1.6)]


def _surface(shape: Shape, flow: Flow, k: int, level: int) -> FloatArray:
    """The bed held from above over one mouth: where it meets the upper edge, and where the stream drops onto it."""
    mouths = shape.mouths
    upper = float(np.interp(mouths.upper[k], shape.stations.height, flow.bed.radius[0, level] / MM))
    lower = mouths.lower_radius[k] + flow.groove_overfall[0, level, k] / MM
    return np.array([[min(upper, mouths.upper_radius[k]), mouths.upper[k]], [lower, mouths.lower[k]]])


def _bed(view: GrooveView, shape: Shape, flow: Flow, k: int, level: int) -> list[Item]:
    """Settled solids where a bed lies over the wall; and its edge at low and at high friction."""
    items: list[Item] = []
    if flow.groove_overfall[0, level, k] <= 0.0:  # the groove is full of it
        lines = _edge_line(view, shape, flow, k, level), _wall_line(view, shape)
        start, along, _ = frame_of(shape, k)
        ends = np.array([start - EDGE_ROOM * along, start + (1.0 + EDGE_ROOM) * along])  # over the rounded edges
        inside = np.concatenate((ends[:1], shape.contours.corners[k], ends[1:]))
        items.append(Area(view.px(inside), Role.BED, 0.75, bare=True))
        items.append(Area(view.px(np.concatenate((lines[0], lines[1][::-1]))), Role.BED, 0.75, bare=True))
    one, other = (view.px(_edge_line(view, shape, flow, k, end)) for end in (LOW, HIGH))
    items.append(Area(np.concatenate((one, other[::-1])), Role.BAND, 0.5))
    return items + [Line(line, Role.REPOSE, 1.2, (5.0, 3.0)) for line in (one, other)]


def _wall_line(view: GrooveView, shape: Shape) -> FloatArray:
    z = np.linspace(*view.seen(shape), 60)
    return np.stack((shape.wall.radius_at(z), z), axis=1)


def _edge_line(view: GrooveView, shape: Shape, flow: Flow, k: int, level: int) -> FloatArray:
    """The bed's surface, upward; on land it is the wall where it is exposed, in the mouth what is held from above."""
    low, high = view.seen(shape)
    mouths = shape.mouths
    parts = []
    for z in (np.linspace(low, mouths.lower[k], 30), np.linspace(mouths.upper[k], high, 30)):
        surface = np.interp(z, shape.stations.height, flow.bed.radius[0, level] / MM)
        parts.append(np.stack((np.minimum(surface, shape.wall.radius_at(z)), z), axis=1))
    return np.concatenate((parts[0], _surface(shape, flow, k, level)[::-1], parts[1]))


def _flow(scene: GrooveScene, view: GrooveView, shape: Shape) -> list[Item]:
    """The computed flow, above the bed it was computed for."""
    if scene.found is None or scene.found.case is None or driving(scene.e, scene.groove) is Driving.NONE:
        return []
    frame = frame_of(shape, scene.groove - 1)
    case = scene.found.case

    def place(points: FloatArray) -> FloatArray:
        return view.px(placed(frame, points))

    items: list[Item] = []
    if case.eddy.groove.fill > 0.0:
        floor = case.eddy.block.nodes[0]
        corners = np.array(case.eddy.groove.corners[1:3])
        bed = np.concatenate((np.stack((floor.real, floor.imag), axis=1), corners[::-1]))
        items.append(Area(place(bed), Role.BED, 0.9))
    return [*items, *flow_items(flow_lines(case.eddy), place, 0.9 if scene.waiting else 1.4, not scene.waiting)]


def _film(scene: GrooveScene, view: GrooveView, shape: Shape) -> list[Item]:
    """The film over land, mouth and land: over the mouth it is the straight lid of the flow."""
    e, k, mouths = scene.e, scene.groove - 1, shape.mouths
    if e.catch is None or driving(e, scene.groove) is Driving.NONE:
        return []
    depth = float(e.catch.film.depth[0, MIDDLE, k]) / MM
    if not np.isfinite(depth):
        return []
    thick = max(depth, LEAST_FILM_PX / view.scale)
    low, high = view.seen(shape)
    z = np.concatenate((np.linspace(low, mouths.lower[k], 12), np.linspace(mouths.upper[k], high, 12)))
    r, angle = shape.wall.radius_at(z), shape.wall.angle_at(z)
    inner = np.stack((r - thick * np.cos(angle), z + thick * np.sin(angle)), axis=1)
    outer = np.stack((r, z), axis=1)
    middle = view.px(0.5 * (inner + outer))
    lid = np.zeros((0, 2))
    if scene.found is not None and scene.found.case is not None:
        ends = scene.found.case.eddy.block.nodes[-1, [0, -1]]
        lid = placed(frame_of(shape, k), np.stack((ends.real, ends.imag), axis=1))
    area = np.concatenate((inner, outer[12:][::-1], lid[::-1], outer[:12][::-1]))
    items: list[Item] = [Area(view.px(area), Role.FLOW, 0.34)]
    items += [_head(middle[i - 1], middle[i]) for i in (6, 18)]
    lid_now = None if scene.found is None else scene.found.lid
    if scene.words and lid_now is not None:
        x, y = middle[3]
        speed = f"{'' if view.width < NARROW_PX else 'film '}{fixed(lid_now.speed, 1)} m/s"
        items.append(Label(float(x) - 16.0, float(y), speed, Role.FLOW, Align.RIGHT, SMALL, paper=True))
    return items


def _head(start: FloatArray, tip: FloatArray, size: float = 6.0) -> Area:
    way = (tip - start) / max(float(np.hypot(*(tip - start))), 1e-9)
    side = np.array([-way[1], way[0]])
    return Area(np.array([tip - size * way + 0.55 * size * side, tip + 0.6 * size * way,
                          tip - size * way - 0.55 * size * side]), Role.FLOW)  # fmt: skip


def _water(view: GrooveView, shape: Shape, flow: Flow, k: int, words: bool) -> list[Item]:
    """Arrows up through the floor, and what comes."""
    ring = float(flow.water.ring[0, k])
    if not ring > 0.0:
        return []
    _, _, inward = frame_of(shape, k)
    lower, upper = shape.contours.corners[k, 1:3]
    into = inward / float(np.hypot(*inward))
    length = 11.0 / view.scale
    items: list[Item] = []
    for share in (0.3, 0.5, 0.7):
        foot = lower + share * (upper - lower)
        ends = view.px(np.stack((foot - 0.9 * length * into, foot + 0.3 * length * into)))
        items += [Line(ends, Role.FLOW, 1.4), _head(ends[0], ends[1], 5.0)]
    if words:
        narrow = view.width < NARROW_PX
        x, y = view.px((0.5 * (lower + upper) - 1.3 * length * into)[None, :])[0]
        text = f"{'' if narrow else 'water '}{fixed(ring / LITRE_PER_MINUTE, 1)} L/min"
        at = (view.left + view.width - 6.0, float(y) - 58.0) if narrow else (float(x) + 4.0, float(y) + 4.0)
        items.append(Label(*at, text, Role.FLOW, Align.RIGHT if narrow else Align.LEFT, SMALL, paper=True))
    return items


def _drop(view: GrooveView, shape: Shape, flow: Flow, k: int, level: int) -> list[Item]:
    """How far the stream falls, level at the lower edge, and where it comes down."""
    falls = flow.groove_overfall[0, :, k] / MM
    edge = np.array([shape.mouths.lower_radius[k], shape.mouths.lower[k]])
    if falls[level] <= 0.0:
        return []
    drop = float(falls[level])
    ends = view.px(np.stack((edge, edge + np.array([drop, 0.0]))))
    tick = np.array([0.0, 5.0])
    marks = np.array([[p - tick, p + tick] for p in ends])
    text = f"{'falls' if view.width < NARROW_PX else 'overfall'} {fixed(drop, 1)} mm"
    x, y = ends[0]
    landing = view.px(_surface(shape, flow, k, level)[:1])[0]
    items: list[Item] = [
        Line(ends, Role.STRONG, 2.0),
        Strokes(marks, Role.STRONG, 1.4),
        Dot(float(landing[0]), float(landing[1]), 3.2, Role.STRONG),
    ]
    if view.width >= NARROW_PX:
        text += f" ({fixed(max(float(falls[HIGH]), 0.0), 1)} to {fixed(float(falls[LOW]), 1)})"
        lands = "lands: 20 to 100 % of the fall is lost"
        at = float(landing[0]) - 26.0, float(landing[1]) - 4.0
        items.append(Label(*at, lands, Role.STRONG, Align.RIGHT, SMALL, paper=True))
    return [*items, Label(float(x) - 26.0, float(y) + 12.0, text, Role.STRONG, Align.RIGHT, SMALL, paper=True)]


def _holder(view: GrooveView, shape: Shape, flow: Flow, k: int, level: int) -> list[Item]:
    """The land that holds the bed from above: marked where it is seen, else pointed to."""
    held = _held_at(shape, flow, k, level)
    high = view.heights[1]
    top = min(held, high)
    x, y = view.px(np.array([[float(shape.wall.radius_at(top)), top]]))[0]
    words = f"{'held' if view.width < NARROW_PX else 'bed held by the land'} at {fixed(held, 0)} mm"
    if held <= high - OUT_OF_SIGHT / view.scale:
        dot: Item = Dot(float(x), float(y), 4.0, Role.REPOSE)
        return [dot, Label(float(x) + 10.0, float(y) - 8.0, words, Role.REPOSE, size=SMALL, paper=True)]
    up = np.array([[float(x) + 14.0, 30.0], [float(x) + 14.0, 12.0]])
    head = Area(np.array([[up[1, 0] - 4.0, 16.0], [up[1, 0], 7.0], [up[1, 0] + 4.0, 16.0]]), Role.REPOSE)
    return [Line(up, Role.REPOSE, 1.4), head, Label(up[0, 0] + 9.0, 18.0, words, Role.REPOSE, size=SMALL, paper=True)]


def _held_at(shape: Shape, flow: Flow, k: int, level: int) -> float:
    """mm: of the land that holds the bed over the mouth, whose own upper edge counts."""
    station = int(np.searchsorted(shape.stations.height, shape.mouths.upper[k] - 1e-9))
    buried = flow.bed.radius[0, level, station] / MM < shape.mouths.upper_radius[k] - LEAST_BURIED
    return float(flow.bed.held_at[0, level, station] / MM) if buried else float(shape.mouths.upper[k])


def _told(scene: GrooveScene, view: GrooveView, shape: Shape) -> list[Item]:
    """Reach and centre of the computed eddy; or why there is none."""
    found, (start, along, inward) = scene.found, frame_of(shape, scene.groove - 1)
    nothing = driving(scene.e, scene.groove) is Driving.NONE
    if found is None or (scene.waiting and not nothing):
        return []
    case = found.case
    if case is None or nothing:
        return _none(scene, view, shape, found.reason)
    reach = placed((start, along, inward), np.array([[-0.02, -case.measures.reach], [1.02, -case.measures.reach]]))
    line = view.px(reach)
    items: list[Item] = [Line(line, Role.CHOSEN, 1.4, (2.0, 3.0))]
    centre = case.measures.centre
    if centre is not None:
        x, y = view.px(placed((start, along, inward), np.array([centre])))[0]
        items.append(Dot(float(x), float(y), 3.0, Role.CHOSEN))
    band = found.band(lambda c: c.reach / MM)
    x, y = line[0]
    lines = [f"reach {fixed(case.reach / MM, 1)} mm{_between(band)}"]
    if view.width < NARROW_PX and band is not None:
        lines = [f"reach {fixed(case.reach / MM, 1)} mm", _between(band).strip()]
    for n, text in enumerate(lines):
        at = float(x) - 4.0, float(y) + 12.0 + REASON_STEP * n
        items.append(Label(*at, text, Role.CHOSEN, size=SMALL, paper=True))
    return items


def _between(band: Band | None) -> str:
    return "" if band is None else f" ({fixed(band.low, 1)} to {fixed(band.high, 1)})"


def _none(scene: GrooveScene, view: GrooveView, shape: Shape, reason: str) -> list[Item]:
    corners = view.px(shape.contours.corners[scene.groove - 1])
    x, y = (float(v) for v in corners.mean(axis=0))
    nothing = driving(scene.e, scene.groove) is Driving.NONE
    lines = ["no driven eddy: water seeps"] if nothing else wrap(reason, REASON_LETTERS)
    top = y - 0.5 * REASON_STEP * (len(lines) - 1)
    return [Label(x, top + REASON_STEP * n, line, Role.TEXT, Align.CENTRE, 9.0, paper=True)
            for n, line in enumerate(lines)]  # fmt: skip


def _handle(view: GrooveView, shape: Shape, k: int) -> list[Item]:
    """A grip on the land under the mouth, and the angle it sets."""
    x, y = (float(v) for v in view.px(_handle_mm(shape, k)[None, :])[0])
    angle = float(shape.wall.angle_at(shape.mouths.middle[k : k + 1])[0]) / DEGREE
    return [
        Dot(x, y, 8.0, Role.CHOSEN, filled=False),
        Dot(x, y, 5.0, Role.KNOT),
        Label(x + 16.0, y + 2.0, f"wall {fixed(angle, 1)}°: drag", Role.TEXT, size=9.0, bold=True, paper=True),
    ]
