"""The small button beside the trial in view: rename it in place, or delete it. What is done to the study: the page."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QMenu, QToolButton

from profiler.ui.forms.list_menu import NameBox


class TrialMenu(QToolButton):
    rename_wanted = Signal(str)
    delete_wanted = Signal()

    def __init__(self, combo: QComboBox) -> None:
        super().__init__()
        self._combo = combo
        self.setText("Edit")
        self.setObjectName("link")
        self.setAutoRaise(True)
        self.setAccessibleName("Edit the list of trials")
        self.setToolTip("Rename or delete the trial in view")
        self.clicked.connect(lambda: self.made().popup(self.mapToGlobal(self.rect().bottomLeft())))

    def made(self) -> QMenu:
        menu = QMenu(self)
        menu.aboutToHide.connect(menu.deleteLater, Qt.ConnectionType.QueuedConnection)
        menu.addAction("Rename", self.rename)
        menu.addAction("Delete with all its runs", self.delete_wanted.emit)
        return menu

    def rename(self) -> None:
        NameBox(self._combo, self._combo.currentText()).typed.connect(self.rename_wanted)
