"""Size classes in the window: typed, pasted, undone; the d50 that follows from them is read only and leads back."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from profiler.assess.flow.sizes import d50_um
from profiler.study.records.duty import D50
from profiler.ui.ore.sizes_pane import SizesPane
from profiler.ui.page_stack import ORE
from profiler.ui.widgets.theme import DARK
from tests.ui.hands import Hands

TABLE = "Sieve\tRetained\n250\t4\n180\t12\n125\t18\n90\t19\n63\t17\n45\t11\npan\t19\n"


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def opened(hands: Hands) -> SizesPane:
    QTest.mouseClick(hands.page.duty_bar.sizes, Qt.MouseButton.LeftButton)
    pane = hands.window.pages.open(ORE).side.currentWidget()
    assert isinstance(pane, SizesPane) and pane.isVisible()
    return pane


def pasted(hands: Hands, text: str = TABLE) -> SizesPane:
    pane = opened(hands)
    QGuiApplication.clipboard().setText(text)
    pane.paste.click()
    hands.document.flush()
    return pane


def typed(pane: SizesPane, row: int, column: int, text: str) -> None:
    item = pane.table.item(row, column)
    assert item is not None
    item.setText(text)
    pane.document.flush()


def test_opening_it_changes_nothing_and_shows_the_one_d50(hands: Hands) -> None:
    pane = opened(hands)
    assert hands.steps == 0 and not hands.duty.size_classes
    assert [(r.size_um, r.retained_pct) for r in pane.rows] == [(110.0, 100.0)]
    assert "one d50 of 110 µm" in pane.figures.text() and not pane.one.isEnabled()


def test_a_pasted_table_is_one_undo_step_and_the_bar_says_of_how_many_classes(hands: Hands) -> None:
    before = hands.study
    pane = pasted(hands)
    assert hands.steps == 1 and len(hands.duty.size_classes) == 7
    assert "7 rows pasted; percentages taken as retained" in pane.sentence.text()
    assert "d50 94.8 µm, d80 166.0 µm" in pane.figures.text() and "count as liquid" in pane.figures.text()
    bar = hands.page.duty_bar
    assert bar.boxes[D50].text() == "94.8" and not bar.boxes[D50].isEnabled()
    assert bar.sizes.text() == "µm (of 7 classes)"
    hands.undo()
    assert hands.study == before
    assert len(pane.rows) == 1 and bar.boxes[D50].isEnabled() and bar.sizes.text() == "µm…"


def test_ctrl_v_in_the_table_pastes(hands: Hands) -> None:
    pane = opened(hands)
    QGuiApplication.clipboard().setText(TABLE)
    pane.table.setFocus()
    QTest.keyClick(pane.table, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    assert len(hands.duty.size_classes) == 7


def test_while_per_cents_do_not_add_up_the_window_keeps_the_last_table_and_says_why(hands: Hands) -> None:
    pane = pasted(hands)
    typed(pane, 1, 1, "8")
    assert "4.00 % missing" in pane.sentence.text() and "keeps the last table" in pane.sentence.text()
    assert hands.steps == 1 and hands.duty.size_classes[1].retained_pct == 12.0
    typed(pane, 2, 1, "22")
    assert hands.steps == 2 and [r.retained_pct for r in hands.duty.size_classes[1:3]] == [8.0, 22.0]
    assert not pane.sentence.isVisible()
    typed(pane, 1, 1, "6,5")
    pane.whole.click()
    assert hands.steps == 3
    assert sum(r.retained_pct for r in hands.duty.size_classes) == pytest.approx(100.0, abs=1e-9)


def test_sieves_out_of_order_and_numbers_out_of_bounds_are_refused_in_words(hands: Hands) -> None:
    pane = pasted(hands)
    typed(pane, 1, 0, "300")
    assert "300 µm follows 250 µm" in pane.sentence.text() and hands.steps == 1
    typed(pane, 1, 0, "0")
    assert "must lie between" in pane.sentence.text() and pane.rows[1].size_um == 300.0
    typed(pane, 1, 0, "wide")
    assert "“wide” is not a number; nothing was changed." in pane.sentence.text()


def test_rows_are_added_and_deleted(hands: Hands) -> None:
    pane = pasted(hands)
    pane.table.setCurrentCell(0, 0)
    pane.add.click()
    assert len(pane.rows) == 8 and 180.0 < pane.rows[1].size_um < 250.0 and pane.rows[1].retained_pct == 0.0
    assert len(hands.duty.size_classes) == 8
    pane.delete.click()
    assert len(hands.duty.size_classes) == 7
    pane.table.setCurrentCell(6, 0)
    pane.delete.click()
    assert "19.00 % missing" in pane.sentence.text() and len(hands.duty.size_classes) == 7


def test_what_cannot_be_read_is_not_pasted(hands: Hands) -> None:
    pane = pasted(hands, "nothing here")
    assert "nothing was pasted" in pane.sentence.text() and hands.steps == 0


def test_back_to_one_d50_keeps_the_d50_and_is_one_undo_step(hands: Hands) -> None:
    pane = pasted(hands)
    d50 = d50_um(hands.duty)
    pane.one.click()
    hands.document.flush()
    assert not hands.duty.size_classes and hands.duty.d50_um == pytest.approx(d50, abs=0.05)
    assert hands.steps == 2 and [r.retained_pct for r in pane.rows] == [100.0]
    hands.undo()
    assert len(hands.duty.size_classes) == 7 == len(pane.rows)


def test_another_duty_shows_its_own_table(hands: Hands) -> None:
    pane = pasted(hands)
    other = hands.study.duties[1]
    hands.document.show_duty(other.name)
    hands.document.flush()
    assert [(r.size_um, r.retained_pct) for r in pane.rows] == [(other.d50_um, 100.0)]
    assert other.name in pane.head.text()


def test_the_form_leads_there_and_its_d50_is_read_only(hands: Hands) -> None:
    pasted(hands).back.click()
    form = hands.open_form("Slurry and duty")
    assert form.form.boxes[D50].text() == "94.8" and not form.form.boxes[D50].isEnabled()
    assert form.sizes.text() == "Size classes… (7)"
    form.sizes.click()
    assert isinstance(hands.window.pages.open(ORE).side.currentWidget(), SizesPane)


def test_nothing_is_hidden_or_painted_wrong_in_either_theme(hands: Hands) -> None:
    pane = pasted(hands)
    for theme in (None, DARK):
        if theme is not None:
            hands.window.pages.show_theme(theme)
        pane.grab()
        assert pane.curve.failure == "" and pane.curve.theme is hands.page.theme
    for button in (pane.add, pane.delete, pane.paste, pane.whole, pane.one, pane.back):
        assert button.sizeHint().width() <= button.width(), button.text()
