"""The line in the window's frame under every page: what the program says, and the standing mark of the cautions."""

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QWidget

from profiler.assess import Evaluation
from profiler.ui.document.document import Document
from profiler.ui.widgets.labels import plain_label, plain_tip, unit_of
from profiler.ui.widgets.spoken import announce

HEIGHT = 26
MARK = "⚠ Screening figures: cautions"


class MessageLine(QWidget):
    """A sentence stays until the next thing is done: the study changed, a page turned, a menu's action begun."""

    cautions_wanted = Signal()

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self._said_of: object = None  # the study that was there when it was said
        self.setObjectName("messageLine")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setFixedHeight(HEIGHT)
        self.text = plain_label()
        self.text.setTextFormat(Qt.TextFormat.PlainText)
        self.text.setAccessibleName("What the program says")
        self.text.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.offered, self.cautions = QPushButton(), QPushButton(MARK)
        self.offered.setObjectName("link")
        self.offered.clicked.connect(lambda: self._do())
        self.offered.hide()
        self.cautions.setObjectName("quiet")
        self.cautions.setToolTip("What these figures are not, and who has to check what")
        self.cautions.clicked.connect(self.cautions_wanted)
        self._do: Callable[[], object] = lambda: None
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 0, 8, 0)
        row.setSpacing(8)
        row.addWidget(self.text, 1)
        row.addWidget(self.offered)
        row.addWidget(self.cautions)
        document.announced.connect(self.say)
        document.evaluated.connect(self._follow)

    def say(self, sentence: str) -> None:
        self._said_of = self.document.study
        self.offered.hide()
        self.text.setText(sentence)
        told = unit_of(self).told(sentence)
        self.text.setToolTip(plain_tip(told))
        announce(self.text, told)

    def offer(self, words: str, do: Callable[[], object]) -> None:
        """A button beside what was said."""
        self._do = do
        self.offered.setText(words)
        self.offered.show()

    def clear(self, _: object = None) -> None:
        """The next thing is being done."""
        self.say("")

    def _follow(self, e: Evaluation) -> None:
        if self.text.text() and self.document.study is not self._said_of:
            self.clear()
