"""What every DXF of the program has in common: an empty millimetre document, plain texts, chains as lines and arcs.

Readers differ: some look at $INSUNITS, some only at $MEASUREMENT, some at the header's extents and some at the
layout's, so all are set. R2000 is read alike by all; R12 knows neither $INSUNITS nor line widths.
"""

import io
import re
import unicodedata
from collections.abc import Iterable
from typing import TYPE_CHECKING

from profiler.output.formats.segments import ArcSegment, Point, Segment

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.base import BaseLayout

LONGEST_NAME = 60
CODES = {"Ø": "%%c", "°": "%%d", "±": "%%p", "µ": "u", "−": "-", "–": "-", "×": "x", "≥": ">=", "≤": "<="}


def new_document(version: str, low: Point, high: Point, line_scale: float = 1.0) -> "Drawing":
    """An empty document whose model will lie between two corners."""
    from ezdxf import units
    from ezdxf.filemanagement import new

    document = new(version, setup=False)
    document.units = 0 if version == "R12" else units.MM
    settings = (("$MEASUREMENT", 1), ("$LUNITS", 2), ("$LUPREC", 3), ("$AUNITS", 0), ("$LTSCALE", line_scale))
    for name, value in settings:
        if version != "R12" or name != "$MEASUREMENT":
            document.header[name] = value
    document.styles.add("ISO", font="isocp.shx")
    document.modelspace().reset_extents((*low, 0.0), (*high, 0.0))
    document.header["$EXTMIN"], document.header["$EXTMAX"] = (*low, 0.0), (*high, 0.0)
    centre = (0.5 * (low[0] + high[0]), 0.5 * (low[1] + high[1]))
    document.set_modelspace_vport(1.1 * max(high[1] - low[1], 1e-3), centre)
    return document


def document_bytes(document: "Drawing") -> bytes:
    stream = io.StringIO()
    document.write(stream)
    return document.encode(stream.getvalue())


def add_segments(space: "BaseLayout", segments: Iterable[Segment], layer: str) -> None:
    attributes = {"layer": layer}
    for segment in segments:
        if isinstance(segment, ArcSegment):
            angles = (segment.start_deg, segment.end_deg)
            space.add_arc(segment.centre, segment.radius, *angles, is_counter_clockwise=True, dxfattribs=attributes)
        else:
            space.add_line(segment.start, segment.end, dxfattribs=attributes)


def in_ascii(text: str, longest: int = LONGEST_NAME) -> str:
    """Plain letters for any text: accents go, what has no plain letter becomes a question mark."""
    plain = "".join(c for c in unicodedata.normalize("NFKD", text) if not unicodedata.combining(c))
    plain = re.sub(r"\s+", " ", plain).strip()
    plain = plain.replace("\\", "/").replace("^", " ").replace("%%", "%")  # each starts a code of the format
    return re.sub(r"[^ -~]", "?", plain)[:longest]


def cad_text(text: str) -> str:
    """The same for the texts of a sheet, with the format's own codes for diameter, degree and plus-minus."""
    parts = re.split(f"([{''.join(CODES)}])", text)
    return "".join(CODES.get(part) or _spaced(part) for part in parts)


def _spaced(text: str) -> str:
    """In plain letters, spaces at its ends kept."""
    before, after = text[: len(text) - len(text.lstrip())], text[len(text.rstrip()) :]
    return f"{before}{in_ascii(text, len(text) * 4)}{after}" if text.strip() else text
