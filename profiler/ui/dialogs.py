"""The few questions the window asks, each a function that returns a choice, so that tests can answer them."""

from enum import Enum, auto
from pathlib import Path

from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFileDialog,
    QFormLayout,
    QLabel,
    QLineEdit,
    QMessageBox,
    QWidget,
)  # fmt: skip

from ..study.file import SUFFIX


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
    return _with_suffix(name, SUFFIX)


def tell_error(parent: QWidget, title: str, sentence: str) -> None:
    QMessageBox.warning(parent, title, sentence)


class ExportDialog(QDialog):
    """Where the section goes, and whether half or full."""

    def __init__(self, parent: QWidget, suggestion: Path, full: bool, stops: int = 0) -> None:
        super().__init__(parent)
        self.setWindowTitle("Export section")
        form = QFormLayout(self)
        self.path = QLineEdit(str(suggestion))
        self.path.setMinimumWidth(380)
        choose = self.path.addAction(
            self.style().standardIcon(self.style().StandardPixmap.SP_DirOpenIcon),
            QLineEdit.ActionPosition.TrailingPosition,
        )
        choose.setToolTip("Choose a folder and name")
        choose.triggered.connect(self._choose)
        self.half = QComboBox()
        self.half.addItem("Half section (for turning)", False)
        self.half.addItem("Full section", True)
        self.half.setCurrentIndex(1 if full else 0)
        what = QLabel(
            "DXF, 1:1 in millimetres, lines and arcs only: X is the radius, Y the height above the inner floor."
        )
        what.setWordWrap(True)
        form.addRow("File", self.path)
        form.addRow("Section", self.half)
        form.addRow(what)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Save | QDialogButtonBox.StandardButton.Cancel)
        buttons.button(QDialogButtonBox.StandardButton.Save).setText("Export anyway" if stops else "Export")
        if stops:
            many = "1 stop finding stands" if stops == 1 else f"{stops} stop findings stand"
            warning = QLabel(f"<b>{many}</b> against this design: it cannot be built, does not fit or must not run.")
            warning.setWordWrap(True)
            form.addRow(warning)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        form.addRow(buttons)

    @property
    def target(self) -> Path:
        return _with_suffix(self.path.text().strip(), ".dxf") or Path("section.dxf")

    @property
    def full(self) -> bool:
        return bool(self.half.currentData())

    def _choose(self) -> None:
        name, _ = QFileDialog.getSaveFileName(self, "Export section", self.path.text(), "DXF drawings (*.dxf)")
        if name:
            self.path.setText(str(_with_suffix(name, ".dxf")))


def ask_replace(parent: QWidget, name: str, folder: Path) -> bool:
    """Whether a file that is there already may be written over."""
    box = QMessageBox(parent)
    box.setIcon(QMessageBox.Icon.Question)
    box.setWindowTitle("Replace the file?")
    box.setText(f"{name} is in {folder} already.")
    replace = box.addButton("Replace it", QMessageBox.ButtonRole.DestructiveRole)
    keep = box.addButton("Keep it", QMessageBox.ButtonRole.RejectRole)
    box.setDefaultButton(keep)
    box.setEscapeButton(keep)
    box.exec()
    return box.clickedButton() is replace


def ask_export(parent: QWidget, suggestion: Path, full: bool, stops: int = 0) -> tuple[Path, bool] | None:
    """Path and whether the full section; None when cancelled."""
    dialog = ExportDialog(parent, suggestion, full, stops)
    if dialog.exec() != QDialog.DialogCode.Accepted:
        return None
    return dialog.target, dialog.full


def _with_suffix(name: str, suffix: str) -> Path | None:
    if not name:
        return None
    path = Path(name)
    return path if path.suffix.lower() == suffix else path.with_name(path.name + suffix)
