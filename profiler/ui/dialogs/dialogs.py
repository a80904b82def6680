"""The few questions the window asks, each a function that returns a choice, so that tests can answer them."""

from collections.abc import Sequence
from enum import Enum, auto
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QDialog, QFileDialog, QMessageBox, QWidget

from profiler.study.files.file import SUFFIX
from profiler.ui.dialogs.ask_file import file_filters, with_suffix

if TYPE_CHECKING:
    from profiler.ui.dialogs.export_dialog import ExportChoice


class Unsaved(Enum):
    SAVE = auto()
    DISCARD = auto()
    CANCEL = auto()


def ask_unsaved(parent: QWidget, name: str) -> Unsaved:
    box = QMessageBox(parent)
    box.setIcon(QMessageBox.Icon.Question)
    box.setWindowTitle("Unsaved changes")
    box.setText(f"{name} has changes that are not saved.")
    save = box.addButton("Save", QMessageBox.ButtonRole.AcceptRole)
    drop = box.addButton("Do not save", QMessageBox.ButtonRole.DestructiveRole)
    stay = box.addButton("Cancel", QMessageBox.ButtonRole.RejectRole)
    box.setDefaultButton(save)
    box.setEscapeButton(stay)
    box.exec()
    clicked = box.clickedButton()
    if clicked is save:
        return Unsaved.SAVE
    return Unsaved.DISCARD if clicked is drop else Unsaved.CANCEL


def ask_open(parent: QWidget, folder: Path) -> Path | None:
    name, _ = QFileDialog.getOpenFileName(parent, "Open a study", str(folder), f"Studies (*{SUFFIX});;All files (*)")
    return Path(name) if name else None


def ask_save(parent: QWidget, suggestion: Path) -> Path | None:
    name, _ = QFileDialog.getSaveFileName(parent, "Save the study", str(suggestion), f"Studies (*{SUFFIX})")
    return with_suffix(name, SUFFIX)


def tell_error(parent: QWidget, title: str, sentence: str) -> None:
    QMessageBox.warning(parent, title, sentence)


def tell_note(parent: QWidget, title: str, sentence: str) -> None:
    QMessageBox.information(parent, title, sentence)


def ask_replace(parent: QWidget, name: str, folder: Path) -> bool:
    """Whether a file that is there already may be written over."""
    offer = "Replace it", QMessageBox.ButtonRole.DestructiveRole
    return _agreed(parent, "Replace the file?", f"{name} is in {folder} already.", offer, "Keep it")


def ask_export(parent: QWidget, proposed: "ExportChoice", stops: int = 0) -> "ExportChoice | None":
    """Path, kind of output and what is asked of it at once; None when cancelled."""
    from profiler.ui.dialogs.export_dialog import ExportDialog

    dialog = ExportDialog(parent, proposed, stops)
    return dialog.choice if dialog.exec() == QDialog.DialogCode.Accepted else None


def ask_output(parent: QWidget, title: str, suggestion: Path, suffixes: Sequence[str]) -> Path | None:
    """Where a file goes that can be of several types: the type of the suggestion is offered first.

    Whether an older file may be replaced is asked by the caller, once, for all files that will be written.
    """
    offers = file_filters(suffixes)
    first = next(words for words, suffix in offers.items() if suffix == suggestion.suffix)
    name, chosen = QFileDialog.getSaveFileName(
        parent, title, str(suggestion), ";;".join(offers), first, QFileDialog.Option.DontConfirmOverwrite
    )
    if name and Path(name).suffix.lower() in suffixes:
        return Path(name)
    return with_suffix(name, offers.get(chosen, suggestion.suffix))


def ask_folder(parent: QWidget, title: str, folder: Path) -> Path | None:
    name = QFileDialog.getExistingDirectory(parent, title, str(folder))
    return Path(name) if name else None


def ask_shrink(parent: QWidget, sheet: str, page: str) -> bool:
    """Whether a sheet larger than the printer's paper shall be printed smaller than its scale says."""
    words = "Printed smaller it is not to scale; the sheet says so."
    text = f"The sheet is {sheet}, the paper of the printer {page}. {words}"
    offer = "Print it smaller", QMessageBox.ButtonRole.AcceptRole
    return _agreed(parent, "The paper is too small", text, offer, "Do not print")


def _agreed(parent: QWidget, title: str, text: str, offer: tuple[str, QMessageBox.ButtonRole], stay: str) -> bool:
    """Whether the offer was taken; to leave things as they are is the default, and Escape's."""
    box = QMessageBox(parent)
    box.setIcon(QMessageBox.Icon.Question)
    box.setWindowTitle(title)
    box.setText(text)
    taken = box.addButton(*offer)
    left = box.addButton(stay, QMessageBox.ButtonRole.RejectRole)
    box.setDefaultButton(left)
    box.setEscapeButton(left)
    box.exec()
    return box.clickedButton() is taken
