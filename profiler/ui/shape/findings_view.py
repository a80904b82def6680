"""Findings: the worst in one line with its count. All of them: see `findings_list`."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QWidget

from profiler.assess import Finding, Severity
from profiler.pictures.basics.display import Role
from profiler.ui.widgets.labels import plain_label, plain_tip, unit_of
from profiler.ui.widgets.pointer import Pointer
from profiler.ui.widgets.theme import LIGHT, Theme

TAGS = {Severity.STOP: "STOP", Severity.CHECK: "CHECK", Severity.NOTE: "NOTE"}


def count_text(findings: tuple[Finding, ...]) -> str:
    """'1 stop, 2 checks, 4 notes'; severities without findings are left out."""
    parts = []
    for severity in Severity:
        n = sum(f.severity is severity for f in findings)
        if n:
            parts.append(f"{n} {severity.value}{'s' if n > 1 else ''}")
    return ", ".join(parts) or "no findings"


class FindingsBar(QWidget):
    """The worst finding, its remedy, and the count that opens the list of all. What is said: see `message_line`."""

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
        self._tag = plain_label()
        self.text = plain_label()
        self.text.setWordWrap(True)
        self.text.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._do = remedy_button()
        self._do.clicked.connect(lambda: self.remedied.emit(self._worst))
        self.count = QPushButton()
        self.count.setObjectName("plain")
        self.count.setCheckable(True)
        self.count.toggled.connect(self.opened)
        row.addWidget(self._tag)
        row.addWidget(self.text, 1)
        row.addWidget(self._do)
        row.addWidget(self.count)
        self._worst: Finding | None = None

    def show_findings(self, findings: tuple[Finding, ...], theme: Theme = LIGHT) -> None:
        self._worst = worst = findings[0] if findings else None
        is_open, many = self.count.isChecked(), count_text(findings)
        self.count.setText(f"{many}  {'▾' if is_open else '▴'}")
        self.count.setAccessibleName(f"{many}, {'close' if is_open else 'open'} the list")
        style_remedy(self._do, worst)
        if worst is not None:
            style_tag(self._tag, worst, theme)
            self.text.setText(worst.text)
        else:
            self._tag.clear()
            self.text.setText("No remarks.")

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if self._worst is not None:
            self.pointed.emit(self._worst)


def style_tag(tag: QLabel, finding: Finding, theme: Theme) -> None:
    """A word in a box: bold and filled for a stop, outlined for a check, plain for a note."""
    colour = theme.roles[Role.STOP] if finding.severity is Severity.STOP else theme.muted
    box = f"background: {colour}; color: {theme.base};" if finding.severity is Severity.STOP else f"color: {colour};"
    edge = f"border: 1px solid {colour};" if finding.severity is not Severity.NOTE else "border: 1px solid transparent;"
    tag.setText(TAGS[finding.severity])
    sheet = f"{box}{edge} border-radius: 3px; padding: 1px 5px; font-weight: bold; font-size: 8pt;"
    if tag.styleSheet() != sheet:  # to set one is slow, and the worst finding mostly stays
        tag.setStyleSheet(sheet)
    tag.setFixedWidth(58)
    tag.setAlignment(Qt.AlignmentFlag.AlignCenter)


def remedy_button() -> QPushButton:
    button = QPushButton("Apply")
    button.setObjectName("plain")
    return button


def style_remedy(button: QPushButton, finding: Finding | None) -> None:
    """Offer the edit that mends a finding, where one edit does."""
    remedy = None if finding is None else finding.remedy
    button.setVisible(remedy is not None)
    if remedy is not None:
        words = unit_of(button).told(remedy.label)
        button.setToolTip(plain_tip(words))
        button.setAccessibleName(f"Apply: {words}")


def point_at(pointer: Pointer, finding: Finding) -> None:
    """The place a finding speaks of, and the first of its grooves."""
    if finding.from_mm is not None and finding.to_mm is not None:
        middle = 0.5 * (finding.from_mm + finding.to_mm)
        pointer.point(cursor_mm=middle if finding.at_mm is None else finding.at_mm)
    if finding.grooves:
        pointer.point(groove=finding.grooves[0])
