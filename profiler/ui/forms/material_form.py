"""A material as a form: its name, the user's list, its numbers and where each comes from."""

from pathlib import Path

from msgspec.structs import replace
from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from profiler.study import Material, fields_of
from profiler.study.files.owned_lists import file_name
from profiler.study.records.materials import with_number
from profiler.ui.forms.list_picker import ListPicker
from profiler.ui.forms.record_form import RecordForm


class MaterialForm(QWidget):
    """Proposes a whole material, None for none. The numbers are this study's copy, never the list's own."""

    proposed = Signal(object, str)  # material or None, words for the undo step
    told = Signal(str)

    def __init__(self, folder: Path) -> None:
        super().__init__()
        self._material: Material | None = None
        self.name = QLineEdit()
        self.name.setAccessibleName("Name of the material")
        self.name.setPlaceholderText("none given: take one from the list")
        self.name.editingFinished.connect(self._rename)
        self.list = ListPicker(Material, folder / file_name(Material), "material")
        self.list.taken.connect(lambda m: self.proposed.emit(m, "Take a material from the list"))
        self.list.keep_wanted.connect(self._keep)
        self.list.told.connect(self.told)
        self.form = RecordForm(Material, optional=("strength_mpa",))
        self.form.proposed.connect(self._number)
        self.form.refused.connect(self.told)
        self.sources = QLabel()
        self.sources.setObjectName("muted")
        self.sources.setWordWrap(True)
        self.none = QPushButton("Give no material")
        self.none.setObjectName("plain")
        self.none.clicked.connect(lambda: self.proposed.emit(None, "Give no material"))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        for part in (self.name, self.list, self.form, self.sources, self.none):
            column.addWidget(part)

    def show_material(self, material: Material | None) -> None:
        self._material = material
        if not (self.name.hasFocus() and self.name.isModified()):
            self.name.setText("" if material is None else material.name)
        self.name.setEnabled(material is not None)
        for part in (self.form, self.sources, self.none):
            part.setVisible(material is not None)
        self.list.keep.setEnabled(material is not None)
        if material is not None:
            self.form.show_record(material)
            self.sources.setText(sources_words(material))

    def _rename(self) -> None:
        if not self.name.isModified():
            return
        self.name.setModified(False)
        name = self.name.text().strip()
        if self._material is not None and name:
            self.proposed.emit(replace(self._material, name=name), "Rename the material")
        else:
            self.told.emit("A material needs a name; the old one stays.")
            self.show_material(self._material)

    def _number(self, name: str, value: float | None) -> None:
        if self._material is not None:
            label = self.form.boxes[name].field.label.lower()
            self.proposed.emit(with_number(self._material, name, value), f"Change the material's {label}")

    def _keep(self) -> None:
        if self._material is not None:
            self.list.keep_record(self._material)


def sources_words(material: Material) -> str:
    """Where each number comes from, and what the strength is."""
    fields = fields_of(Material)
    lines = [f"{fields[name].label}: {source}." for name, source in material.sources]
    if material.strength_kind:
        lines.append(f"Strength is {material.strength_kind}.")
    return "\n".join([*lines, material.note] if material.note else lines)
