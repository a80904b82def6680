"""The surface a piece turns into, and whether its own normal points out of the material.

Every surface's parameters start at the face's seam. Normals: a cylinder's and a cone's point away from the axis, a
torus' away from its tube, a surface of revolution's to the right of its generator (ISO 10303-42).
"""

from collections.abc import Sequence
from math import atan2, ceil, cos, hypot, pi, sin

from profiler.output.step.part21 import Entities, listed, real, reals
from profiler.output.step.profile import Kind, Piece, Point

UP = (0.0, 0.0, 1.0)
DOWN = (0.0, 0.0, -1.0)
WIDEST_SPAN = 2.0 * pi / 3.0  # of an arc as one rational quadratic, whose middle pole runs away towards pi

Triple = tuple[float, float, float]


def surface(entities: Entities, piece: Piece, seam: float) -> tuple[str, bool]:
    """The surface's number, and whether its normal is the face's."""
    make = {
        Kind.PLANE: _plane,
        Kind.CYLINDER: _cylinder,
        Kind.CONE: _cone,
        Kind.TORUS: _torus,
        Kind.REVOLVED: _revolved,
    }
    return make[piece.kind](entities, piece, seam)


def meridian(entities: Entities, piece: Piece, seam: float) -> str:
    """The curve the piece itself is, in the half plane of its seam, run as the piece runs."""
    if piece.centre is None:
        (r, z), (r_end, z_end) = piece.start, piece.end
        return line(entities, turned(piece.start, seam), turned((r_end - r, z_end - z), seam))
    if piece.kind is Kind.REVOLVED:
        return _bounded_arc(entities, piece, seam)
    # away from the arc's own middle, so that the circle's parameter never jumps on the arc
    first, sweep = piece.turning
    middle = first + 0.5 * sweep
    outward = turned((1.0, 0.0), seam)
    across = (outward[1], -outward[0], 0.0)  # from the radius to the height it turns to the left
    axis = across if piece.left else (-across[0], -across[1], 0.0)
    frame = entities.frame(turned(piece.centre, seam), axis, turned((-cos(middle), -sin(middle)), seam))
    return entities.once(f"CIRCLE('',{frame},{real(piece.radius)})")


def line(entities: Entities, start: Sequence[float], way: Sequence[float]) -> str:
    length = hypot(*way)
    direction = entities.direction([part / length for part in way])
    vector = entities.once(f"VECTOR('',{direction},1.)")
    return entities.add(f"LINE('',{entities.point(start)},{vector})")


def turned(point: Point, azimuth: float) -> Triple:
    """A point or a way of the half section, in the half plane at an azimuth."""
    return point[0] * cos(azimuth), point[0] * sin(azimuth), point[1]


def on_axis(height: float) -> Triple:
    return 0.0, 0.0, height


def _plane(entities: Entities, piece: Piece, seam: float) -> tuple[str, bool]:
    """Level; its normal is the face's own: up where the material lies below, which is where it runs inward."""
    up = UP if piece.end[0] < piece.start[0] else DOWN
    height = 0.5 * (piece.start[1] + piece.end[1])
    return entities.once(f"PLANE('',{entities.frame(on_axis(height), up, turned((1.0, 0.0), seam))})"), True


def _cylinder(entities: Entities, piece: Piece, seam: float) -> tuple[str, bool]:
    radius = 0.5 * (piece.start[0] + piece.end[0])
    frame = entities.frame(on_axis(piece.low), UP, turned((1.0, 0.0), seam))
    return entities.once(f"CYLINDRICAL_SURFACE('',{frame},{real(radius)})"), piece.rises


def _cone(entities: Entities, piece: Piece, seam: float) -> tuple[str, bool]:
    """Placed at its narrower end and opening along its own axis, as every reader takes it."""
    narrow, wide = sorted((piece.start, piece.end))
    half_angle = atan2(wide[0] - narrow[0], abs(wide[1] - narrow[1]))
    axis = UP if wide[1] > narrow[1] else DOWN
    frame = entities.frame(on_axis(narrow[1]), axis, turned((1.0, 0.0), seam))
    return entities.once(f"CONICAL_SURFACE('',{frame},{real(narrow[0])},{real(half_angle)})"), piece.rises


def _torus(entities: Entities, piece: Piece, seam: float) -> tuple[str, bool]:
    assert piece.centre is not None
    frame = entities.frame(on_axis(piece.centre[1]), UP, turned((1.0, 0.0), seam))
    size = f"{real(piece.centre[0])},{real(piece.radius)}"
    return entities.once(f"TOROIDAL_SURFACE('',{frame},{size})"), piece.left


def _revolved(entities: Entities, piece: Piece, seam: float) -> tuple[str, bool]:
    """Its generator runs as the piece does, which has the outside on its right."""
    axis = entities.once(f"AXIS1_PLACEMENT('',{entities.point(on_axis(0.0))},{entities.direction(UP)})")
    return entities.once(f"SURFACE_OF_REVOLUTION('',{meridian(entities, piece, seam)},{axis})"), True


def _bounded_arc(entities: Entities, piece: Piece, seam: float) -> str:
    """The arc, and no more of its circle, as the rational B-spline that an arc exactly is.

    A whole circle would meet the axis, and what it sweeps would cut itself, which the standard forbids and a strict
    kernel refuses; and a swept curve of an advanced face may be a line, a conic or a B-spline, but not a trimmed one
    (ISO 10303-42 and -511, from memory).
    """
    assert piece.centre is not None
    first, sweep = piece.turning
    spans = ceil(abs(sweep) / WIDEST_SPAN)
    half = 0.5 * sweep / spans
    poles = [entities.point(turned(piece.start, seam))]
    for k in range(1, 2 * spans):
        reach = piece.radius / (cos(half) if k % 2 else 1.0)
        angle = first + k * half
        place = (piece.centre[0] + reach * cos(angle), piece.centre[1] + reach * sin(angle))
        poles.append(entities.point(turned(place, seam)))
    poles.append(entities.point(turned(piece.end, seam)))
    weights = reals(cos(half) if k % 2 else 1.0 for k in range(2 * spans + 1))
    many, at = listed(["3", *["2"] * (spans - 1), "3"]), reals(range(spans + 1))
    return entities.once(
        f"(BOUNDED_CURVE()B_SPLINE_CURVE(2,{listed(poles)},.CIRCULAR_ARC.,.F.,.F.)"
        f"B_SPLINE_CURVE_WITH_KNOTS({many},{at},.UNSPECIFIED.)CURVE()GEOMETRIC_REPRESENTATION_ITEM()"
        f"RATIONAL_B_SPLINE_CURVE({weights})REPRESENTATION_ITEM(''))"
    )
