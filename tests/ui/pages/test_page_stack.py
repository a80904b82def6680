"""The pages: one table, made when first opened, each told of theme and study in the same words."""

import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication, QPushButton
from pytestqt.qtbot import QtBot

from profiler.ui.page_stack import PAGES, SHAPE, PageEntry
from profiler.ui.pages.page import Page
from profiler.ui.widgets.theme import DARK, LIGHT, dress
from tests.ui.hands import Hands

LATER = ("compare.compare", "machine.machine_page", "ore.ore_page", "ore.ore_map", "ore.sizes_pane", "eddy.eddy_page",
         "find.find_page", "trials.trials", "drawing.drawing", "help.help_window", "shape.lesson_pane",
         "shape.ask")  # fmt: skip


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def test_pages_are_loaded_when_they_are_opened_and_not_before() -> None:
    code = "import sys, profiler.ui.window; print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=120, check=True)
    assert set(done.stdout.split()).isdisjoint(f"profiler.ui.{name}" for name in LATER)


def test_every_page_is_turned_to_by_its_button_and_named_by_it(hands: Hands) -> None:
    pages = hands.window.pages
    for entry in reversed(PAGES):
        (button,) = [b for b in pages.tabs.findChildren(QPushButton) if b.text() == entry.title]
        hands.click(button)
        shown = pages.currentWidget()
        assert isinstance(shown, Page) and shown.isVisible() and shown.accessibleName() == entry.title
        assert button.isChecked() and pages.open(entry) is shown
    assert pages.open(SHAPE) is hands.page


def test_the_next_page_goes_round(hands: Hands) -> None:
    pages, met = hands.window.pages, []
    for _ in PAGES:
        hands.do("Next page")
        met.append(pages.currentWidget().accessibleName())
    first = PAGES.index(SHAPE)
    assert met == [entry.title for entry in (*PAGES[first + 1 :], *PAGES[: first + 1])]
    hands.do("Previous page")
    assert pages.currentWidget().accessibleName() == PAGES[first - 1].title


def test_the_pages_stand_in_the_order_of_the_job_and_shape_opens_first(hands: Hands) -> None:
    order = ("Machine", "Ore", "Shape", "Eddy", "Find", "Compare", "Drawing", "Trials")
    titles = [entry.title for entry in PAGES]
    assert tuple(titles) == order
    buttons = hands.window.pages.tabs.findChildren(QPushButton)
    assert [b.text() for b in buttons] == titles
    assert [b.text() for b in buttons if b.isChecked()] == ["Shape"] and hands.window.pages.shown is hands.page


def test_a_page_made_in_the_dark_is_dark_and_all_follow_the_light(hands: Hands) -> None:
    made: list[Page] = []

    class Blank(Page):
        def show_evaluation(self, e: object) -> None:
            made.append(self)

    def blank(desk) -> Blank:
        return Blank(desk.document)

    try:
        hands.do("Dark colours")
        page = hands.window.pages._page(PageEntry("Blank", blank))
        assert page.theme is DARK and not made
        page.activated()
        hands.page.edits.add_knot(60.0, 5.0)
        hands.rest()
        assert len(made) >= 2  # when it was turned to, and after the edit
        hands.do("Dark colours")
        assert page.theme is LIGHT
    finally:
        dress(QApplication.instance(), LIGHT)


def test_a_page_must_say_how_it_follows_the_study(hands: Hands) -> None:
    with pytest.raises(NotImplementedError):
        Page(hands.document).activated()
