"""A user-owned list beside a form: copy an entry into the study, add what the form shows, remove an entry."""

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from profiler.study import BowlFileError, Machine, Material
from profiler.study.files.owned_lists import Kind, OwnedList, add, read_list, remove
from profiler.ui.widgets.choice_box import ChoiceBox


class ListPicker(QWidget):
    """Replacing or removing what stands in the list has to be asked for twice."""

    copied = Signal(object)  # a record of the list, to be copied into the study
    add_wanted = Signal()
    told = Signal(str)

    def __init__(self, kind: Kind, path: Path, word: str) -> None:
        super().__init__()
        self.kind, self.path, self.word = kind, path, word
        self._list: OwnedList[Machine] | OwnedList[Material] | None = None
        self._asked: tuple[str, str] | None = None
        self._trouble = ""
        self.names = ChoiceBox()
        self.names.setAccessibleName(f"List of {word}s")
        self.names.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.names.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.names.activated.connect(lambda _: self._forget())
        self.copy = _button("Copy from list", f"Copy the {word} chosen in the list into this study")
        self.copy.clicked.connect(self._copy)
        self.add = _button("Add to list", f"Put this study's {word} into your own list")
        self.add.clicked.connect(self.add_wanted)
        self.remove = _button("Remove from list", f"Take the chosen {word} out of your own list")
        self.remove.clicked.connect(self._remove)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        for parts in ((self.names,), (self.copy, self.add), (self.remove,)):
            row = QHBoxLayout()
            row.setSpacing(4)
            for part in parts:
                row.addWidget(part)
            column.addLayout(row)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.reload()

    def reload(self) -> None:
        """Another window may have changed the list."""
        found: OwnedList[Machine] | OwnedList[Material]
        found = read_list(Machine, self.path) if self.kind is Machine else read_list(Material, self.path)
        self._show(found)
        if found.trouble and found.trouble != self._trouble:
            self.told.emit(found.trouble)
        self._trouble = found.trouble

    def add_record(self, record: Machine | Material) -> None:
        """Add it; one of the same name with other numbers is replaced at the second time of asking."""
        self.reload()
        old = None if self._list is None else self._list.named(record.name)
        if old == record:
            self.told.emit(f"“{record.name}” is in the list with the same numbers already.")
            return
        if old is not None and not self._sure("add", record.name):
            words = "give this one another name, or press again to replace it"
            self.told.emit(f"“{record.name}” is in the list with other numbers: {words}.")
            return
        self._write(f"“{record.name}” was added to your list of {self.word}s.", record.name, record)

    def _copy(self) -> None:
        record = None if self._list is None else self._list.named(self.names.currentText())
        if record is not None:
            self._forget()
            self.copied.emit(record)

    def _remove(self) -> None:
        name = self.names.currentText()
        if not self._sure("remove", name):
            self.told.emit(
                f"Press again to remove “{name}” from your list of {self.word}s; studies keep their own copy."
            )
            return
        self._write(f"“{name}” was removed from your list of {self.word}s.", name, None)

    def _write(self, done: str, name: str, record: Machine | Material | None) -> None:
        self._forget()
        try:
            if record is None:
                self._show(_removed(self.kind, self.path, name))
            else:  # the same words, but each kind has a list of its own type
                self._show(add(self.path, record) if isinstance(record, Machine) else add(self.path, record))  # noqa: RUF034
        except BowlFileError as refusal:
            self.told.emit(str(refusal))
            return
        self.names.setCurrentIndex(max(self.names.findText(name), 0))
        self.told.emit(done)

    def _show(self, found: OwnedList[Machine] | OwnedList[Material]) -> None:
        self._list = found
        names = [item.name for item in found.items]
        if names != [self.names.itemText(i) for i in range(self.names.count())]:
            chosen = self.names.currentText()
            self.names.clear()
            self.names.addItems(names)
            self.names.setCurrentIndex(max(self.names.findText(chosen), 0))

    def _sure(self, what: str, name: str) -> bool:
        """Whether this was asked for just before."""
        sure, self._asked = self._asked == (what, name), (what, name)
        return sure

    def _forget(self) -> None:
        self._asked = None


def _removed(kind: Kind, path: Path, name: str) -> OwnedList[Machine] | OwnedList[Material]:
    return remove(path, Machine, name) if kind is Machine else remove(path, Material, name)


def _button(text: str, tip: str) -> QPushButton:
    button = QPushButton(text)
    button.setObjectName("plain")
    button.setToolTip(tip)
    return button
