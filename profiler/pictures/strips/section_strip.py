"""The section strip: the half section at equal scale on the shared axis, with seat, slurry surface and eddies."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from profiler.assess import Evaluation, Finding
from profiler.assess.checks.check_entry import LEAST_BRIM_MM, brim_start
from profiler.assess.findings.kinds import Kind
from profiler.assess.flow.flow_stage import HIGH, LOW, MIDDLE, Flow
from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.chain import sampled
from profiler.numbers import significant
from profiler.pictures.basics.axis import HeightAxis, round_step
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
from profiler.pictures.strips.clearance_marks import clearance_marks
from profiler.pictures.strips.crosshair import crosshair
from profiler.pictures.strips.eddy_marks import eddy_marks
from profiler.pictures.strips.hole_marks import hole_edges, hole_marks
from profiler.pictures.strips.padlock import padlock
from profiler.pictures.strips.rotor_lines import RotorLines, rotor_items, rotor_lines
from profiler.pictures.strips.scene import Scene
from profiler.study import Hold, Machine
from profiler.units import MM

SAG_PX = 0.25
SEEN_EVERY = 3  # stations
HATCH_PX = 9.0
DISC_MM = 6.0  # how thick the deflector is drawn
LEAST_BURIED_PX = 0.3
SURFACE_LABEL_AT = 0.62  # of the height: above most crosshairs, below the lip's own number


@dataclass(frozen=True, slots=True)
class RadiusScale:
    """Radii in mm against pixels from the left, at the height axis' own scale."""

    left_mm: float
    left: float
    scale: float

    def x(self, radius: float) -> float:
        return self.left + (radius - self.left_mm) * self.scale

    def xs(self, radius: FloatArray) -> FloatArray:
        return np.asarray(self.left + (radius - self.left_mm) * self.scale)

    def radius(self, x: float) -> float:
        return self.left_mm + (x - self.left) / self.scale

    @property
    def broken(self) -> bool:
        """Whether the axis of rotation lies outside the picture."""
        return self.left_mm > 0.0


def radius_scale(scene: Scene, width: float) -> RadiusScale:
    """From the axis if the bowl fits, else broken so that the wall stands in the middle of what is seen."""
    scale = scene.axis.scale
    margin = 14.0
    shape = None if scene.shown is None else scene.shown.shape
    if scene.shown is None or shape is None:
        return RadiusScale(0.0, margin, scale)
    outermost = max(shape.shell.flange_radius, _rotor_limit(scene.shown.machine))
    if outermost * scale <= width - 2.0 * margin:
        return RadiusScale(0.0, margin, scale)
    low, high = max(scene.axis.low, 0.0), min(scene.axis.high, shape.height)
    seen = shape.wall.radius_at(np.linspace(low, max(high, low + 1.0), 9))
    room = (width - 2.0 * margin) / scale
    middle = 0.5 * float(seen.min() + seen.max()) + 0.12 * room
    left = max(0.0, min(middle - 0.5 * room, outermost - room))
    return RadiusScale(left, margin, scale)


def section_strip(scene: Scene, scale: RadiusScale, width: float, height: float) -> Picture:
    items: list[Item] = []
    e = scene.shown
    if e is None or e.shape is None:
        return Picture(width, height, ())
    shape, flow = e.shape, e.flow
    fills, lines = ([], []) if flow is None else _slurry(scene.axis, scale, shape, flow)
    items += fills
    items += _rotor(scene.axis, scale, e, shape, width)
    items += _feed_parts(scene.axis, scale, e.machine, shape)
    items += _body(scene.axis, scale, shape)
    items += _misfit(scene.axis, scale, shape, e.findings)
    items += lines
    if scene.ghost is not None and scene.ghost.shape is not None:
        items.append(Line(_wall_line(scene.axis, scale, scene.ghost.shape), Role.GHOST, 1.6, (5.0, 3.0)))
    items += hole_marks(_px(scene.axis, scale, hole_edges(shape).reshape(-1, 2)).reshape(-1, 2, 2))
    items += eddy_marks(scene, shape, lambda points: _px(scene.axis, scale, points))
    items += clearance_marks(e, shape, lambda points: _px(scene.axis, scale, points), scene.lengths, width)
    items += _chosen_groove(scene, scale, shape)
    items += _holds(scene, scale, shape, width)
    items.append(Area(boxed(0.0, scene.axis.bottom, width, height), Role.PAPER))
    items += _axes(scene.axis, scale, scene.lengths.mm, width)
    items += _cursor(scene, scale, e, width, items)
    if e.no_answer:
        y = 0.5 * (scene.axis.top + scene.axis.bottom)
        words = f"no answer: {e.no_answer}"
        items.append(Label(scale.x(0.0) + 12.0, y, words, Role.STOP, Align.LEFT, 9.0, True, paper=True))
    return Picture(width, height, tuple(items))


@lru_cache(maxsize=8)  # a drag moves nothing of it
def _axes(axis: HeightAxis, scale: RadiusScale, unit: float, width: float) -> tuple[Item, ...]:
    """The scale of radii, in a unit of so many mm, and the axis of rotation or where it is broken."""
    items: list[Item] = []
    step = round_step(46.0 / scale.scale / unit) * unit
    first = np.ceil(scale.radius(4.0) / step)
    radii = np.arange(first, np.floor(scale.radius(width - 10.0) / step) + 1) * step
    radii = radii[radii >= 0.0]
    ticks = np.array([[[scale.x(float(r)), axis.bottom], [scale.x(float(r)), axis.bottom + 4]] for r in radii])
    items.append(Strokes(ticks.reshape(-1, 2, 2), Role.FAINT))
    for r in radii:
        items.append(Label(scale.x(float(r)), axis.bottom + 11, significant(r / unit), Role.FAINT, Align.CENTRE, 8.5))
    if scale.broken:
        x = 5.0
        zigzag = [[x + (3 if k % 2 else -3), axis.top + k * 8.0] for k in range(int((axis.bottom - axis.top) / 8.0))]
        items.append(Line(np.array(zigzag), Role.FAINT, 1.0))
    else:
        x = scale.x(0.0)
        items.append(Line(np.array([[x, axis.top], [x, axis.bottom]]), Role.FAINT, 1.0, (12.0, 3.0, 2.0, 3.0)))
    return tuple(items)


def _rotor(axis: HeightAxis, scale: RadiusScale, e: Evaluation, shape: Shape, width: float) -> tuple[Item, ...]:
    lines = rotor_lines(e.machine)
    if lines is None:
        return ()
    under, filled = shape.shell, e.design.body.fill_seat
    return _rotor_seen(axis, scale, lines, under.underside, under.hub_radius, filled, width)


@lru_cache(maxsize=8)  # a drag moves nothing of it
def _rotor_seen(
    axis: HeightAxis, scale: RadiusScale, lines: RotorLines, floor: float, hub: float, filled: bool, width: float
) -> tuple[Item, ...]:
    lift = np.array([0.0, floor])
    seen = axis.top, axis.bottom
    return tuple(rotor_items(lines, lambda points: _px(axis, scale, points + lift), hub, filled, seen, width))


def _feed_parts(axis: HeightAxis, scale: RadiusScale, machine: Machine, shape: Shape) -> list[Item]:
    """Feed pipe and deflector, where the machine has them."""
    items: list[Item] = []
    top = shape.height + 12.0
    for part in machine.feed_parts:
        low, high = (part.height_mm, top) if part.hangs else (max(part.height_mm - DISC_MM, 0.0), part.height_mm)
        left, right = max(scale.x(0.0), 0.0), scale.x(0.5 * part.across_mm)
        if right <= left:
            continue
        box = boxed(left, axis.y(high), right, axis.y(low))
        items.append(Line(np.concatenate((box, box[:1])), Role.SEAT, 1.3))
        items.append(
            Label(
                right + 5.0,
                axis.y(low) - 8.0 if part.hangs else axis.y(0.5 * (low + high)),
                part.word,
                Role.SEAT,
                size=8.5,
            )
        )
    return items


def _body(axis: HeightAxis, scale: RadiusScale, shape: Shape) -> list[Item]:
    ring = _px(axis, scale, sampled(shape.outline, SAG_PX / axis.scale))
    closed = np.concatenate((ring, ring[:1]))
    return [Area(ring, Role.BODY), Strokes(hatch(ring, HATCH_PX, -1.0), Role.HATCH, 0.7), Line(closed, Role.WALL, 1.0)]


def _misfit(axis: HeightAxis, scale: RadiusScale, shape: Shape, findings: tuple[Finding, ...]) -> list[Item]:
    """Where the outside does not fit its seat: that part of the outer wall, bold, with how near it comes."""
    items: list[Item] = []
    for f in findings:
        if f.kind not in (Kind.SEAT_CLASH, Kind.JACKET_NARROW) or f.from_mm is None or f.to_mm is None:
            continue
        height = np.linspace(f.from_mm, max(f.to_mm, f.from_mm + 2.0), 24)
        points = np.stack((scale.xs(shape.shell.outer.radius_at(height)), axis.ys(height)), axis=1)
        at = 0.5 * (f.from_mm + f.to_mm) if f.at_mm is None else f.at_mm
        x, y = scale.x(float(shape.shell.outer.radius_at(at))), axis.y(at)
        items.append(Line(points, Role.STOP, 3.5))
        items.append(Label(x + 10.0, y, f"{f.value:.1f} mm", Role.STOP, bold=True, paper=True))
    return items


def _slurry(axis: HeightAxis, scale: RadiusScale, shape: Shape, flow: Flow) -> tuple[list[Item], list[Item]]:
    """The settled bed between surface and wall or groove, with the band of the surface; and the surface itself."""
    at, bed = shape.stations, flow.bed
    joints = np.searchsorted(at.height, shape.wall.height[1:-1])
    seen = np.union1d(np.append(at.node, joints), np.arange(0, len(at.height), SEEN_EVERY))  # land ends, knots, more
    height = at.height[seen]
    ys = axis.ys(height)
    outside = np.where(np.isfinite(at.contour), at.contour, at.radius)[seen]
    surface = np.minimum(bed.radius[0][:, seen] / MM, outside)
    low, middle, high = (scale.xs(surface[k]) for k in (LOW, MIDDLE, HIGH))
    high = np.where(np.isfinite(high), high, middle)  # where high friction has no answer, as a finding says
    edge = _px(axis, scale, sampled(shape.edge, SAG_PX / axis.scale))
    band = np.concatenate((np.stack((high, ys), 1), np.stack((low, ys), 1)[::-1]))
    line = np.stack((middle, ys), 1)
    tint = np.concatenate((line, edge[::-1]))  # down to the groove floors and into what they undercut
    fills: list[Item] = [Area(tint, Role.BED, 0.75, bare=True), Area(band, Role.BAND, 0.5)]
    lines: list[Item] = [Line(line, Role.REPOSE, 1.6, steep=True)]
    at_height = int(np.argmin(np.abs(height - SURFACE_LABEL_AT * height[-1])))
    x, y = float(low[at_height]) - 8.0, float(ys[at_height])
    if axis.top < y < axis.bottom:
        lines.append(Label(x, y, "slurry surface", Role.REPOSE, Align.RIGHT, 8.5, paper=True))
    return fills, lines


def _chosen_groove(scene: Scene, scale: RadiusScale, shape: Shape) -> list[Item]:
    if scene.groove is None or scene.groove > len(shape.mouths):
        return []
    corners = _px(scene.axis, scale, shape.contours.corners[scene.groove - 1])
    return [Line(np.concatenate((corners, corners[:1])), Role.CHOSEN, 2.0)]


def _holds(scene: Scene, scale: RadiusScale, shape: Shape, width: float) -> list[Item]:
    """Lip and floor: a padlock where the radius is held, the number where it is free."""
    hold = scene.design.wall.hold
    ends = (
        (shape.height, shape.lip_radius, hold in (Hold.LIP, Hold.BOTH), -13.0),
        (0.0, shape.floor_radius, hold in (Hold.FLOOR, Hold.BOTH), -12.0),
    )
    items: list[Item] = []
    for z, radius, held, above in ends:
        x, y = scale.x(radius), scene.axis.y(z) + above
        if not (0 < y < scene.axis.bottom and 0 < x < width):
            continue
        text = f"R {scene.lengths.text(radius, 1)}"
        if held:
            items += padlock(x - 12.0, y)
        items.append(Label(x - (22.0 if held else 8.0), y, text, Role.TEXT, Align.RIGHT, 9.0, not held, paper=True))
    start = brim_start(shape)
    if start is not None and shape.wall.radius_at(start) - shape.lip_radius >= LEAST_BRIM_MM:
        y = scene.axis.y(0.5 * (start + shape.height))
        items.append(Label(scale.x(shape.lip_radius) - 10.0, y, "dam", Role.TEXT, Align.RIGHT, 9.0, True, paper=True))
    return items


def _cursor(scene: Scene, scale: RadiusScale, e: Evaluation, width: float, under: Sequence[Item]) -> list[Item]:
    """The shared crosshair; over a buried height a thin line leads to the land that holds the bed."""
    if scene.cursor_mm is None or e.shape is None:
        return []
    y = scene.axis.y(scene.cursor_mm)
    items: list[Item] = [crosshair(y, width, under)]
    if e.flow is None:
        return items
    at, bed = e.shape.stations, e.flow.bed
    i = int(np.argmin(np.abs(at.height - scene.cursor_mm)))
    surface = float(bed.radius[0, MIDDLE, i] / MM)
    held = float(bed.held_at[0, MIDDLE, i] / MM)
    buried = (float(at.radius[i]) - surface) * scene.axis.scale
    if buried > LEAST_BURIED_PX and held > scene.cursor_mm:
        start = np.array([scale.x(surface), y])
        end = np.array([scale.x(float(e.shape.wall.radius_at(held))), scene.axis.y(held)])
        items.append(Line(np.stack((start, end)), Role.CURSOR, 1.2))
        items.append(Dot(float(end[0]), float(end[1]), 3.5, Role.CURSOR))
        x = float(start[0]) - 8.0
        items.append(
            Label(x, y - 10.0, f"held at {scene.lengths.text(held, 0)}", Role.CURSOR, Align.RIGHT, 9.0, paper=True)
        )
    return items


def _wall_line(axis: HeightAxis, scale: RadiusScale, shape: Shape) -> FloatArray:
    at = shape.stations
    return np.stack((scale.xs(at.radius), axis.ys(at.height)), axis=1)


def _px(axis: HeightAxis, scale: RadiusScale, points: FloatArray) -> FloatArray:
    """(r, z) points in mm as pixels."""
    return np.stack((scale.xs(points[:, 0]), axis.ys(points[:, 1])), axis=1)


def _rotor_limit(machine: Machine) -> float:
    lines = rotor_lines(machine)
    if lines is None:
        return max((p.radius_mm for p in machine.seat), default=0.0)
    return float(np.max((lines.seat if lines.shell is None else lines.shell)[:, 0]))
