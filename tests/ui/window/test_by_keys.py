"""The window by keys alone: Tab gets out of every table, arrows act in what has the keyboard, focus is seen."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QAccessibleInterface
from PySide6.QtWidgets import QAbstractItemView, QApplication, QWidget
from pytestqt.qtbot import QtBot

from profiler.physics.slurry.overturn import State
from profiler.pictures.basics.state_marks import SHORT_WORDS
from profiler.ui.key_sections import key_sections
from profiler.ui.page_stack import ORE, PAGES
from profiler.ui.shape.findings_list import FindingRow, HeadRow
from profiler.ui.widgets.canvas import Canvas
from tests.ui.hands import SHIFT, Hands


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def focused() -> QWidget:
    found = QApplication.focusWidget()
    assert found is not None
    return found


def test_f6_leads_to_every_part_of_every_page_that_arrows_act_in(hands: Hands) -> None:
    """Pictures and lists that take the keyboard: reached without counting Tabs."""
    missing = []
    for entry in PAGES:
        page = hands.window.pages.open(entry)
        hands.settle()
        kinds = (Canvas, QAbstractItemView)
        acting = [w for kind in kinds for w in page.findChildren(kind) if w.isVisible() and w.isEnabled()]
        acting = [w for w in acting if w.focusPolicy() & Qt.FocusPolicy.TabFocus]
        parts = page.key_parts()
        missing += [
            f"{entry.title}: {type(w).__name__} {w.accessibleName()!r}"
            for w in acting
            if not any(part is w or part.isAncestorOf(w) for part in parts)
        ]
    assert missing == []


def test_the_ore_map_is_read_and_a_point_of_it_taken_by_keys(hands: Hands) -> None:
    page = hands.window.pages.open(ORE).map
    page.lines = 8
    page._asked = ()
    page.activated()
    hands.qtbot.waitUntil(lambda: page.map is not None and page.canvas.isEnabled(), timeout=30_000)
    page.across.setFocus()
    for _ in range(3):
        hands.key(focused(), Qt.Key.Key_F6)
    assert focused() is page.canvas
    before = page.reading.text()
    hands.key(page.canvas, Qt.Key.Key_Right)
    first = page.reading.text()
    hands.key(page.canvas, Qt.Key.Key_Up)
    second = page.reading.text()
    assert len({before, first, second}) == 3 and second in page.canvas.accessibleName()
    hands.key(page.canvas, Qt.Key.Key_Left, SHIFT)  # ten lines: to the edge of the map
    assert page._node is not None and page._node[1] == 0
    wanted = page.map.snapped_duty_at(*page._node)
    hands.key(page.canvas, Qt.Key.Key_Return)
    assert hands.duty == wanted and hands.steps == 1


def test_findings_are_gone_through_and_pointed_at_by_keys(hands: Hands) -> None:
    hands.key(hands.angle, Qt.Key.Key_F8)
    hands.rest()
    hands.page.findings.count.setFocus()
    hands.key(focused(), Qt.Key.Key_F6)
    head = focused()
    assert isinstance(head, HeadRow)
    hands.key(head, Qt.Key.Key_Return)
    hands.key(head, Qt.Key.Key_Down)
    first = focused()
    assert isinstance(first, FindingRow)
    told = []
    hands.page.pop_list.pointed.connect(told.append)
    hands.key(first, Qt.Key.Key_Down)
    second = focused()
    assert isinstance(second, FindingRow) and second is not first
    hands.key(second, Qt.Key.Key_Return)
    assert told == [second.finding] and second.finding.text in second.accessibleName()
    hands.key(second, Qt.Key.Key_Up)
    assert focused() is first
    hands.key(first, Qt.Key.Key_Up)
    hands.key(focused(), Qt.Key.Key_Up)
    assert focused() is head


def test_the_table_of_keys_names_the_map_and_the_findings() -> None:
    assert {"Ore map", "List of all findings"} <= {part.where for part in key_sections()}


def test_the_keyboard_stays_in_the_list_of_findings_when_its_rows_change(hands: Hands) -> None:
    hands.key(hands.angle, Qt.Key.Key_F8)
    hands.rest()
    hands.page.pop_list.findChild(HeadRow).click()
    hands.settle()
    rows = hands.page.pop_list.findChildren(FindingRow)
    rows[-1].setFocus()
    hands.page.pop_list.show_findings(hands.evaluation.findings[:2], hands.page.theme)
    assert isinstance(focused(), FindingRow | HeadRow) and focused() is not rows[-1]


def test_strips_tell_what_is_chosen_and_each_change_of_it_by_the_interface_screen_readers_use(hands: Hands) -> None:
    def told(strip: QWidget) -> str:
        return QAccessible.queryAccessibleInterface(strip).text(QAccessible.Text.Name)

    hands.angle.setFocus()
    hands.page.pointer.point(knot=1)
    hands.rest()
    before = hands.knots[1]
    assert told(hands.angle) == f"Wall angle: knot 2 of 4, {before.height_mm:g} mm, {before.angle_deg:g}°"
    hands.key(hands.angle, Qt.Key.Key_Up)
    hands.rest()
    assert f"{hands.knots[1].height_mm:g} mm" in told(hands.angle) and hands.knots[1] != before
    for strip in (hands.page.section, hands.page.grooves):
        strip.setFocus()
        hands.page.pointer.point(groove=3)
        hands.rest()
        assert f": groove 3, {state_word(hands, 3)}" in told(strip)
        hands.key(strip, Qt.Key.Key_Up)
        hands.rest()
        assert f": groove 4, {state_word(hands, 4)}" in told(strip)


def state_word(hands: Hands, groove: int) -> str:
    return SHORT_WORDS[State(int(hands.evaluation.flow.groove_state[0][groove - 1]))]


def test_page_buttons_and_export_are_in_the_tree_screen_readers_walk(hands: Hands) -> None:
    def names(interface: QAccessibleInterface) -> set[str]:
        found = {interface.text(QAccessible.Text.Name)}
        for place in range(interface.childCount()):
            child = interface.child(place)
            if child is not None:
                found |= names(child)
        return found

    told = names(QAccessible.queryAccessibleInterface(hands.window))
    assert {entry.title for entry in PAGES} <= told
    assert hands.window.export_button.text() in told
