"""All findings in a list: stops and checks first, worst above, then the notes by what they are about, with counts.

Notes are folded under their heads, which say how many: what presses is not lost among what is only to be known.
"""

from collections.abc import Collection
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from profiler.assess import Finding, Severity
from profiler.assess.findings.finding import by_topic, grouped
from profiler.assess.findings.kinds import Topic
from profiler.numbers import counted
from profiler.ui.shape.findings_view import remedy_button, style_remedy, style_tag
from profiler.ui.widgets.keys import Key, answered, keyed
from profiler.ui.widgets.labels import plain_label, plain_tip
from profiler.ui.widgets.theme import LIGHT, Theme


@dataclass(frozen=True, slots=True)
class Head:
    """Of the notes on one matter."""

    topic: Topic
    count: int
    is_open: bool

    @property
    def words(self) -> str:
        return f"{self.topic.value}: {counted(self.count, 'note')}"


Entry = Finding | Head


def entries(findings: tuple[Finding, ...], unfolded: Collection[Topic] = ()) -> list[Entry]:
    """What the list shows, in its order."""
    shown: list[Entry] = [f for f in findings if f.severity is not Severity.NOTE]
    for topic, notes in by_topic(f for f in findings if f.severity is Severity.NOTE):
        is_open = topic in unfolded
        shown += [Head(topic, len(notes), is_open), *(grouped(notes) if is_open else ())]
    return shown


KEYS: tuple[Key["FindingRow | HeadRow"], ...] = (
    Key("The finding or head above or below", (("Up", lambda r: r.step(-1)), ("Down", lambda r: r.step(1)))),
    keyed("Point at the finding's place; unfold or fold a head's notes", lambda r: r.act(), "Return", "Enter", "Space"),
)


class HeadRow(QPushButton):
    """A click or Enter unfolds the notes below it, or folds them."""

    turned = Signal(object)
    stepped = Signal(int)

    def __init__(self, head: Head, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.head = head
        self.setObjectName("listHead")
        self.clicked.connect(self.act)
        self.show_head(head)

    def show_head(self, head: Head) -> None:
        self.head = head
        self.setText(f"{'▾' if head.is_open else '▸'}  {head.words}")
        self.setAccessibleName(f"{head.words}, {'fold' if head.is_open else 'unfold'} them")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not answered(self, KEYS, event):
            super().keyPressEvent(event)

    def act(self) -> None:
        self.turned.emit(self.head.topic)

    def step(self, by: int) -> None:
        self.stepped.emit(by)


class FindingRow(QFrame):
    """One finding; a click or Enter points at its place, the button makes its edit."""

    pointed = Signal(object)
    remedied = Signal(object)
    stepped = Signal(int)

    def __init__(self, finding: Finding, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.finding = finding
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 3, 8, 3)
        self._tag, self._text, self._do = plain_label(), _folding(plain_label()), remedy_button()
        self._do.clicked.connect(lambda: self.remedied.emit(self.finding))
        row.addWidget(self._tag, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self._text, 1)
        row.addWidget(self._do, 0, Qt.AlignmentFlag.AlignTop)
        self.setObjectName("finding")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.show_finding(finding, theme)

    def show_finding(self, finding: Finding, theme: Theme) -> None:
        self.finding = finding
        style_tag(self._tag, finding, theme)
        self._tag.setHidden(finding.severity is Severity.NOTE)  # its head says so of all that stand below it
        self._text.setText(finding.text)
        self.setAccessibleName(f"{finding.severity.value}: {finding.text}")
        self._text.setToolTip(plain_tip(finding.source))
        style_remedy(self._do, finding)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.act()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not answered(self, KEYS, event):
            super().keyPressEvent(event)

    def act(self) -> None:
        self.pointed.emit(self.finding)

    def step(self, by: int) -> None:
        self.stepped.emit(by)


class FindingsList(QScrollArea):
    """Rows that stay are kept and shown anew, so that a list in sight costs a drag little."""

    pointed = Signal(object)
    remedied = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # its rows have the keyboard, and scroll themselves into sight
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("All findings")
        self._shown: list[Entry] = []
        self._findings: tuple[Finding, ...] = ()
        self._unfolded: set[Topic] = set()
        self._theme: Theme = LIGHT
        self._rows: list[QWidget] = []
        inside = QWidget()
        self._column = QVBoxLayout(inside)
        self._column.setContentsMargins(0, 4, 0, 4)
        self._column.setSpacing(2)
        self._column.addStretch(1)
        self.setWidget(inside)

    def show_findings(self, findings: tuple[Finding, ...], theme: Theme) -> None:
        self._findings = findings
        wanted = entries(findings, self._unfolded)
        renewed, self._theme = theme is not self._theme, theme
        before, self._shown = self._shown, wanted
        held = next((place for place, row in enumerate(self._rows) if row.hasFocus()), None)
        for place, entry in enumerate(wanted):
            old = before[place] if place < len(before) else None
            if old is not None and isinstance(old, Head) is isinstance(entry, Head):
                if renewed or old is not entry:
                    self._renew(self._rows[place], entry)
                continue
            self._drop(place)
            before = before[:place]
            self._rows.append(self._made(entry))
            self._column.insertWidget(place, self._rows[place])
        self._drop(len(wanted))
        if held is not None and not any(row.hasFocus() for row in self._rows):
            self._take_keyboard(held)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """As long as its texts are at this width, and no longer: nothing blank is scrolled to."""
        super().resizeEvent(event)
        self._column.invalidate()

    def _made(self, entry: Entry) -> QWidget:
        row: HeadRow | FindingRow
        if isinstance(entry, Head):
            row = HeadRow(entry)
            row.turned.connect(self._turn)
        else:
            row = FindingRow(entry, self._theme)
            row.pointed.connect(self.pointed)
            row.remedied.connect(self.remedied)
        row.stepped.connect(lambda by: self._step(row, by))
        return row

    def _turn(self, topic: Topic) -> None:
        """Unfold the notes on this matter, or fold them; those of the others stay as they are."""
        self._unfolded ^= {topic}
        self.show_findings(self._findings, self._theme)

    def _step(self, row: QWidget, by: int) -> None:
        """The keyboard to the row before or after; it is scrolled into sight."""
        found = self._rows[min(max(self._rows.index(row) + by, 0), len(self._rows) - 1)]
        found.setFocus(Qt.FocusReason.TabFocusReason)
        self.ensureWidgetVisible(found)

    def _take_keyboard(self, place: int) -> None:
        """To the finding at this place or the next: the row that had it went with the list it stood in."""
        for row in (self._rows[place:] or self._rows[-1:])[:1]:
            row.show()  # a new one is shown only by its layout, and what is not shown takes no keyboard
            row.setFocus(Qt.FocusReason.OtherFocusReason)

    def _renew(self, widget: QWidget, entry: Entry) -> None:
        if isinstance(widget, FindingRow) and isinstance(entry, Finding):
            widget.show_finding(entry, self._theme)
        elif isinstance(widget, HeadRow) and isinstance(entry, Head):
            widget.show_head(entry)

    def _drop(self, first: int) -> None:
        """Take away the rows from this place on."""
        for row in self._rows[first:]:
            self._column.removeWidget(row)
            row.hide()  # else a layout that was to show it yet would show it as a window of its own
            row.setParent(None)
            row.deleteLater()
        del self._rows[first:]


def _folding(label: QLabel) -> QLabel:
    """Folded to the width there is, and as high as that makes it."""
    label.setWordWrap(True)
    policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
    policy.setHeightForWidth(True)  # else the list is as long as if every text were folded narrow
    label.setSizePolicy(policy)
    return label
