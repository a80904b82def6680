"""A form for one record: a row per field, made from the field's own label, unit, bounds and help."""

from collections.abc import Collection, Iterable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from profiler.study import NumberField, Record
from profiler.ui.widgets.labels import head_label
from profiler.ui.widgets.number_box import NumberBox, Scrub


class RecordForm(QWidget):
    """Shows a record's numbers and proposes single changes: the field and its value."""

    proposed = Signal(object, object)  # Field, value
    began = Signal(object)  # Field
    ended = Signal()
    refused = Signal(str)

    def __init__(self, fields: Iterable[NumberField]) -> None:
        super().__init__()
        self.boxes: dict[NumberField, NumberBox] = {}
        self._rows: dict[NumberField, tuple[Scrub, NumberBox, QLabel]] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(6)
        grid.setVerticalSpacing(4)
        grid.setColumnStretch(0, 1)
        for row, field in enumerate(fields):
            self._add_row(grid, row, field)

    def show_record(self, record: Record, locked: Collection[NumberField] = ()) -> None:
        """Show every number; those `locked` can be read but not changed here."""
        for field, box in self.boxes.items():
            box.show_value(field.get(record))
            box.setEnabled(field not in locked)

    def hide_rows(self, hidden: Collection[NumberField]) -> None:
        """Show all rows but these."""
        for field, parts in self._rows.items():
            for part in parts:
                part.setVisible(field not in hidden)

    def show_label(self, field: NumberField, text: str) -> None:
        """Another label, where what a number means depends on a choice."""
        scrub, box, _ = self._rows[field]
        scrub.setText(text)
        box.setAccessibleName(f"{text}, {field.unit}" if field.unit else text)

    def _add_row(self, grid: QGridLayout, row: int, field: NumberField) -> None:
        box, unit = NumberBox(field), head_label(field.unit)
        box.setFixedWidth(76)
        scrub = Scrub(field.label, box)
        scrub.setWordWrap(True)  # a long label takes two lines of the narrow pane
        unit.setObjectName("unit")
        unit.setMinimumWidth(40)
        for column, part in enumerate((scrub, box, unit)):
            grid.addWidget(part, row, column)
        box.proposed.connect(lambda value: self.proposed.emit(field, value))
        box.refused.connect(self.refused)
        scrub.began.connect(lambda: self.began.emit(field))
        scrub.ended.connect(self.ended)
        self.boxes[field] = box
        self._rows[field] = (scrub, box, unit)
