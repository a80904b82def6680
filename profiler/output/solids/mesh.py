"""The turned body as triangles, and as STL or 3MF. Grooves are in it, water holes where they are asked for.

Corners of the triangles lie on the true surface, within a stated sag of it between them; the unit is the millimetre.
"""

import io
import zipfile
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from profiler.assess.findings.finding import NEVER_SPIN, body_caution
from profiler.assess.shape.bore_rings import Ring
from profiler.geometry.chain import Chain, FloatArray, sampled
from profiler.output.solids.openings import Ints, bore_walls, opening, sides_of
from profiler.output.solids.section_points import SECTION_SAG_MM, RingPoints, bored_ring_points, ring_points
from profiler.output.step.bores import Bored, Marked, drilled
from profiler.output.step.profile import pieces_of
from profiler.output.step.solid import SEEN_SAG_MM

TURN_SAG_MM = 0.03
LEAST_STEPS, MOST_STEPS = 180, 720  # n flat sides lose a share (2 pi / n)^2 / 6 of the volume: 2e-4 for 180
QUICKLY = 1  # the best compression takes twice as long for a seventh less
LEFT_OUT = "water holes left out"


@dataclass(frozen=True, slots=True)
class Mesh:
    """A closed surface: corners (n, 3) in mm, triangles (m, 3) seen counter-clockwise from outside."""

    corners: FloatArray
    triangles: NDArray[np.int64]


def turned(section: Chain, sag: float = TURN_SAG_MM, along: float = SECTION_SAG_MM) -> Mesh:
    """The body of a closed half section turned about the axis (x is the radius, y the height), without holes.

    `sag` is what it may be off round the axis, `along` along the section.
    """
    ring = ring_points(section, along)
    return _turned(ring, _steps(ring.points, sag))


def drilled_body(
    section: Chain, rings: Sequence[Ring], sag: float = TURN_SAG_MM, along: float = SECTION_SAG_MM
) -> tuple[Mesh, list[Bored], list[Marked]]:
    """The body with the water holes that can be cut; which these are, and which cannot and why.

    Raises ValueError with a sentence where turning the section gives no solid.
    """
    pieces = pieces_of(section)
    bored, marked = drilled(pieces, sampled(section, SEEN_SAG_MM), rings)
    if not bored:
        return turned(section, sag, along), [], marked
    ring = bored_ring_points(section, pieces, bored, along)
    steps = max(_steps(ring.points, sag), *(each.ring.count for each in bored))
    return _with_openings(ring, _turned(ring, steps), steps, sag), bored, marked


def _steps(points: FloatArray, sag: float) -> int:
    steps = int(np.ceil(np.pi / np.arccos(1.0 - min(sag / float(points[:, 0].max()), 0.5))))
    return min(max(steps, LEAST_STEPS), MOST_STEPS)


def _turned(ring: RingPoints, steps: int) -> Mesh:
    """All but the strips."""
    points, count = ring.points, len(ring.points)
    turn = 2.0 * np.pi * np.arange(steps) / steps
    x, y = np.outer(np.cos(turn), points[:, 0]), np.outer(np.sin(turn), points[:, 0])
    z = np.broadcast_to(points[:, 1], x.shape)
    corners = np.stack((x, y, z), axis=-1).reshape(-1, 3)
    here = np.arange(steps)[:, None] * count + np.arange(count)[None, :]
    round_, up = np.roll(here, -1, axis=0), np.roll(here, -1, axis=1)
    both = np.roll(round_, -1, axis=1)
    triangles = np.concatenate((np.stack((here, round_, both), -1), np.stack((here, both, up), -1)), axis=0)
    whole = np.delete(triangles, list(ring.strips), axis=1)
    return Mesh(corners, whole.reshape(-1, 3).astype(np.int64))


def _with_openings(ring: RingPoints, mesh: Mesh, steps: int, sag: float) -> Mesh:
    """The body closed by its strips and the walls of the bores."""
    count = len(ring.points)
    corners, triangles, total = [mesh.corners], [mesh.triangles], len(mesh.corners)
    ends: dict[int, dict[bool, Ints]] = {}
    for at, strip in ring.strips.items():
        rows = [np.arange(steps) * count + k for k in (at, (at + 1) % count)]
        lower, upper = rows if strip.piece.rises else reversed(rows)
        found = opening(strip, lower, upper, total, sides_of(strip.bored.ring, sag))
        corners.append(found.corners)
        triangles.append(found.triangles)
        total += len(found.corners)
        ends.setdefault(strip.bored.ring.groove, {})[strip.end is strip.bored.outer] = found.holes
    triangles += [bore_walls(each[False], each[True]) for each in ends.values()]
    return Mesh(np.concatenate(corners), np.concatenate(triangles))


def stl_bytes(mesh: Mesh, name: str = "", stops: int = 0) -> bytes:
    """Binary STL. The format has no unit; the head says mm, and first of all what must not be done with the body."""
    record = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("spare", "<u2")])
    facets = np.zeros(len(mesh.triangles), dtype=record)
    corners = mesh.corners[mesh.triangles]
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    facets["normal"] = normal / np.maximum(np.linalg.norm(normal, axis=1, keepdims=True), 1e-30)
    facets["corners"] = corners
    checked = "mm NOT CHECKED:" if stops else "mm;"  # 80 bytes; "solid" in front would make readers take it for text
    head = f"{checked} {NEVER_SPIN}; {name}".encode("ascii", "replace")[:80].ljust(80)
    return b"".join((head, len(facets).to_bytes(4, "little"), facets.tobytes()))


def threemf_bytes(mesh: Mesh, name: str = "", stops: int = 0, holes: str = LEFT_OUT) -> bytes:
    """3MF core: a package with one model in millimetres; `holes` says which water holes are in it."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as package:
        for path, text in (("[Content_Types].xml", _TYPES), ("_rels/.rels", _RELATIONS)):
            package.writestr(_entry(path), text, compresslevel=QUICKLY)
        package.writestr(_entry("3D/3dmodel.model"), _model(mesh, name, stops, holes), compresslevel=QUICKLY)
    return stream.getvalue()


def _entry(path: str) -> zipfile.ZipInfo:
    """The same bytes for the same body: no clock in the package."""
    entry = zipfile.ZipInfo(path)
    entry.compress_type = zipfile.ZIP_DEFLATED
    return entry


def _model(mesh: Mesh, name: str, stops: int, holes: str) -> str:
    corners = ('<vertex x="%.5f" y="%.5f" z="%.5f"/>' * len(mesh.corners)) % tuple(mesh.corners.ravel().tolist())
    faces = ('<triangle v1="%d" v2="%d" v3="%d"/>' * len(mesh.triangles)) % tuple(mesh.triangles.ravel().tolist())
    title = name.replace("&", "&amp;").replace("<", "&lt;")
    return (
        f'<?xml version="1.0" encoding="UTF-8"?>\n<model unit="millimeter" xml:lang="en" xmlns="{_CORE}">'
        f'<metadata name="Title">{title}</metadata>'
        f'<metadata name="Description">{body_caution(stops)}; {holes}</metadata>'
        f'<resources><object id="1" type="model"><mesh><vertices>{corners}</vertices>'
        f'<triangles>{faces}</triangles></mesh></object></resources><build><item objectid="1"/></build></model>'
    )


_CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
_TYPES = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>'
)
_RELATIONS = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
    '<Relationship Target="/3D/3dmodel.model" Id="rel0" '
    'Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>'
)
