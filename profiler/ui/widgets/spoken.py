"""What is said to who hears the window, by Qt's own interface; toggles whose names say what pressing them does now."""

from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QAbstractButton, QWidget


def announce(widget: QWidget, words: str) -> None:
    """Say this now, wherever the keyboard is; nothing is sent where nobody listens."""
    if words and QAccessible.isActive():
        QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(widget, words))


def name_toggle(button: QAbstractButton, shows: str, hides: str) -> None:
    """A button that stays down: its name says what pressing it does next."""

    def follow(down: bool) -> None:
        button.setAccessibleName(hides if down else shows)

    button.toggled.connect(follow)
    follow(button.isChecked())
