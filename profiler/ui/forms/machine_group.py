"""The machine as a form: its name, the user's list, its numbers but those of spinning, and its seat."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QPushButton

from profiler.study import Machine, Study, fields_of
from profiler.study.edits import design_edits as edits
from profiler.study.edits import machine_edits
from profiler.study.files.owned_lists import file_name
from profiler.ui.document.document import Document
from profiler.ui.files.folders import lists
from profiler.ui.forms.groups import Group
from profiler.ui.forms.list_picker import ListPicker
from profiler.ui.forms.record_form import RecordForm
from profiler.ui.forms.seat_table import SeatTable

SPIN_FIELDS = (
    "shell_mm", "shell_floor_mm", "overspeed_factor", "least_factor", "balance_grade_mm_s", "spin_up_s", "drive_kw",
    "flange_hold_kn", "further_mass_kg", "further_inertia_kg_m2",
)  # fmt: skip


class MachineGroup(Group):
    title = "Machine"

    def __init__(self, document: Document, folder: Path | None = None) -> None:
        super().__init__(document)
        self.name = QLineEdit()
        self.name.setAccessibleName("Name of the machine")
        self.name.editingFinished.connect(self._rename)
        self.column.addWidget(self.name)
        self.list = ListPicker(Machine, (folder or lists()) / file_name(Machine), "machine")
        self.list.taken.connect(lambda machine: self.document.edit_machine(machine, "Take a machine from the list"))
        self.list.keep_wanted.connect(lambda: self.list.keep_record(self.document.study.machine))
        self.list.told.connect(document.say)
        self.column.addWidget(self.list)
        names = [n for n in fields_of(Machine) if n not in SPIN_FIELDS]
        self.form = self.adopt(RecordForm(Machine, names, optional=("entry_mm",)))
        self.form.proposed.connect(self._number)
        self.seat_head = QLabel("Seat, heights from its floor")
        self.column.addWidget(self.seat_head)
        self.seat = SeatTable()
        self.seat_head.setBuddy(self.seat)
        self.seat.proposed.connect(self._seat_number)
        self.seat.refused.connect(document.say)
        self.column.addWidget(self.seat)
        row = QHBoxLayout()
        self.add = self._button("Add point", "A seat point above the chosen one", row)
        self.delete = self._button("Delete point", "Delete the chosen seat point", row)
        self.add.clicked.connect(self._add)
        self.delete.clicked.connect(self._delete)
        self.column.addLayout(row)

    def show_study(self, study: Study) -> None:
        machine = study.machine
        if not (self.name.hasFocus() and self.name.isModified()):
            self.name.setText(machine.name)
        self.form.show_record(machine)
        self.seat.show_seat(machine.seat)
        self.delete.setEnabled(bool(machine.seat))

    def _rename(self) -> None:
        if not self.name.isModified():
            return
        self.name.setModified(False)
        try:
            self._take(machine_edits.rename(self._machine, self.name.text()), "Rename the machine")
        except ValueError as refusal:
            self.document.say(str(refusal))
        self.name.setText(self._machine.name)

    def _number(self, name: str, value: float | None) -> None:
        label = self.form.boxes[name].field.label.lower()
        self._take(edits.with_value(self._machine, name, value), f"Change the machine's {label}")

    def _seat_number(self, index: int, name: str, value: float) -> None:
        self._try(lambda m: machine_edits.set_seat_point(m, index, name, value), "Change the seat")

    def _add(self) -> None:
        self._try(lambda m: machine_edits.add_seat_point(m, self.seat.chosen), "Add a seat point")

    def _delete(self) -> None:
        self._try(lambda m: machine_edits.delete_seat_point(m, self.seat.chosen), "Delete a seat point")

    @property
    def _machine(self) -> Machine:
        return self.document.study.machine

    def _try(self, edit: Callable[[Machine], Machine], words: str) -> None:
        try:
            self._take(edit(self._machine), words)
        except ValueError as refusal:
            self.document.say(str(refusal))

    def _take(self, machine: Machine, words: str) -> None:
        self.document.edit_machine(machine, words)

    def _button(self, text: str, tip: str, row: QHBoxLayout) -> QPushButton:
        button = QPushButton(text)
        button.setObjectName("plain")
        button.setToolTip(tip)
        row.addWidget(button)
        return button
