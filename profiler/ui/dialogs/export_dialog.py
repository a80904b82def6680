"""The question of the quick export: which DXF of the bowl, and where it goes."""

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtWidgets import QComboBox, QDialog, QDialogButtonBox, QFileDialog, QFormLayout, QLabel, QLineEdit, QWidget

PROFILE, DRAWING = "profile", "drawing"
WHAT = {
    PROFILE: "1:1 in millimetres, lines and arcs only: X is the radius, Y the height above the inner floor.",
    DRAWING: "The sheet with dimensions, tables and title block, as it is set up on the Drawing page.",
}


@dataclass(frozen=True, slots=True)
class ExportChoice:
    """`full`: both halves of the profile."""

    path: Path
    full: bool = False
    kind: str = PROFILE


class ExportDialog(QDialog):
    """Where the section goes, whether as bare profile or as drawing, and whether half or full."""

    def __init__(self, parent: QWidget, proposed: ExportChoice, stops: int = 0) -> None:
        super().__init__(parent)
        self.setWindowTitle("Export section")
        form = QFormLayout(self)
        self.path = QLineEdit(str(proposed.path))
        self.path.setMinimumWidth(380)
        choose = self.path.addAction(
            self.style().standardIcon(self.style().StandardPixmap.SP_DirOpenIcon),
            QLineEdit.ActionPosition.TrailingPosition,
        )
        choose.setToolTip("Choose a folder and name")
        choose.triggered.connect(self._choose)
        self.kind = QComboBox()
        self.kind.addItem("Profile (bare outline for the shop)", PROFILE)
        self.kind.addItem("Drawing (dimensioned sheet)", DRAWING)
        self.kind.setCurrentIndex(max(self.kind.findData(proposed.kind), 0))
        self.half = QComboBox()
        self.half.addItem("Half section (for turning)", False)
        self.half.addItem("Full section", True)
        self.half.setCurrentIndex(1 if proposed.full else 0)
        self.what = QLabel()
        self.what.setWordWrap(True)
        self.what.setMinimumHeight(2 * self.fontMetrics().lineSpacing() + 2)
        form.addRow("File", self.path)
        form.addRow("DXF of", self.kind)
        form.addRow("Section", self.half)
        form.addRow(self.what)
        if stops:
            many = "1 stop finding stands" if stops == 1 else f"{stops} stop findings stand"
            warning = QLabel(f"<b>{many}</b> against this design: it cannot be built, does not fit or must not run.")
            warning.setWordWrap(True)
            form.addRow(warning)
        form.addRow(self._buttons("Export anyway" if stops else "Export"))
        self.kind.currentIndexChanged.connect(lambda _: self._show_kind())
        self._show_kind()

    @property
    def choice(self) -> ExportChoice:
        path = with_suffix(self.path.text().strip(), ".dxf") or Path("section.dxf")
        return ExportChoice(path, bool(self.half.currentData()), str(self.kind.currentData()))

    def _buttons(self, words: str) -> QDialogButtonBox:
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Save | QDialogButtonBox.StandardButton.Cancel)
        buttons.button(QDialogButtonBox.StandardButton.Save).setText(words)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        return buttons

    def _show_kind(self) -> None:
        """A drawing always shows the full section."""
        kind = str(self.kind.currentData())
        self.half.setEnabled(kind == PROFILE)
        self.what.setText(WHAT[kind])

    def _choose(self) -> None:
        name, _ = QFileDialog.getSaveFileName(
            self, "Export section", self.path.text(), "DXF drawings (*.dxf)",
            options=QFileDialog.Option.DontConfirmOverwrite,
        )  # fmt: skip
        if name:
            self.path.setText(str(with_suffix(name, ".dxf")))


def with_suffix(name: str, suffix: str) -> Path | None:
    """The path with this suffix added where it has another; None for no name."""
    if not name:
        return None
    path = Path(name)
    return path if path.suffix.lower() == suffix else path.with_name(path.name + suffix)
