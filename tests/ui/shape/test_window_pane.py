"""The ore window built by hand."""

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from profiler.study.edits.ore_window import Way
from profiler.study.records.duty import D50, SOLIDS
from profiler.ui.ore.window_pane import WindowPane
from profiler.ui.page_stack import ORE
from tests.ui.hands import Hands


def test_a_window_is_built_in_one_step_and_a_number_set_in_all(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands = Hands(qtbot, tmp_path, monkeypatch)
    hands.do("Ore window…")
    page = hands.window.pages.shown
    assert page is hands.window.pages.open(ORE)
    pane = page.side.currentWidget()
    assert isinstance(pane, WindowPane)
    hands.click(pane.build)
    assert "at least one amount" in pane.sentence.text() and hands.steps == 0
    hands.type_into(pane.amounts[SOLIDS], "4")
    hands.type_into(pane.amounts[D50], "20")
    pane.way.setCurrentIndex(list(Way).index(Way.EACH))
    hands.click(pane.build)
    assert len(hands.study.window) == 5 and hands.steps == 1 and "5 duties" in pane.sentence.text()
    hands.click(pane.set_in_all)
    assert len({d.solids_pct for d in hands.study.duties}) == 1 and hands.steps == 2
    hands.undo()
    hands.undo()
    assert len(hands.study.window) != 5
