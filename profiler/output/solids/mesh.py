"""The turned body as triangles, and as STL or 3MF. Grooves are in it; water holes are left out.

Corners of the triangles lie on the true surface, within a stated sag of it between them; the unit is the millimetre.
"""

import io
import zipfile
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from profiler.assess.findings.finding import NEVER_SPIN, body_caution
from profiler.geometry.chain import Chain, FloatArray, distances, figures, sampled

SECTION_SAG_MM = 0.02  # finer where the section's own volume would not be near enough
DENSE = 0.1  # of it: how far the points lie from the section of which the fewest are taken
TURN_SAG_MM = 0.03
LEAST_STEPS, MOST_STEPS = 180, 720  # n flat sides lose a share (2 pi / n)^2 / 6 of the volume: 2e-4 for 180
VOLUME_SHARE = 2.9e-4  # of the section; with what the flat sides lose the body is within 5e-4
LEAST_SAG_MM = 1e-4
QUICKLY = 1  # the best compression takes twice as long for a seventh less
LEFT_OUT = "water holes left out"


@dataclass(frozen=True, slots=True)
class Mesh:
    """A closed surface: corners (n, 3) in mm, triangles (m, 3) seen counter-clockwise from outside."""

    corners: FloatArray
    triangles: NDArray[np.int64]


def turned(section: Chain, sag: float = TURN_SAG_MM, along: float = SECTION_SAG_MM) -> Mesh:
    """The body of a closed half section turned about the axis (x is the radius, y the height).

    `sag` is what it may be off round the axis, `along` along the section.
    """
    ring = _section_points(section, along)
    x, y = ring.T
    if float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) < 0.0:
        ring = ring[::-1]  # so that every triangle is seen counter-clockwise from outside
    largest = float(ring[:, 0].max())
    steps = int(np.ceil(np.pi / np.arccos(1.0 - min(sag / largest, 0.5))))
    steps = min(max(steps, LEAST_STEPS), MOST_STEPS)
    turn = 2.0 * np.pi * np.arange(steps) / steps
    x, y = np.outer(np.cos(turn), ring[:, 0]), np.outer(np.sin(turn), ring[:, 0])
    z = np.broadcast_to(ring[:, 1], x.shape)
    corners = np.stack((x, y, z), axis=-1).reshape(-1, 3)
    count = len(ring)
    here = np.arange(steps)[:, None] * count + np.arange(count)[None, :]
    round_, up = np.roll(here, -1, axis=0), np.roll(here, -1, axis=1)
    both = np.roll(round_, -1, axis=1)
    triangles = np.concatenate((np.stack((here, round_, both), -1), np.stack((here, both, up), -1)), axis=0)
    return Mesh(corners, triangles.reshape(-1, 3).astype(np.int64))


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


def threemf_bytes(mesh: Mesh, name: str = "", stops: int = 0) -> bytes:
    """3MF core: a package with one model in millimetres."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as package:
        for path, text in (("[Content_Types].xml", _TYPES), ("_rels/.rels", _RELATIONS)):
            package.writestr(_entry(path), text, compresslevel=QUICKLY)
        package.writestr(_entry("3D/3dmodel.model"), _model(mesh, name, stops), compresslevel=QUICKLY)
    return stream.getvalue()


def _section_points(section: Chain, sag: float) -> FloatArray:
    """(n, 2) points on the section, as few as keep it within `sag` of their straight joins.

    Closer where turning their polygon would miss the volume by more than VOLUME_SHARE.
    """
    wanted = figures(section).volume
    share = VOLUME_SHARE * max(1.0, sag / SECTION_SAG_MM)  # whoever chooses a coarser line has chosen a coarser volume
    while True:
        ring = _fewest(sampled(section, DENSE * sag), (1.0 - DENSE) * sag)
        found = figures(Chain(ring, np.zeros(len(ring)))).volume
        if abs(found - wanted) <= share * wanted or sag <= LEAST_SAG_MM:
            return ring
        sag *= 0.85


def _fewest(ring: FloatArray, sag: float) -> FloatArray:
    """Of points round a closed ring those from each of which the next lies as far on as the sag lets it."""
    closed = np.vstack((ring, ring[:1]))
    kept, at = [0], 0
    while at < len(ring):
        step, reach = 1, 1
        while at + 2 * reach <= len(ring) and _sags(closed[at : at + 2 * reach + 1]) <= sag:
            reach *= 2
        step = reach
        while reach > 1:
            reach //= 2
            if at + step + reach <= len(ring) and _sags(closed[at : at + step + reach + 1]) <= sag:
                step += reach
        at += step
        kept.append(at)
    return closed[kept[:-1]]


def _sags(points: FloatArray) -> float:
    """The farthest that points between the first and the last lie from the straight line that joins these."""
    return float(distances(points[1:-1], points[[0, -1]]).max()) if len(points) > 2 else 0.0


def _entry(path: str) -> zipfile.ZipInfo:
    """The same bytes for the same body: no clock in the package."""
    entry = zipfile.ZipInfo(path)
    entry.compress_type = zipfile.ZIP_DEFLATED
    return entry


def _model(mesh: Mesh, name: str, stops: int) -> str:
    corners = ('<vertex x="%.5f" y="%.5f" z="%.5f"/>' * len(mesh.corners)) % tuple(mesh.corners.ravel().tolist())
    faces = ('<triangle v1="%d" v2="%d" v3="%d"/>' * len(mesh.triangles)) % tuple(mesh.triangles.ravel().tolist())
    title = name.replace("&", "&amp;").replace("<", "&lt;")
    return (
        f'<?xml version="1.0" encoding="UTF-8"?>\n<model unit="millimeter" xml:lang="en" xmlns="{_CORE}">'
        f'<metadata name="Title">{title}</metadata>'
        f'<metadata name="Description">{body_caution(stops)}; {LEFT_OUT}</metadata>'
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
