"""Starts the window. Imports here are what a first paint needs; the rest loads when it is used."""

import sys
from pathlib import Path

from PySide6.QtCore import QLocale, QSettings
from PySide6.QtWidgets import QApplication

from ..study import BowlFileError, read_study
from ..study.examples import DEFAULT, read
from .document import Document
from .theme import LIGHT, dress
from .window import Window


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
    window.show()
    return app.exec()
