"""A page's forms: the heads of its groups, and below them the one that is open; so that no head ever moves.

On Shape they follow what is chosen in the strips.
"""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QButtonGroup, QFrame, QPushButton, QScrollArea, QVBoxLayout, QWidget

from profiler.assess import Evaluation
from profiler.study import NumberField
from profiler.ui.document.document import Document
from profiler.ui.forms.groove_group import GrooveGroup
from profiler.ui.forms.group import Group
from profiler.ui.forms.wall_group import WallGroup
from profiler.ui.forms.water_group import WaterGroup
from profiler.ui.widgets.keys import Gesture
from profiler.ui.widgets.pointer import Pointer, Pointing

HEADS = (Gesture("Up, Down", "Open the group above or below, where its head has the keyboard"),)  # as Qt has it


class FormsPane(QScrollArea):
    """The first group stands open at first."""

    def __init__(self, document: Document, groups: Sequence[Group], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.groups = list(groups)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setAccessibleName(f"Forms: {', '.join(group.title for group in groups)}")
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.heads = QButtonGroup(self)
        for group in self.groups:
            head = QPushButton(group.title)
            head.setObjectName("groupButton")
            head.setCheckable(True)
            self.heads.addButton(head)
            column.addWidget(head)
            head.toggled.connect(lambda on, group=group: self._unfold(group, on))
            group.setVisible(False)
        for group in self.groups:
            column.addWidget(group)
        column.addStretch(1)
        self.setWidget(inside)
        self.open(self.groups[0])

    def open(self, group: Group) -> None:
        self.heads.buttons()[self.groups.index(group)].setChecked(True)

    def group_of(self, field: NumberField) -> Group:
        """Where this number is typed."""
        return next(group for group in self.groups if field in group.fields)

    def show_evaluation(self, evaluation: Evaluation) -> None:
        for group in self.groups:
            if group.isVisible() or not self.isVisible():
                group.show_study(self.document.study)

    def _unfold(self, group: Group, on: bool) -> None:
        group.setVisible(on)
        if on:
            group.show_study(self.document.study)


class ShapeForms(FormsPane):
    """Wall, grooves, water: what is chosen in the strips opens its group."""

    def __init__(self, document: Document, pointer: Pointer, parent: QWidget | None = None) -> None:
        self.pointer = pointer
        self.wall = WallGroup(document, pointer)
        self.grooves = GrooveGroup(document, pointer)
        self.water = WaterGroup(document, pointer)
        self._chosen: tuple[int | None, int | None] = (None, None)
        super().__init__(document, (self.wall, self.grooves, self.water), parent)

    def show_pointing(self, now: Pointing, soon: bool = False) -> None:
        """Open the group of what was just chosen. `soon` says that an evaluation is about to be shown anyway."""
        chosen = (now.knot, now.groove)
        if soon and chosen == self._chosen:
            return
        if chosen != self._chosen:
            if now.knot is not None and now.knot != self._chosen[0]:
                self.open(self.groups[0])
            elif now.groove is not None and now.groove != self._chosen[1] and not self.water.isVisible():
                self.open(self.grooves)
            self._chosen = chosen
        if self.wall.isVisible():
            self.wall.show_chosen()
        for group in (self.grooves, self.water):
            if group.isVisible():
                group.show_chosen()
