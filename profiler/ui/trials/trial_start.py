"""What the trials page shows before there is a trial: what a trial is for, and each way to begin one."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from profiler.ui.widgets.labels import marked_up, plain_label

WHAT = (
    "A trial compares two designs by runs on the same feed, and says whether a difference in recovery is real and "
    "worth having. The ledger holds a line for each run: its design, its pair or block, masses and grades."
)
WAYS = (
    ("plan", "Plan a trial", "How many pairs it takes to see the gain you want; a protocol with runs in random order "
     "and a blank ledger to fill in on the plant."),
    ("paste", "Paste runs", "Copy a table with a line of headings from a spreadsheet first; columns are recognised by "
     "their names."),
    ("read", "Import a table…", "CSV or .xlsx with headings: one line per run. You see what is understood before "
     "anything is taken."),
    ("type", "Type runs in", "An empty ledger; add runs one by one."),
)  # fmt: skip


class TrialStart(QWidget):
    wanted = Signal(str)  # the key of a way

    def __init__(self) -> None:
        super().__init__()
        self.buttons: dict[str, QPushButton] = {}
        grid = QGridLayout()
        grid.setHorizontalSpacing(14)
        grid.setVerticalSpacing(10)
        grid.setColumnStretch(1, 1)
        for row, (key, words, meaning) in enumerate(WAYS):
            button = self.buttons[key] = QPushButton(words)
            button.setObjectName("plain")
            button.setToolTip(meaning)
            button.clicked.connect(lambda _=False, key=key: self.wanted.emit(key))
            grid.addWidget(button, row, 0)
            grid.addWidget(_words(meaning, "muted"), row, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 20, 16)
        column.setSpacing(12)
        column.addWidget(marked_up("<b>No trial yet</b>"))
        column.addWidget(_words(WHAT))
        column.addLayout(grid)
        column.addStretch(1)
        self.setMaximumWidth(760)


def _words(text: str, name: str = "") -> QLabel:
    label = plain_label(text)
    label.setObjectName(name)
    label.setWordWrap(True)
    label.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
    return label
