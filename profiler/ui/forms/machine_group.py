"""The machine as a form: its name, the user's list, its numbers but those of spinning, and its seat."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QHBoxLayout, QLineEdit

from profiler.study import Machine, Study, fields_of
from profiler.study.edits import design_edits as edits
from profiler.study.edits import machine_edits
from profiler.study.files.owned_lists import file_name
from profiler.study.records.machine import SEAT_HEIGHT, SEAT_RADIUS, SPINNING, TURNING
from profiler.ui.document.document import Document
from profiler.ui.files.folders import lists
from profiler.ui.forms.group import Group, plain_button
from profiler.ui.forms.list_picker import ListPicker
from profiler.ui.widgets.labels import plain_label
from profiler.ui.widgets.number_table import NumberTable


class MachineGroup(Group):
    title = "Machine"

    def __init__(self, document: Document, folder: Path | None = None) -> None:
        super().__init__(document)
        self.name = QLineEdit()
        self.name.setAccessibleName("Name of the machine")
        self.name.editingFinished.connect(self._rename)
        self.column.addWidget(self.name)
        self.list = ListPicker(Machine, (folder or lists()) / file_name(Machine), "machine")
        self.list.copied.connect(lambda machine: self.document.edit_machine(machine, "Copy a machine from the list"))
        self.list.add_wanted.connect(lambda: self.list.add_record(self.document.study.machine))
        self.list.told.connect(document.say)
        self.column.addWidget(self.list)
        self.form = self.numbers([f for f in fields_of(Machine).values() if f not in SPINNING])
        self.turning = self.options(TURNING)
        self.seat_head = plain_label("Seat, heights from its floor")
        self.column.addWidget(self.seat_head)
        self.seat = NumberTable(
            (SEAT_HEIGHT, SEAT_RADIUS),
            "Points of the seat, rim first; heights from the seat's floor",
            (2, 8),
            upward=True,
        )
        self.seat_head.setBuddy(self.seat)
        self.seat.proposed.connect(document.change)
        self.seat.refused.connect(document.say)
        self.column.addWidget(self.seat)
        row = QHBoxLayout()
        self.add = plain_button("Add point", "A seat point above the chosen one", row)
        self.delete = plain_button("Delete point", "Delete the chosen seat point", row)
        self.add.clicked.connect(lambda: self._edit(machine_edits.add_seat_point, "Add a seat point"))
        self.delete.clicked.connect(lambda: self._edit(machine_edits.delete_seat_point, "Delete a seat point"))
        self.column.addLayout(row)

    def show_study(self, study: Study) -> None:
        machine = study.machine
        if not (self.name.hasFocus() and self.name.isModified()):
            self.name.setText(machine.name)
        self.form.show_record(machine)
        self.turning.setCurrentIndex(self.turning.findData(machine.turning))
        self.seat.show_records(machine.seat)
        self.delete.setEnabled(bool(machine.seat))

    def _rename(self) -> None:
        if not self.name.isModified():
            return
        self.name.setModified(False)
        self.document.attempt(
            lambda s: edits.with_machine(s, machine_edits.rename(s.machine, self.name.text())), "Rename the machine"
        )
        self.name.setText(self.document.study.machine.name)

    def _edit(self, edit: Callable[[Machine, int], Machine], words: str) -> None:
        """At the chosen seat point."""
        point = self.seat.chosen
        self.document.attempt(lambda s: edits.with_machine(s, edit(s.machine, point)), words)
