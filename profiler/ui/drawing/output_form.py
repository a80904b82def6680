"""The options of one kind of output as a form, made from its record."""

from collections.abc import Mapping
from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QGridLayout, QLabel, QLineEdit, QScrollArea, QWidget

from profiler.output.record.option import Amount, Choice, Group, Held, Option, Request
from profiler.output.record.output import Output
from profiler.ui.widgets.labels import bold, head_label, plain_label
from profiler.ui.widgets.number_box import NumberBox
from profiler.ui.widgets.option_box import choice_box


class OutputForm(QScrollArea):
    """`changed` with an option's key and its new value; what is shown is told by `show_values`."""

    changed = Signal(str, object)
    refused = Signal(str)

    def __init__(self, output: Output) -> None:
        super().__init__()
        self.output = output
        self.widgets: dict[str, QWidget] = {}
        self._labels: dict[str, QLabel] = {}
        self.setWidgetResizable(True)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName(f"Options of the {output.title.lower()}")
        inside = QWidget()
        self._grid = QGridLayout(inside)
        self._grid.setContentsMargins(0, 0, 6, 0)
        self._grid.setHorizontalSpacing(8)
        self._grid.setVerticalSpacing(4)
        self._grid.setColumnStretch(1, 1)
        self.groups = groups_of(output)
        for group in self.groups:
            self._add_group(group)
        self._grid.setRowStretch(self._grid.rowCount(), 1)
        self.setWidget(inside)

    def show_values(self, values: Mapping[str, Held], hints: Mapping[str, str]) -> None:
        """What is held, and in empty texts what the program puts there itself."""
        request = Request(values)
        for option in (o for group in self.groups for o in group.options):
            _show(self.widgets[option.key], values[option.key], hints.get(option.key, ""))
            counts = request.counts(option)
            self.widgets[option.key].setEnabled(counts)
            self._labels[option.key].setEnabled(counts)

    def _add_group(self, group: Group) -> None:
        row = self._grid.rowCount()
        head = bold(plain_label(group.heading))
        head.setContentsMargins(0, 8 if row > 1 else 0, 0, 0)
        self._grid.addWidget(head, row, 0, 1, 2)
        for number, option in enumerate(group.options, row + 1):
            label, widget = head_label(_label(option)), self._made(option)
            label.setBuddy(widget)
            widget.setAccessibleName(_label(option))
            label.setToolTip(widget.toolTip())
            self._labels[option.key], self.widgets[option.key] = label, widget
            self._grid.addWidget(label, number, 0)
            self._grid.addWidget(widget, number, 1)

    def _made(self, option: Option) -> QWidget:
        key = option.key
        if isinstance(option, Choice):
            combo = choice_box(option)
            combo.activated.connect(lambda _: self.changed.emit(key, combo.currentData()))
            return combo
        if isinstance(option, Amount):
            box = NumberBox(replace(option.field, empty=option.empty))
            box.proposed.connect(lambda value: self.changed.emit(key, value))
            box.refused.connect(self.refused)
            return box
        line = QLineEdit()
        line.setToolTip(option.help)
        line.setAcceptDrops(False)  # a file dropped here is for the window
        line.editingFinished.connect(lambda: self.changed.emit(key, line.text().strip()))
        return line


def groups_of(output: Output) -> tuple[Group, ...]:
    """What the form shows: the output's groups, first among them the file type where there is a choice of it."""
    if len(output.suffixes) < 2:
        return output.groups
    first, *rest = output.groups or (Group("File", ()),)
    return Group(first.heading, (output.file_type, *first.options)), *rest


def _show(widget: QWidget, value: Held, hint: str) -> None:
    """Text that is being typed is left alone."""
    if isinstance(widget, QComboBox):
        widget.setCurrentIndex(max(widget.findData(value), 0))
    elif isinstance(widget, NumberBox):
        widget.show_value(value if isinstance(value, float) else None)
    elif isinstance(widget, QLineEdit):
        widget.setPlaceholderText(hint)
        if not (widget.hasFocus() and widget.isModified()) and widget.text() != value:
            widget.setText(str(value))


def _label(option: Option) -> str:
    unit = option.field.unit if isinstance(option, Amount) else ""
    return f"{option.label}, {unit}" if unit else option.label
