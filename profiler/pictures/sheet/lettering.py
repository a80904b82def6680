"""How wide a text comes out, from the widths in the font file itself: what places texts must not guess.

The font is the one every writer of the program uses. Heights are those of capital letters, as drawings state them
(ISO 3098 series 1.8, 2.5, 3.5, 5, 7 mm).
"""

import re
import struct
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files

FONT, BOLD_FONT = "DejaVuSans.ttf", "DejaVuSans-Bold.ttf"
EM_PER_CAPITAL = 2048.0 / 1493.0  # of this font: its H is 1493 of 2048 units high
DESCENT, ASCENT = 0.30, 1.02  # below the base line and above it, of the capital height
# What a CAD program shows instead of a font it lacks: advance widths of a plain stroke font from the space to ~, in
# hundredths of the capital height; measured on the widest of those that come with a free CAD program.
STROKES = (
    75, 43, 71, 105, 100, 119, 129, 43, 67, 67, 81, 119, 43, 119, 43, 119, 100, 57, 100, 100, 105, 100, 95, 100, 100,
    95, 43, 43, 110, 119, 110, 90, 133, 110, 100, 105, 100, 95, 95, 105, 100, 33, 81, 100, 90, 110, 100, 110, 100, 110,
    100, 100, 100, 100, 110, 129, 100, 110, 100, 67, 100, 67, 81, 110, 43, 90, 90, 90, 90, 90, 71, 90, 86, 43, 62, 86,
    33, 138, 86, 95, 90, 90, 71, 86, 71, 86, 90, 110, 86, 95, 86, 57, 33, 57, 119,
)  # fmt: skip
OTHER_STROKES = 1.19  # of the capital height: the widest sign beside the letters


@dataclass(frozen=True, slots=True)
class Font:
    """Advance widths in shares of the em, by character; others have the width of the missing-glyph box."""

    widths: dict[str, float]
    missing: float


@lru_cache(maxsize=8192)
def text_width(text: str, height: float, bold: bool = False) -> float:
    """mm, for a capital height in mm."""
    found = font(bold)
    return sum(found.widths.get(c, found.missing) for c in text) * height * EM_PER_CAPITAL


def wider_width(text: str, height: float) -> float:
    """mm: the width in the program's font or in a stroke font, whichever is wider."""
    strokes = sum(STROKES[ord(c) - 32] / 100.0 if " " <= c <= "~" else OTHER_STROKES for c in text)
    return max(text_width(text, height), strokes * height)


def font_bytes(bold: bool = False) -> bytes:
    return (files("profiler.data") / "fonts" / (BOLD_FONT if bold else FONT)).read_bytes()


_BREAKS = re.compile("[ \t\r\n]+")  # the other spaces hold together what they stand in, as the digits of a number


def wrapped(text: str, height: float, width: float, in_any_font: bool = False, bold: bool = False) -> list[str]:
    """Lines that fit the width, or fit it `in_any_font` a CAD program may use; a single word that does not is cut."""
    lines: list[str] = []

    def measured(line: str, height: float) -> float:
        return wider_width(line, height) if in_any_font else text_width(line, height, bold)

    for word in filter(None, _BREAKS.split(text)):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and measured(longer, height) <= width:
            lines[-1] = longer
        else:
            lines.append(cut(word, height, width, bold))
    return lines


def cut(text: str, height: float, width: float, bold: bool = False) -> str:
    """The text, shortened by two dots where it is too long."""
    if text_width(text, height, bold) <= width:
        return text
    while text and text_width(text + "..", height, bold) > width:
        text = text[:-1]
    return text + ".."


def fitting(
    text: str, width: float, heights: tuple[float, ...] = (5.0, 3.5, 2.5, 1.8), bold: bool = False
) -> tuple[str, float]:
    """The text and the largest of the heights at which it fits; at the smallest it is cut."""
    for height in heights:
        if text_width(text, height, bold) <= width:
            return text, height
    return cut(text, heights[-1], width, bold), heights[-1]


@cache
def font(bold: bool = False) -> Font:
    """Widths from the tables of a TrueType file (ISO/IEC 14496-22: head, hhea, hmtx, cmap format 4)."""
    data = font_bytes(bold)
    tables = _tables(data)
    units = struct.unpack_from(">H", data, tables["head"] + 18)[0]
    counted = struct.unpack_from(">H", data, tables["hhea"] + 34)[0]
    advances = [struct.unpack_from(">H", data, tables["hmtx"] + 4 * k)[0] / units for k in range(counted)]
    glyphs = _characters(data, tables["cmap"])
    widths = {chr(code): advances[min(glyph, counted - 1)] for code, glyph in glyphs.items()}
    return Font(widths, advances[0])


def _tables(data: bytes) -> dict[str, int]:
    count = struct.unpack_from(">H", data, 4)[0]
    entries = (struct.unpack_from(">4sLLL", data, 12 + 16 * k) for k in range(count))
    return {tag.decode("ascii"): offset for tag, _, offset, _ in entries}


def _characters(data: bytes, cmap: int) -> dict[int, int]:
    """Glyph of each character of the first sixteen-bit plane."""
    count = struct.unpack_from(">H", data, cmap + 2)[0]
    starts = [cmap + struct.unpack_from(">HHL", data, cmap + 4 + 8 * k)[2] for k in range(count)]
    table = next(s for s in starts if struct.unpack_from(">H", data, s)[0] == 4)
    segments = struct.unpack_from(">H", data, table + 6)[0] // 2
    layout = f">{segments}H"
    at = [table + 14, table + 16 + 2 * segments, table + 16 + 4 * segments, table + 16 + 6 * segments]
    ends, starts_, deltas, offsets = (struct.unpack_from(layout, data, place) for place in at)
    found: dict[int, int] = {}
    for k in range(segments):
        for code in range(starts_[k], min(ends[k], 0xFFFE) + 1):
            glyph = code
            if offsets[k]:
                glyph = struct.unpack_from(">H", data, at[3] + 2 * k + offsets[k] + 2 * (code - starts_[k]))[0]
                if not glyph:
                    continue
            found[code] = (glyph + deltas[k]) % 65536
    return found
