"""The dialog of a new study, by hand: machine, first duty, and what lacks said in a sentence."""

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from profiler.study import NOT_GIVEN, fields_of, not_given, write_study
from profiler.study.edits.new_study import MACHINE_HEIGHT, MACHINE_LIP, OF_DUTY
from profiler.study.files import examples
from profiler.study.files.owned_lists import shipped
from profiler.study.records.duty import SPEED
from profiler.study.records.machine import Machine
from profiler.ui.dialogs.new_study import FILE, THIS, NewStudyDialog

EXAMPLE = examples.read(examples.DEFAULT)
DUTY = (700.0, 30.0, 90.0, 1.2, 55.0)


def opened(qtbot: QtBot, path: Path | None = None) -> NewStudyDialog:
    dialog = NewStudyDialog(None, EXAMPLE.machine, shipped(Machine), lambda: path)
    qtbot.addWidget(dialog)
    return dialog


def fill(dialog: NewStudyDialog, lip: str = "190", height: str = "260") -> None:
    for field, value in zip(OF_DUTY, DUTY, strict=True):
        dialog.boxes[field].setText(f"{value:g}")
    dialog.boxes[MACHINE_LIP].setText(lip)
    dialog.boxes[MACHINE_HEIGHT].setText(height)


def choose(dialog: NewStudyDialog, words: str) -> None:
    dialog.machine.setCurrentIndex(dialog.machine.findText(words))
    dialog.machine.activated.emit(dialog.machine.currentIndex())


def test_every_box_is_empty_and_what_lacks_is_said(qtbot: QtBot) -> None:
    dialog = opened(qtbot)
    assert not any(box.text() for box in dialog.boxes.values()) and len(dialog.boxes) + 1 == 8
    dialog.start.click()
    assert dialog.made is None and dialog.sentence.text() == "Speed is not given: a first study needs it, in rpm."
    fill(dialog, lip="5")
    dialog.start.click()
    assert dialog.made is None and "Lip radius is 5.00 mm" in dialog.sentence.text()


def test_a_blank_machine_has_what_was_typed_and_nothing_of_the_example(qtbot: QtBot) -> None:
    dialog = opened(qtbot)
    fill(dialog)
    dialog.start.click()
    study = dialog.made.study
    machine = study.machine
    assert (machine.lip_radius_mm, machine.height_mm, machine.seat, machine.note) == (190.0, 260.0, (), "")
    lacking = {field for field in fields_of(Machine).values() if field.empty == NOT_GIVEN}
    assert set(not_given(machine)) == lacking and machine.shell_material is None
    assert tuple(field.get(study.duty) for field in OF_DUTY) == DUTY
    assert len(study.duties) == len(study.designs) == 1
    assert study.design.wall.lip_radius_mm == 190.0 and study.design.wall.height_mm == 260.0
    assert not study.design.note and study.design.body.material is None


@pytest.mark.parametrize("words", [THIS, "listed", FILE])
def test_the_machine_of_this_study_of_the_list_or_of_a_file(words: str, qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "other.bowl"
    write_study(EXAMPLE, path)
    dialog = opened(qtbot, path)
    name = shipped(Machine)[0].name if words == "listed" else words
    choose(dialog, name)
    assert not dialog.boxes[MACHINE_LIP].isEnabled()
    fill(dialog, "", "")
    dialog.start.click()
    wanted = shipped(Machine)[0] if words == "listed" else EXAMPLE.machine
    assert dialog.made.study.machine == wanted and len(dialog.made.study.duties) == 1


def test_a_file_that_is_none_is_said(qtbot: QtBot, tmp_path: Path) -> None:
    dialog = opened(qtbot, tmp_path / "none.bowl")
    fill(dialog)
    choose(dialog, FILE)
    dialog.start.click()
    assert dialog.made is None and "There is no file" in dialog.sentence.text()


def test_a_speed_that_is_typed_says_nothing_of_what_the_machine_may(qtbot: QtBot) -> None:
    dialog = opened(qtbot)
    fill(dialog)
    dialog.boxes[SPEED].setText("1100")
    dialog.start.click()
    assert dialog.made.study.duty.speed_rpm == 1100.0
    assert dialog.made.study.machine.speed_high_rpm is None and dialog.made.study.machine.speed_low_rpm is None
