"""The curves of DXF entities, as chains of lines and arcs in the plane of the drawing.

Lines, arcs, circles and polylines with bulges are exact; ellipses and splines are fitted with biarcs to 0.01 mm. What
lies in no plane square to the drawing's is passed over, and counted by who asks.
"""

from collections.abc import Callable, Sequence
from itertools import pairwise
from math import atan2, cos, hypot, radians, sin, tan, tau
from typing import TYPE_CHECKING

import numpy as np

from profiler.geometry.biarcs import Curve, Joint, fit
from profiler.geometry.chain import Chain, FloatArray

if TYPE_CHECKING:
    from ezdxf.entities.arc import Arc
    from ezdxf.entities.circle import Circle
    from ezdxf.entities.dxfentity import DXFEntity
    from ezdxf.entities.ellipse import Ellipse
    from ezdxf.entities.line import Line
    from ezdxf.entities.lwpolyline import LWPolyline
    from ezdxf.entities.polyline import Polyline
    from ezdxf.entities.spline import Spline

FLAT = 1e-6  # how far an extrusion may lean
CORNER = 1e-6  # of parameter, kept away from a spline's knots where its direction jumps


class NotPlane(ValueError):
    """An entity that does not lie in the plane of the drawing."""


def curve_of(entity: "DXFEntity", tolerance: float) -> Chain | None:
    """The entity's curve; None for kinds that have none. Raises NotPlane."""
    maker = MAKERS.get(entity.dxftype())
    return None if maker is None else maker(entity, tolerance)


def _facing(entity: "DXFEntity") -> float:
    """1 where it is drawn as seen, -1 where seen from behind, which mirrors x."""
    direction = entity.dxf.get("extrusion", (0.0, 0.0, 1.0))
    x, y, z = direction
    if hypot(x, y) > FLAT or abs(z) < 1.0 - FLAT:
        raise NotPlane("it leans out of the plane")
    return 1.0 if z > 0.0 else -1.0


def _line(entity: "Line", tolerance: float) -> Chain:
    start, end = entity.dxf.start, entity.dxf.end
    if abs(start.z - end.z) > FLAT:
        raise NotPlane("it rises")
    return Chain(np.array([[start.x, start.y], [end.x, end.y]]), np.zeros(2), closed=False)


def _arc(entity: "Arc", tolerance: float) -> Chain:
    side, centre, radius = _facing(entity), entity.dxf.center, entity.dxf.radius
    first = radians(entity.dxf.start_angle)
    sweep = radians((entity.dxf.end_angle - entity.dxf.start_angle) % 360.0) or tau
    pieces = 1 if sweep <= 0.75 * tau else 2  # a bulge near a whole turn would lose its decimals
    angles = first + sweep * np.arange(pieces + 1) / pieces
    points = np.stack((side * (centre.x + radius * np.cos(angles)), centre.y + radius * np.sin(angles)), axis=1)
    return Chain(points, np.append(np.full(pieces, side * tan(0.25 * sweep / pieces)), 0.0), closed=False)


def _circle(entity: "Circle", tolerance: float) -> Chain:
    side, centre, radius = _facing(entity), entity.dxf.center, entity.dxf.radius
    x = side * centre.x
    return Chain(np.array([[x + radius, centre.y], [x - radius, centre.y]]), np.array([1.0, 1.0]), closed=True)


def _lwpolyline(entity: "LWPolyline", tolerance: float) -> Chain | None:
    return _bulged(list(entity.get_points("xyb")), _facing(entity), bool(entity.closed))


def _polyline(entity: "Polyline", tolerance: float) -> Chain | None:
    if not entity.is_2d_polyline:
        raise NotPlane("it is a polyline in space")
    corners = [(v.dxf.location.x, v.dxf.location.y, v.dxf.get("bulge", 0.0)) for v in entity.vertices]
    return _bulged(corners, _facing(entity), bool(entity.is_closed))


def _bulged(corners: Sequence[Sequence[float]], side: float, closed: bool) -> Chain | None:
    if len(corners) < 2:
        return None
    table = np.array(corners, dtype=float)
    points, bulges = table[:, :2] * np.array([side, 1.0]), side * table[:, 2]
    keep = np.append(np.hypot(*np.diff(points, axis=0).T) > 0.0, True)
    if closed and len(points) > 2 and np.array_equal(points[0], points[-1]):
        keep[-1] = False
    kept = points[keep]
    return Chain(kept, bulges[keep], closed) if len(kept) > 1 else None


def _ellipse(entity: "Ellipse", tolerance: float) -> Chain:
    _facing(entity)
    centre, major, minor = entity.dxf.center, entity.dxf.major_axis, entity.minor_axis
    first, last = entity.dxf.start_param, entity.dxf.end_param
    if last <= first:
        last += tau
    a, b = np.array([major.x, major.y]), np.array([minor.x, minor.y])

    def curve(t: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        c, s = np.cos(t), np.sin(t)
        along = -s[:, None] * a + c[:, None] * b
        return (
            centre.x + c * a[0] + s * b[0],
            centre.y + c * a[1] + s * b[1],
            np.unwrap(np.arctan2(along[:, 1], along[:, 0])),
        )

    quarter = 0.25 * tau
    quarters = np.arange(np.ceil(first / quarter), last / quarter) * quarter
    stops = np.unique(np.clip([first, last, *quarters], first, last))
    chain = _pieces(curve, stops.tolist(), tolerance)
    if last - first > tau - 1e-9:
        return Chain(chain.points[:-1], chain.bulges[:-1], closed=True)
    return chain


def _spline(entity: "Spline", tolerance: float) -> Chain | None:
    tool = entity.construction_tool()
    if any(abs(p.z - tool.control_points[0].z) > FLAT for p in tool.control_points):
        raise NotPlane("it rises")
    knots = sorted({float(k) for k in tool.knots()})
    low, high = float(tool.knots()[tool.order - 1]), float(tool.knots()[tool.count])
    stops = [k for k in knots if low <= k <= high]

    def curve(t: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        inside = np.clip(t, low, high)
        rows = [tool.derivative(float(u), 1) for u in inside]
        x, y = np.array([r[0].x for r in rows]), np.array([r[0].y for r in rows])
        heading = np.unwrap([atan2(r[1].y, r[1].x) for r in rows])
        return x, y, np.asarray(heading)

    if len(stops) < 2:
        return None
    step = CORNER * (high - low)
    chain = _pieces(curve, stops, tolerance, step)
    if entity.closed or np.hypot(*(chain.points[0] - chain.points[-1])) < 1e-9:
        return Chain(chain.points[:-1], chain.bulges[:-1], closed=True)
    return chain


def _pieces(curve: Curve, stops: list[float], tolerance: float, inset: float = 0.0) -> Chain:
    """Biarcs between each two stops, so that none runs across a place where the direction may jump."""
    points: list[tuple[float, float]] = []
    bulges: list[float] = []
    for start, end in pairwise(stops):
        joints = fit(_inset(curve, start, end, inset), start, end, tolerance)
        for one, other in pairwise(joints):
            points.append((one.x, one.y))
            bulges.append(_bulge(one, other))
        last = joints[-1]
    points.append((last.x, last.y))
    return Chain(np.array(points), np.append(bulges, 0.0), closed=False)


def _inset(curve: Curve, start: float, end: float, inset: float) -> Curve:
    """The same curve with the directions at both ends taken from a hair inside."""
    if inset == 0.0:
        return curve

    def held(t: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        x, y, _ = curve(t)
        _, _, heading = curve(np.clip(t, start + inset, end - inset))
        return x, y, heading

    return held


def _bulge(one: Joint, other: Joint) -> float:
    """Of the arc that leaves `one` along its heading and ends at `other`."""
    half = atan2(other.y - one.y, other.x - one.x) - one.heading
    half = atan2(sin(half), cos(half))
    return tan(0.5 * half)


MAKERS: dict[str, Callable[..., Chain | None]] = {
    "LINE": _line,
    "ARC": _arc,
    "CIRCLE": _circle,
    "LWPOLYLINE": _lwpolyline,
    "POLYLINE": _polyline,
    "ELLIPSE": _ellipse,
    "SPLINE": _spline,
}
