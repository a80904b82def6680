"""The section an eddy turns in: a groove below the straight lid that the film is taken for, above the bed in it.

Lengths are in mouths. x runs along the mouth from the lower edge (0, 0) to the upper, y out of the groove toward the
axis. A groove whose upper edge lies off the x axis (the frame then is not the mouth's own) is as good: only the corners
and the direction of the radius have to be told in one frame.

The bed. Where a groove is part full its bed is the floor of the flow. A bed at rest lies between the level of the field
and the repose of what slides over it, and the eddy shapes it besides; which of these holds is not known, so the surface
is the one family that joins the two ends that are known: the floor at fill 0 and the mouth line at fill 1, cutting both
flanks at the same share. `bed_lean` turns it about its middle, thicker at the upper flank, up to the bed that the land
above holds (leaning by wall angle less repose angle): what the answer owes to the choice can be asked.

Rounded edges. The lid starts and ends where the edges' arcs have turned by 45 degrees, or half their way where they
turn less; what of the groove lies above it is left out.
"""

from dataclasses import dataclass
from math import cos, isfinite, radians, sin, tan

from profiler.physics.eddy.pieces import Path, Piece, crossing, heading, rounding

Point = tuple[float, float]

WIDEST_SHELTERED = (
    3.0  # mouths over depth up to which one captive eddy is expected (d-type, physics of cavities; memory)
)
WIDEST, DEEPEST = 20.0, 12.0  # mouth over depth, depth over mouth, beyond which nothing is answered
LARGEST_EDGE_RADIUS = 0.15  # mouths; beyond it too much of the groove would lie above a straight lid
LEAST_WATER = 0.05  # mouths of depth, or of floor, that are to be left for the flow
STEEPEST_LEAN = radians(60.0)
_LID_TURN = radians(45.0)
_NOTHING = 1e-9


class Refused(ValueError):
    """A section or a drive for which no flow is asked; the text is one sentence for the reader."""


@dataclass(frozen=True, slots=True)
class Groove:
    """Sharp corners, roundings and filling of a groove, lengths in mouths, angles in radians."""

    corners: tuple[Point, Point, Point, Point]  # lower edge, lower and upper floor corner, upper edge
    floor_radius: float = 0.0
    edge_radius: float = 0.0
    fill: float = 0.0  # 0: empty, 1: level with the mouth
    bed_lean: float = 0.0  # of the bed's surface, thicker at the upper flank

    @classmethod
    def cut(
        cls,
        depth: float,
        *,
        drop: float = 0.0,
        flank: float = 0.0,
        floor_radius: float = 0.0,
        edge_radius: float = 0.0,
        fill: float = 0.0,
        bed_lean: float = 0.0,
    ) -> "Groove":
        """A level floor `depth` below the lower edge, flanks leaning inward, the upper edge fallen by `drop`."""
        slant = tan(flank)
        floor = ((depth * slant, -depth), (1.0 - (depth - drop) * slant, -depth))
        return cls(((0.0, 0.0), *floor, (1.0, -drop)), floor_radius, edge_radius, fill, bed_lean)

    @property
    def mouth_line(self) -> tuple[complex, complex]:
        """The lower edge, and the direction of length one to the upper."""
        lower, *_, upper = (complex(*corner) for corner in self.corners)
        return lower, heading(lower, upper)

    @property
    def depth(self) -> float:
        """Greatest depth [mouths] of the sharp floor corners, square to the mouth line."""
        base, along = self.mouth_line
        return max(-((complex(*corner) - base) / along).imag for corner in self.corners[1:3])


@dataclass(frozen=True, slots=True)
class Sides:
    """What bounds the flow: from the lid down the lower flank, along the floor, up the upper flank to the lid."""

    lower: Path
    floor: Path
    upper: Path

    @property
    def lid(self) -> Piece:
        """From the lower to the upper end."""
        return Piece(self.lower[0].start, self.upper[-1].end)

    @property
    def slenderness(self) -> float:
        """Mean straight way from the lid to the block's corners, over the lid's length."""
        ways = abs(self.lower[-1].end - self.lower[0].start) + abs(self.upper[-1].end - self.upper[0].start)
        return 0.5 * ways / self.lid.length


def sides_of(groove: Groove) -> Sides:
    """The rounded section above the bed; raises Refused with the reason where there is none."""
    _refuse(groove)
    sides = _empty(groove)
    return _with_room(_above_bed(sides, groove) if groove.fill > 0.0 else sides)


def left_out(groove: Groove) -> tuple[str, ...]:
    """What the section does not hold of the groove, and where a lid may be the wrong picture, in sentences."""
    said = []
    if groove.edge_radius > 0.0:
        said.append(
            "The lid ends where the rounded edges have turned by 45 degrees: "
            f"{groove.edge_radius * (1.0 - cos(_LID_TURN)):.3f} mouths of depth above it are left out."
        )
    if groove.depth * (1.0 - groove.fill) * WIDEST_SHELTERED < 1.0:
        said.append(
            "The mouth is wider than three depths: the film may dip to the floor, which a straight lid does not show."
        )
    return tuple(said)


def _refuse(groove: Groove) -> None:
    numbers = (*(v for corner in groove.corners for v in corner), groove.floor_radius, groove.edge_radius)
    if not all(map(isfinite, (*numbers, groove.fill, groove.bed_lean))):
        raise Refused("The groove is not fully given: one of its sizes is not a number.")
    lower, floor_lower, floor_upper, upper = (complex(*corner) for corner in groove.corners)
    mouth = upper - lower
    if abs(mouth) < _NOTHING:
        raise Refused("The groove has no mouth.")
    depth = groove.depth
    if depth <= 0.0:
        raise Refused("The groove has no depth: there is nothing for an eddy to turn in.")
    if ((floor_upper - floor_lower) / mouth).real < -_NOTHING:
        raise Refused("The flanks meet before they reach the floor: make the groove shallower or the flanks steeper.")
    if abs(mouth) > WIDEST * depth:
        raise Refused(f"The mouth is wider than {WIDEST:g} depths: that is a step in the wall, not a groove.")
    if depth > DEEPEST * abs(mouth):
        raise Refused(f"The groove is deeper than {DEEPEST:g} mouths: no flow is worked out so far down.")
    if min(groove.edge_radius, groove.floor_radius) < 0.0:
        raise Refused("A radius of the groove is negative.")
    if groove.edge_radius > LARGEST_EDGE_RADIUS:
        raise Refused(
            f"The edge radius is {groove.edge_radius:.3g} mouths, above {LARGEST_EDGE_RADIUS:g}: "
            "too much of the groove would lie above a straight lid."
        )
    if groove.fill == 1.0:
        raise Refused("The groove is full to its mouth: no water is left to turn.")
    if not 0.0 <= groove.fill < 1.0:
        raise Refused(f"The fill is {groove.fill:g}; it runs from 0 (empty) to 1 (level with the mouth).")
    if abs(groove.bed_lean) > STEEPEST_LEAN:
        raise Refused("The bed leans more than 60 degrees against the mouth.")


def _empty(groove: Groove) -> Sides:
    corners = tuple(complex(*corner) for corner in groove.corners)
    mouth = heading(corners[0], corners[3])
    down, up = heading(corners[0], corners[1]), heading(corners[2], corners[3])
    floor = corners[2] - corners[1]
    along = heading(corners[1], corners[2]) if abs(floor) > _NOTHING else mouth
    edges = (
        rounding(corners[0], mouth, down, groove.edge_radius),
        rounding(corners[3], up, mouth, groove.edge_radius),
    )
    feet = (
        rounding(corners[1], down, along, groove.floor_radius),
        rounding(corners[2], along, up, groove.floor_radius),
    )
    runs = ((edges[0].end, feet[0].start, down), (feet[0].end, feet[1].start, along), (feet[1].end, edges[1].start, up))
    if any(((end - start) / way).real < -_NOTHING for start, end, way in runs):
        raise Refused("The radii of the floor and the edges do not fit into the groove.")
    first, last = (_lid_share(edge) for edge in edges)
    lines = [Piece(start, end) for start, end, _ in runs]
    lower = (edges[0].part(first, 1.0), lines[0], feet[0].part(0.0, 0.5))
    bottom = (feet[0].part(0.5, 1.0), lines[1], feet[1].part(0.0, 0.5))
    upper = (feet[1].part(0.5, 1.0), lines[2], edges[1].part(0.0, 1.0 - last))
    return Sides(_solid(lower), _solid(bottom), _solid(upper))


def _lid_share(edge: Piece) -> float:
    """Share of an edge's arc, from the land, that the lid passes over."""
    turn = abs(edge.turn)
    return 0.0 if turn == 0.0 else min(_LID_TURN, 0.5 * turn) / turn


def _solid(path: Path) -> Path:
    """Without the pieces that have no length."""
    return tuple(piece for piece in path if piece.length > _NOTHING)


def _above_bed(sides: Sides, groove: Groove) -> Sides:
    base, along = _bed_line(groove)
    paths = (sides.lower, sides.floor, sides.upper)
    cuts = [
        (side, k, share)
        for side, path in enumerate(paths)
        for k, piece in enumerate(path)
        if (share := crossing(piece, base, along)) is not None
    ]
    if not cuts and ((sides.lid.start - base) / along).imag > 0.0:
        return sides
    (first, i, enters), (last, k, leaves) = cuts[0], cuts[-1]
    if len(cuts) < 2 or first == 2 or last == 0:
        raise Refused("The bed reaches the mouth: no water is left to turn.")
    before, after = paths[first][i].part(0.0, enters), paths[last][k].part(leaves, 1.0)
    lower, bottom, upper = sides.lower, [Piece(before.end, after.start)], sides.upper
    if first == 0:
        lower = (*lower[:i], before)
    else:
        bottom = [*sides.floor[:i], before, *bottom]
    if last == 2:
        upper = (after, *upper[k + 1 :])
    else:
        bottom = [*bottom, after, *sides.floor[k + 1 :]]
    return Sides(_solid(lower), _solid(tuple(bottom)), _solid(upper))


def _bed_line(groove: Groove) -> tuple[complex, complex]:
    """The middle of the bed's surface and its direction of length one."""
    lower, floor_lower, floor_upper, upper = (complex(*corner) for corner in groove.corners)
    start = floor_lower + groove.fill * (lower - floor_lower)
    end = floor_upper + groove.fill * (upper - floor_upper)
    lean = complex(cos(groove.bed_lean), sin(groove.bed_lean))
    return 0.5 * (start + end), heading(start, end) * lean


def _with_room(sides: Sides) -> Sides:
    least = LEAST_WATER * abs(sides.lid.end - sides.lid.start)
    if not sides.floor or abs(sides.floor[-1].end - sides.floor[0].start) < least:
        raise Refused("The flanks meet at the floor: there is no width left for an eddy to turn in.")
    for flank in (sides.lower, sides.upper):
        if not flank or abs(flank[-1].end - flank[0].start) < least:
            raise Refused(f"Less than {LEAST_WATER:g} mouths of depth are left above the bed: nothing can turn there.")
    return sides
