"""A file of an older schema in the window: what it needed to be read is told once, on opening."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from profiler.study import FrictionBasis, read_study, write_study
from profiler.study.files import examples
from profiler.study.files.file import read_stamped
from profiler.study.records.duty import FRICTION, SPEED
from tests.ui.hands import CTRL, Hands

SAMPLE = Path(__file__).parents[2] / "study" / "samples" / "schema-1-friction.bowl"


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def old_file(folder: Path) -> Path:
    path = folder / "old.bowl"
    path.write_bytes(SAMPLE.read_bytes())
    return path


def test_opening_an_older_file_tells_its_note_once_and_saving_ends_it(hands: Hands) -> None:
    path = old_file(hands.folder)
    hands.answers.answer("ask_open", path)
    hands.key(hands.angle, Qt.Key.Key_O, CTRL)
    assert hands.answers.noted == list(read_stamped(SAMPLE).notes)
    assert not hands.document.modified
    hands.type_into(hands.page.duty_bar.boxes[SPEED], "555")
    hands.key(hands.angle, Qt.Key.Key_S, CTRL)
    assert hands.window.filing.open_path(path)
    assert len(hands.answers.noted) == 1 and not read_stamped(path).notes


def test_a_window_started_on_an_older_file_tells_it_when_it_is_there(hands: Hands) -> None:
    path = old_file(hands.folder)
    notes = hands.document.load(path)
    hands.window.filing.arrive(notes)
    assert hands.answers.noted == list(notes) and notes


def test_a_file_of_today_is_opened_without_a_word(hands: Hands) -> None:
    path = hands.folder / "today.bowl"
    write_study(examples.read("cone"), path)
    assert hands.window.filing.open_path(path) and hands.answers.noted == []


def test_a_friction_typed_for_the_former_law_is_told_until_it_is_typed_anew(hands: Hands) -> None:
    path = old_file(hands.folder)
    hands.window.filing.open_path(path)
    form = hands.open_form("Slurry and duty")
    for name, marked in ((d.name, d.friction_basis is FrictionBasis.DELIVERED) for d in read_study(path).duties):
        hands.document.show_duty(name)
        hands.rest()
        assert ("friction_former_law" in {f.code for f in hands.evaluation.findings}) is marked
        assert form.former.isVisibleTo(form) is marked
    hands.type_into(form.form.boxes[FRICTION], "0.7")
    hands.rest()
    assert hands.duty.friction == 0.7 and hands.duty.friction_basis is FrictionBasis.IN_PLACE
    assert "friction_former_law" not in {f.code for f in hands.evaluation.findings}
    assert not form.former.isVisibleTo(form)
    hands.undo()
    assert hands.duty.friction_basis is FrictionBasis.DELIVERED
