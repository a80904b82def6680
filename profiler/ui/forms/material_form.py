"""A material as a form: its name, the user's list, its numbers and where each comes from."""

from pathlib import Path

from msgspec.structs import replace
from PySide6.QtWidgets import QLineEdit, QPushButton, QVBoxLayout, QWidget

from profiler.study import Field, Material, fields_of
from profiler.study.files.owned_lists import file_name
from profiler.ui.document.document import Document
from profiler.ui.forms.list_picker import ListPicker
from profiler.ui.forms.record_form import RecordForm
from profiler.ui.widgets.labels import plain_label


class MaterialForm(QWidget):
    """Of the shell or of the bowl, as shown. The numbers are this study's copy, never the list's own."""

    def __init__(self, document: Document, of: Field[Material | None], folder: Path) -> None:
        super().__init__()
        self.document, self.of = document, of
        self.name = QLineEdit()
        self.name.setAccessibleName("Name of the material")
        self.name.setPlaceholderText("none given: copy one from the list")
        self.name.editingFinished.connect(self._rename)
        self.list = ListPicker(Material, folder / file_name(Material), "material")
        self.list.copied.connect(lambda m: document.change(self.of, m, "Copy a material from the list"))
        self.list.add_wanted.connect(self._add_to_list)
        self.list.told.connect(document.say)
        self.form = RecordForm(tuple(fields_of(Material).values()))
        self.sources = plain_label()
        self.sources.setObjectName("muted")
        self.sources.setWordWrap(True)
        self.none = QPushButton("Give no material")
        self.none.setObjectName("plain")
        self.none.clicked.connect(lambda: document.change(self.of, None, "Give no material"))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        for part in (self.name, self.list, self.form, self.sources, self.none):
            column.addWidget(part)

    @property
    def material(self) -> Material | None:
        return self.of.get(self.document.study)

    def show_material(self, of: Field[Material | None]) -> None:
        self.of = of
        material = self.material
        if not (self.name.hasFocus() and self.name.isModified()):
            self.name.setText("" if material is None else material.name)
        self.name.setEnabled(material is not None)
        for part in (self.form, self.sources, self.none):
            part.setVisible(material is not None)
        self.list.add.setEnabled(material is not None)
        if material is not None:
            self.form.show_record(material)
            self.sources.setText(sources_words(material))

    def change(self, field: Field[float], value: float) -> None:
        """A number of this material."""
        self.document.change(field.under(self.of), value)

    def _add_to_list(self) -> None:
        if (material := self.material) is not None:
            self.list.add_record(material)

    def _rename(self) -> None:
        if not self.name.isModified():
            return
        self.name.setModified(False)
        name, material = self.name.text().strip(), self.material
        if material is not None and name:
            self.document.change(self.of, replace(material, name=name), "Rename the material")
        else:
            self.document.say("A material needs a name; the old one stays.")
            self.show_material(self.of)


def sources_words(material: Material) -> str:
    """Where each number comes from, and what the strength is."""
    fields = fields_of(Material)
    lines = [f"{fields[name].label}: {source}." for name, source in material.sources]
    if material.strength_kind:
        lines.append(f"Strength is {material.strength_kind}.")
    return "\n".join([*lines, material.note] if material.note else lines)
