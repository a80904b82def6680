"""Machine and Ore: forms beside the strips that show what a number changes; and from a turned wall to its eddy."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from profiler.pictures.basics.lengths import INCHES
from profiler.study import Machine, fields_of
from profiler.study.files import examples
from profiler.study.records.duty import SOLIDS
from profiler.ui.page_stack import EDDY, MACHINE, ORE, SHAPE
from tests.ui.hands import Hands
from tests.ui.window.test_layout import outside, overlapping

JACKET_GAP, MACHINE_LIP_RADIUS = (fields_of(Machine)[name] for name in ("jacket_gap_mm", "lip_radius_mm"))
SIZES = [(1024, 600), (1366, 768), (1600, 900)]


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def turn_to(hands: Hands, title: str) -> None:
    """One action: a click on the page's button."""
    hands.click(next(b for b in hands.window.pages.tabs.findChildren(QPushButton) if b.text() == title))


def test_a_number_of_the_machine_is_seen_in_the_section_beside_it(hands: Hands) -> None:
    page = hands.window.pages.open(MACHINE)
    before = page.section.grab().toImage()
    hands.type_into(page.machine.form.boxes[JACKET_GAP], "9")
    assert page.section.scene.shown.machine.jacket_gap_mm == 9.0 and hands.steps == 1
    assert page.section.grab().toImage() != before
    assert page.findings.text.text() == hands.worst != ""


def test_a_number_of_the_duty_is_seen_in_the_band_and_in_the_map(hands: Hands) -> None:
    page = hands.window.pages.open(ORE)
    page.map.lines = 6
    page.map._refresh()
    hands.qtbot.waitUntil(lambda: page.map.map is not None and page.map.canvas.isEnabled(), timeout=20000)
    before = page.angle.grab().toImage()
    hands.type_into(page.duty.form.boxes[SOLIDS], "46")
    assert page.angle.grab().toImage() != before
    hands.qtbot.waitUntil(lambda: page.map.map.duty is hands.duty and page.map.canvas.isEnabled(), timeout=20000)


def test_a_knot_is_turned_on_the_page_ore_too(hands: Hands) -> None:
    page = hands.window.pages.open(ORE)
    page.angle.setFocus()
    hands.key(page.angle, Qt.Key.Key_Tab)
    hands.key(page.angle, Qt.Key.Key_Right)
    assert hands.steps == 1 and hands.page.pointer.now.knot is None


def test_each_page_is_zoomed_for_itself(hands: Hands) -> None:
    hands.window.pages.open(MACHINE)
    axis = hands.page.pointer.now.axis
    hands.do("Zoom in")
    assert hands.page.pointer.now.axis == axis and not hands.window.pages.shown.pointer.now.fitted
    hands.do("Whole bowl in view")
    assert hands.window.pages.shown.pointer.now.fitted


def test_inches_reach_pages_made_before_and_after(hands: Hands) -> None:
    before = hands.window.pages.open(MACHINE)
    hands.do("Lengths in inches")
    after = hands.window.pages.open(ORE)
    for page in (before, after, hands.page):
        assert page.pointer.now.lengths is INCHES
    assert before.machine.form.boxes[MACHINE_LIP_RADIUS].text().startswith("8.56")


def test_a_fit_that_is_not_met_shows_what_remains_on_the_page_it_was_asked_on(hands: Hands) -> None:
    page = hands.window.pages.open(MACHINE)
    hands.type_into(page.machine.form.boxes[MACHINE_LIP_RADIUS], "60")
    hands.click(page.fit_button)
    assert hands.window.pages.shown is page and page.side.currentIndex() > 0
    hands.click(page.side.currentWidget().back)
    assert page.forms[0].isVisible()


def test_another_study_brings_the_forms_back(hands: Hands) -> None:
    page = hands.window.pages.open(ORE)
    page.show_window()
    hands.window.pages.begin_anew()
    assert page.forms[0].isVisible()


@pytest.mark.parametrize("size", SIZES, ids=lambda s: f"{s[0]}x{s[1]}")
def test_nothing_lies_outside_or_over_its_neighbour(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, size: tuple[int, int]
) -> None:
    hands = Hands(qtbot, tmp_path, monkeypatch, size=size)
    for entry in (MACHINE, ORE, EDDY):
        page = hands.window.pages.open(entry)
        hands.settle()
        assert hands.window.width() == size[0]
        assert outside(page) == [] and overlapping(page) == [], entry.title


def test_from_a_turned_wall_to_why_its_eddy_changed_takes_three_actions_at_most(hands: Hands) -> None:
    hands.drag_knot(1, hands.place(115.0, 26.0))  # one: turn the wall
    turn_to(hands, "Eddy")  # two: look at its eddy
    page = hands.window.pages.shown
    shape = hands.evaluation.shape
    assert page is hands.window.pages.open(EDDY)
    assert abs(float(shape.mouths.middle[page.groove - 1]) - 115.0) < 24.0, "the groove at the knot that was turned"
    said = page.parts.words.text()
    assert f"Groove {page.groove}: " in said and "Before “Move a knot”: " in said and "its wall turned from " in said
    assert page.parts.words.isVisible()


def test_the_groove_chosen_on_shape_is_looked_at_and_one_chosen_here_stays(hands: Hands) -> None:
    hands.page.pointer.point(groove=9)
    turn_to(hands, "Eddy")
    page = hands.window.pages.shown
    assert page.groove == 9
    page.show_groove(4)
    turn_to(hands, "Shape")
    turn_to(hands, "Eddy")
    assert page.groove == 4
    hands.window.pages.open(SHAPE)
    hands.page.pointer.point(groove=7)
    turn_to(hands, "Eddy")
    assert page.groove == 7


def test_what_is_on_trial_is_held_against_the_study(qtbot: QtBot, tmp_path: Path, monkeypatch) -> None:
    hands = Hands(qtbot, tmp_path, monkeypatch, examples.read("graded"))
    page = hands.window.pages.open(EDDY)
    hands.settle()
    assert "In the study" not in page.parts.words.text()
    hands.type_into(page.parts.boxes[SOLIDS], "46")
    assert "In the study: " in page.parts.words.text() and "angle of rest changed from" in page.parts.words.text()


@pytest.mark.parametrize("title", ["Machine", "Ore", "Shape"])
def test_findings_and_forms_open_and_fold_on_every_page_that_has_them(hands: Hands, title: str) -> None:
    hands.window.pages.open_titled(title)
    hands.settle()
    page = hands.window.pages.shown
    for id_, part in (("view.findings", page.pop_list), ("view.forms", page.side)):
        action = hands.window.menus.actions[id_]
        assert action.isEnabled()
        before = part.isVisible()
        for expected in (not before, before):
            action.trigger()
            hands.settle()
            assert part.isVisible() is expected, id_


def test_where_there_are_no_forms_their_keys_are_off(hands: Hands) -> None:
    hands.window.pages.open_titled("Eddy")
    assert not any(hands.window.menus.actions[f"view.{part}"].isEnabled() for part in ("findings", "forms"))
