"""A number with its unit: typed, stepped with the arrow keys, or scrubbed by dragging its label."""

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QWheelEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QSizePolicy, QWidget

from profiler.numbers import editable, read
from profiler.pictures.basics.lengths import INCHES, MILLIMETRES, LengthUnit
from profiler.study import NumberField
from profiler.ui.widgets.keys import REDO, SIZES, UNDO, Gesture, Key, after_a_colon, answered, keyed, stroke_of
from profiler.ui.widgets.labels import Tells, head_label, unit_of

SCRUB_PX = 4.0  # pixels for one step
BY_STEPS = {1.0: "a step", 10.0: "ten steps", 0.1: "a tenth of a step"}


def _arrows(held: str, times: float) -> Key["NumberBox"]:
    fine = times < 1.0
    steps = 1.0 if fine else times  # a fine step is itself a tenth
    return Key(
        f"Up or down by {BY_STEPS[times]}",
        (
            (f"{held}Up", lambda b: b.take_and_step(steps, fine)),
            (f"{held}Down", lambda b: b.take_and_step(-steps, fine)),
        ),
    )


KEYS: tuple[Key["NumberBox"], ...] = (
    *(_arrows(held, times) for held, times in SIZES),
    keyed("Cancel what is being typed", lambda b: b.give_up(), "Esc"),
)
SCRUB = Gesture("Drag its name sideways", "Change it, with Ctrl by tenths of a step; one drag is one undo step")
MOUSE = (SCRUB,)


class NumberBox(Tells, QLineEdit):
    """Shows a value; proposes another when one is typed or stepped. Never clamps: it refuses, and says why."""

    proposed = Signal(object)  # float; None from an emptied box where that is allowed
    refused = Signal(str)

    def __init__(self, field: NumberField, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("number")
        self.field = field
        self._lengths = MILLIMETRES
        self.unit_label: QLabel | None = None
        self.setPlaceholderText(field.empty)
        self._value: float | None = None
        self._just_clicked = False
        self.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.setAcceptDrops(False)  # a file dropped here is for the window
        self.setToolTip(f"{field.help}\n{field.text(field.low)} to {field.with_unit(field.high)}")
        self.setAccessibleName(f"{field.label}, {field.unit}" if field.unit else field.label)
        self.editingFinished.connect(self._take)

    @property
    def value(self) -> float | None:
        return self._value

    def show_value(self, value: float | None) -> None:
        """Show the document's value; text being typed is left alone."""
        self._value = value
        if not (self.hasFocus() and self.isModified()):
            self._write()

    def tell_again(self) -> None:
        """Show and take a length in the window's unit; other numbers stay as they are."""
        super().tell_again()
        if self.field.unit == MILLIMETRES.name and self._lengths is not unit_of(self):
            self._lengths = unit_of(self)
            self._write()

    def step(self, count: float, fine: bool = False) -> None:
        """Propose a value so many steps away, kept within the field's bounds."""
        if self._value is None:
            return
        step = self.field.step_of(fine) * count
        self._value = self.field.nearest(self._value + step, fine)
        self._write()
        self.proposed.emit(self._value)

    def event(self, event: QEvent) -> bool:
        """Undo and redo are the document's, but for text that is still being typed."""
        if event.type() != QEvent.Type.ShortcutOverride or not isinstance(event, QKeyEvent) or self.isModified():
            return super().event(event)
        if stroke_of(event) in (*UNDO, *REDO):
            event.ignore()
            return False
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not answered(self, KEYS, event):
            super().keyPressEvent(event)

    def take_and_step(self, count: float, fine: bool) -> None:
        """Step from what has been typed."""
        self._take()
        self.step(count, fine)

    def give_up(self) -> None:
        """Show the value again, and let the keyboard go."""
        self._write()
        self.clearFocus()

    def wheelEvent(self, event: QWheelEvent) -> None:
        if self.hasFocus():
            self.step(1.0 if event.angleDelta().y() > 0 else -1.0)
            event.accept()
        else:
            event.ignore()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.selectAll()
        self._just_clicked = event.reason() == Qt.FocusReason.MouseFocusReason

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """The click that takes hold of the box takes the whole number, to be typed over; the next sets the cursor."""
        super().mouseReleaseEvent(event)
        if self._just_clicked and not self.hasSelectedText():
            self.selectAll()
        self._just_clicked = False

    def _take(self) -> None:
        if not self.isModified():
            return
        if self.field.empty and not self.text().strip():
            self.setModified(False)
            self.proposed.emit(None)
            return
        if self.text().strip() == self._shown():  # in inches it is a rounded one: what is held is not rounded by it
            self._write()
            return
        try:
            typed = typed_value(self.field, self.text(), self._lengths)
        except ValueError as reason:
            self.refused.emit(f"{str(reason)[:-1]}; {self._kept()}.")
            self._write()
            return
        if typed == self._value:
            self._write()
            return
        self._value = typed  # the next step starts from here, before the document has answered
        self.setModified(False)
        self.proposed.emit(typed)

    def _kept(self) -> str:
        return "nothing was changed" if self._value is None else f"{self.field.with_unit(self._value)} stays"

    def _shown(self) -> str:
        """The value as text, in the unit shown."""
        decimals = self.field.decimals + self._lengths.more_decimals
        return "" if self._value is None else editable(self._lengths.shown(self._value), decimals)

    def _write(self) -> None:
        text = self._shown()
        if text != self.text():
            self.setText(text)
        self.setModified(False)


def typed_value(field: NumberField, text: str, lengths: LengthUnit = MILLIMETRES) -> float:
    """What was typed for a field, in the field's own unit. Raises ValueError, a sentence, where it cannot be used.

    The unit may stand behind the number; a length's may be the other one, and counts.
    """
    try:
        alone, of_it = _without_unit(field, text.strip(), lengths)
        typed = read(alone)
    except ValueError:
        raise ValueError(f"{field.label}: {_no_number(field, text, lengths)}") from None
    if typed.per_cent and not field.unit.startswith("%"):
        raise ValueError(f"{field.label}: “{text.strip()}” is a share, not a number in {field.unit or 'units'}.")
    value = of_it.in_mm(typed.value)
    if (objection := field.objection(value)) is not None:
        raise ValueError(objection)
    return value


def _no_number(field: NumberField, text: str, lengths: LengthUnit) -> str:
    """Why a text is none; with the unit asked for where a number begins it."""
    try:
        read(text)
    except ValueError as reason:
        unit = lengths.plural if field.unit == MILLIMETRES.name and not lengths.is_mm else field.unit
        return f"{str(reason)[:-1]} in {unit}." if unit and text.strip()[:1].isdigit() else str(reason)
    return f"“{text.strip()}” is not a number."


def _without_unit(field: NumberField, text: str, lengths: LengthUnit) -> tuple[str, LengthUnit]:
    """The number alone, and the unit of length it is in."""
    if field.unit == MILLIMETRES.name:
        named = next((unit for unit in (MILLIMETRES, INCHES) if text.endswith(unit.name)), None)
        return (text, lengths) if named is None else (text.removesuffix(named.name), named)
    unit = next((u for u in (field.unit, field.unit.replace("µ", "u")) if u and text.endswith(u)), "")
    return text.removesuffix(unit), MILLIMETRES  # which turns nothing


class Scrub(Tells, QLabel):
    """A label that changes its number when dragged sideways; one drag is one gesture."""

    began = Signal()
    ended = Signal()

    def __init__(self, text: str, box: NumberBox, parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self._box = box
        self._from: tuple[float, float] | None = None
        self.setBuddy(box)
        self.setCursor(Qt.CursorShape.SizeHorCursor)
        self.setToolTip(f"{box.field.help}\n{after_a_colon(SCRUB.how, SCRUB.words)}.")

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton and self._box.value is not None and self._box.isEnabled():
            self._from = (event.position().x(), self._box.value)
            self.began.emit()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._from is None:
            return
        start, value = self._from
        fine = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        field = self._box.field
        step = field.step_of(fine)
        wanted = value + round((event.position().x() - start) / SCRUB_PX) * step
        self._box.proposed.emit(field.nearest(wanted, fine))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._from is not None:
            self._from = None
            self.ended.emit()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.EnabledChange:
            self.setCursor(Qt.CursorShape.SizeHorCursor if self.isEnabled() else Qt.CursorShape.ArrowCursor)


def labelled(box: NumberBox, width: int, unit: str = "") -> tuple[QWidget, Scrub]:
    """Label, number and unit in a row, for a bar."""
    row = QWidget()
    layout = QHBoxLayout(row)
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setSpacing(3)
    scrub = Scrub(box.field.label, box)
    box.setFixedWidth(width)
    tail = head_label(unit or box.field.unit)
    tail.setObjectName("unit")
    box.unit_label = tail
    for part in (scrub, box, tail):
        layout.addWidget(part)
    row.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Preferred)  # no word is cut for another's sake
    return row, scrub
