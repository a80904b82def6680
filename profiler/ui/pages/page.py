"""What every page of the window is."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit, QScrollArea, QWidget

from profiler.assess import Evaluation
from profiler.pictures.basics.lengths import LengthUnit
from profiler.ui.document.document import Document
from profiler.ui.widgets.canvas import Canvas
from profiler.ui.widgets.theme import LIGHT, Theme


class Page(QWidget):
    """Follows the document. A page out of sight may leave its news: `activated` comes when it is turned to.

    Keys of the menus act on the page in view: what a page can do of them it says here.
    """

    can_zoom = False
    has_forms = False  # to hide, and findings to list

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.theme: Theme = LIGHT
        document.evaluated.connect(self.show_evaluation)  # a method, no lambda: it ends with the page

    def activated(self) -> None:
        """It has come into view."""
        self.show_evaluation(self.document.evaluation)

    def show_evaluation(self, e: Evaluation) -> None:
        """The study has changed, or more is known of it."""
        raise NotImplementedError

    def show_theme(self, theme: Theme) -> None:
        """Paint in these colours from now on; a picture that is still awaited, its paper too."""
        self.theme = theme
        for canvas in self.findChildren(Canvas):
            canvas.theme = theme
            canvas.update()

    def show_lengths(self, unit: LengthUnit) -> None:
        """Show lengths in this unit, where the page shows any that may be in inches."""

    def key_parts(self) -> Sequence[QWidget]:
        """What the keyboard is taken to in turn, part by part."""
        raise NotImplementedError

    def next_part(self, forward: bool = True) -> None:
        """Take the keyboard to the next part of this page that is seen."""
        shown = [part for part in self.key_parts() if part.isVisible() and part.isEnabled()]
        focused = QApplication.focusWidget()
        held = [part is focused or (focused is not None and part.isAncestorOf(focused)) for part in shown]
        here = held.index(True) if True in held else (-1 if forward else 0)
        if shown:
            entrance = _entrance(shown[(here + (1 if forward else -1)) % len(shown)])
            entrance.setFocus(Qt.FocusReason.TabFocusReason)
            _scroll_to(entrance)

    def zoom(self, factor: float) -> None:
        """Larger or smaller, where there is something to enlarge."""

    def toggle_findings(self) -> None:
        """All findings listed or not, where there are any."""

    def toggle_forms(self) -> None:
        """Forms hidden or shown, where there are any."""

    def begin_anew(self) -> None:
        """Another study was opened."""

    def fit_again(self) -> None:
        """The whole of it again."""


def _scroll_to(widget: QWidget) -> None:
    """Tab does that by itself; whatever else takes the keyboard somewhere has to."""
    around = widget.parentWidget()
    while around is not None:
        if isinstance(around, QScrollArea):
            around.ensureWidgetVisible(widget)
        around = around.parentWidget()


def _entrance(part: QWidget) -> QWidget:
    """What takes the keyboard of a part: itself, or the first box in it to choose or type in."""
    if part.focusPolicy() & Qt.FocusPolicy.TabFocus:
        return part
    inside = [w for w in part.findChildren(QWidget) if w.isVisible() and w.isEnabled()]
    inside = [w for w in inside if w.focusPolicy() & Qt.FocusPolicy.TabFocus]
    return next((w for w in inside if isinstance(w, QComboBox | QLineEdit)), inside[0] if inside else part)
