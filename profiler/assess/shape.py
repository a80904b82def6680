"""The shape stage: from a design to wall, grooves, outline, body figures and stations. Lengths in mm, angles in rad.

Nothing is repaired here. What cannot be built is named, all of it at once, and there is then no shape.
"""

from dataclasses import dataclass

import numpy as np

from ..geometry import grooves as g
from ..geometry.chain import Chain, Figures, figures
from ..geometry.offset import NoOffset, outward
from ..geometry.section import Shell, inner_edge, outline
from ..geometry.wall import FloatArray, Wall, build_wall
from ..study import Design, Placing, SquareTo
from ..units import DEGREE
from .findings import Finding, Severity, named, runs
from .stations import Stations, place_stations

LEAST_SEGMENT_MM = 0.05  # shorter ones upset a lathe's control; common practice, no source


@dataclass(frozen=True, slots=True)
class Shape:
    """One bowl's geometry."""

    wall: Wall
    mouths: g.Mouths
    cut: g.Cut
    contours: g.Contours
    shell: Shell
    edge: Chain  # the wall with its grooves, floor to lip
    outline: Chain  # the half section, closed
    figures: Figures  # of the half section turned about the axis
    wall_behind: FloatArray  # (g,) between groove floor and outer wall, square to the outer wall
    stations: Stations

    @property
    def lip_radius(self) -> float:
        return float(self.wall.radius[-1])

    @property
    def floor_radius(self) -> float:
        return float(self.wall.radius[0])

    @property
    def height(self) -> float:
        return float(self.wall.height[-1])


def shape_of(design: Design) -> tuple[Shape | None, tuple[Finding, ...]]:
    """The shape, or None and the `stop` findings that say why there is none."""
    problems = _knot_problems(design)
    if problems:
        return None, tuple(problems)
    wall = wall_of(design)
    cut = cut_of(design)
    mouths = mouths_of(design, wall)
    contours = g.contours(wall, mouths, cut)
    problems = _radius_problems(design, wall) + _groove_problems(wall, mouths, contours, cut)
    outer, more = _outer_wall(design, wall)
    problems += more
    if problems or outer is None:
        return None, tuple(problems)
    body = design.body
    shell = Shell(outer, 0.5 * body.hub_hole_mm, float(outer.radius[-1]) + body.flange_width_mm)
    edge = inner_edge(wall, mouths, contours, LEAST_SEGMENT_MM)
    closed = outline(edge, shell)
    behind = _wall_behind(outer, contours)
    stations = place_stations(wall, mouths, contours)
    return Shape(wall, mouths, cut, contours, shell, edge, closed, figures(closed), behind, stations), ()


def wall_of(design: Design) -> Wall:
    """The wall line. Raises ValueError where heights do not increase or angles reach 90 degrees."""
    curve = design.wall
    knots = curve.knots
    heights = [k.height_mm for k in knots]
    lower = [k.leaving * DEGREE for k in knots[:-1]]
    upper = [k.angle_deg * DEGREE for k in knots[1:]]
    if curve.lip_radius_mm is not None:
        return build_wall(heights, lower, upper, curve.lip_radius_mm, hold_lip=True)
    return build_wall(heights, lower, upper, curve.floor_radius_mm or 0.0, hold_lip=False)


def cut_of(design: Design) -> g.Cut:
    rule = design.grooves
    square_to_axis = rule.square_to is SquareTo.AXIS
    flank = rule.flank_deg * DEGREE
    return g.Cut(rule.mouth_mm, rule.depth_mm, flank, rule.floor_radius_mm, rule.edge_radius_mm, square_to_axis)


def mouths_of(design: Design, wall: Wall) -> g.Mouths:
    """The mouths the rule places, from the floor up; they may overlap or leave the wall."""
    rule = design.grooves
    if rule.placing is Placing.ALONG_WALL:
        edges = g.pitch_along_wall(rule.count, rule.from_mm, rule.to_mm, rule.mouth_mm)
    elif rule.placing is Placing.IN_HEIGHT:
        edges = g.pitch_in_height(wall, rule.count, rule.from_mm, rule.to_mm, rule.mouth_mm)
    else:
        edges = g.centred_on(wall, np.asarray(rule.heights_mm, dtype=float), rule.mouth_mm)
    return g.mouths_at(wall, edges, rule.mouth_mm)


def _knot_problems(design: Design) -> list[Finding]:
    knots = design.wall.knots
    found = []
    if len(knots) < 2 or knots[0].height_mm != 0.0:
        found.append(Finding("wall_start", Severity.STOP, "The lowest knot must stand at height 0 mm, on the floor."))
    for below, above in zip(knots, knots[1:], strict=False):
        if not above.height_mm > below.height_mm:
            same = above.height_mm == below.height_mm
            text = (
                f"Two knots share the height {above.height_mm:g} mm: make it a corner, one knot with two angles."
                if same
                else f"The knot at {above.height_mm:g} mm comes after the one at {below.height_mm:g} mm; heights must increase."
            )
            found.append(Finding("knot_order", Severity.STOP, text, from_mm=above.height_mm, to_mm=below.height_mm))
    for knot in knots:
        if max(abs(knot.angle_deg), abs(knot.leaving)) >= 89.9:
            text = f"The wall angle at {knot.height_mm:g} mm is {knot.angle_deg:g}°, square to the axis: that is no wall."
            found.append(
                Finding("knot_angle", Severity.STOP, text, knot.angle_deg, 89.9, "°", from_mm=knot.height_mm, to_mm=knot.height_mm)
            )
    if design.wall.lip_radius_mm is None and design.wall.floor_radius_mm is None:
        found.append(Finding("no_radius", Severity.STOP, "Neither the lip radius nor the floor radius is held: give one."))
    return found


def _radius_problems(design: Design, wall: Wall) -> list[Finding]:
    hub = 0.5 * design.body.hub_hole_mm
    floor = float(wall.radius[0])
    if floor <= hub:
        text = f"The floor radius comes to {floor:.1f} mm, inside the hub hole of radius {hub:g} mm."
        return [Finding("floor_inside_hub", Severity.STOP, text, floor, hub, "mm", from_mm=0.0, to_mm=0.0)]
    least = float(np.min(wall.radius))
    if least <= 0.0:
        at = float(wall.height[int(np.argmin(wall.radius))])
        text = f"The wall reaches the axis at {at:.0f} mm."
        return [Finding("wall_at_axis", Severity.STOP, text, least, 0.0, "mm", from_mm=at, to_mm=at)]
    return []


def _groove_problems(wall: Wall, mouths: g.Mouths, contours: g.Contours, cut: g.Cut) -> list[Finding]:
    """What keeps grooves from being cut at all, one statement per run of grooves."""
    if not len(mouths):
        return []
    total = float(wall.length[-1])
    outside = (mouths.lower_length < -1e-9) | (mouths.upper_length > total + 1e-9)
    beyond = np.maximum(-mouths.lower_length, mouths.upper_length - total)
    overlap = np.concatenate((mouths.lands < -1e-9, [False]))
    feet = contours.points
    rounding = np.concatenate((feet[1:, 0, 1] < feet[:-1, 7, 1] - 1e-9, [False])) & ~overlap
    rounding |= ~outside & ((feet[:, 0, 1] < -1e-9) | (feet[:, 7, 1] > wall.height[-1] + 1e-9))
    corner = _over_corner(wall, mouths, feet)
    table = (
        ("mouth_outside", outside, beyond, "mm", "{who}: the mouth reaches {value:.1f} mm past the end of the wall."),
        ("mouths_overlap", overlap, -np.append(mouths.lands, 0.0), "mm", "{who}: the mouth overlaps the next one by {value:.1f} mm."),
        ("flanks_cross", contours.floor_room < -1e-9, -contours.floor_room, "mm",
         "{who}: flanks and floor radii need {value:.1f} mm more than the groove floor is wide."),
        ("flank_short", contours.flank_room < -1e-9, -contours.flank_room, "mm",
         "{who}: edge and floor radii need {value:.1f} mm more than the flank is long."),
        ("edges_meet", rounding & ~outside, np.full(len(mouths), cut.edge_radius), "mm",
         "{who}: an edge radius of {value:.1f} mm does not fit on the land beside it."),
        ("edge_over_corner", corner & ~outside & ~rounding, np.full(len(mouths), cut.edge_radius), "mm",
         "{who}: an edge radius of {value:.1f} mm runs over a corner of the wall."),
    )  # fmt: skip
    found = []
    for code, wrong, value, unit, text in table:
        for run in runs((np.flatnonzero(wrong) + 1).tolist()):
            at = np.array(run) - 1
            worst = float(np.max(value[at]))
            words = text.format(who=named(run).capitalize(), value=worst)
            low, high = float(mouths.lower[at[0]]), float(mouths.upper[at[-1]])
            found.append(Finding(code, Severity.STOP, words, worst, 0.0, unit, from_mm=low, to_mm=high, grooves=run))
    return found


def _over_corner(wall: Wall, mouths: g.Mouths, feet: FloatArray) -> FloatArray:
    joints = wall.height[1:-1][np.abs(wall.lower[1:] - wall.upper[:-1]) > 1e-9]
    over = np.zeros(len(mouths), dtype=bool)
    for z in joints:
        over |= (feet[:, 0, 1] < z) & (z < mouths.lower) | (mouths.upper < z) & (z < feet[:, 7, 1])
    return over


def _outer_wall(design: Design, wall: Wall) -> tuple[Wall | None, list[Finding]]:
    body = design.body
    try:
        outer = outward(wall, body.wall_mm, -body.floor_plate_mm, float(wall.height[-1]) - body.flange_mm)
    except NoOffset as reason:
        text = f"A wall {body.wall_mm:g} mm thick cannot be laid around this curve: {reason}."
        return None, [Finding("wall_thickness", Severity.STOP, text, body.wall_mm, unit="mm")]
    return outer, []


def _wall_behind(outer: Wall, contours: g.Contours) -> FloatArray:
    """Least distance of each groove's floor from the outer wall."""
    floor = contours.corners[:, 1:3]
    gap = (outer.radius_at(floor[..., 1]) - floor[..., 0]) * np.cos(outer.angle_at(floor[..., 1]))
    return np.asarray(np.min(gap, axis=1)) if len(gap) else np.zeros(0)
