"""Which table to read: one question, as a function, so that tests can answer it."""

from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget


def ask_table(parent: QWidget) -> Path | None:
    """A table of text, or None when cancelled."""
    chosen, _ = QFileDialog.getOpenFileName(parent, "Import runs", "", "Tables (*.csv *.tsv *.txt);;All files (*)")
    return Path(chosen) if chosen else None
