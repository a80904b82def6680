"""The group of spinning: what turns, stress, drive and balance, with the caution beside them; materials and limits."""

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from profiler.assess import Evaluation
from profiler.assess.quantities.left_out import missing, told
from profiler.assess.quantities.part_figures import PARTS, PartFigures, part_figures
from profiler.assess.quantities.quantity import Quantity
from profiler.assess.quantities.spin_quantities import CAUTION, GROUPS, MASSES, STRENGTH
from profiler.numbers import fixed
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.study import Study
from profiler.study.records.design import BODY_BACKED, BODY_MATERIAL
from profiler.study.records.machine import SHELL_MATERIAL, SPINNING
from profiler.ui.document.document import Document
from profiler.ui.files.folders import lists
from profiler.ui.forms.group import Group
from profiler.ui.forms.material_form import MaterialForm
from profiler.ui.widgets.labels import marked_up, plain_label
from profiler.ui.widgets.pointer import Pointer


class SpinGroup(Group):
    title = "Spinning"

    def __init__(self, document: Document, pointer: Pointer, folder: Path | None = None) -> None:
        super().__init__(document)
        self.pointer = pointer
        self.caution = _words(CAUTION, "caution")
        self.tables = [FigureTable(quantities, PARTS if quantities is MASSES else ()) for _, quantities in GROUPS]
        for (title, quantities), table in zip(GROUPS, self.tables, strict=True):
            self.column.addWidget(marked_up(f"<b>{title}</b>"))
            if quantities is STRENGTH:
                self.column.addWidget(self.caution)
            self.column.addWidget(table)
        self.column.addWidget(marked_up("<b>Rotor and limits</b>"))
        self.form = self.numbers(SPINNING)
        self.backed = self.tick(BODY_BACKED)
        parts = (("The shell", SHELL_MATERIAL), ("The bowl", BODY_MATERIAL))
        self.material = MaterialForm(document, SHELL_MATERIAL, folder or lists())
        self.part = self.choice("Material of", parts, self.material.show_material)
        self.adopt(self.material.form, self.material.change)
        self.column.addWidget(self.material)
        self.column.addWidget(
            _words("The bowl weighs by its own density, in the group Body; a material taken for it sets that too.")
        )

    def show_study(self, study: Study) -> None:
        self.form.show_record(study.machine)
        self.backed.setChecked(study.design.body.backed)
        self.material.show_material(self.material.of)
        e = self.document.evaluation
        if e.spin is not None or not follows(e):
            for table in self.tables:
                table.show_figures(e, self.pointer.now.lengths)


def follows(e: Evaluation) -> bool:
    """Whether the figures are still to come: the stages out of sight have not been worked out yet."""
    return e.flow is not None and e.catch is None


class FigureTable(QWidget):
    """A row for each quantity: label, number, unit. Its equation, source and limits are one hover away."""

    def __init__(self, quantities: tuple[Quantity, ...], parts: tuple[str, ...] = ()) -> None:
        """`parts` are keys of masses under which centre and inertias of that part are told too."""
        super().__init__()
        self._numbers: list[tuple[Quantity, QLabel]] = []
        self._lengths: list[tuple[Quantity, QLabel, QLabel]] = []  # those that may be shown in inches, with their unit
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 4)
        grid.setHorizontalSpacing(6)
        grid.setVerticalSpacing(2)
        grid.setColumnStretch(0, 1)
        self._parts: dict[str, QLabel] = {}
        for row, q in enumerate(quantities):
            number, unit = plain_label("–"), _words(q.unit, "unit")
            unit.setMinimumWidth(40)
            number.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop)
            number.setAccessibleName(f"{q.label}, {q.unit}" if q.unit else q.label)
            for column, part in enumerate((_words(q.label, ""), number, unit)):
                part.setToolTip(tip(q))
                grid.addWidget(part, 2 * row, column)
            if q.key in parts:
                self._parts[q.key] = _words("")
                grid.addWidget(self._parts[q.key], 2 * row + 1, 0, 1, 3)
            self._numbers.append((q, number))
            if q.unit == MILLIMETRES.name:
                self._lengths.append((q, number, unit))

    def show_figures(self, e: Evaluation, lengths: LengthUnit = MILLIMETRES) -> None:
        for q, label in self._numbers:
            words = told(q, e)
            label.setText(words.removesuffix(f" {q.unit}") if q.unit else words)
            label.setToolTip(f"{missing(q, e)}\n\n{tip(q)}".strip())
        for q, label, unit in self._lengths:
            unit.setText(lengths.name)
            label.setAccessibleName(f"{q.label}, {lengths.name}")
            label.setText(lengths.cell(label.text()))
        found = {part.key: part for part in part_figures(e)} if self._parts else {}
        for key, label in self._parts.items():
            label.setText(part_words(found[key], lengths) if key in found else "")


def part_words(part: PartFigures, lengths: LengthUnit) -> str:
    """Centre and inertias of a part; nothing where it weighs nothing."""
    if part.mass_kg <= 0.0:
        return ""
    centre = lengths.text(part.centre_mm, 1)
    polar, across = (fixed(i, 3 if i >= 0.1 else 4) for i in (part.polar_kg_m2, part.transverse_kg_m2))
    return f"centre {centre}\npolar {polar}, transverse {across} kg m²"


def tip(q: Quantity) -> str:
    """Equation, source and limits of a quantity, a line each."""
    lines = (q.equation, f"Source: {q.source}", f"Limits: {q.limits}" if q.limits else "")
    return "\n".join(line for line in lines if line)


def _words(text: str, name: str = "muted") -> QLabel:
    label = plain_label(text)
    label.setObjectName(name)
    label.setWordWrap(True)
    label.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
    return label
