"""What a STEP file says of a solid, worked out from the file alone: faces, edges, and the volume between the faces.

The volume is the flux of (x/2, y/2, 0) through the faces, brought to their edges by Green's theorem. For a turned face
it is the sum over its loops of -G dphi, G being half the integral of r^2 dz along the meridian; for a bore square to
the axis that of s g dt, g = -(rho/2)(offset + rho cos t) cos t; for a level face nothing. So every edge counts, and a
face that looks the wrong way shows.
"""

from collections import Counter
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, cos, hypot, pi, tan

import numpy as np
from scipy.interpolate import BSpline

from tests.output.step.part21_reader import Enum, File

NODES, WEIGHTS = np.polynomial.legendre.leggauss(12)
TRUE, FALSE = Enum("T"), Enum("F")
TURNED = ("CYLINDRICAL_SURFACE", "CONICAL_SURFACE", "TOROIDAL_SURFACE", "SURFACE_OF_REVOLUTION")


@dataclass(frozen=True)
class Curve:
    """Points by a parameter from 0 to 1, and the rates there; `breaks` part it where it is not smooth."""

    at: object
    rate: object
    breaks: np.ndarray


@dataclass(frozen=True)
class Use:
    """An edge as a loop runs along it."""

    edge: int
    ahead: bool
    start: int
    end: int
    curve: Curve


@dataclass(frozen=True)
class Face:
    name: str
    kind: str
    surface: object
    same: bool
    loops: list
    outer_bounds: int


class Solid:
    def __init__(self, text):
        self.file = File(text)
        (brep,), (shell,) = self.file.all("MANIFOLD_SOLID_BREP"), self.file.all("CLOSED_SHELL")
        assert self.file[brep.values[1]] is shell
        self.faces = [self._face(self.file[ref]) for ref in shell.values[1]]
        self.kinds = Counter(face.kind for face in self.faces)

    def uses(self):
        return [use for face in self.faces for loop in face.loops for use in loop]

    def assert_closed(self):
        """Every edge twice and in opposite senses, every loop a ring of edges, one piece, no face left out."""
        found = {}
        for use in self.uses():
            found.setdefault(use.edge, []).append(use.ahead)
        assert all(sorted(senses) == [False, True] for senses in found.values())
        assert len(found) == len(self.file.all("EDGE_CURVE"))
        for face in self.faces:
            assert face.outer_bounds == 1
            for loop in face.loops:
                assert all(a.end == b.start for a, b in pairwise([*loop, loop[0]]))
        together = {0}
        by_edge = {}
        for i, face in enumerate(self.faces):
            for edge in {use.edge for loop in face.loops for use in loop}:
                by_edge.setdefault(edge, set()).add(i)
        for _ in self.faces:
            together |= set().union(*(faces for faces in by_edge.values() if faces & together))
        assert len(together) == len(self.faces)

    def genus(self):
        """By Euler and Poincare: V - E + F - (L - F) = 2 (1 - genus)."""
        uses = self.uses()
        vertices, edges = {use.start for use in uses}, {use.edge for use in uses}
        loops = sum(len(face.loops) for face in self.faces)
        twice = 2 - (len(vertices) - len(edges) + 2 * len(self.faces) - loops)
        assert twice % 2 == 0
        return twice // 2

    def apart(self):
        """The largest distance of an edge from a face it bounds, in the file's unit, and of an edge's ends from it."""
        shares = (np.arange(97) + 0.31) / 97.0
        worst = 0.0
        for face in self.faces:
            for loop in face.loops:
                for use in loop:
                    worst = max(worst, float(np.max(np.abs(self._off(face, use.curve.at(shares))))))
                    ends = use.curve.at(np.array([0.0, 1.0]))
                    places = [self._point(self.file.entities[v].values[1]) for v in (use.start, use.end)]
                    ends = ends if use.ahead else ends[::-1]
                    worst = max(worst, float(np.max(np.abs(ends - np.array(places)))))
        return worst

    def volume(self):
        return sum(self._flux(face) for face in self.faces)

    # -- reading ------------------------------------------------------------------------------------------------------

    def _face(self, entity):
        name, bounds, ref, same = entity.values
        surface = self.file[ref]
        loops = []
        for bound in map(self.file.__getitem__, bounds):
            assert bound.values[2] == TRUE
            loops.append([self._use(self.file[edge]) for edge in self.file[bound.values[1]].values[1]])
        outer = sum(self.file[bound].keyword == "FACE_OUTER_BOUND" for bound in bounds)
        return Face(name, surface.keyword, surface, same == TRUE, loops, outer)

    def _use(self, oriented):
        ref, ahead = oriented.values[3], oriented.values[4] == TRUE
        _, start, end, curve, same = self.file[ref].values
        assert same == TRUE
        found = self._curve(self.file[curve], start, end)
        return Use(ref.number, ahead, *((start.number, end.number) if ahead else (end.number, start.number)), found)

    def _curve(self, entity, start, end):
        a, b = (self._point(self.file[ref].values[1]) for ref in (start, end))
        whole = np.array([0.0, 1.0])
        if entity.keyword == "LINE":
            origin, vector = self._point(entity.values[1]), self.file[entity.values[2]]
            way = self._direction(vector.values[1])
            s0, s1 = float((a - origin) @ way), float((b - origin) @ way)
            return Curve(lambda u: origin + np.outer(s0 + u * (s1 - s0), way),
                         lambda u: np.outer(np.full_like(u, s1 - s0), way), whole)  # fmt: skip
        if entity.keyword == "CIRCLE":
            origin, x, y, _ = self._frame(entity.values[1])
            radius = entity.values[2]
            t0, t1 = (atan2((p - origin) @ y, (p - origin) @ x) for p in (a, b))
            sweep = (t1 - t0) % (2.0 * pi) if start != end else 2.0 * pi
            return Curve(lambda u: origin + radius * (np.outer(np.cos(t0 + u * sweep), x)
                                                      + np.outer(np.sin(t0 + u * sweep), y)),
                         lambda u: radius * sweep * (np.outer(-np.sin(t0 + u * sweep), x)
                                                     + np.outer(np.cos(t0 + u * sweep), y)), whole)  # fmt: skip
        return self._spline(entity)

    def _spline(self, entity):
        if entity.parts:  # a rational one
            degree, poles = entity.part("B_SPLINE_CURVE")[:2]
            multiplicities, knots = entity.part("B_SPLINE_CURVE_WITH_KNOTS")[:2]
            weights = np.array(entity.part("RATIONAL_B_SPLINE_CURVE")[0])
        else:
            _, degree, poles, _, closed, _, multiplicities, knots, _ = entity.values
            weights = np.ones(len(poles))
            assert closed == TRUE and poles[0] == poles[-1]
        places = np.array([self._point(ref) for ref in poles])
        full = np.repeat(np.array(knots, dtype=float), multiplicities)
        assert len(full) == len(poles) + degree + 1
        over, under = BSpline(full, places * weights[:, None], degree), BSpline(full, weights, degree)
        span = knots[-1] - knots[0]

        def at(u):
            t = knots[0] + u * span
            return over(t) / under(t)[:, None]

        def rate(u):
            t = knots[0] + u * span
            return span * (over(t, 1) - at(u) * under(t, 1)[:, None]) / under(t)[:, None]

        return Curve(at, rate, (np.array(knots) - knots[0]) / span)

    def _point(self, ref):
        return np.array(self.file[ref].values[1])

    def _direction(self, ref):
        way = np.array(self.file[ref].values[1])
        assert abs(np.linalg.norm(way) - 1.0) < 1e-12
        return way

    def _frame(self, ref):
        _, origin, axis, ahead = self.file[ref].values
        z, x = self._direction(axis), self._direction(ahead)
        assert abs(z @ x) < 1e-12
        return self._point(origin), x, np.cross(z, x), z

    # -- geometry -----------------------------------------------------------------------------------------------------

    def _bore(self, face):
        """Frame and radius of a cylinder that does not stand on the spin axis, or None."""
        if face.kind != "CYLINDRICAL_SURFACE":
            return None
        frame = self._frame(face.surface.values[1])
        return None if abs(frame[3][2]) > 0.5 else (*frame, face.surface.values[2])

    def _meridian(self, face):
        """(centre r, centre z, radius) of a round meridian."""
        if face.kind == "TOROIDAL_SURFACE":
            origin, _, _, z = self._frame(face.surface.values[1])
            assert z[2] == 1.0 and face.surface.values[2] > face.surface.values[3] > 0.0
            return face.surface.values[2], origin[2], face.surface.values[3]
        swept = self._spline(self.file[face.surface.values[1]])
        axis = self.file[face.surface.values[2]]
        assert self._direction(axis.values[2])[2] == 1.0
        r, z = self._half_plane(swept.at(np.linspace(0.0, 1.0, 33)))
        assert np.all(r > 0.0)
        (r0, r1, r2), (z0, z1, z2) = (w[[0, 16, 32]] for w in (r, z))
        normal = np.array([[r1 - r0, z1 - z0], [r2 - r0, z2 - z0]])
        right = 0.5 * np.array([r1**2 - r0**2 + z1**2 - z0**2, r2**2 - r0**2 + z2**2 - z0**2])
        centre = np.linalg.solve(normal, right)
        radius = hypot(r0 - centre[0], z0 - centre[1])
        # every point of the generator lies on one circle: the rational spline is the arc itself
        assert np.max(np.abs(np.hypot(r - centre[0], z - centre[1]) - radius)) < 1e-12 * radius + 1e-9
        return (*centre.tolist(), radius)

    def _cone(self, face):
        """Radius at height 0 and its slope of a cone or an upright cylinder."""
        origin, _, _, axis = self._frame(face.surface.values[1])
        slope = 0.0
        if face.kind == "CONICAL_SURFACE":
            assert 0.0 < face.surface.values[3] < 0.5 * pi and face.surface.values[2] >= 0.0
            slope = tan(face.surface.values[3]) / axis[2]
        assert abs(axis[2]) == 1.0 and hypot(*origin[:2]) == 0.0
        return face.surface.values[2] - slope * origin[2], slope

    @staticmethod
    def _half_plane(points):
        return np.hypot(points[:, 0], points[:, 1]), points[:, 2]

    def _off(self, face, points):
        bore = self._bore(face)
        if bore:
            origin, x, y, _, radius = bore
            return np.hypot((points - origin) @ x, (points - origin) @ y) - radius
        r, z = self._half_plane(points)
        if face.kind == "PLANE":
            origin, _, _, axis = self._frame(face.surface.values[1])
            return (points - origin) @ axis
        if face.kind in ("CYLINDRICAL_SURFACE", "CONICAL_SURFACE"):
            r0, slope = self._cone(face)
            return (r - r0 - slope * z) * cos(atan2(slope, 1.0))
        centre_r, centre_z, radius = self._meridian(face)
        return np.hypot(r - centre_r, z - centre_z) - radius

    def _flux(self, face):
        """Flux through a face; its area on the surface's own map, which is positive where it lies left of its edges."""
        if face.kind == "PLANE":
            up = self._frame(face.surface.values[1])[3][2] * (1.0 if face.same else -1.0)
            assert up in (1.0, -1.0)
            assert up * self._around(face, lambda p, v: 0.5 * (p[:, 0] * v[:, 1] - p[:, 1] * v[:, 0])) > 0.0
            return 0.0
        bore = self._bore(face)
        if bore:
            return self._bore_flux(face, *bore)
        assert face.kind in TURNED
        cone = face.kind in ("CYLINDRICAL_SURFACE", "CONICAL_SURFACE")
        along, half_squares = self._cone_map(face) if cone else self._round_map(face)
        sense = 1.0 if face.same else -1.0
        assert self._around(face, lambda p, v: -sense * along(p) * _turning(p, v)) > 0.0
        return self._around(face, lambda p, v: -half_squares(p) * _turning(p, v))

    def _cone_map(self, face):
        """The way along a meridian that has the normal on its right; half the integral of r^2."""
        r0, k = self._cone(face)

        # measured from the tip where the face has one: no edge runs round it
        tip = -r0 / k if len(face.loops[0]) == 3 else 0.0

        def half_squares(points):
            z, start = points[:, 2], r0 + k * tip
            return 0.5 * (start**2 * (z - tip) + start * k * (z - tip) ** 2 + k * k * (z - tip) ** 3 / 3.0)

        return lambda points: points[:, 2] - tip, half_squares

    def _round_map(self, face):
        centre_r, centre_z, radius = self._meridian(face)

        def angle(points):
            r, z = self._half_plane(points)
            return np.arctan2(z - centre_z, r - centre_r)

        seam = next(use for use in face.loops[0] if sum(other.edge == use.edge for other in face.loops[0]) == 2)
        middle = float(angle(seam.curve.at(np.array([0.5])))[0])

        def unwound(points):
            return middle + (angle(points) - middle + pi) % (2.0 * pi) - pi

        def half_squares(points):
            """From the middle of the arc, by Gauss and Legendre: in closed form large radii would cancel."""
            v = middle + (unwound(points) - middle)[:, None] * 0.5 * (NODES + 1.0)
            rise = radius * np.cos(v) * (unwound(points) - middle)[:, None] * 0.5 * WEIGHTS
            return np.sum(0.5 * (centre_r + radius * np.cos(v)) ** 2 * rise, axis=1)

        sense = 1.0
        if face.kind == "SURFACE_OF_REVOLUTION":
            generator = self._spline(self.file[face.surface.values[1]])
            first, last = unwound(generator.at(np.array([0.0, 1.0])))
            sense = 1.0 if last > first else -1.0
        return lambda points: sense * unwound(points), half_squares

    def _bore_flux(self, face, origin, x, y, z, radius):
        offset = float(origin @ np.cross([0.0, 0.0, 1.0], z))

        def turn(points, rates):
            px, py, vx, vy = (points - origin) @ x, (points - origin) @ y, rates @ x, rates @ y
            return (px * vy - py * vx) / (px**2 + py**2)

        def level(points):
            """Cosine of the angle from the bore's level side, which lies counter-clockwise of its direction."""
            return (points - origin) @ np.cross([0.0, 0.0, 1.0], z) / radius

        sense = -1.0 if face.same else 1.0
        assert self._around(face, lambda p, v: sense * (p @ z) * turn(p, v)) > 0.0
        return self._around(
            face,
            lambda p, v: -0.5 * radius * (offset + radius * level(p)) * level(p) * ((p - origin) @ z) * turn(p, v),
        )

    @staticmethod
    def _around(face, rate):
        """Integral of a rate, of points and their rates, along all edges of a face as its loops run."""
        total = 0.0
        for use in (use for loop in face.loops for use in loop):
            low, high = use.curve.breaks[:-1, None], use.curve.breaks[1:, None]
            share = (low + (high - low) * 0.5 * (NODES + 1.0)).ravel()
            weight = (0.5 * (high - low) * WEIGHTS).ravel()
            part = float(np.sum(weight * rate(use.curve.at(share), use.curve.rate(share))))
            total += part if use.ahead else -part
        return total


def _turning(points, rates):
    """Rate of the azimuth."""
    return (points[:, 0] * rates[:, 1] - points[:, 1] * rates[:, 0]) / (points[:, 0] ** 2 + points[:, 1] ** 2)
