"""The small button beside the design and the duty: add, duplicate, rename in place, delete, reorder, marks."""

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QComboBox, QLineEdit, QMenu, QToolButton, QWidget

from profiler.assess.fitting.counterpart import counterpart
from profiler.assess.fitting.starting import fitted_cone
from profiler.study import Design, Study
from profiler.study.edits import list_edits
from profiler.study.edits.list_edits import Listed
from profiler.ui.document.document import Document
from profiler.ui.widgets.keys import Key, answered, keyed
from profiler.ui.widgets.labels import menu_words

KEYS: tuple[Key["NameBox"], ...] = (keyed("Cancel the new name", lambda box: box.leave(), "Esc"),)


class NameBox(QLineEdit):
    """A name being typed over a combo box; Enter or leaving takes it, Escape does not."""

    typed = Signal(str)

    def __init__(self, over: QComboBox, text: str) -> None:
        super().__init__(text, over.parentWidget())
        self._done = False
        self.setGeometry(over.geometry())
        self.setAccessibleName("New name")
        self.editingFinished.connect(self._take)
        self.selectAll()
        self.show()
        self.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not answered(self, KEYS, event):
            super().keyPressEvent(event)

    def _take(self) -> None:
        if not self._done:
            text = self.text()
            self.leave()
            self.typed.emit(text)

    def leave(self) -> None:
        """Go away; nothing more is taken."""
        self._done = True
        self.hide()
        self.deleteLater()


class ListMenu(QToolButton):
    """Acts on the item the combo box shows; every edit is one undo step."""

    ghost_wanted = Signal(object)  # Design, or None for no ghost

    def __init__(self, document: Document, kind: Listed, combo: QComboBox, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.kind = kind
        self.combo = combo
        self.setText("Edit")
        self.setObjectName("link")
        self.setAutoRaise(True)
        self.setFixedWidth(self.fontMetrics().horizontalAdvance(self.text()) + 8)
        self.setAccessibleName(f"Edit the list of {'designs' if kind is Listed.DESIGN else 'duties'}")
        marks = (
            "mark as reference, show as a ghost" if kind is Listed.DESIGN else "take into the ore window or out of it"
        )
        self.setToolTip(f"Add, duplicate, rename, delete or move a {kind}; {marks}")
        self.clicked.connect(self.open)

    def open(self) -> None:
        self.made().popup(self.mapToGlobal(self.rect().bottomLeft()))

    def made(self) -> QMenu:
        """The menu as the study stands."""
        study, kind, word = self.document.study, self.kind, str(self.kind)
        menu = QMenu(self)
        menu.aboutToHide.connect(menu.deleteLater, Qt.ConnectionType.QueuedConnection)
        menu.addAction(
            "Add a plain cone" if kind is Listed.DESIGN else "Add a duty",
            lambda: self._edit(lambda s: list_edits.add(s, kind, fitted_cone), f"Add a {word}"),
        )
        menu.addAction("Duplicate", lambda: self._edit(lambda s: list_edits.duplicate(s, kind), f"Duplicate a {word}"))
        menu.addAction("Rename", self.rename)
        menu.addAction("Delete", lambda: self._edit(lambda s: list_edits.delete(s, kind), f"Delete a {word}"))
        menu.addSeparator()
        menu.addAction("Move up", lambda: self._edit(lambda s: list_edits.move(s, kind, -1), f"Move a {word} up"))
        menu.addAction("Move down", lambda: self._edit(lambda s: list_edits.move(s, kind, 1), f"Move a {word} down"))
        menu.addSeparator()
        if kind is Listed.DESIGN:
            self._add_design_marks(menu, study)
        else:
            mark = menu.addAction("In the ore window", lambda: self._mark_duty(not study.duty.in_window))
            mark.setCheckable(True)
            mark.setChecked(study.duty.in_window)
        return menu

    def rename(self) -> None:
        box = NameBox(self.combo, list_edits.shown(self.document.study, self.kind).name)
        box.typed.connect(
            lambda name: self._edit(lambda s: list_edits.rename(s, self.kind, name), f"Rename a {self.kind}")
        )

    def _add_design_marks(self, menu: QMenu, study: Study) -> None:
        name = study.design.name
        is_reference = study.reference == name
        mark = menu.addAction(
            "Reference for differences",
            lambda: self._edit(
                lambda s: list_edits.mark_reference(s, "" if is_reference else name), "Mark a reference"
            ),
        )
        mark.setCheckable(True)
        mark.setChecked(is_reference)
        walls = menu.addMenu("Make a counterpart with the wall of")
        walls.setToolTip("A copy of this design with another's wall, and everything else equal as far as it fits")
        for design in study.designs:
            if design is not study.design:
                walls.addAction(menu_words(design.name), partial(self._counterpart, design))
        walls.setEnabled(len(study.designs) > 1)
        ghosts = menu.addMenu("Show as a ghost")
        for design in study.designs:
            ghosts.addAction(menu_words(design.name), partial(self._wish, design))
        ghosts.addSeparator()
        ghosts.addAction("No ghost", lambda: self._wish(None))

    def _counterpart(self, other: Design) -> None:
        study = self.document.study
        said: list[str] = []

        def made(name: str) -> Design:
            found = counterpart(study.design, other, study.machine, name)
            said.append(found.sentence)
            return found.design

        wanted = f"{study.design.name}, wall of {other.name}"
        if self.document.attempt(lambda s: list_edits.add_design(s, wanted, made), "Make a counterpart"):
            self.document.say(said[-1])

    def _wish(self, design: Design | None) -> None:
        self.ghost_wanted.emit(design)

    def _mark_duty(self, inside: bool) -> None:
        words = "Take a duty into the ore window" if inside else "Take a duty out of the ore window"
        self._edit(lambda s: list_edits.mark_in_window(s, s.duty.name, inside), words)

    def _edit(self, edit: Callable[[Study], Study], words: str) -> None:
        try:
            self.document.edit(edit(self.document.study), words)
        except ValueError as refusal:
            self.document.say(str(refusal))
