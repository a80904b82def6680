"""Sheets as matplotlib pages at true scale: a PDF of one or more pages, or a PNG of one.

One millimetre of the sheet is 72/25.4 points of the page, line widths and dashes too; text is embedded TrueType.
"""

import io
from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING

import numpy as np

from profiler.geometry.beziers import curves_of
from profiler.geometry.chain import Chain, FloatArray
from profiler.output.formats.print_fonts import print_font
from profiler.pictures.basics.palette import SHEET_INK, SHEET_PAPER
from profiler.pictures.sheet.items import Path, Pen, Sheet, Text
from profiler.pictures.sheet.lettering import EM_PER_CAPITAL
from profiler.pictures.sheet.plain import plain
from profiler.progress import SILENT, Progress

if TYPE_CHECKING:
    from matplotlib.backend_bases import RendererBase
    from matplotlib.figure import Figure
    from matplotlib.path import Path as Curve
    from matplotlib.transforms import Transform

MM_PER_INCH = 25.4
POINTS_PER_MM = 72.0 / MM_PER_INCH
MOST_PIXELS = 200e6  # of a PNG: 600 MB in memory while it is drawn
PROGRAM = "Bowl Profiler"


def sheets_pdf(
    sheets: Sequence[Sheet], title: str, author: str = "", made: datetime | None = None, progress: Progress = SILENT
) -> bytes:
    """The bytes of a PDF with a page per sheet."""
    import matplotlib
    from matplotlib.backends.backend_pdf import PdfPages

    stream = io.BytesIO()
    about = {"Title": title, "Author": author, "Creator": PROGRAM, "CreationDate": made}
    with matplotlib.rc_context({"pdf.fonttype": 42, "path.simplify": False}), PdfPages(stream, metadata=about) as pages:
        for number, sheet in enumerate(sheets):
            progress.at(number / len(sheets))
            pages.savefig(page(sheet))
    progress.at(1.0)
    if not any(sheet.marks or sheet.links for sheet in sheets):
        return stream.getvalue()
    from profiler.output.formats.pdf_marks import with_marks

    return with_marks(stream.getvalue(), sheets)


def sheet_png(sheet: Sheet, dots_per_inch: float = 150.0) -> bytes:
    """The bytes of a PNG, black on white. Raises ValueError where it would be more than can be worked with."""
    across, up = (side / MM_PER_INCH * dots_per_inch for side in (sheet.width, sheet.height))
    if across * up > MOST_PIXELS:
        most = int(dots_per_inch * (MOST_PIXELS / (across * up)) ** 0.5)
        raise ValueError(
            f"at {dots_per_inch:.0f} dpi the sheet would have {across * up / 1e6:.0f} megapixels; "
            f"{MOST_PIXELS / 1e6:.0f} is the most: ask for {most} dpi or less, or for a PDF."
        )
    import matplotlib

    stream = io.BytesIO()
    with matplotlib.rc_context({"path.simplify": False, "text.hinting": "no_hinting"}):
        figure = page(sheet)
        figure.patch.set_visible(True)
        figure.patch.set_facecolor(SHEET_PAPER)
        figure.savefig(stream, format="png", dpi=dots_per_inch)
    return stream.getvalue()


def page(sheet: Sheet) -> "Figure":
    """A figure as large as the sheet with everything of it."""
    from matplotlib.collections import LineCollection, PolyCollection
    from matplotlib.figure import Figure
    from matplotlib.transforms import Affine2D

    figure = Figure(figsize=(sheet.width / MM_PER_INCH, sheet.height / MM_PER_INCH))
    figure.patch.set_visible(False)
    on_paper = Affine2D().scale(1.0 / MM_PER_INCH) + figure.dpi_scale_trans
    drawn = plain(sheet)
    for placed in drawn.pictures:
        from profiler.output.formats.picture_page import add_picture

        add_picture(figure, placed, on_paper)
    for lines in drawn.hatches:
        width = Pen.HATCH.style.width * POINTS_PER_MM
        figure.add_artist(LineCollection(list(lines), linewidths=width, colors=SHEET_INK, transform=on_paper))
    for path in drawn.paths:
        _add_path(figure, path, on_paper)
    if drawn.arrows:
        heads = [arrow.corners for arrow in drawn.arrows]
        figure.add_artist(PolyCollection(heads, facecolors=SHEET_INK, linewidths=0.0, transform=on_paper))
    add_texts(figure, drawn.texts, on_paper)
    return figure


def add_texts(figure: "Figure", texts: Sequence[Text], on_paper: "Transform") -> None:
    """All texts as one artist: their places and widths are known, so nothing has to be laid out again."""
    from matplotlib.artist import Artist

    class Lettering(Artist):
        def draw(self, renderer: "RendererBase") -> None:
            gc = renderer.new_gc()
            gc.set_foreground(SHEET_INK)
            height = figure.bbox.height
            for text in texts:
                font = print_font(text.height * EM_PER_CAPITAL * POINTS_PER_MM, text.bold)
                x, y = self.get_transform().transform(text.base_line[0])
                y = height - y if renderer.flipy() else y
                renderer.draw_text(gc, x, y, text.text, font, text.angle_deg)
            gc.restore()

    lettering = Lettering()
    lettering.set_transform(on_paper)
    figure.add_artist(lettering)


def curve_of(chain: Chain) -> "Curve":
    """A chain as a path of straight lines and Bezier curves."""
    from matplotlib.path import Path as Curve

    start = chain.points[0]
    points: list[FloatArray] = [start[None]]
    codes: list[np.uint8] = [Curve.MOVETO]
    for found in curves_of(chain):
        points.append(found)
        codes += [Curve.CURVE4 if len(found) > 1 else Curve.LINETO] * len(found)
    if chain.closed:
        points.append(start[None])
        codes.append(Curve.CLOSEPOLY)
    return Curve(np.concatenate(points), codes)


def _add_path(figure: "Figure", path: Path, on_paper: "Transform") -> None:
    from matplotlib.patches import PathPatch

    style = path.pen.style
    dashes: object = "solid"
    if style.dashes:
        dashes = (0.0, tuple(d / style.width for d in style.dashes))  # matplotlib counts in line widths
    patch = PathPatch(
        curve_of(path.chain), fill=False, edgecolor=SHEET_INK, linewidth=style.width * POINTS_PER_MM,
        linestyle=dashes, capstyle="butt", joinstyle="round", transform=on_paper,
    )  # fmt: skip
    figure.add_artist(patch)
