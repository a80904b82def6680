"""Checks that depend on how a part is made: a tool's nose radius, the draft a moulded groove needs, tiny segments.

They are asked where a part is exported, since tool and draft belong to the shop, not to the design.
"""

import numpy as np

from profiler.assess.findings.by_groove import per_run
from profiler.assess.findings.finding import Finding
from profiler.assess.findings.kinds import Kind
from profiler.assess.shape.shape_stage import LEAST_SEGMENT_MM, Shape
from profiler.geometry.chain import Chain, FloatArray, arcs

SHARP = 1e-3  # rad


def tool_findings(chain: Chain, tool_radius_mm: float) -> list[Finding]:
    """Inside corners of a closed, counter-clockwise chain that a round nose cannot reach into."""
    start, _, bulge = chain.ends()
    _, radius, _, curved = arcs(chain)
    tight = curved & (bulge < 0.0) & (radius < tool_radius_mm - 1e-9)
    found = []
    if tight.any():
        least = float(radius[tight].min())
        low, high = float(start[tight, 1].min()), float(start[tight, 1].max())
        text = f"{int(tight.sum())} inside radii, down to R{least:.4g}, are under the tool's R{tool_radius_mm:g}."
        found.append(
            Finding(
                kind=Kind.INSIDE_RADIUS, text=text, value=least, limit=tool_radius_mm, unit="mm",
                from_mm=low, to_mm=high,
            )
        )  # fmt: skip
    sharp = _turns(chain) < -SHARP
    if sharp.any() and tool_radius_mm > 0.0:
        low, high = float(start[sharp, 1].min()), float(start[sharp, 1].max())
        text = f"{int(sharp.sum())} sharp inside corners will keep the tool's R{tool_radius_mm:g}."
        found.append(
            Finding(
                kind=Kind.INSIDE_CORNER, text=text, value=0.0, limit=tool_radius_mm, unit="mm", from_mm=low, to_mm=high
            )
        )
    return found


def draft_findings(shape: Shape, least_draft_deg: float) -> list[Finding]:
    """Flanks that lean too little from the groove's own depth for a rib to be drawn out along it."""
    found: list[Finding] = []
    for word, draft in zip(("lower", "upper"), drafts_deg(shape), strict=True):
        text = (
            f"{{who}}: the {word} flank has {{value:.1f}}° of draft along the groove's depth, "
            "less than the {limit:g}° asked."
        )
        broken = draft < least_draft_deg - 1e-9
        found += per_run(Kind.DRAFT, shape.mouths, broken, draft, least_draft_deg, "°", text, above=False)
    return found


def letter_findings(letters: str) -> list[Finding]:
    """Letters that a drawing file keeps by number, because they have no plain one."""
    if not letters:
        return []
    shown = f"{letters[:20]}{' ..' if len(letters) > 20 else ''}"
    text = f"{shown} have no plain letter: some readers of the file show a blank or a code in their place."
    return [Finding(kind=Kind.LETTERS, text=text)]


def segment_findings(chain: Chain) -> list[Finding]:
    """Segments too short for a lathe's control."""
    start, end, _ = chain.ends()
    long = np.hypot(*(end - start).T)
    short = long < LEAST_SEGMENT_MM - 1e-9
    if not short.any():
        return []
    least = float(long[short].min())
    text = f"{int(short.sum())} segments are shorter than {LEAST_SEGMENT_MM:g} mm, down to {least:.3f} mm."
    return [Finding(kind=Kind.SEGMENT_SHORT, text=text, value=least, limit=LEAST_SEGMENT_MM, unit="mm")]


def drafts_deg(shape: Shape) -> tuple[FloatArray, FloatArray]:
    """(g,) each: how far lower and upper flank lean from the groove's depth, widening towards the mouth."""
    corners = shape.contours.corners
    if not len(corners):
        return np.zeros(0), np.zeros(0)
    depth = 0.5 * (corners[:, 1] + corners[:, 2] - corners[:, 0] - corners[:, 3])
    if shape.cut.square_to_axis:
        depth = np.broadcast_to([1.0, 0.0], depth.shape)
    lower, upper = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 3]
    return _angle(depth, lower), _angle(upper, depth)


def _angle(a: FloatArray, b: FloatArray) -> FloatArray:
    cross = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    return np.asarray(np.degrees(np.arctan2(cross, np.einsum("ij,ij->i", a, b))))


def _turns(chain: Chain) -> FloatArray:
    """Turning between segments of a closed chain, at the start of each; counter-clockwise positive."""
    start, end, bulge = chain.ends()
    chord = np.arctan2(*(end - start).T[::-1])
    half = 2.0 * np.arctan(bulge)
    leaving, arriving = chord - half, chord + half
    turn = leaving - np.roll(arriving, 1)
    return np.asarray((turn + np.pi) % (2.0 * np.pi) - np.pi)
