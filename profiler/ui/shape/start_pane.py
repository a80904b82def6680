"""Curves to start from, in the place of the forms: one angle, two with a corner, graded; live, each with few handles.

A drag of a handle is one undo step. Every curve is fitted to the machine; where a limit binds the last one that fits
stays, and the limit is named.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import log

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSlider, QVBoxLayout, QWidget

from profiler.assess.fitting.starting_curves import GRADED_KNOTS, Knots, graded, one_angle, started, two_angles
from profiler.numbers import fixed
from profiler.study import Design
from profiler.ui.document.document import Document
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.labels import bold, plain_label

STEP = "Start a curve"


@dataclass(frozen=True, slots=True)
class Handle:
    """A number of a curve, from low to high in whole ticks; heights are shares of the machine's."""

    label: str
    unit: str
    low: float
    high: float
    now: float
    tick: float


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of curve: its handles, the knots they give for a height, and what the handles are with a knot pulled."""

    label: str
    handles: tuple[Handle, ...]
    knots: Callable[..., Knots]
    pulled: Callable[[tuple[float, ...], "Pull"], tuple[float, ...]]


@dataclass(frozen=True, slots=True)
class Pull:
    """A knot dragged in the angle strip; None: not moved that way. `share` is its height over the wall's."""

    knot: int
    share: float | None
    angle_deg: float | None
    leaving: bool


def _corner(height_mm: float, lower: float, upper: float, corner_pct: float) -> Knots:
    return two_angles(height_mm, lower, upper, round(0.01 * corner_pct * height_mm, 4))


def _cone_pulled(values: tuple[float, ...], pull: Pull) -> tuple[float, ...]:
    return values if pull.angle_deg is None else (pull.angle_deg,)


def _corner_pulled(values: tuple[float, ...], pull: Pull) -> tuple[float, ...]:
    lower, upper, corner = values
    if pull.angle_deg is not None:
        is_upper = pull.knot == 2 or (pull.knot == 1 and pull.leaving)
        lower, upper = (lower, pull.angle_deg) if is_upper else (pull.angle_deg, upper)
    if pull.share is not None and pull.knot == 1:
        corner = 100.0 * pull.share
    return lower, upper, corner


def _graded_pulled(values: tuple[float, ...], pull: Pull) -> tuple[float, ...]:
    """An end gives its own angle; a knot between gives the power of the law that passes through it."""
    floor, lip, power = values
    angle, last = pull.angle_deg, GRADED_KNOTS - 1
    if angle is None:
        return values
    if pull.knot in (0, last):
        return (angle, lip, power) if pull.knot == 0 else (floor, angle, power)
    left = (angle - lip) / (floor - lip) if floor != lip else 1.0
    if not 0.0 < left < 1.0:
        return values
    return floor, lip, log(left) / log(1.0 - pull.knot / last)


def _angle(label: str, now: float) -> Handle:
    return Handle(label, "°", 0.0, 40.0, now, 0.25)


KINDS = (
    Kind("One angle", (_angle("Angle", 14.5),), one_angle, _cone_pulled),
    Kind("Two angles with a corner",
         (_angle("Below the corner", 20.0), _angle("Above it", 10.0), Handle("Corner at", "% of height", 5, 95, 50, 1)),
         _corner, _corner_pulled),
    Kind("Graded by a power law",
         (_angle("At the floor", 28.0), _angle("At the lip", 4.0), Handle("Power", "", 0.5, 3.0, 1.0, 0.05)), graded,
         _graded_pulled),
)  # fmt: skip


class StartPane(QWidget):
    """`closed` when the designer wants the forms back."""

    closed = Signal()

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._from: Design = document.design
        self.kind, self.sentence, self.back = ChoiceBox(), plain_label(), QPushButton("Back to the forms")
        self.sliders = [QSlider(Qt.Orientation.Horizontal) for _ in range(3)]
        self._words = [plain_label() for _ in self.sliders]
        self._lay_out()
        self.kind.activated.connect(lambda _: self._choose())
        for slider in self.sliders:
            slider.sliderPressed.connect(lambda: document.begin(STEP))
            slider.valueChanged.connect(lambda _: self._apply())
            slider.sliderReleased.connect(document.commit)
        self.back.clicked.connect(self.closed)
        self._show_handles()

    def start(self) -> None:
        """Start from the shown design: its grooves' rule, its body and its name stay."""
        self._from = self._document.design
        self.sentence.setText(
            "A curve replaces every knot of the shown design; undo takes it back. Drag its handles here, or its knots "
            "in the angle strip."
        )

    def _choose(self) -> None:
        self._show_handles()
        self._apply()

    def _show_handles(self) -> None:
        handles = self._kind().handles
        for k, slider in enumerate(self.sliders):
            there = k < len(handles)
            slider.setVisible(there)
            self._words[k].setVisible(there)
            if there:
                h = handles[k]
                slider.blockSignals(True)
                slider.setRange(0, round((h.high - h.low) / h.tick))
                slider.setValue(round((h.now - h.low) / h.tick))
                slider.blockSignals(False)
                slider.setAccessibleName(h.label)
        self._tell()

    def _kind(self) -> Kind:
        return KINDS[self.kind.currentIndex()]

    def values(self) -> tuple[float, ...]:
        """What the handles stand at."""
        pairs = zip(self._kind().handles, self.sliders, strict=False)
        return tuple(h.low + s.value() * h.tick for h, s in pairs)

    def pull(self, knot: int, height_mm: float | None, angle_deg: float | None, leaving: bool) -> bool:
        """A knot of the started curve was dragged in the angle strip: its handle follows; False for another curve."""
        kind, design = self._kind(), self._document.design
        high = self._document.study.machine.height_mm
        if len(design.wall.knots) != len(kind.knots(high, *self.values())):
            return False
        share = None if height_mm is None else height_mm / high
        values = kind.pulled(self.values(), Pull(knot, share, angle_deg, leaving))
        for h, slider, value in zip(kind.handles, self.sliders, values, strict=False):
            slider.blockSignals(True)
            slider.setValue(round((min(max(value, h.low), h.high) - h.low) / h.tick))
            slider.blockSignals(False)
        self._apply()
        return True

    def _apply(self) -> None:
        """The curve as it stands, fitted, as the shown design."""
        self._tell()
        machine = self._document.study.machine
        if self._from.name != self._document.design.name:
            self._from = self._document.design
        try:
            found = started(self._from, machine, self._kind().knots(machine.height_mm, *self.values()))
        except ValueError as reason:
            self.sentence.setText(str(reason))
            return
        self.sentence.setText(found.sentence)
        if found.design is not None:
            self._document.edit_design(found.design, STEP)

    def _tell(self) -> None:
        for h, value, label in zip(self._kind().handles, self.values(), self._words, strict=False):
            label.setText(f"{h.label}: {fixed(value, 2 if h.tick < 1.0 else 0)} {h.unit}".rstrip())

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 8, 10, 10)
        column.setSpacing(7)
        column.addWidget(bold(plain_label(STEP)))
        for kind in KINDS:
            self.kind.addItem(kind.label)
        self.kind.setAccessibleName("Kind of curve")
        column.addWidget(self.kind)
        for words, slider in zip(self._words, self.sliders, strict=True):
            column.addWidget(words)
            row = QHBoxLayout()
            row.addWidget(slider)
            column.addLayout(row)
        self.sentence.setWordWrap(True)
        column.addWidget(self.sentence)
        column.addStretch(1)
        self.back.setObjectName("plain")
        column.addWidget(self.back)
