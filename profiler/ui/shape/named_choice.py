"""Which design, or which duty, is shown: a list by name, and beside it the menu that edits the list."""

from PySide6.QtWidgets import QHBoxLayout

from profiler.study import Study
from profiler.study.edits.list_edits import Listed
from profiler.ui.document.document import Document
from profiler.ui.forms.list_menu import ListMenu
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.labels import plain_label, plain_tip


class NamedChoice:
    """Its parts are put into a row of somebody else's."""

    def __init__(self, document: Document, kind: Listed, row: QHBoxLayout, width_px: int) -> None:
        self._kind = kind
        self.combo = ChoiceBox()
        label = "Design" if kind is Listed.DESIGN else "Duty"
        caption = plain_label(label)
        caption.setBuddy(self.combo)
        self.combo.setAccessibleName(label)
        self.combo.setFixedWidth(width_px)
        self.combo.textActivated.connect(document.show_design if kind is Listed.DESIGN else document.show_duty)
        self.menu = ListMenu(document, kind, self.combo)
        for part in (caption, self.combo, self.menu):
            row.addWidget(part)

    def show_study(self, study: Study) -> None:
        items, shown = (
            (study.designs, study.design.name) if self._kind is Listed.DESIGN else (study.duties, study.duty.name)
        )
        names = [item.name for item in items]
        if [self.combo.itemText(i) for i in range(self.combo.count())] != names:
            self.combo.clear()
            self.combo.addItems(names)
        self.combo.setCurrentText(shown)
        self.combo.setToolTip(plain_tip(shown))
