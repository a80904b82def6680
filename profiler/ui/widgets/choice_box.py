"""A choice between the offers of an option."""

from PySide6.QtWidgets import QComboBox, QSizePolicy

from profiler.output.record.option import Choice


def choice_box(option: Choice[str]) -> QComboBox:
    """A box that shows the words of each offer and holds its value."""
    combo = QComboBox()
    for offer in option.offers:
        combo.addItem(offer.words, str(offer.value))
    combo.setToolTip(option.help)
    combo.setAccessibleName(option.label)
    combo.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
    return combo
