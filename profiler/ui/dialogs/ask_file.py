"""Where files go: names with their types, and one question, as a function, so that tests can answer it."""

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget


def ask_file(parent: QWidget, title: str, name: str, suffix: str) -> Path | None:
    """A path with this suffix (without its point), or None when cancelled."""
    chosen, _ = QFileDialog.getSaveFileName(parent, title, name, ";;".join(file_filters((f".{suffix}",))))
    return with_suffix(chosen, f".{suffix}")


def file_filters(suffixes: Sequence[str]) -> dict[str, str]:
    """The words of a file dialog for each type, and the type."""
    return {f"{suffix[1:].upper()} files (*{suffix})": suffix for suffix in suffixes}


def with_suffix(name: str, suffix: str) -> Path | None:
    """The path with this suffix added where it has another; None for no name."""
    if not name:
        return None
    path = Path(name)
    return path if path.suffix.lower() == suffix else path.with_name(path.name + suffix)
