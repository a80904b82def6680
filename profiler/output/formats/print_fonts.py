"""The fonts of sheets and pictures on paper, as matplotlib takes them.

`fonts/print` holds the program's fonts without the tables that shape text (kerning, ligatures, mathematics): a sheet
is laid out by plain widths, so what is drawn is as wide as was reckoned, searched text has its own letters, and a page
of text takes two thirds of the time (measured: the report 3.7 s with them, 2.8 s without).
"""

from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

from profiler.pictures.sheet.lettering import BOLD_FONT, FONT

if TYPE_CHECKING:
    from matplotlib.font_manager import FontProperties


@cache
def print_font(points: float, bold: bool = False) -> "FontProperties":
    """A font of the size (em in points)."""
    from matplotlib.font_manager import FontProperties

    path = files("profiler.data") / "fonts" / "print" / (BOLD_FONT if bold else FONT)
    return FontProperties(fname=str(path), size=points)
