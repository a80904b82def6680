"""The profile DXF: the section as a closed chain of lines and arcs, for a lathe or a pattern maker.

Model space only, 1:1 in millimetres, R2000; no splines, blocks, hatches or dimensions, which some shops' readers drop
or mangle. X is the radius, Y the height above the inner floor. The dimensioned sheet is not here.
"""

import io
import re
import unicodedata
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from ..assess.shape import Shape
from ..geometry.chain import Chain, sampled
from ..study.file import write_whole
from .segments import ArcSegment, Segment, is_closed, segments_of

if TYPE_CHECKING:
    from ezdxf.document import Drawing

OUTLINE = "OUTLINE"
TEXT = "TEXT"
LARGEST_TEXT_MM = 5.0
LINE_PITCH = 1.6  # of the text height
LONGEST_NAME = 60


@dataclass(frozen=True, slots=True)
class Written:
    """What a profile file holds. `closed`: every chain in it, told from the segments as written."""

    lines: int
    arcs: int
    closed: bool


def write_profile(path: Path, shape: Shape, *, design: str = "", stops: int = 0, full: bool = False) -> Written:
    """Write the half section, or both halves with `full`, whole or not at all.

    A bowl has a hub hole, so its full section is two closed chains, mirror images of each other. `stops` is the number
    of `stop` findings, which the file then states. Raises BowlFileError where the path cannot be written.
    """
    chains = [shape.outline, shape.outline.mirrored()] if full else [shape.outline]
    loops = [segments_of(chain) for chain in chains]
    document = _new_document(chains)
    _add_loops(document, loops)
    _add_text(document, shape, _statements(shape, design, stops, full))
    stream = io.StringIO()
    document.write(stream)
    write_whole(path, document.encode(stream.getvalue()))
    every = [segment for loop in loops for segment in loop]
    arcs = sum(isinstance(segment, ArcSegment) for segment in every)
    return Written(len(every) - arcs, arcs, all(is_closed(loop) for loop in loops))


def in_ascii(text: str) -> str:
    """Plain letters for any text: accents go, what has no plain letter becomes a question mark."""
    plain = "".join(c for c in unicodedata.normalize("NFKD", text) if not unicodedata.combining(c))
    plain = re.sub(r"\s+", " ", plain).strip()
    plain = plain.replace("\\", "/").replace("^", " ").replace("%%", "%")  # each starts a code of the format
    return re.sub(r"[^ -~]", "?", plain)[:LONGEST_NAME]


def _new_document(chains: list[Chain]) -> "Drawing":
    """An empty millimetre drawing with its layers and extents.

    Readers differ: some look at $INSUNITS, some only at $MEASUREMENT, some at the header's extents and some at the
    layout's, so all are set.
    """
    from ezdxf import units
    from ezdxf.filemanagement import new

    document = new("R2000", setup=False)
    document.units = units.MM
    for name, value in (("$MEASUREMENT", 1), ("$LUNITS", 2), ("$LUPREC", 3), ("$AUNITS", 0), ("$LTSCALE", 1.0)):
        document.header[name] = value
    document.layers.add(OUTLINE, lineweight=50)
    document.layers.add(TEXT, lineweight=35)
    document.styles.add("ISO", font="isocp.shx")
    low, high = _extents(chains)
    document.modelspace().reset_extents((*low, 0.0), (*high, 0.0))
    document.header["$EXTMIN"], document.header["$EXTMAX"] = (*low, 0.0), (*high, 0.0)
    centre = (0.5 * (low[0] + high[0]), 0.5 * (low[1] + high[1]))
    document.set_modelspace_vport(1.1 * (high[1] - low[1]), centre)
    return document


def _extents(chains: list[Chain]) -> tuple[tuple[float, float], tuple[float, float]]:
    points = np.concatenate([sampled(chain, 1e-5) for chain in chains])
    low, high = points.min(axis=0), points.max(axis=0)
    return (float(low[0]), float(low[1])), (float(high[0]), float(high[1]))


def _add_loops(document: "Drawing", loops: list[list[Segment]]) -> None:
    space = document.modelspace()
    attributes = {"layer": OUTLINE}
    for segment in (s for loop in loops for s in loop):
        if isinstance(segment, ArcSegment):
            angles = (segment.start_deg, segment.end_deg)
            space.add_arc(segment.centre, segment.radius, *angles, is_counter_clockwise=True, dxfattribs=attributes)
        else:
            space.add_line(segment.start, segment.end, dxfattribs=attributes)


def _statements(shape: Shape, design: str, stops: int, full: bool) -> list[str]:
    tall = shape.height - shape.shell.underside
    lines = [
        f"BOWL PROFILE, {'FULL' if full else 'HALF'} SECTION, 1:1",
        f"DESIGN: {in_ascii(design) or '-'}",
        "ALL DIMENSIONS IN mm",
        "X = RADIUS FROM SPIN AXIS, Y = HEIGHT",
        "HEIGHTS FROM INNER FLOOR",
        f"CHECK DIMENSION: OVERALL HEIGHT {tall:.3f} mm",
        "SLURRY MODEL: UNCALIBRATED",
        "SPINNING BOWLS CAN KILL: FIGURES FOR SCREENING ONLY,",
        "A LICENSED ENGINEER CHECKS THEM UNDER LOCAL CODES",
    ]
    if stops:
        lines.append(f"NOT CHECKED: {stops} stop finding{'' if stops == 1 else 's'}")
    return lines


def _add_text(document: "Drawing", shape: Shape, lines: list[str]) -> None:
    """Lines of text in the bowl's empty middle, between hub hole and wall: the extents stay those of the section."""
    left = shape.shell.hub_radius
    width = float(np.min(shape.edge.points[:, 0])) - left
    fits = min(width / (max(len(line) for line in lines) + 2), shape.height / (LINE_PITCH * (len(lines) + 2)))
    height = min(LARGEST_TEXT_MM, max(fits, 0.1))
    space = document.modelspace()
    for number, line in enumerate(lines):
        y = height * LINE_PITCH * (len(lines) - number)
        attributes = {"layer": TEXT, "style": "ISO", "insert": (left + height, y)}
        space.add_text(line, height=height, dxfattribs=attributes)
