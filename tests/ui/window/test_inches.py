"""Lengths in inches are a choice of display: nothing held, saved or computed changes with it."""

import re
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QLabel, QPlainTextEdit, QTableWidget, QTextBrowser
from pytestqt.qtbot import QtBot

from profiler.pictures.basics.display import Label
from profiler.pictures.basics.lengths import INCHES, pictured
from profiler.study.files.file import encode_study
from profiler.ui.document.document import Document
from profiler.ui.files.settings import Settings
from profiler.ui.strips.base import Strip
from profiler.ui.widgets.canvas import Canvas
from profiler.ui.widgets.labels import unit_of
from profiler.ui.widgets.number_box import NumberBox
from profiler.ui.window import Window
from tests.ui.hands import Hands


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def reading(hands: Hands) -> str:
    hands.hover(hands.page.section, QPoint(20, round(hands.page.pointer.now.axis.y(127.0))))
    return " | ".join(label.text() for label in hands.page.readout.findChildren(QLabel))


def test_inches_change_nothing_held(hands: Hands) -> None:
    hands.rest()  # else the stages out of sight may follow in between, which is another evaluation
    study, evaluation, data = hands.study, hands.evaluation, encode_study(hands.study)
    hands.do("Lengths in inches")
    assert hands.study is study and hands.evaluation is evaluation and encode_study(hands.study) == data
    assert hands.steps == 0 and not hands.document.modified


def test_inches_show_in_the_read_out_and_go_again(hands: Hands) -> None:
    before = reading(hands)
    hands.do("Lengths in inches")
    assert " in" in reading(hands) and " mm" not in reading(hands)
    hands.do("Lengths in inches")
    assert reading(hands) == before


def test_an_edit_made_while_inches_are_shown_is_the_same_edit(hands: Hands) -> None:
    end = hands.place(140.0, 20.0)
    hands.drag_knot(1, end)
    in_mm = hands.design
    hands.undo()
    hands.do("Lengths in inches")
    hands.drag_knot(1, end)
    assert hands.design == in_mm


def test_the_choice_is_remembered(hands: Hands, qtbot: QtBot) -> None:
    hands.do("Lengths in inches")
    settings = Settings.in_file(hands.folder / "settings.ini")
    other = Window(Document(hands.study), settings)
    qtbot.addWidget(other)
    assert other.menus.actions["view.inches"].isChecked()


PAGES = ("Machine", "Ore", "Shape", "Eddy", "Find", "Compare", "Drawing", "Trials")


def bare(hands: Hands) -> list[str]:
    """Figures in mm that a label, table or picture in sight shows, but for what says that a box is in mm."""
    scales: list[str] = []
    said = [label.text() for label in hands.window.findChildren(QLabel) if label.isVisible()]
    said += [part.toPlainText() for part in hands.window.findChildren(QPlainTextEdit) if part.isVisible()]
    said += [part.toPlainText() for part in hands.window.findChildren(QTextBrowser) if part.isVisible()]
    for table in hands.window.findChildren(QTableWidget):
        if table.isVisible():
            items = (table.item(r, c) for r in range(table.rowCount()) for c in range(table.columnCount()))
            said += [item.text() for item in items if item is not None]
    for strip in hands.window.findChildren(Strip):
        if strip.isVisible() and strip.scene is not None:
            picture = pictured(strip.picture(strip.scene), strip.scene.lengths)
            said += [i.text for i in picture.items if isinstance(i, Label)]
    for canvas in hands.window.findChildren(Canvas):
        if canvas.isVisible() and canvas._draw is not None:
            picture = pictured(canvas._draw(float(canvas.width()), float(canvas.height())), unit_of(canvas))
            said += [i.text for i in picture.items if isinstance(i, Label)]
            scales += [i.text for i in picture.items if isinstance(i, Label) and INCHES.heads(i.text)]
    return scales + [text for text in said if re.search(r"\d\s+mm\b(?![\u00b2\u00b3/])", text)]


def test_no_page_shows_a_figure_in_mm_once_inches_are_chosen(hands: Hands, qtbot: QtBot) -> None:
    """The law of `tests/output/test_inches_everywhere.py`, for what the window shows."""
    hands.page.pointer.point(groove=3)
    hands.page.findings.count.click()  # the list of all

    def seen() -> dict[str, list[str]]:
        found = {}
        for title in PAGES:
            hands.window.pages.open_titled(title)
            hands.settle()
            qtbot.waitUntil(lambda: not hands.window.jobs.busy, timeout=60000)
            found[title] = bare(hands)
            for button in getattr(hands.window.pages.shown, "turning", ()):  # views in place of the comparison
                button.click()
                hands.settle()
                found[f"{title}, {button.text()}"] = bare(hands)
                button.click()
        return found

    assert len([text for texts in seen().values() for text in texts]) > 15, "there was something to turn"
    hands.do("Lengths in inches")
    assert {title: texts for title, texts in seen().items() if texts} == {}


def test_what_is_said_and_exported_is_in_inches_too(hands: Hands) -> None:
    hands.do("Lengths in inches")
    hands.document.say("The jacket narrows to 4.0 mm.")
    assert hands.window.message.text.text() == "The jacket narrows to 0.157 in."
    assert hands.window.exporting.request().lengths is INCHES


def length_boxes(hands: Hands) -> list[NumberBox]:
    """Every box of a length, on every page."""
    for title in PAGES:
        hands.window.pages.open_titled(title)
    found = [box for box in hands.window.findChildren(NumberBox) if box.field.unit == "mm"]
    assert len(found) > 15
    return found


def test_who_hears_a_box_hears_the_unit_it_takes(hands: Hands) -> None:
    boxes = length_boxes(hands)
    hands.do("Lengths in inches")
    turned = [b for b in boxes if b._lengths is INCHES]  # the others, of a dialog's own, stay in mm and say so
    assert len(turned) > 15
    assert not [b.accessibleName() for b in turned if not b.accessibleName().endswith(", in")]
    assert not [b.toolTip() for b in turned if re.search(r"\d\s+mm\b", b.toolTip())]
    assert not [b.accessibleName() for b in boxes if b not in turned and not b.accessibleName().endswith(", mm")]
    hands.do("Lengths in inches")
    assert not [b.accessibleName() for b in boxes if not b.accessibleName().endswith(", mm")]


def test_what_a_box_shows_typed_once_more_changes_nothing(hands: Hands) -> None:
    """8.5669 in is a lip radius of 217.6 mm rounded: it does not become one that no longer fits the machine."""
    study = hands.study
    boxes = length_boxes(hands)
    hands.do("Lengths in inches")
    for box in boxes:
        if box.isEnabled() and box.value is not None:
            hands.type_into(box, box.text())
            assert hands.study is study, box.accessibleName()
    hands.type_into(boxes[0], "8.5")
    assert hands.study is not study, "what differs is taken"
