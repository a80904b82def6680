"""A drag, recomputed and repainted with every move: in a process of its own for each screen, since the scale is one's.

`python -m tests.benchmarks.drag WIDTH HEIGHT COUNT` prints each move's and each plain redraw's times as JSON; the plain
panels have as many pixels as the window, and take turns with the moves.
"""

import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import numpy as np
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from profiler.pictures.strips import angle_strip
from profiler.ui.document.document import Document
from profiler.ui.files.settings import Settings
from profiler.ui.widgets.theme import LIGHT, dress
from profiler.ui.window import Window
from tests.benchmarks.bowls import forty
from tests.benchmarks.plain import redraws
from tests.benchmarks.rows import Row, Took, timed

SCREENS = ((1400, 900, 1, 9.0), (2560, 1440, 1, 13.0), (1280, 720, 2, 13.0))  # logical size, scale, median asked in ms
AIM_P99_MS = 16.0
WARM, EVERY = 20, 20  # moves before the first that counts; moves from one plain redraw to the next


def drags(count: int) -> list[Row]:
    return [_row(width, height, scale, asked, count) for width, height, scale, asked in SCREENS]


def _row(width: int, height: int, scale: int, asked: float, count: int) -> Row:
    done = subprocess.run(
        [sys.executable, "-m", "tests.benchmarks.drag", str(width), str(height), str(count)],
        env=os.environ | {"QT_SCALE_FACTOR": str(scale)}, capture_output=True, text=True, timeout=900, check=True,
    )  # fmt: skip
    moves, plain = (tuple(Took(*pair) for pair in part) for part in json.loads(done.stdout.splitlines()[-1]))
    what = f"drag, all strips at {width}x{height}" + (f", scale {scale}" if scale != 1 else "")
    return Row(what, moves, asked, AIM_P99_MS, plain)


def drag(width: int, height: int, count: int) -> tuple[list[Took], list[Took]]:
    """Each mouse move while a knot is held (recompute and repaint of all strips), and each plain redraw."""
    app = QApplication.instance() or QApplication([])
    assert isinstance(app, QApplication)
    dress(app, LIGHT)
    with tempfile.TemporaryDirectory() as folder:
        document = Document(forty())
        window = Window(document, Settings.in_file(Path(folder) / "settings.ini"))
        window.resize(width, height)
        window.show()
        app.processEvents()
        scale = window.devicePixelRatio()
        plain = redraws(round(width * scale), round(height * scale), 1)
        published: list[object] = []
        document.evaluated.connect(published.append)
        strip = window.page.angle
        handle = next(h for h in angle_strip.handles(strip.scene, strip.scale()) if h.knot == 1)
        centre = QPoint(round(handle.x), round(handle.y))
        QTest.mousePress(strip, Qt.MouseButton.LeftButton, pos=centre)
        moves, redrawn = _moves(lambda at: _move(app, strip, at), plain, centre, count)
        QTest.mouseRelease(strip, Qt.MouseButton.LeftButton, pos=centre)
        assert len(published) > 0.8 * count, "a move did not lead to an evaluation"
        document.adopt(document.study)
        window.close()
        window.deleteLater()
        app.processEvents()
    return moves, redrawn


def _moves(
    move: Callable[[QPoint], None], plain: Callable[[], tuple[Took, ...]], centre: QPoint, count: int
) -> tuple[list[Took], list[Took]]:
    moves, redrawn = [], []
    for i in range(count + WARM):
        at = centre + QPoint(round(30 * np.sin(i / 9.0)) + 5, round(30 * np.cos(i / 7.0)))
        moves.append(timed(lambda at=at: move(at)))
        if i % EVERY == 0:
            redrawn += plain()
    return moves[WARM:], redrawn


def _move(app: QApplication, widget: QWidget, at: QPoint) -> None:
    place = QPointF(at), QPointF(widget.mapToGlobal(at))
    button, none = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    QApplication.sendEvent(widget, QMouseEvent(QEvent.Type.MouseMove, *place, Qt.MouseButton.NoButton, button, none))
    app.processEvents()  # the evaluation that waits for its turn
    app.processEvents()  # and the paint it asked for


if __name__ == "__main__":
    print(json.dumps(drag(*(int(word) for word in sys.argv[1:4]))))
