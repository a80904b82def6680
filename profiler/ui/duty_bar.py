"""The duty bar: which design under which duty, the numbers one turns most, and what comes of it at a glance."""

import numpy as np
from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QWidget

from ..assess import Evaluation
from ..assess.findings import stops
from ..physics.overturn import State
from ..pictures.state_marks import SHORT_WORDS
from ..study import Duty, Study, edits, fields_of
from ..units import GRAVITY
from .document import Document
from .number_box import NumberBox, labelled

TURNED_MOST = (
    ("speed_rpm", "Speed", 44), ("solids_pct", "Solids", 42), ("d50_um", "Size d50", 40),
    ("dry_feed_t_h", "Dry feed", 44), ("water_l_min", "Water", 44),
)  # fmt: skip


class DutyBar(QWidget):
    reordered = Signal()

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 4, 8, 4)
        row.setSpacing(9)
        self.design = self._combo("Design", row, 118)
        self.design.textActivated.connect(document.show_design)
        self.duty = self._combo("Duty", row, 108)
        self.duty.textActivated.connect(document.show_duty)
        self.boxes: dict[str, NumberBox] = {}
        fields = fields_of(Duty)
        for name, label, width in TURNED_MOST:
            box = NumberBox(fields[name])
            widget, scrub = labelled(box, width, label)
            box.proposed.connect(lambda value, name=name: self._propose(name, value))
            box.refused.connect(document.say)
            scrub.began.connect(lambda label=label: document.begin(f"Change {label.lower()}"))
            scrub.ended.connect(document.commit)
            row.addWidget(widget)
            self.boxes[name] = box
        row.addStretch(1)
        self.summary = QLabel()
        self.summary.setAccessibleName("Grooves per state, acceleration and stops")
        row.addWidget(self.summary)

    def show_study(self, study: Study) -> None:
        for combo, names, shown in (
            (self.design, [d.name for d in study.designs], study.design.name),
            (self.duty, [d.name for d in study.duties], study.duty.name),
        ):
            if [combo.itemText(i) for i in range(combo.count())] != names:
                combo.clear()
                combo.addItems(names)
            combo.setCurrentText(shown)
            combo.setToolTip(shown)
        for name, box in self.boxes.items():
            box.show_value(getattr(study.duty, name))

    def show_evaluation(self, e: Evaluation) -> None:
        self.summary.setText(summary_of(e))

    def _combo(self, label: str, row: QHBoxLayout, width: int) -> QComboBox:
        caption, combo = QLabel(label), QComboBox()
        caption.setBuddy(combo)
        combo.setAccessibleName(label)
        combo.setFixedWidth(width)
        row.addWidget(caption)
        row.addWidget(combo)
        return combo

    def _propose(self, name: str, value: float) -> None:
        label = fields_of(Duty)[name].label.lower()
        self.document.edit_duty(edits.with_value(self.document.duty, name, value), f"Change {label}")


def summary_of(e: Evaluation) -> str:
    """States of the grooves, range of acceleration, stops: two short lines."""
    n = stops(e.findings)
    last = f"{n} stop{'s' if n > 1 else ''}" if n else "no stops"
    if e.shape is None or e.flow is None:
        return f"– grooves · lip R –\n– g · {last}"
    counts = [f"{int(np.sum(e.flow.groove_state[0] == s))} {SHORT_WORDS[s]}" for s in sorted(State, reverse=True)]
    low, high = (float(f(e.flow.acceleration[0])) / GRAVITY for f in (np.min, np.max))
    return f"{', '.join(counts)}\nlip R {e.shape.lip_radius:.1f} mm · {low:.0f} to {high:.0f} g · {last}"
