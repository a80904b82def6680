"""Where a page writes: one question, as a function, so that tests can answer it."""

from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget


def ask_file(parent: QWidget, title: str, name: str, suffix: str) -> Path | None:
    """A path with this suffix, or None when cancelled."""
    chosen, _ = QFileDialog.getSaveFileName(parent, title, name, f"{suffix.upper()} files (*.{suffix})")
    if not chosen:
        return None
    path = Path(chosen)
    return path if path.suffix.lower() == f".{suffix}" else path.with_name(f"{path.name}.{suffix}")
