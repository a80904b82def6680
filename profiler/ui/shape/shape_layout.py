"""Where the parts of the Shape page stand, what folds where there is little room, and the way from part to part."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QGridLayout, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from profiler.assess.quantities.table import Scope, of_scope
from profiler.pictures.strips.angle_strip import TAG_MEANS
from profiler.ui.shape.duty_bar import DutyBar
from profiler.ui.shape.findings_list import FindingsList
from profiler.ui.shape.findings_view import FindingsBar
from profiler.ui.shape.readout_bar import ReadoutBar
from profiler.ui.shape.side_pane import SidePane
from profiler.ui.strips.base import Strip
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.labels import plain_label

WIDE_PX = 1600  # from here on the findings are a column
FOLD_PX = 1280  # below, the forms fold away by themselves
LIST_HEIGHT = 240
LIST_WIDTH = 320
HEAD_HEIGHT = 24
STRETCHES = ((1, 30), (2, 52), (3, 20))  # of angle strip, section, grooves
LEAST_PX = ((1, 200), (2, 150))  # of angle strip and section: nine columns of ladder beside open forms at 1024 px


class ShapeLayout:
    """The widgets of one page by name; decides nothing but what there is room for."""

    def __init__(
        self, page: QWidget, bar: DutyBar, side: SidePane, strips: Sequence[Strip], readout: ReadoutBar,
        findings: FindingsBar,
    ) -> None:  # fmt: skip
        self._page, self._bar, self._side, self._strips = page, bar, side, strips
        self._readout, self._findings = readout, findings
        self.pop_list, self.side_list = FindingsList(page), FindingsList()
        self.quantity, self.unfold = _quantity(), QPushButton()
        self._roomy: bool | None = None
        self._folded_by_hand: bool | None = None
        self._fill()

    def place(self) -> None:
        """Fold and unfold what the width allows; nothing overlaps but the list that was opened."""
        width = self._page.width()
        wide, roomy = width >= WIDE_PX, width >= FOLD_PX
        if roomy != self._roomy:
            self._roomy, self._folded_by_hand = roomy, None
        forms = roomy if self._folded_by_hand is None else not self._folded_by_hand
        self._side.setVisible(forms)
        self.unfold.setChecked(forms)
        self.unfold.setText("◂ Hide forms" if forms else "Forms ▸")
        self.unfold.setAccessibleName("Hide the forms" if forms else "Show the forms")
        self.side_list.setVisible(wide)
        self._findings.count.setEnabled(not wide)
        self.pop_list.setVisible(not wide and self._findings.count.isChecked())
        left, top = self._side.width() if forms else 0, self._readout.y() - LIST_HEIGHT
        self.pop_list.setGeometry(left, top, width - left, LIST_HEIGHT)
        self.pop_list.raise_()

    def show_side(self, shown: bool) -> None:
        """Fold or unfold what stands left of the strips, whatever the width."""
        self._folded_by_hand = not shown
        self.place()

    def key_parts(self) -> Sequence[QWidget]:
        """Bar, what stands at the left, angle strip, section, grooves, findings."""
        return (self._bar.design, self._side, *self._strips[1:], self._findings.count, self.pop_list, self.side_list)

    def _fill(self) -> None:
        self.unfold.setObjectName("fold")
        self.unfold.setCheckable(True)
        self.unfold.clicked.connect(self.show_side)
        middle = QHBoxLayout()
        middle.setSpacing(0)
        middle.addWidget(self._side)
        middle.addLayout(self._grid(), 1)
        self.side_list.setFixedWidth(LIST_WIDTH)
        middle.addWidget(self.side_list)
        self.side_list.hide()
        rows = QVBoxLayout(self._page)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        rows.addWidget(self._bar)
        rows.addLayout(middle, 1)
        rows.addWidget(self._readout)
        rows.addWidget(self._findings)
        self.pop_list.hide()

    def _grid(self) -> QGridLayout:
        """The strips under their heads."""
        grid = QGridLayout()
        grid.setSpacing(1)
        wall_tip = (
            "Wall angle from the axis of rotation against height above the inner floor, with the repose band.\n"
            f"{TAG_MEANS}."
        )
        heads = (
            self.unfold,
            _head("Wall angle  steeper ◂ ▸ shallower", wall_tip),
            _head("Section", "Half section at equal scale"),
            self.quantity,
        )
        for column, (head, strip) in enumerate(zip(heads, self._strips, strict=True)):
            head.setFixedHeight(HEAD_HEIGHT)
            grid.addWidget(head, 0, column)
            grid.addWidget(strip, 1, column)
        grid.setRowStretch(1, 1)
        for column, width in LEAST_PX:
            self._strips[column].setMinimumWidth(width)
        for column, stretch in STRETCHES:
            grid.setColumnStretch(column, stretch)
        return grid


def _quantity() -> QComboBox:
    combo = ChoiceBox(of_lengths=True)
    combo.setAccessibleName("Quantity shown for each groove")
    for q in of_scope(Scope.GROOVE):
        combo.addItem(f"{q.label}, {q.unit}" if q.unit else q.label, q.key)
    return combo


def _head(text: str, tip: str) -> QLabel:
    label = plain_label(text)
    label.setObjectName("stripHeader")
    label.setToolTip(tip)
    label.setAlignment(Qt.AlignmentFlag.AlignCenter)
    return label
