"""Starts the window. Imports here are what a first paint needs; the rest loads when it is used."""

import os
import sys
import time
from pathlib import Path

from PySide6.QtCore import QEvent, QLocale, QObject, QSettings, QTimer
from PySide6.QtWidgets import QApplication, QWidget

from ..study import BowlFileError, read_study
from ..study.examples import DEFAULT, read
from .document import Document
from .theme import LIGHT, dress
from .window import Window

FIRST_PAINT = "BOWL_PROFILER_FIRST_PAINT"  # set to time how long a start takes: see tests/benchmarks


def run(path: Path | None) -> int:
    """Open the window on a study, or on the default example. Returns the exit code."""
    app = QApplication(sys.argv[:1])
    app.setApplicationName("bowl-profiler")
    app.setApplicationDisplayName("Bowl Profiler")
    QLocale.setDefault(QLocale.c())
    QSettings.setDefaultFormat(QSettings.Format.IniFormat)
    dress(app, LIGHT)
    try:
        study = read(DEFAULT) if path is None else read_study(path)
    except BowlFileError as error:
        print(error, file=sys.stderr)
        return 2
    window = Window(Document(study, path), QSettings("bowl-profiler", "bowl-profiler"))
    watch = _FirstPaint(window.page.section) if os.environ.get(FIRST_PAINT) else None
    window.show()
    code = app.exec()
    del watch
    return code


class _FirstPaint(QObject):
    """Tells the system's monotonic time of a widget's first paint, in seconds, and ends the program."""

    def __init__(self, widget: QWidget) -> None:
        super().__init__()
        widget.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Paint:
            watched.removeEventFilter(self)
            QTimer.singleShot(0, self._tell)
        return False

    def _tell(self) -> None:
        print(f"{time.monotonic():.6f}", flush=True)
        QApplication.quit()
