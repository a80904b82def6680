"""A number in a bar: label, box and unit; of the study, wired to the document, or on trial, heard by who made it."""

from PySide6.QtWidgets import QWidget

from profiler.study import NumberField
from profiler.ui.document.document import Document
from profiler.ui.widgets.number_box import NumberBox, labelled


def bar_number(document: Document, field: NumberField, width: int, unit: str = "") -> tuple[QWidget, NumberBox]:
    """The whole, and the box in it, so many pixels wide; `unit` is a shorter word than the field's."""
    box = NumberBox(field)
    whole, scrub = labelled(box, width, unit)

    box.proposed.connect(lambda value: document.change(field, value))
    box.refused.connect(document.say)
    scrub.began.connect(lambda: document.begin(field.undo_words))
    scrub.ended.connect(document.commit)
    return whole, box


def trial_number(field: NumberField, width: int, unit: str = "") -> tuple[QWidget, NumberBox]:
    """The same look; what it proposes changes nothing of the study."""
    box = NumberBox(field)
    return labelled(box, width, unit)[0], box
