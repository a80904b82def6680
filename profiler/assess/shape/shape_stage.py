"""The shape stage: from a design to wall, grooves, outline, body figures and stations. Lengths in mm, angles in rad.

Nothing is repaired here. What cannot be built is named, all of it at once, and there is then no shape.
"""

import itertools
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from profiler.assess.findings.by_groove import per_run
from profiler.assess.findings.finding import Finding
from profiler.assess.findings.kinds import Kind
from profiler.assess.shape.rings import HoleRings, rings_of
from profiler.assess.shape.stations import IntArray, Stations, place_stations
from profiler.geometry import grooves as g
from profiler.geometry.chain import Chain, Figures, figures
from profiler.geometry.easing import Eased, fitted, monotone_rates
from profiler.geometry.groove_capacity import kept_at_rest
from profiler.geometry.offset import NoOffset, inward, outward
from profiler.geometry.section import Shell, inner_edge, outline
from profiler.geometry.wall import FloatArray, Wall, build_wall
from profiler.numbers import Against
from profiler.study import Design, Knot, Machine, Placing, SquareTo, WallCurve
from profiler.study.records.design import LEAST_KNOT_GAP_MM, too_near, too_near_words
from profiler.units import DEGREE

EASED_TOLERANCE_MM = 0.01  # between an eased span and its arcs, square to the wall
LEAST_SEGMENT_MM = 0.05  # shorter ones upset a lathe's control; common practice, no source


@dataclass(frozen=True, slots=True)
class Shape:
    """One bowl's geometry."""

    wall: Wall
    mouths: g.Mouths
    place: IntArray  # (g,) each groove's place in the rule, from 1
    cut: g.Cut
    contours: g.Contours
    shell: Shell
    edge: Chain  # the wall with its grooves, floor to lip
    outline: Chain  # the half section, closed
    wall_behind: FloatArray  # (g,) between groove floor and outer wall, square to the outer wall
    stations: Stations
    holes: HoleRings | None = None  # None where no hole plan is given

    @property
    def figures(self) -> Figures:
        """Of the half section turned about the axis."""
        return figures(self.outline)

    @property
    def lip_radius(self) -> float:
        return float(self.wall.radius[-1])

    @property
    def floor_radius(self) -> float:
        return float(self.wall.radius[0])

    @property
    def height(self) -> float:
        return float(self.wall.height[-1])

    @property
    def retained_ml(self) -> FloatArray:
        """(g,) volume each groove keeps below its lower edge when the bowl stands still."""
        return kept_at_rest(self.contours) * 1e-3


def shape_of(design: Design, machine: Machine) -> tuple[Shape | None, tuple[Finding, ...]]:
    """The shape, or None and the `stop` findings that say why there is none."""
    problems = _knot_problems(design)
    if problems:
        return None, tuple(problems)
    wall = wall_of(design)
    mouths, cut, places = mouths_of(design, wall)
    contours = g.contours(wall, mouths, cut)
    problems = _radius_problems(design, wall) + _groove_problems(wall, mouths, contours, cut)
    outer, more = _outer_wall(design, machine, wall)
    problems += more
    if problems or outer is None:
        return None, tuple(problems)
    body = design.body
    shell = Shell(outer, 0.5 * body.hub_hole_mm, float(outer.radius[-1]) + body.flange_width_mm)
    edge = inner_edge(wall, mouths, contours, LEAST_SEGMENT_MM)
    closed = outline(edge, shell)
    behind = behind_grooves(outer, contours.corners)
    stations = place_stations(wall, mouths, contours)
    drilled = None
    if design.holes.is_given and len(places):
        drilled = rings_of(design.holes, machine, contours, outer, places, shell.underside)
    return Shape(wall, mouths, places, cut, contours, shell, edge, closed, behind, stations, drilled), ()


def wall_of(design: Design) -> Wall:
    """The wall line. Raises ValueError where heights do not increase or angles reach 90 degrees."""
    return _wall_through(design.wall)


@lru_cache(maxsize=8)  # rule, room and shape of one design ask for the same one
def _wall_through(curve: WallCurve) -> Wall:
    heights, lower, upper = _pieces(curve.knots)
    if curve.lip_radius_mm is not None:
        return build_wall(heights, lower, upper, curve.lip_radius_mm, hold_lip=True)
    return build_wall(heights, lower, upper, curve.floor_radius_mm or 0.0, hold_lip=False)


def wall_as_it_stands(design: Design) -> Wall | None:
    """The wall line also where no section can be made of the design; None where there is no line either."""
    if _knot_problems(design):
        return None
    try:
        return wall_of(design)
    except ValueError:
        return None


def mouths_of(design: Design, wall: Wall) -> tuple[g.Mouths, g.Cut, IntArray]:
    """The mouths from the floor up, how each is cut, and each one's place in the rule (from 1).

    They may overlap or leave the wall; that is judged elsewhere.
    """
    edges, cut, places = _cuts_of(design, wall)
    return g.mouths_at(wall, edges, cut.mouth), cut, places


def lands_of(design: Design, wall: Wall) -> FloatArray:
    """(g - 1,) mm along the wall between each mouth and the next; negative where they overlap."""
    edges, cut, _ = _cuts_of(design, wall)
    return np.asarray(edges[1:] - (edges + cut.mouth)[:-1])


def _cuts_of(design: Design, wall: Wall) -> tuple[FloatArray, g.Cut, IntArray]:
    """Lower edges along the wall from the floor up, how each groove is cut, and its place in the rule."""
    rule = design.grooves
    if rule.placing is Placing.ALONG_WALL:
        edges = g.pitch_along_wall(rule.count, rule.from_mm, rule.to_mm, rule.mouth_mm)
    elif rule.placing is Placing.IN_HEIGHT:
        edges = g.pitch_in_height(wall, rule.count, rule.from_mm, rule.to_mm, rule.mouth_mm)
    else:
        edges = g.centred_on(wall, np.asarray(rule.heights_mm, dtype=float), rule.mouth_mm)
    place = np.arange(1, len(edges) + 1)
    mouth, depth = np.full(len(edges), rule.mouth_mm), np.full(len(edges), rule.depth_mm)
    kept = np.ones(len(edges), dtype=bool)
    for change in rule.changes:
        if 1 <= change.place <= len(edges):
            i = change.place - 1
            kept[i] = not change.off
            mouth[i] = change.mouth_mm or mouth[i]
            depth[i] = change.depth_mm or depth[i]
            edges[i] += change.shift_mm + 0.5 * (rule.mouth_mm - mouth[i])  # a wider mouth keeps its middle
    order = np.flatnonzero(kept)[np.argsort(edges[kept], kind="stable")]
    flank, square_to_axis = rule.flank_deg * DEGREE, rule.square_to is SquareTo.AXIS
    cut = g.Cut(mouth[order], depth[order], flank, rule.floor_radius_mm, rule.edge_radius_mm, square_to_axis)
    return edges[order], cut, place[order]


def _pieces(knots: tuple[Knot, ...]) -> tuple[list[float], list[float], list[float]]:
    """Heights of the joints, each piece's angle at its lower and upper end; eased spans are fitted with arcs."""
    rates = _rates(knots) if any(k.eased for k in knots) else {}
    heights: list[float] = [knots[0].height_mm]
    lower: list[float] = []
    upper: list[float] = []
    for i, (below, above) in enumerate(itertools.pairwise(knots)):
        t0, t1 = below.leaving * DEGREE, above.angle_deg * DEGREE
        if below.eased:
            span = Eased(below.height_mm, above.height_mm, t0, t1, *rates[i])
            joints, angles = fitted(span, EASED_TOLERANCE_MM)
            heights += joints[1:]
            lower += angles[:-1]
            upper += angles[1:]
        else:
            heights.append(above.height_mm)
            lower.append(t0)
            upper.append(t1)
    return heights, lower, upper


def _rates(knots: tuple[Knot, ...]) -> dict[int, tuple[float, float]]:
    """For each span the angle's rates at its two ends; corners part the curve into stretches."""
    cuts = [0, *(i for i, k in enumerate(knots) if k.is_corner), len(knots) - 1]
    found: dict[int, tuple[float, float]] = {}
    for first, last in itertools.pairwise(cuts):
        if first == last:  # a second angle at the floor or the lip parts nothing
            continue
        part = knots[first : last + 1]
        angles = [part[0].leaving, *(k.angle_deg for k in part[1:])]
        rates = monotone_rates(np.array([k.height_mm for k in part]), np.array(angles) * DEGREE)
        found |= {first + k: (float(rates[k]), float(rates[k + 1])) for k in range(len(part) - 1)}
    return found


def _knot_problems(design: Design) -> list[Finding]:
    knots = design.wall.knots
    found = []
    if len(knots) < 2 or knots[0].height_mm != 0.0:
        found.append(Finding(kind=Kind.WALL_START, text="The lowest knot must stand at height 0 mm, on the floor."))
    for below, above in itertools.pairwise(knots):
        if not above.height_mm > below.height_mm:
            same = above.height_mm == below.height_mm
            text = (
                f"Two knots share the height {above.height_mm:g} mm: make it a corner, one knot with two angles."
                if same
                else f"The knot at {above.height_mm:g} mm is above one at {below.height_mm:g} mm; heights must rise."
            )
            low, high = above.height_mm, below.height_mm
            found.append(Finding(kind=Kind.KNOT_ORDER, text=text, from_mm=low, to_mm=high))
        elif too_near(below.height_mm, above.height_mm):
            text = too_near_words(below.height_mm, above.height_mm)
            low, high, apart = below.height_mm, above.height_mm, above.height_mm - below.height_mm
            found.append(
                Finding(
                    kind=Kind.KNOT_ORDER, text=text, value=apart, limit=LEAST_KNOT_GAP_MM, unit="mm",
                    from_mm=low, to_mm=high,
                )
            )  # fmt: skip
    if design.wall.lip_radius_mm is None and design.wall.floor_radius_mm is None:
        found.append(
            Finding(kind=Kind.NO_RADIUS, text="Neither the lip radius nor the floor radius is held: give one.")
        )
    return found


def _radius_problems(design: Design, wall: Wall) -> list[Finding]:
    hub = 0.5 * design.body.hub_hole_mm
    floor = float(wall.radius[0])
    if floor <= hub:
        text = f"The floor radius comes to {Against(floor, hub):.1f} mm, inside the hub hole of radius {hub:g} mm."
        return [
            Finding(kind=Kind.FLOOR_INSIDE_HUB, text=text, value=floor, limit=hub, unit="mm", from_mm=0.0, to_mm=0.0)
        ]
    least = float(np.min(wall.radius))
    if least <= 0.0:
        at = float(wall.height[int(np.argmin(wall.radius))])
        text = f"The wall reaches the axis at {at:.0f} mm."
        return [Finding(kind=Kind.WALL_AT_AXIS, text=text, value=least, limit=0.0, unit="mm", from_mm=at, to_mm=at)]
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
    edge_radius = np.full(len(mouths), cut.edge_radius)
    table = (
        (Kind.MOUTH_OUTSIDE, outside, beyond, "{who}: the mouth reaches {value:.1f} mm past the end of the wall."),
        (Kind.MOUTHS_OVERLAP, overlap, -np.append(mouths.lands, 0.0),
         "{who}: the mouth overlaps the next one by {value:.1f} mm."),
        (Kind.FLANKS_CROSS, contours.floor_room < -1e-9, -contours.floor_room,
         "{who}: flanks and floor radii need {value:.1f} mm more than the groove floor is wide."),
        (Kind.FLANK_SHORT, contours.flank_room < -1e-9, -contours.flank_room,
         "{who}: edge and floor radii need {value:.1f} mm more than the flank is long."),
        (Kind.EDGES_MEET, rounding & ~outside, edge_radius,
         "{who}: an edge radius of {value:.1f} mm does not fit on the land beside it."),
        (Kind.EDGE_OVER_CORNER, corner & ~outside & ~rounding, edge_radius,
         "{who}: an edge radius of {value:.1f} mm runs over a corner of the wall."),
    )  # fmt: skip
    return [
        finding
        for kind, wrong, value, text in table
        for finding in per_run(kind, mouths, wrong, value, 0.0, "mm", text)
    ]


def _over_corner(wall: Wall, mouths: g.Mouths, feet: FloatArray) -> NDArray[np.bool_]:
    joints = wall.height[1:-1][np.abs(wall.lower[1:] - wall.upper[:-1]) > 1e-9]
    over = np.zeros(len(mouths), dtype=bool)
    for z in joints:
        over |= (feet[:, 0, 1] < z) & (z < mouths.lower) | (mouths.upper < z) & (z < feet[:, 7, 1])
    return over


def _outer_wall(design: Design, machine: Machine, wall: Wall) -> tuple[Wall | None, list[Finding]]:
    body = design.body
    low, high = -body.floor_plate_mm, float(wall.height[-1]) - body.flange_mm
    try:
        outer = along_seat(machine, low, high) if body.fill_seat else outward(wall, body.wall_mm, low, high)
    except NoOffset as reason:
        what = "filling the seat" if body.fill_seat else f"{body.wall_mm:g} mm thick"
        text = f"A wall {what} cannot be made: {reason}."
        return None, [Finding(kind=Kind.WALL_THICKNESS, text=text, value=body.wall_mm, unit="mm")]
    at = np.linspace(0.0, high, 65)
    thin = (outer.radius_at(at) - wall.radius_at(at)) * np.cos(wall.angle_at(at))
    if float(np.min(thin)) <= 0.0:
        z, least = float(at[int(np.argmin(thin))]), float(np.min(thin))
        text = f"At {z:.0f} mm the outside of the bowl lies {Against(-least, 0.0):.1f} mm inside its wall."
        return None, [
            Finding(kind=Kind.WALL_INSIDE_OUT, text=text, value=least, limit=0.0, unit="mm", from_mm=z, to_mm=z)
        ]
    return outer, []


@lru_cache(maxsize=8)  # it stays while the wall is shaped
def along_seat(machine: Machine, low: float, high: float) -> Wall:
    """The outside of a body that fills the seat but for the jacket gap; sealed at the floor and the lip flange."""
    if len(machine.seat) < 2:
        raise NoOffset("the machine has no seat profile")
    if machine.jacket_gap_mm is None:
        raise NoOffset("the machine's jacket gap is not given")
    height = np.array([p.height_mm for p in machine.seat]) + low
    radius = np.array([p.radius_mm for p in machine.seat])
    if not np.all(np.diff(height) > 0.0):
        raise NoOffset("the seat's heights do not increase")
    angle = np.arctan(np.diff(radius) / np.diff(height))
    return inward(build_wall(height, angle, angle, float(radius[0]), hold_lip=False), machine.jacket_gap_mm, low, high)


def behind_grooves(outer: Wall, corners: FloatArray) -> FloatArray:
    """(g,) least distance of each groove's floor from the outer wall, by the grooves' `corners` (g, 4, 2)."""
    floor = corners[:, 1:3]
    gap = (outer.radius_at(floor[..., 1]) - floor[..., 0]) * np.cos(outer.angle_at(floor[..., 1]))
    return np.asarray(np.min(gap, axis=1)) if len(gap) else np.zeros(0)
