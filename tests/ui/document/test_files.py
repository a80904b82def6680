"""New, open, save, save as, and the question about unsaved changes, each way."""

import json
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from profiler.assess.fitting.starting import fitted_cone
from profiler.study import Study, read_study, write_study
from profiler.study.edits.new_study import MACHINE_HEIGHT, MACHINE_LIP, blank_machine, first_duty
from profiler.study.files import examples
from profiler.study.records.duty import D50, DRY_FEED, SOLIDS, SPEED, WATER
from profiler.ui.dialogs.dialogs import Unsaved
from profiler.ui.dialogs.new_study import NewStudy
from profiler.ui.envelope.envelope_dialog import EnvelopeDialog
from tests.ui.hands import CTRL, Hands

BROKEN = {
    "empty": b"",
    "binary": bytes(range(256)) * 8,
    "cut short": b'{"format": "bowl profiler study", "schema": 1, "designs": [',
    "other": b'{"title": "a recipe"}',
    "newer": b'{"format": "bowl profiler study", "schema": 999}',
    "wrong type": b'{"format": "bowl profiler study", "schema": 1, "machine": 3, "duties": [], "designs": []}',
}


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def change(hands: Hands, speed: str = "655") -> None:
    hands.type_into(hands.page.duty_bar.boxes[SPEED], speed)


def stored(folder: Path, name: str = "cone") -> Path:
    path = folder / f"{name}.bowl"
    write_study(examples.read(name), path)
    return path


# new


def started(hands: Hands) -> Study:
    """A blank machine and a first duty, as the dialog makes them."""
    typed = {MACHINE_LIP: 190.0, MACHINE_HEIGHT: 260.0, SPEED: 700.0, SOLIDS: 30.0, D50: 90.0, DRY_FEED: 1.2}
    typed |= {WATER: 55.0}
    machine = blank_machine(typed)
    return Study(machine, (first_duty(typed),), (fitted_cone("Plain cone", machine),), title="New study")


def test_a_new_study_is_what_was_asked_for_and_nothing_else(hands: Hands) -> None:
    study = started(hands)
    hands.answers.answer("ask_new_study", NewStudy(study))
    hands.do("New study…")
    assert hands.study == study and hands.steps == 0 and hands.document.path is None
    assert hands.evaluation.shape is not None and "no stops" in hands.page.duty_bar.summary.text()


def test_a_new_study_given_up_changes_nothing(hands: Hands) -> None:
    before = hands.study
    hands.answers.answer("ask_new_study", None)
    hands.do("New study…")
    assert hands.study is before


def test_after_a_new_study_from_a_drawing_the_drawing_is_asked_for(hands: Hands) -> None:
    hands.answers.answer("ask_new_study", NewStudy(started(hands), drawing=True))
    hands.do("New study…")
    dialog = hands.window.findChild(EnvelopeDialog)
    assert dialog is not None and dialog.isVisible()
    dialog.close()


# open


def test_opening_shows_the_study_of_the_file(hands: Hands) -> None:
    path = stored(hands.folder)
    hands.answers.answer("ask_open", path)
    hands.key(hands.angle, Qt.Key.Key_O, CTRL)
    assert hands.study == read_study(path)
    assert hands.document.path == path and not hands.document.modified and hands.steps == 0
    assert hands.window.windowTitle().startswith("cone.bowl")


def test_opening_cancelled_changes_nothing(hands: Hands) -> None:
    before = hands.study
    hands.answers.answer("ask_open", None)
    hands.do("Open…")
    assert hands.study is before


def test_a_broken_file_tells_one_sentence_and_keeps_the_study(hands: Hands) -> None:
    path = hands.folder / "broken.bowl"
    hands.answers.answer("ask_unsaved", Unsaved.DISCARD)
    hands.answers.answer("ask_open", path)
    change(hands)
    before = hands.study
    for kind, data in BROKEN.items():
        path.write_bytes(data)
        hands.do("Open…")
        assert hands.study is before and hands.steps == 1, kind
        sentence = hands.answers.told.pop()
        assert "broken.bowl" in sentence and "Traceback" not in sentence and not hands.answers.told, kind


def test_a_file_that_is_not_there_is_told(hands: Hands) -> None:
    before = hands.study
    hands.answers.answer("ask_open", hands.folder / "gone.bowl")
    hands.do("Open…")
    assert hands.study is before and "gone.bowl" in hands.answers.told[0]


def test_a_study_with_impossible_numbers_opens_and_says_what_is_wrong(hands: Hands) -> None:
    path = stored(hands.folder, "graded")
    raw = json.loads(path.read_text())
    raw["designs"][0]["grooves"]["mouth_mm"] = -2.0
    path.write_text(json.dumps(raw))
    hands.answers.answer("ask_open", path)
    hands.do("Open…")
    assert not hands.answers.told
    assert hands.design.grooves.mouth_mm == -2.0
    assert hands.evaluation.shape is None and "Mouth" in hands.worst


# save


def test_saving_the_first_time_asks_for_a_name_and_then_no_more(hands: Hands) -> None:
    path = hands.folder / "mine.bowl"
    hands.answers.answer("ask_save", path)
    change(hands)
    hands.key(hands.angle, Qt.Key.Key_S, CTRL)
    assert read_study(path) == hands.study and not hands.document.modified
    change(hands, "605")
    hands.key(hands.angle, Qt.Key.Key_S, CTRL)
    assert read_study(path).duty.speed_rpm == 605.0
    assert hands.answers.asked == ["ask_save"]
    assert "mine.bowl" in hands.window.windowTitle()


def test_saving_is_told_in_a_sentence_and_keeps_the_undo_steps(hands: Hands) -> None:
    hands.answers.answer("ask_save", hands.folder / "mine.bowl")
    change(hands)
    hands.do("Save")
    assert "mine.bowl" in hands.said
    hands.undo()
    assert hands.duty.speed_rpm == 580.0 and hands.document.modified
    hands.redo()
    assert not hands.document.modified


def test_save_as_leaves_the_first_file_alone(hands: Hands) -> None:
    first, second = hands.folder / "first.bowl", hands.folder / "second.bowl"
    hands.answers.answer("ask_save", first)
    hands.do("Save")
    old = first.read_bytes()
    change(hands)
    hands.answers.answer("ask_save", second)
    hands.do("Save as…")
    assert first.read_bytes() == old
    assert read_study(second).duty.speed_rpm == 655.0
    assert hands.document.path == second


def test_save_as_cancelled_saves_nothing(hands: Hands) -> None:
    change(hands)
    hands.answers.answer("ask_save", None)
    hands.do("Save as…")
    assert hands.document.modified and hands.document.path is None


def test_saving_where_nothing_can_be_written_is_told_and_loses_nothing(hands: Hands) -> None:
    wall = hands.folder / "a plain file"
    wall.write_text("not a folder")
    change(hands)
    before = hands.study
    hands.answers.answer("ask_save", wall / "mine.bowl")
    hands.do("Save")
    assert len(hands.answers.told) == 1 and "mine.bowl" in hands.answers.told[0]
    assert hands.study is before and hands.document.modified and hands.document.path is None


def test_a_full_disk_keeps_the_old_file(hands: Hands, monkeypatch: pytest.MonkeyPatch) -> None:
    path = hands.folder / "mine.bowl"
    hands.answers.answer("ask_save", path)
    hands.do("Save")
    old = path.read_bytes()
    change(hands)
    monkeypatch.setattr("os.fsync", _full)
    hands.do("Save")
    assert path.read_bytes() == old and hands.document.modified
    assert "no space left" in hands.answers.told[0]
    assert [p.name for p in hands.folder.glob("*mine*")] == ["mine.bowl"]


def test_a_number_typed_but_not_entered_is_saved_too(hands: Hands) -> None:
    path = hands.folder / "typed.bowl"
    hands.answers.answer("ask_save", path)
    box = hands.page.duty_bar.boxes[SPEED]
    hands.type_into(box, "655", then=None)
    hands.key(box, Qt.Key.Key_S, CTRL)
    assert read_study(path).duty.speed_rpm == 655.0
    hands.rest()
    assert "typed.bowl" in hands.said  # the evaluation of the number just taken does not wipe the sentence out


# unsaved changes


@pytest.mark.parametrize("leave", ["New study…", "Open…", "Close"])
@pytest.mark.parametrize("choice", list(Unsaved))
def test_unsaved_changes_are_asked_about_each_way(hands: Hands, leave: str, choice: Unsaved) -> None:
    path, other = hands.folder / "mine.bowl", stored(hands.folder)
    hands.answers.answer("ask_save", path)
    hands.answers.answer("ask_open", other)
    hands.answers.answer("ask_unsaved", choice)
    hands.answers.answer("ask_new_study", NewStudy(started(hands)))
    change(hands)
    mine = hands.study
    hands.do(leave)
    assert hands.answers.asked[0] == "ask_unsaved"
    left = not hands.window.isVisible() if leave == "Close" else hands.study is not mine
    assert left == (choice is not Unsaved.CANCEL)
    assert path.exists() == (choice is Unsaved.SAVE)
    if choice is Unsaved.SAVE:
        assert read_study(path) == mine
    if choice is Unsaved.CANCEL:
        assert hands.document.modified and hands.steps == 1


@pytest.mark.parametrize("leave", ["New study…", "Close"])
def test_save_chosen_but_then_cancelled_stays(hands: Hands, leave: str) -> None:
    hands.answers.answer("ask_unsaved", Unsaved.SAVE)
    hands.answers.answer("ask_save", None)
    change(hands)
    before = hands.study
    hands.do(leave)
    assert hands.study is before and hands.window.isVisible() and hands.document.modified


@pytest.mark.parametrize("leave", ["New study…", "Close"])
def test_without_changes_nothing_is_asked(hands: Hands, leave: str) -> None:
    change(hands)
    hands.undo()
    hands.answers.answer("ask_new_study", NewStudy(started(hands)))
    hands.do(leave)
    assert "ask_unsaved" not in hands.answers.asked


def test_the_title_says_that_an_example_is_one_until_it_is_saved(hands: Hands) -> None:
    assert "example" not in hands.window.windowTitle()
    hands.document.adopt(examples.read(examples.DEFAULT), example=True)
    assert hands.window.windowTitle().startswith("example (invented)")
    hands.answers.answer("ask_save", hands.folder / "mine.bowl")
    hands.do("Save")
    assert hands.window.windowTitle().startswith("mine.bowl")


def test_closing_with_a_number_typed_but_not_entered_asks(hands: Hands) -> None:
    hands.answers.answer("ask_unsaved", Unsaved.CANCEL)
    hands.type_into(hands.page.duty_bar.boxes[SPEED], "655", then=None)
    hands.window.close()
    assert hands.answers.asked == ["ask_unsaved"] and hands.duty.speed_rpm == 655.0


def test_the_title_shows_whether_there_is_something_to_save(hands: Hands) -> None:
    assert not hands.window.isWindowModified()
    change(hands)
    assert hands.window.isWindowModified()
    hands.undo()
    assert not hands.window.isWindowModified()


def _full(_: int) -> None:
    raise OSError(28, "No space left on device")
