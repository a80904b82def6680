"""Findings: the worst in one line with its count, all of them in a list that opens upward (or a column when wide)."""

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from ..assess import Finding, Severity
from ..pictures.display import Role
from .theme import LIGHT, Theme

TAGS = {Severity.STOP: "STOP", Severity.CHECK: "CHECK", Severity.NOTE: "NOTE"}


def count_text(findings: tuple[Finding, ...]) -> str:
    """'1 stop, 2 checks, 4 notes'; severities without findings are left out."""
    parts = []
    for severity in Severity:
        n = sum(f.severity is severity for f in findings)
        if n:
            parts.append(f"{n} {severity.value}{'s' if n > 1 else ''}")
    return ", ".join(parts) or "no findings"


class FindingRow(QFrame):
    """One finding; a click points at its place, the button makes its edit."""

    pointed = Signal(object)
    remedied = Signal(object)

    def __init__(self, finding: Finding, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.finding = finding
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 3, 8, 3)
        row.addWidget(severity_tag(finding, theme), 0, Qt.AlignmentFlag.AlignTop)
        text = QLabel(finding.text)
        text.setWordWrap(True)
        text.setToolTip(finding.source)
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)  # else the list is as long as if every text were folded narrow
        text.setSizePolicy(policy)
        row.addWidget(text, 1)
        if finding.remedy is not None:
            button = remedy_button(finding)
            button.clicked.connect(lambda: self.remedied.emit(finding))
            row.addWidget(button, 0, Qt.AlignmentFlag.AlignTop)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.pointed.emit(self.finding)


class FindingsList(QScrollArea):
    pointed = Signal(object)
    remedied = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("All findings")
        self._shown: tuple[Finding, ...] = ()

    def show_findings(self, findings: tuple[Finding, ...], theme: Theme) -> None:
        if findings == self._shown:
            return
        self._shown = findings
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 4, 0, 4)
        column.setSpacing(2)
        for finding in findings:
            row = FindingRow(finding, theme)
            row.pointed.connect(self.pointed)
            row.remedied.connect(self.remedied)
            column.addWidget(row)
        column.addStretch(1)
        self.setWidget(inside)


class FindingsBar(QWidget):
    """The worst finding, its remedy, the count that opens the list; or the last thing the program said."""

    pointed = Signal(object)
    remedied = Signal(object)
    opened = Signal(bool)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("findings")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 4, 8, 4)
        row.setSpacing(8)
        self._tag = QLabel()
        self.text = QLabel()
        self.text.setWordWrap(True)
        self.text.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._do = QPushButton("Do this")
        self._do.setObjectName("plain")
        self._do.clicked.connect(lambda: self.remedied.emit(self._worst))
        self.count = QPushButton()
        self.count.setObjectName("plain")
        self.count.setCheckable(True)
        self.count.setToolTip("Show all findings (F8)")
        self.count.toggled.connect(self.opened)
        row.addWidget(self._tag)
        row.addWidget(self.text, 1)
        row.addWidget(self._do)
        row.addWidget(self.count)
        self._offer = QPushButton()
        self._offer.setObjectName("plain")
        self._offer.hide()
        self._offer.clicked.connect(lambda: self._offered())
        row.insertWidget(2, self._offer)
        self._offered: Callable[[], object] = lambda: None
        self._worst: Finding | None = None

    def show_findings(self, findings: tuple[Finding, ...], theme: Theme = LIGHT) -> None:
        self._offer.hide()
        self._worst = worst = findings[0] if findings else None
        self.count.setText(f"{count_text(findings)}  {'▾' if self.count.isChecked() else '▴'}")
        self._do.setVisible(worst is not None and worst.remedy is not None)
        if worst is not None:
            if worst.remedy is not None:
                self._do.setToolTip(worst.remedy.label)
            style_tag(self._tag, worst, theme)
            self.text.setText(worst.text)
        else:
            self._tag.clear()
            self.text.setText("Nothing to remark.")

    def say(self, sentence: str) -> None:
        """Show what the program has to say until the findings are shown again."""
        self._tag.setText("")
        self._tag.setStyleSheet("")
        self._do.hide()
        self._offer.hide()
        self.text.setText(sentence)

    def offer(self, words: str, do: Callable[[], object]) -> None:
        """A button beside what was said."""
        self._offered = do
        self._offer.setText(words)
        self._offer.show()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if self._worst is not None:
            self.pointed.emit(self._worst)


def severity_tag(finding: Finding, theme: Theme) -> QLabel:
    tag = QLabel()
    style_tag(tag, finding, theme)
    return tag


def style_tag(tag: QLabel, finding: Finding, theme: Theme) -> None:
    """A word in a box: bold and filled for a stop, outlined for a check, plain for a note."""
    colour = theme.roles[Role.STOP] if finding.severity is Severity.STOP else theme.muted
    box = f"background: {colour}; color: {theme.base};" if finding.severity is Severity.STOP else f"color: {colour};"
    edge = f"border: 1px solid {colour};" if finding.severity is not Severity.NOTE else "border: 1px solid transparent;"
    tag.setText(TAGS[finding.severity])
    tag.setStyleSheet(f"{box}{edge} border-radius: 3px; padding: 1px 5px; font-weight: bold; font-size: 8pt;")
    tag.setFixedWidth(58)
    tag.setAlignment(Qt.AlignmentFlag.AlignCenter)


def remedy_button(finding: Finding) -> QPushButton:
    button = QPushButton("Do this")
    button.setObjectName("plain")
    if finding.remedy is not None:
        button.setToolTip(finding.remedy.label)
        button.setAccessibleName(f"Do this: {finding.remedy.label}")
    return button
