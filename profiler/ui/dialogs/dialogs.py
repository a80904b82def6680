"""The few questions the window asks, each a function that returns a choice, so that tests can answer them."""

from collections.abc import Sequence
from enum import Enum, auto
from html import escape
from pathlib import Path
from platform import python_version
from typing import TYPE_CHECKING

from PySide6.QtCore import qVersion
from PySide6.QtWidgets import QDialog, QFileDialog, QWidget

from profiler import __version__
from profiler.assess.cautions import Caution
from profiler.assess.checks.check_fit import SPINNING_CAUTION
from profiler.study.files.file import SUFFIX
from profiler.ui.dialogs import box
from profiler.ui.dialogs.ask_file import file_filters, with_suffix
from profiler.ui.files import folders

if TYPE_CHECKING:
    from profiler.study import Machine
    from profiler.ui.dialogs.export_dialog import ExportChoice
    from profiler.ui.dialogs.new_study import NewStudy

ABOUT_PX = 600
ABOUT = "Shapes the wall of a spinning bowl against the angle at which a moving slurry comes to rest."


class Unsaved(Enum):
    SAVE = auto()
    DISCARD = auto()
    CANCEL = auto()


def ask_unsaved(parent: QWidget, name: str) -> Unsaved:
    offers = ((Unsaved.SAVE, "Save"), (Unsaved.DISCARD, "Do not save"), (Unsaved.CANCEL, "Cancel"))
    text = f"{name} has changes that are not saved."
    return box.choose(parent, "Unsaved changes", text, offers, enter=Unsaved.SAVE, escape=Unsaved.CANCEL)


def ask_replace(parent: QWidget, name: str, folder: Path) -> bool:
    """Whether a file that is there already may be written over."""
    return box.agreed(parent, "Replace the file?", f"{name} is in {folder} already.", "Replace it", "Keep it")


def ask_shrink(parent: QWidget, sheet: str, page: str) -> bool:
    """Whether a sheet larger than the printer's paper shall be printed smaller than its scale says."""
    words = "Printed smaller it is not to scale; the sheet says so."
    text = f"The sheet is {sheet}, the paper of the printer {page}. {words}"
    return box.agreed(parent, "The paper is too small", text, "Print it smaller", "Do not print")


def tell_error(parent: QWidget, title: str, sentence: str) -> None:
    box.tell(parent, title, sentence)


def tell_note(parent: QWidget, title: str, sentence: str) -> None:
    box.tell(parent, title, sentence, box.Icon.Information)


def versions() -> str:
    """What runs: Python and Qt."""
    return f"Python {python_version()}, Qt {qVersion()}"


def tell_about(parent: QWidget) -> None:
    text = (
        f"<b>Bowl Profiler {__version__}</b><p>{ABOUT}</p><p>{SPINNING_CAUTION.text}</p>"
        f"<p>{SPINNING_CAUTION.source}.</p>{''.join(f'<p>{caution.words}</p>' for caution in Caution)}"
        f"<p>{versions()}. Licences: Help, “Notices and licences”.</p>"
        f"<p>Recovery copies: {escape(str(folders.recovery()))}<br>Log: {escape(str(folders.log()))}</p>"
    )
    wide = f"<table width='{ABOUT_PX}'><tr><td>{text}</td></tr></table>"  # else it is higher than a small screen
    box.tell(parent, "Bowl Profiler", wide, box.Icon.Information, rich=True)


def ask_new_study(
    parent: QWidget, present: "Machine", listed: "tuple[Machine, ...]", folder: Path
) -> "NewStudy | None":
    """The machine and first duty of a new study; None when cancelled."""
    from profiler.ui.dialogs.new_study import NewStudyDialog

    dialog = NewStudyDialog(parent, present, listed, lambda: ask_open(dialog, folder))
    dialog.exec()
    return dialog.made


# which file


def ask_open(parent: QWidget, folder: Path) -> Path | None:
    name, _ = QFileDialog.getOpenFileName(parent, "Open a study", str(folder), f"Studies (*{SUFFIX});;All files (*)")
    return Path(name) if name else None


def ask_save(parent: QWidget, suggestion: Path) -> Path | None:
    name, _ = QFileDialog.getSaveFileName(parent, "Save the study", str(suggestion), f"Studies (*{SUFFIX})")
    return with_suffix(name, SUFFIX)


def ask_drawing(parent: QWidget) -> Path | None:
    """A drawing to read."""
    name, _ = QFileDialog.getOpenFileName(parent, "Open a drawing", "", "Drawings (*.dxf);;All files (*)")
    return Path(name) if name else None


def ask_profile(parent: QWidget) -> Path | None:
    """A measured profile to read: points, or a drawing."""
    kinds = "Profiles (*.csv *.tsv *.txt *.dxf);;All files (*)"
    name, _ = QFileDialog.getOpenFileName(parent, "Read a measured profile", "", kinds)
    return Path(name) if name else None


def ask_table(parent: QWidget) -> Path | None:
    """A table to read."""
    tables = "Tables (*.csv *.tsv *.txt *.xlsx);;All files (*)"
    name, _ = QFileDialog.getOpenFileName(parent, "Import runs", "", tables)
    return Path(name) if name else None


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
