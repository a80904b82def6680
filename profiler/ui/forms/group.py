"""A group of the forms pane: a part of the study as forms, choices and ticks, each wired to the document once."""

from collections.abc import Callable, Sequence
from functools import partial
from typing import TypeVar

from PySide6.QtWidgets import QCheckBox, QComboBox, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from profiler.study import Field, NumberField, Study
from profiler.ui.document.document import Document
from profiler.ui.forms.record_form import RecordForm
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.labels import Tells, marked_up, plain_label
from profiler.ui.widgets.pointer import Pointer

T = TypeVar("T")
Row = Callable[[], int | None]  # which row of its list a form speaks of; None for none at present


class TickBox(Tells, QCheckBox):
    """A tick whose help may hold lengths."""


class Group(QWidget):
    """`show_study` fills it; whatever is typed, chosen or ticked changes its field in the document."""

    title = ""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self.document = document
        self._forms: list[RecordForm] = []
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(8, 4, 8, 10)
        self.column.setSpacing(6)

    def show_study(self, study: Study) -> None:
        raise NotImplementedError

    @property
    def fields(self) -> set[NumberField]:
        """The numbers that are typed here."""
        return {field for form in self._forms for field in form.boxes}

    def numbers(self, fields: Sequence[NumberField], row: Row | None = None) -> RecordForm:
        """A form of these numbers."""
        form = RecordForm(fields)
        self.adopt(form, partial(self._change, row=row))
        self.column.addWidget(form)
        return form

    def adopt(self, form: RecordForm, change: Callable[..., object]) -> None:
        """Wire a form's gestures and complaints to the document."""
        form.proposed.connect(change)
        form.began.connect(lambda field: self.document.begin(field.undo_words))
        form.ended.connect(self.document.commit)
        form.refused.connect(self.document.say)
        self._forms.append(form)

    def options(self, field: Field[T], chosen: Callable[[T], object] | None = None) -> QComboBox:
        """A box of a field's options; choosing one sets the field, unless something else is to be done."""
        pairs = [(field.option_text(option), option) for option in field.options]
        return self.choice(field.label, pairs, chosen or (lambda option: self._change(field, option)))

    def choice(self, label: str, options: Sequence[tuple[str, T]], chosen: Callable[[T], object]) -> QComboBox:
        """A box of options that are no field's own."""
        row, box = QHBoxLayout(), ChoiceBox(of_lengths=True)
        caption = plain_label(label)
        caption.setBuddy(box)
        box.setAccessibleName(label)
        box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        box.setMinimumContentsLength(8)
        for text, data in options:
            box.addItem(text, data)
        row.addWidget(caption)
        row.addWidget(box, 1)
        self.column.addLayout(row)
        # not itemData: Qt hands a StrEnum back as a plain string
        box.activated.connect(lambda index: chosen(options[index][1]))
        return box

    def tick(self, field: Field[bool], row: Row | None = None) -> QCheckBox:
        box = TickBox(field.label)
        box.setToolTip(field.help)
        box.clicked.connect(lambda on: self._change(field, on, row))
        self.column.addWidget(box)
        return box

    def muted(self, text: str = "", rich: bool = False) -> QLabel:
        """A line of small words; `rich` where they are markup of the program's own."""
        label = marked_up(text) if rich else plain_label(text)
        label.setObjectName("muted")
        label.setWordWrap(True)
        self.column.addWidget(label)
        return label

    def _change(self, field: Field[T], value: T, row: Row | None = None) -> None:
        key = None if row is None else row()
        if row is None:
            self.document.change(field, value)
        elif key is not None:
            self.document.change(field.at(key), value)


def place_chosen(document: Document, pointer: Pointer) -> int | None:
    """The chosen groove's place in its rule, from 1; None where none is chosen."""
    shape, number = document.evaluation.shape, pointer.now.groove
    return int(shape.place[number - 1]) if shape is not None and number and number <= len(shape.place) else None


def plain_button(text: str, tip: str, row: QHBoxLayout | QVBoxLayout) -> QPushButton:
    button = QPushButton(text)
    button.setObjectName("plain")
    button.setToolTip(tip)
    row.addWidget(button)
    return button
