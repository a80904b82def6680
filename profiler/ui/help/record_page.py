"""The model's record as a page to read: its picture, what it rests on, and beside it the film at hand.

The help shows it without a film; the ore map's button opens it beside the window with the film of the duty at hand.
"""

from collections.abc import Sequence
from html import escape

from PySide6.QtCore import QRectF, Qt, QUrl
from PySide6.QtGui import QImage, QKeyEvent, QPainter
from PySide6.QtWidgets import QTextBrowser, QVBoxLayout, QWidget

from profiler.assess import Evaluation
from profiler.assess.evidence.flumes import record
from profiler.assess.evidence.words import PICTURE, RECORD_TITLE, UNCALIBRATED, as_it_stands, paragraphs
from profiler.assess.quantities.likeness import Likeness, likenesses
from profiler.pictures.basics.display import Picture
from profiler.pictures.charts.flume_record import flume_record
from profiler.ui.help.walks import picture
from profiler.ui.widgets.keys import Key, answered, keyed
from profiler.ui.widgets.painter import paint
from profiler.ui.widgets.theme import DARK, LIGHT

IMAGE = "flume-record"
IMAGE_PX = (540, 290)
WALK = "walk-"  # begins the names of the walk-throughs' pictures
WALK_PX = (560, 310)
SHARP = 2  # pixels of the image to each of the page, for fine screens

KEYS: tuple[Key["RecordWindow"], ...] = (keyed("Close the record", lambda w: w.close(), "Esc"),)


class RecordBrowser(QTextBrowser):
    """A browser that knows the pictures of the record and of the walk-throughs by their names."""

    def loadResource(self, kind: int, name: QUrl | str) -> object:
        wanted = name.toString() if isinstance(name, QUrl) else name
        dark = self.palette().base().color().name() == DARK.base
        if wanted == IMAGE:
            return _image(flume_record(record(), *map(float, IMAGE_PX)), IMAGE_PX, dark)
        if wanted.startswith(WALK):
            return _image(picture(wanted.removeprefix(WALK), *map(float, WALK_PX)), WALK_PX, dark)
        return super().loadResource(kind, name)


class RecordWindow(QWidget):
    """A window of its own, left open beside the ore map."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.setWindowTitle(f"{RECORD_TITLE} – Bowl Profiler")
        self.resize(620, 760)
        self.text = RecordBrowser()
        self.text.setAccessibleName(RECORD_TITLE)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.text)

    def show_record(self, e: Evaluation) -> None:
        self.text.setHtml(record_html(e))
        self.show()
        self.activateWindow()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not answered(self, KEYS, event):
            super().keyPressEvent(event)


def record_html(e: Evaluation | None = None) -> str:
    """The page; with an evaluation its film stands beside the measured runs, and what its friction rests on above."""
    found = record()
    stands = UNCALIBRATED if e is None else as_it_stands(UNCALIBRATED, e.duty)
    parts = [f"<h2>{RECORD_TITLE}</h2>", f"<p>Slurry model: <b>{escape(stands)}</b>.</p>"]
    parts.append(f"<p><img src='{IMAGE}' width='{IMAGE_PX[0]}' height='{IMAGE_PX[1]}'></p><p>{escape(PICTURE)}</p>")
    parts += [f"<h3>{escape(head)}</h3><p>{escape(text)}</p>" for head, text in paragraphs(found)]
    flow = None if e is None else e.flow
    parts.append(_table(likenesses(found, flow), "" if e is None else e.duty.name))
    return "".join(parts)


def _table(rows: tuple[Likeness, ...], duty: str) -> str:
    heads = ["", "", "flume runs"]
    if duty and rows[0].film is not None:
        heads += [f"film of {duty}", ""]
    cells = "".join(f"<th align='left'>{escape(h)}&nbsp;&nbsp;</th>" for h in heads)
    body = "".join("<tr>" + "".join(f"<td>{escape(c)}&nbsp;&nbsp;</td>" for c in row.cells[: len(heads)]) + "</tr>"
                   for row in rows)  # fmt: skip
    return f"<h3>What the runs share with a film</h3><table cellpadding='3'><tr>{cells}</tr>{body}</table>"


def _image(pictures: Sequence[Picture], size: tuple[int, int], dark: bool) -> QImage:
    """The pictures side by side."""
    width, height = size
    image = QImage(SHARP * width, SHARP * height, QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(float(SHARP))
    theme = DARK if dark else LIGHT
    image.fill(theme.base)
    with QPainter(image) as painter:
        for shown in pictures:
            painter.save()
            painter.setClipRect(QRectF(0.0, 0.0, shown.width, shown.height))
            paint(painter, shown, theme)
            painter.restore()
            painter.translate(shown.width, 0.0)
    return image
