"""The model's record in the window: a page in help, and one click away from the ore map with the film at hand."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QImage, QTextDocument
from pytestqt.qtbot import QtBot

from profiler.assess.evidence.flumes import record
from profiler.assess.evidence.words import RECORD_TITLE, UNCALIBRATED, UNCALIBRATED_SHORT, paragraphs
from profiler.assess.quantities.likeness import likenesses
from profiler.ui.help.help_window import CAUTIONS, HelpWindow
from profiler.ui.help.record_page import IMAGE
from profiler.ui.key_sections import key_sections
from profiler.ui.ore.ore_map import OreMapPanel
from profiler.ui.page_stack import ORE
from tests.ui.hands import Hands


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def read(browser) -> str:
    return " ".join(browser.toPlainText().split())


def turn_to(window: HelpWindow, title: str) -> None:
    titles = [window.list.item(i).text() for i in range(window.list.count())]
    window.list.setCurrentRow(titles.index(title))


def test_help_has_the_record_with_its_picture_counts_and_doubts(qtbot: QtBot) -> None:
    window = HelpWindow(key_sections())
    qtbot.addWidget(window)
    window.show()
    turn_to(window, RECORD_TITLE)
    said = read(window.text)
    assert UNCALIBRATED in said
    for head, text in paragraphs(record()):
        assert head in said and text in said
    for row in likenesses(record()):
        assert all(cell in said for cell in row.cells)
    image = window.text.loadResource(QTextDocument.ResourceType.ImageResource.value, QUrl(IMAGE))
    assert isinstance(image, QImage) and not image.isNull()
    colours = {image.pixelColor(x, y).name() for x in range(0, image.width(), 3) for y in range(0, image.height(), 3)}
    assert len(colours) > 10  # it is drawn, not blank
    turn_to(window, CAUTIONS)
    assert UNCALIBRATED in read(window.text) and "UNCALIBRATED" not in read(window.text)


def test_the_ore_map_opens_the_record_with_one_click_and_the_film_of_the_duty(hands: Hands, qtbot: QtBot) -> None:
    page = hands.window.pages.open(ORE).map
    assert isinstance(page, OreMapPanel)
    assert UNCALIBRATED_SHORT in page.standing.text() and page.standing.isVisible()
    assert UNCALIBRATED[1:] in page.standing.toolTip()
    hands.click(page.standing)
    window = page.record
    assert window is not None and window.isVisible()
    said = read(window.text)
    assert f"film of {hands.duty.name}" in said
    for row in likenesses(record(), hands.evaluation.flow):
        assert all(cell in said for cell in row.cells)
    assert "not shared" in said and "partly shared" in said
    qtbot.keyClick(window, Qt.Key.Key_Escape)
    assert not window.isVisible()
