"""The duty bar: numbers typed, stepped and scrubbed; designs and duties chosen; what comes of it at a glance."""

from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from profiler.physics.slurry.overturn import State
from profiler.study import Duty, fields_of, read_study
from profiler.ui.widgets.number_box import NumberBox, Scrub
from tests.ui.hands import CTRL, NONE, SHIFT, Hands

NUMBERS = ("speed_rpm", "solids_pct", "d50_um", "dry_feed_t_h", "water_l_min")


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def box(hands: Hands, name: str = "speed_rpm") -> NumberBox:
    return hands.page.duty_bar.boxes[fields_of(Duty)[name]]


def scrub(hands: Hands, name: str = "speed_rpm") -> Scrub:
    return next(s for s in hands.page.duty_bar.findChildren(Scrub) if s.buddy() is box(hands, name))


def wheel(widget, up: bool) -> None:
    centre = QPointF(widget.rect().center())
    turn = QPoint(0, 120 if up else -120)
    event = QWheelEvent(
        centre, QPointF(widget.mapToGlobal(centre.toPoint())), QPoint(), turn, Qt.MouseButton.NoButton, NONE,
        Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(widget, event)


@pytest.mark.parametrize("name", NUMBERS)
def test_a_typed_number_is_taken_exactly_and_is_one_undo_step(hands: Hands, name: str) -> None:
    before = hands.study
    field = fields_of(Duty)[name]
    wanted = getattr(hands.duty, name) + 1.37 * field.step
    hands.type_into(box(hands, name), f"{wanted:.6g}".replace(".", ","))
    assert getattr(hands.duty, name) == pytest.approx(wanted, rel=1e-5)
    assert hands.steps == 1
    assert float(box(hands, name).text()) == getattr(hands.duty, name)
    hands.undo()
    assert hands.study == before


def test_typing_the_same_number_again_is_no_step(hands: Hands) -> None:
    hands.type_into(box(hands), "580.0")
    assert hands.steps == 0


def test_leaving_the_box_by_tab_takes_the_number(hands: Hands) -> None:
    hands.type_into(box(hands), "655", then=Qt.Key.Key_Tab)
    assert hands.duty.speed_rpm == 655.0


def test_escape_gives_the_old_number_back(hands: Hands) -> None:
    before = hands.study
    hands.type_into(box(hands), "655", then=Qt.Key.Key_Escape)
    assert hands.study is before and box(hands).text() == "580"


@pytest.mark.parametrize(("key", "sign"), [(Qt.Key.Key_Up, 1.0), (Qt.Key.Key_Down, -1.0)])
def test_arrow_keys_step_the_number(hands: Hands, key: Qt.Key, sign: float) -> None:
    """By one step; ten with Shift, a tenth with Ctrl."""
    box(hands).setFocus()
    for modifier, times in ((NONE, 1.0), (SHIFT, 10.0), (CTRL, 0.1)):
        hands.key(box(hands), key, modifier)
        assert hands.duty.speed_rpm == pytest.approx(580.0 + sign * times * fields_of(Duty)["speed_rpm"].step)
        assert hands.steps == 1
        hands.undo()


def test_a_step_takes_what_was_typed_first(hands: Hands) -> None:
    hands.type_into(box(hands), "600", then=Qt.Key.Key_Up)
    assert hands.duty.speed_rpm == 605.0


def test_every_press_of_a_held_key_counts(hands: Hands) -> None:
    box(hands).setFocus()
    for _ in range(5):  # faster than the window repaints
        QTest.keyClick(box(hands), Qt.Key.Key_Up)
    hands.settle()
    assert hands.duty.speed_rpm == 605.0 and box(hands).text() == "605"


def test_scrubbing_the_label_is_one_undo_step(hands: Hands) -> None:
    before = hands.study
    label = scrub(hands)
    start = label.rect().center()
    hands.drag(label, start, start + QPoint(40, 0))
    assert hands.duty.speed_rpm == 580.0 + 10 * fields_of(Duty)["speed_rpm"].step
    assert hands.steps == 1
    hands.undo()
    assert hands.study == before


def test_scrubbing_with_ctrl_goes_by_tenths(hands: Hands) -> None:
    label = scrub(hands)
    start = label.rect().center()
    hands.drag(label, start, start + QPoint(20, 0), CTRL)
    assert hands.duty.speed_rpm == pytest.approx(582.5)


def test_a_click_on_the_label_is_no_step(hands: Hands) -> None:
    hands.click(scrub(hands))
    assert hands.steps == 0 and not hands.document.in_gesture


def test_scrubbing_stops_at_the_bounds(hands: Hands) -> None:
    label = scrub(hands, "solids_pct")
    hands.drag(label, label.rect().center(), label.rect().center() + QPoint(3000, 0))
    assert hands.duty.solids_pct == fields_of(Duty)["solids_pct"].high


def test_what_is_out_of_bounds_is_refused_with_a_sentence_and_the_old_number_stays(hands: Hands) -> None:
    before = hands.study
    wrong = (("solids_pct", "0"), ("solids_pct", "100"), ("speed_rpm", "0"), ("speed_rpm", "-5"), ("d50_um", "1e9"))
    for name, text in wrong:
        old, label = box(hands, name).text(), fields_of(Duty)[name].label
        hands.document.say("")
        hands.type_into(box(hands, name), text)
        assert hands.study is before and hands.steps == 0
        assert box(hands, name).text() == old
        assert hands.said.startswith(label) and "must lie between" in hands.said and hands.said.endswith("stays.")


def test_nonsense_is_refused_with_a_sentence(hands: Hands) -> None:
    before = hands.study
    for text in ("fast", "1.2.3", "nan", "1,234.5", ""):
        hands.document.say("")
        hands.type_into(box(hands), text)
        assert hands.study is before
        assert "not a number" in hands.said and box(hands).text() == "580"


def test_ctrl_z_undoes_the_number_that_was_just_entered(hands: Hands) -> None:
    """The cursor is still in the box; what is undone is the study's step, not the box's own typing."""
    hands.type_into(box(hands), "700")
    hands.key(box(hands), Qt.Key.Key_Z, CTRL)
    assert hands.duty.speed_rpm == 580.0 and box(hands).text() == "580"
    hands.key(box(hands), Qt.Key.Key_Z, CTRL | SHIFT)
    assert hands.duty.speed_rpm == 700.0


def test_ctrl_z_while_typing_takes_back_the_typing_only(hands: Hands) -> None:
    hands.type_into(box(hands), "700")
    hands.type_into(box(hands), "9", then=None)
    hands.key(box(hands), Qt.Key.Key_Z, CTRL)
    assert hands.duty.speed_rpm == 700.0


def test_the_wheel_turns_a_number_only_where_the_keyboard_is(hands: Hands) -> None:
    hands.angle.setFocus()
    wheel(box(hands), up=True)
    assert hands.duty.speed_rpm == 580.0
    box(hands).setFocus()
    wheel(box(hands), up=True)
    assert hands.duty.speed_rpm == 585.0


def test_a_document_change_does_not_wipe_out_what_is_being_typed(hands: Hands) -> None:
    hands.type_into(box(hands), "70", then=None)
    hands.document.edit_duty(hands.study.duties[0], "nothing")
    hands.page.show_evaluation(hands.evaluation)
    assert box(hands).text() == "70"
    QTest.keyClicks(box(hands), "5")
    QTest.keyClick(box(hands), Qt.Key.Key_Return)
    assert hands.duty.speed_rpm == 705.0


# choosing what is shown


@pytest.mark.parametrize("which", ["design", "duty"])
def test_choosing_what_is_shown_is_no_change_and_no_undo_step(hands: Hands, which: str) -> None:
    combo = getattr(hands.page.duty_bar, which)
    first = getattr(hands.document, which).name
    combo.setFocus()
    hands.key(combo, Qt.Key.Key_Down)
    assert getattr(hands.document, which).name == combo.currentText() != first
    assert hands.steps == 0 and not hands.document.modified
    assert not hands.window.isWindowModified()
    assert getattr(hands.evaluation, which).name == combo.currentText()


def test_what_is_shown_is_kept_in_the_file(hands: Hands) -> None:
    hands.key(hands.page.duty_bar.duty, Qt.Key.Key_Down)
    hands.answers.answer("ask_save", hands.folder / "shown.bowl")
    hands.do("Save")
    assert read_study(hands.folder / "shown.bowl").duty.name == "Thin and fine"


def test_undo_after_choosing_another_design_takes_back_the_edit_that_was_made(hands: Hands) -> None:
    before = hands.study
    hands.type_into(box(hands), "700")
    hands.key(hands.page.duty_bar.design, Qt.Key.Key_Down)
    hands.undo()
    assert hands.study.duties == before.duties and hands.study.designs == before.designs


# at a glance


def test_the_summary_counts_the_grooves_of_each_state(hands: Hands) -> None:
    hands.type_into(box(hands), "600")
    counts = {s: int(np.sum(hands.evaluation.flow.groove_state[0] == s)) for s in State}
    summary = hands.page.duty_bar.summary.text()
    assert f"{counts[State.STRONG]} strong, {counts[State.WEAK]} weak" in summary
    assert f"{counts[State.MATCHED]} matched, {counts[State.SHELTERED]} sheltered" in summary
    assert "lip R 217.6 mm" in summary and "no stops" in summary
    assert summary.endswith(f"{counts[State.NONE]} entry")
    assert "below the entry height, of which no state is claimed" in hands.page.duty_bar.summary.toolTip()


def test_the_summary_counts_the_stops(hands: Hands) -> None:
    hands.type_into(box(hands), "810")
    assert "2 stops" in hands.page.duty_bar.summary.text()


def test_every_number_has_a_label_and_a_unit(hands: Hands) -> None:
    words = {label.text() for label in hands.page.duty_bar.findChildren(QLabel)}
    assert words >= {"Design", "Duty", "Speed", "Solids", "Size d50", "Dry feed", "Water"}
    assert words >= {"rpm", "%", "µm", "t/h", "L/min"}
