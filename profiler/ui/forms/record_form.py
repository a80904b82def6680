"""A form for one record: a row per field, made from the field's own label, unit, bounds and help."""

from collections.abc import Sequence

import msgspec
from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from profiler.study import fields_of
from profiler.ui.widgets.number_box import NumberBox, Scrub


class RecordForm(QWidget):
    """Shows a record's numbers and proposes single changes: name of the member and value."""

    proposed = Signal(str, object)
    began = Signal(str)
    ended = Signal()
    refused = Signal(str)

    def __init__(
        self, kind: type[msgspec.Struct], names: Sequence[str] | None = None, optional: Sequence[str] = ()
    ) -> None:
        """`optional` names members that an empty box sets to None."""
        super().__init__()
        fields = fields_of(kind)
        self.boxes: dict[str, NumberBox] = {}
        self._rows: dict[str, tuple[QWidget, ...]] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(6)
        grid.setVerticalSpacing(4)
        grid.setColumnStretch(0, 1)
        for row, name in enumerate(names or list(fields)):
            self._add_row(grid, row, name, NumberBox(fields[name], optional=name in optional))

    def show_record(self, record: msgspec.Struct, locked: Sequence[str] = ()) -> None:
        """Show every number; members named in `locked` can be read but not changed here."""
        for name, box in self.boxes.items():
            box.show_value(getattr(record, name))
            box.setEnabled(name not in locked)

    def show_rows(self, names: Sequence[str]) -> None:
        """Show only these rows."""
        for name, parts in self._rows.items():
            for part in parts:
                part.setVisible(name in names)

    def show_label(self, name: str, text: str) -> None:
        """Another label, where what a number means depends on a choice."""
        scrub = self._rows[name][0]
        if isinstance(scrub, Scrub):
            scrub.setText(text)
            field = self.boxes[name].field
            self.boxes[name].setAccessibleName(f"{text}, {field.unit}" if field.unit else text)

    def _add_row(self, grid: QGridLayout, row: int, name: str, box: NumberBox) -> None:
        box.setFixedWidth(78)
        scrub = Scrub(box.field.label, box)
        unit = QLabel(box.field.unit)
        unit.setObjectName("unit")
        box.unit_label = unit
        unit.setMinimumWidth(40)
        for column, part in enumerate((scrub, box, unit)):
            grid.addWidget(part, row, column)
        box.proposed.connect(lambda value, name=name: self.proposed.emit(name, value))
        box.refused.connect(self.refused)
        scrub.began.connect(lambda label=box.field.label: self.began.emit(label))
        scrub.ended.connect(self.ended)
        self.boxes[name] = box
        self._rows[name] = (scrub, box, unit)
