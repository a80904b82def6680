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
PLAIN = {
    "ß": "ss", "ẞ": "SS", "æ": "ae", "Æ": "AE", "œ": "oe", "Œ": "OE", "ø": "o", "Ø": "O", "ł": "l", "Ł": "L", "đ": "d",
    "Đ": "D", "ð": "d", "Ð": "D", "þ": "th", "Þ": "Th", "ı": "i", "“": '"', "”": '"', "„": '"', "‘": "'", "’": "'",
    "−": "-", "–": "-", "—": "-", "…": "...", "×": "x", "·": "*",
}  # fmt: skip


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


def plain_letters(text: str, longest: int = LONGEST_NAME) -> str:
    """The text in 7 bits: accents go, ligatures open; a letter with no plain one stays, as its Unicode number."""
    text = "".join(PLAIN.get(c, c) for c in text)
    plain = "".join(c for c in unicodedata.normalize("NFKD", text) if not unicodedata.combining(c))
    plain = re.sub(r"[\t\r\n\v\f]+", " ", plain).strip()
    plain = plain.replace("\\", "/").replace("^", " ").replace("%%", "%")  # each starts a code of the format
    return "".join(map(_letter, plain[:longest]))


def _letter(c: str) -> str:
    if " " <= c <= "~":
        return c
    return f"\\U+{ord(c):04X}" if c.isprintable() and ord(c) < 0x10000 else "?"


def foreign_letters(texts: Iterable[str]) -> str:
    """The letters in texts that have no plain one, each once: some readers show a blank or a code for them."""
    kept = dict.fromkeys(c for text in texts for c in text if re.search(r"\\U\+|\?", cad_text(c)) and c != "?")
    return "".join(kept)


def cad_text(text: str) -> str:
    """The texts of a sheet in 7 bits, with the format's own codes for diameter, degree and plus-minus."""
    parts = re.split(f"([{''.join(CODES)}])", text)
    return "".join(CODES.get(part) or _spaced(part) for part in parts)


def _spaced(text: str) -> str:
    """In plain letters, spaces at its ends kept."""
    before, after = text[: len(text) - len(text.lstrip())], text[len(text.rstrip()) :]
    return f"{before}{plain_letters(text, len(text) * 4)}{after}" if text.strip() else text
