"""What every page of the window is."""

from PySide6.QtWidgets import QWidget

from profiler.assess import Evaluation
from profiler.ui.document.document import Document
from profiler.ui.widgets.theme import LIGHT, Theme


class Page(QWidget):
    """Follows the document. A page out of sight may leave its news: `activated` comes when it is turned to."""

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
        """Paint in these colours from now on."""
        self.theme = theme
