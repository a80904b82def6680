"""A line to type lengths in, one or several, in the unit of its window; what it holds is in millimetres."""

from PySide6.QtWidgets import QLineEdit, QWidget

from profiler.pictures.basics.lengths import MILLIMETRES
from profiler.ui.widgets.labels import Tells, unit_of


class LengthLine(Tells, QLineEdit):
    """For what is read when it is asked for, where a `NumberBox` proposes: its text may be a span or a list too.

    `unit` is that of what is typed: only millimetres are turned, so that one line may ask a length now, then an angle.
    """

    def __init__(self, held: str = "", unit: str = MILLIMETRES.name, parent: QWidget | None = None) -> None:
        super().__init__(held, parent)
        self._unit = unit
        self._lengths = MILLIMETRES  # in which the text is
        self._held = self._shown = held

    @property
    def held(self) -> str:
        """The text in millimetres; as it was handed over, where nobody typed since."""
        if self.text() == self._shown:
            return self._held
        return self._lengths.typed(self.text())

    def hold(self, text: str, unit: str | None = None) -> None:
        """Show this, in millimetres where it is a length."""
        self._unit = self._unit if unit is None else unit
        self._lengths = unit_of(self) if self._unit == MILLIMETRES.name else MILLIMETRES
        self._held, self._shown = text, self._lengths.boxed(text)
        self.setText(self._shown)

    def setPlaceholderText(self, text: str) -> None:
        self._keep("setPlaceholderText", text)

    def tell_again(self) -> None:
        """Nobody hears of it: what is held stays."""
        super().tell_again()
        if self._unit == MILLIMETRES.name and self._lengths is not unit_of(self):
            silent, modified = self.blockSignals(True), self.isModified()
            self.hold(self.held)
            self.setModified(modified)
            self.blockSignals(silent)
