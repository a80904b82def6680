"""The export dialog: which output, made from the table of them, and where it goes."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFileDialog,
    QFormLayout,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QWidget,
)

from profiler.assess.cautions import of_output
from profiler.assess.checks.check_fit import SPINNING_CAUTION
from profiler.numbers import counted
from profiler.output import outputs
from profiler.output.record.output import Output
from profiler.ui.dialogs.ask_file import file_filters, with_suffix
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.labels import marked_up, plain_label
from profiler.ui.widgets.option_box import choice_box


@dataclass(frozen=True, slots=True)
class ExportChoice:
    """`values`: of the options that the dialog asks for itself, by their keys."""

    path: Path
    kind: str = "profile"
    values: Mapping[str, str] = field(default_factory=dict)


class ExportDialog(QDialog):
    """Every output to choose from, and the options that the chosen one wants asked at once."""

    def __init__(self, parent: QWidget, proposed: ExportChoice, stops: int = 0) -> None:
        super().__init__(parent)
        self.setWindowTitle("Export")
        self.form = QFormLayout(self)
        self.kind, self.path, self.what = ChoiceBox(), QLineEdit(str(proposed.path)), plain_label()
        self.caution = plain_label()
        self.options: dict[str, ChoiceBox] = {}
        self._add_kind(proposed.kind)
        self._add_path()
        for output in outputs.OUTPUTS:
            for option in output.at_once:
                box = self.options[option.key] = choice_box(option)
                box.setCurrentIndex(max(box.findData(proposed.values.get(option.key, "")), 0))
                self.form.addRow(option.label, box)
        self.what.setWordWrap(True)
        self.what.setMinimumHeight(2 * self.fontMetrics().lineSpacing() + 2)
        self.form.addRow(self.what)
        self.caution.setWordWrap(True)
        self.caution.setAccessibleName("Caution")
        self.form.addRow(self.caution)
        if stops:
            many = f"{counted(stops, 'stop finding')} {'stands' if stops == 1 else 'stand'}"
            warning = marked_up(f"<b>{many}</b> against this design: it cannot be built, does not fit or must not run.")
            warning.setWordWrap(True)
            self.form.addRow(warning)
        self.form.addRow(self._buttons("Export anyway" if stops else "Export"))
        self.kind.currentIndexChanged.connect(lambda _: self._show_kind())
        self._show_kind()

    @property
    def output(self) -> Output:
        return outputs.output(str(self.kind.currentData()))

    @property
    def choice(self) -> ExportChoice:
        path = self._typed(self.path.text().strip()) or Path(f"section{self.output.suffixes[0]}")
        values = {option.key: str(self.options[option.key].currentData()) for option in self.output.at_once}
        return ExportChoice(path, self.output.key, values)

    def _add_kind(self, proposed: str) -> None:
        for output in outputs.OUTPUTS:
            self.kind.addItem(output.title, output.key)
        self.kind.setCurrentIndex(max(self.kind.findData(proposed), 0))
        self.kind.setAccessibleName("Output")
        self.form.addRow("Output", self.kind)

    def _add_path(self) -> None:
        self.path.setMinimumWidth(380)
        self.path.setAccessibleName("File")
        self.choose = QPushButton("Choose…")
        self.choose.setToolTip("Choose a folder and name")
        self.choose.setAutoDefault(False)
        self.choose.clicked.connect(self._choose)
        row = QHBoxLayout()
        row.addWidget(self.path, 1)
        row.addWidget(self.choose)
        self.form.addRow("File", row)

    def _buttons(self, words: str) -> QDialogButtonBox:
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Save | QDialogButtonBox.StandardButton.Cancel)
        buttons.button(QDialogButtonBox.StandardButton.Save).setText(words)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        return buttons

    def _show_kind(self) -> None:
        """What the output is, the options it wants asked, and the path with its type."""
        output = self.output
        for key, box in self.options.items():
            self.form.setRowVisible(box, key in {option.key for option in output.at_once})
        how = f". {output.as_usual}" if output.at_once else ", as set up on the Drawing page."
        self.what.setText(f"{output.says}{how}")
        self.caution.setText(" ".join((SPINNING_CAUTION.text, *(c.words for c in of_output(output.key)))))
        path = Path(self.path.text().strip() or "section")
        if path.suffix.lower() in outputs.suffixes() and path.suffix.lower() not in output.suffixes:
            self.path.setText(str(path.with_suffix(output.suffixes[0])))

    def _choose(self) -> None:
        name, _ = QFileDialog.getSaveFileName(
            self, "Export", self.path.text(), ";;".join(file_filters(self.output.suffixes)),
            options=QFileDialog.Option.DontConfirmOverwrite,
        )  # fmt: skip
        if name:
            self.path.setText(str(self._typed(name)))

    def _typed(self, name: str) -> Path | None:
        """The path, with a type of the output; None for no name."""
        if name and Path(name).suffix.lower() in self.output.suffixes:
            return Path(name)
        return with_suffix(name, self.output.suffixes[0])
