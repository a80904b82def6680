"""A choice between the offers of an option. Apart from `choice_box`, since the first window needs no outputs."""

from PySide6.QtWidgets import QSizePolicy

from profiler.output.record.option import Choice
from profiler.ui.widgets.choice_box import ChoiceBox


def choice_box(option: Choice[str]) -> ChoiceBox:
    """A box that shows the words of each offer and holds its value."""
    combo = ChoiceBox()
    for offer in option.offers:
        combo.addItem(offer.words, str(offer.value))
    combo.setToolTip(option.help)
    combo.setAccessibleName(option.label)
    combo.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
    return combo
