"""One closed shell: the turned faces, the bores through them, and the edges and corners they share.

Every edge belongs to two faces, or twice to one along its seam, and the two run along it in opposite senses; seen
from outside a face lies on the left of its edges. Circles run counter-clockwise as seen from above; the piece that
starts on one takes it so, the one that ends on it the other way. A bore's two edges run counter-clockwise about its
outward axis: the groove's floor takes its one so, the bore the outer one.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from profiler.geometry.chain import FloatArray
from profiler.output.step.bores import Bored
from profiler.output.step.part21 import Entities, listed, quoted, real
from profiler.output.step.profile import Kind, Point
from profiler.output.step.seams import Face
from profiler.output.step.splines import DEGREE, clamped, knots
from profiler.output.step.surfaces import UP, line, meridian, on_axis, surface, turned

SAME_AZIMUTH = 1e-9  # rad


@dataclass(frozen=True, slots=True)
class _Rim:
    """A full circle that faces share, parted at the seams that end on it."""

    azimuths: tuple[float, ...]
    corners: tuple[str, ...]
    edges: tuple[str, ...]  # each from its corner counter-clockwise to the next

    def from_seam(self, seam: float) -> list[str]:
        """The edges, counter-clockwise, from the corner at a seam; none on the axis."""
        i = self.at(seam) if self.edges else 0
        return [*self.edges[i:], *self.edges[:i]]

    def at(self, seam: float) -> int:
        return next(i for i, azimuth in enumerate(self.azimuths) if abs(azimuth - seam) < SAME_AZIMUTH)


@dataclass(frozen=True, slots=True)
class _Mouth:
    """One bore's end: its closed edge, the corner on it, and where that lies."""

    edge: str
    corner: str
    place: FloatArray


def closed_shell(entities: Entities, faces: Sequence[Face], bored: Sequence[Bored]) -> tuple[str, int]:
    """The shell's number and how many faces it has."""
    made: list[str] = []
    mouths: dict[tuple[int, bool], list[str]] = {}
    for ring in bored:
        inner, outer = (_mouths(entities, ring, outside) for outside in (False, True))
        made += [_bore(entities, ring, *ends) for ends in zip(ring.ring.ways, inner, outer, strict=True)]
        mouths[ring.ring.groove, False] = [mouth.edge for mouth in inner]
        mouths[ring.ring.groove, True] = [mouth.edge for mouth in outer]
    rims = [_rim(entities, faces[i - 1], face) for i, face in enumerate(faces)]
    for i, face in enumerate(faces):
        holes = [(edge, True) for b in face.inner for edge in mouths[b.ring.groove, False]]
        holes += [(edge, False) for b in face.outer for edge in mouths[b.ring.groove, True]]
        made.append(_face(entities, face, rims[i], rims[(i + 1) % len(rims)], holes))
    return entities.add(f"CLOSED_SHELL('',{listed(made)})"), len(made)


def _rim(entities: Entities, before: Face, after: Face) -> _Rim:
    """The circle two faces share, where one ends and the next begins; on the axis there is none."""
    radius, height = after.piece.start
    if radius == 0.0:
        return _Rim((), (), ())
    seams = [face.seam for face in (before, after) if face.piece.kind is not Kind.PLANE] or [after.seam]
    azimuths = sorted(set(seams)) if abs(seams[0] - seams[-1]) > SAME_AZIMUTH else [seams[0]]
    corners = [_corner(entities, turned((radius, height), azimuth)) for azimuth in azimuths]
    frame = entities.frame(on_axis(height), UP, turned((1.0, 0.0), azimuths[0]))
    circle = entities.once(f"CIRCLE('',{frame},{real(radius)})")
    following = [*corners[1:], corners[0]]
    edges = [_edge(entities, a, b, circle) for a, b in zip(corners, following, strict=True)]
    return _Rim(tuple(azimuths), tuple(corners), tuple(edges))


def _face(entities: Entities, face: Face, first: _Rim, last: _Rim, holes: Sequence[tuple[str, bool]]) -> str:
    piece = face.piece
    number, same = surface(entities, piece, face.seam)
    if piece.kind is Kind.PLANE:
        loops = [[(edge, True) for edge in first.edges], [(edge, False) for edge in reversed(last.edges)]]
        outside = 0 if piece.start[0] > piece.end[0] else 1
        outer, others = loops[outside], [loops[1 - outside]] if loops[1 - outside] else []
    else:
        start, end = (
            _corner_at(entities, rim, point, face.seam) for rim, point in ((first, piece.start), (last, piece.end))
        )
        seam = _edge(entities, start, end, meridian(entities, piece, face.seam))
        outer = [(edge, True) for edge in first.from_seam(face.seam)]
        outer += [(seam, True), *((edge, False) for edge in reversed(last.from_seam(face.seam)))]
        outer, others = [*outer, (seam, False)], []
    bounds = [_bound(entities, outer, "FACE_OUTER_BOUND")]
    bounds += [_bound(entities, loop) for loop in [*others, *([hole] for hole in holes)]]
    return _advanced(entities, piece.name, bounds, number, same)


def _corner_at(entities: Entities, rim: _Rim, point: Point, seam: float) -> str:
    """The corner where a seam meets a rim, or where it ends on the axis."""
    return rim.corners[rim.at(seam)] if rim.corners else _corner(entities, on_axis(point[1]))


def _mouths(entities: Entities, ring: Bored, outside: bool) -> list[_Mouth]:
    """The edges of all bores of a ring at one end; they differ by a turn about the axis."""
    curve = clamped((ring.outer if outside else ring.inner).curve)[:-1]  # the last pole is the first one
    cos, sin = np.cos(ring.ring.ways)[:, None], np.sin(ring.ring.ways)[:, None]
    x, aside = curve[:, 0] * cos - curve[:, 1] * sin, curve[:, 0] * sin + curve[:, 1] * cos
    poles = np.stack((x, aside, np.broadcast_to(curve[:, 2], x.shape)), axis=-1)
    count = len(curve)
    numbers = entities.points(poles.reshape(-1, 3))
    many, at = knots(count - 2)
    tail = f".UNSPECIFIED.,.T.,.F.,{listed(map(str, many))},{listed(f'{knot}.' for knot in at)},.UNSPECIFIED.)"
    made = []
    for k, places in enumerate(poles):
        own = numbers[k * count : (k + 1) * count]
        spline = entities.add(f"B_SPLINE_CURVE_WITH_KNOTS('',{DEGREE},{listed([*own, own[0]])},{tail}")
        corner = entities.add(f"VERTEX_POINT('',{own[0]})")
        made.append(_Mouth(_edge(entities, corner, corner, spline), corner, places[0]))
    return made


def _bore(entities: Entities, ring: Bored, way: float, inner: _Mouth, outer: _Mouth) -> str:
    """One bore's face: a cylinder whose outside is the hole, so that its face looks inward."""
    at, along = ring.ring, (float(np.cos(way)), float(np.sin(way)), 0.0)
    aside = (-along[1], along[0], 0.0)
    origin = inner.place - 0.5 * at.diameter * np.array(aside)
    frame = entities.frame([*origin[:2].tolist(), at.height], along, aside)
    cylinder = entities.add(f"CYLINDRICAL_SURFACE('',{frame},{real(0.5 * at.diameter)})")
    seam = _edge(entities, inner.corner, outer.corner, line(entities, inner.place.tolist(), along))
    loop = [(seam, True), (outer.edge, True), (seam, False), (inner.edge, False)]
    bounds = [_bound(entities, loop, "FACE_OUTER_BOUND")]
    return _advanced(entities, f"water hole of groove {at.groove}", bounds, cylinder, False)


def _corner(entities: Entities, place: Sequence[float]) -> str:
    return entities.add(f"VERTEX_POINT('',{entities.point(place)})")


def _edge(entities: Entities, start: str, end: str, curve: str) -> str:
    return entities.add(f"EDGE_CURVE('',{start},{end},{curve},.T.)")


def _bound(entities: Entities, loop: Sequence[tuple[str, bool]], kind: str = "FACE_BOUND") -> str:
    edges = [entities.add(f"ORIENTED_EDGE('',*,*,{edge},.{'T' if ahead else 'F'}.)") for edge, ahead in loop]
    loop_number = entities.add(f"EDGE_LOOP('',{listed(edges)})")
    return entities.add(f"{kind}('',{loop_number},.T.)")


def _advanced(entities: Entities, name: str, bounds: Sequence[str], surface: str, same: bool) -> str:
    return entities.add(f"ADVANCED_FACE({quoted(name)},{listed(bounds)},{surface},.{'T' if same else 'F'}.)")
