"""Several columns of the runs chosen from a menu: what a comparison is adjusted for beside the feed grade."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QMenu, QSizePolicy, QToolButton

from profiler.statistics.trial.runs import COLUMNS


class ColumnChoice(QToolButton):
    changed = Signal(str, bool)  # column, whether it is adjusted for

    def __init__(self, name: str) -> None:
        super().__init__()
        self._chosen: tuple[str, ...] = ()
        self.setAccessibleName(name)
        self.setToolTip("Covariates beside the feed grade; settle them before the trial, not by what they show")
        self.setObjectName("plain")
        self.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextOnly)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.clicked.connect(lambda: self.made().popup(self.mapToGlobal(self.rect().bottomLeft())))
        self.show_chosen(())

    def show_chosen(self, chosen: Sequence[str]) -> None:
        self._chosen = tuple(chosen)
        words = ", ".join(COLUMNS[key].label if key in COLUMNS else key for key in chosen)
        self.setText(words or "nothing more…")

    def made(self) -> QMenu:
        menu = QMenu(self)
        menu.aboutToHide.connect(menu.deleteLater, Qt.ConnectionType.QueuedConnection)
        known = [key for key, column in COLUMNS.items() if column.covariate]
        for key in (*known, *(key for key in self._chosen if key not in COLUMNS)):
            action = menu.addAction(COLUMNS[key].label.capitalize() if key in COLUMNS else key)
            action.setCheckable(True)
            action.setChecked(key in self._chosen)
            action.toggled.connect(lambda on, key=key: self.changed.emit(key, on))
        return menu
