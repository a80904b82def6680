"""Keys and the help's table of them: every key that is answered stands there, and every row does what it says."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QAction, QKeyEvent, QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog, QWidget
from pytestqt.qtbot import QtBot

from profiler.output.record.output import TableShown
from profiler.pictures.basics.display import Label
from profiler.pictures.sheet.items import Sheet, View
from profiler.study.records.duty import SPEED
from profiler.ui.actions import ACTIONS
from profiler.ui.dialogs.dialogs import Unsaved
from profiler.ui.drawing import printing
from profiler.ui.forms import list_menu
from profiler.ui.forms.list_menu import NameBox
from profiler.ui.help import help_window
from profiler.ui.help.help_window import KEYS_PAGE, HelpWindow
from profiler.ui.key_sections import ANYWHERE, key_sections
from profiler.ui.ore import sizes_table
from profiler.ui.ore.sizes_table import SizesTable
from profiler.ui.page_stack import SHAPE
from profiler.ui.shape import findings_page
from profiler.ui.shape.forms_page import FormsPage
from profiler.ui.strips import angle, grooves, section
from profiler.ui.trials import trial_ledger
from profiler.ui.trials.trial_ledger import LedgerModel, LedgerView
from profiler.ui.widgets import choice_box, number_box, sheet_view, splitter, table_view
from profiler.ui.widgets.keys import Key, stroke_of
from profiler.ui.widgets.sheet_view import SheetView
from profiler.ui.widgets.table_view import TableView
from profiler.ui.widgets.theme import LIGHT, dress
from tests.ui.hands import NONE, Hands

MODIFIERS = (
    NONE,
    Qt.KeyboardModifier.ShiftModifier,
    Qt.KeyboardModifier.ControlModifier,
    Qt.KeyboardModifier.AltModifier,
)
EVERY_KEY = [k for k in Qt.Key if 0x20 <= k.value <= 0x7E or Qt.Key.Key_Escape.value <= k.value <= Qt.Key.Key_F12.value]
EURO = 0x20AC  # a letter that some keyboards have and Qt has no name for


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def rows_of(where: str) -> tuple[tuple[str, str], ...]:
    return next(part.rows for part in key_sections() if part.where == where)


def told(where: str) -> set[str]:
    """The strokes the help names for a part of the window."""
    return {stroke for how, _ in rows_of(where) for stroke in how.split(", ")}


def press(widget: QWidget, stroke: str) -> None:
    combination = QKeySequence(stroke)[0]
    QTest.keyClick(widget, combination.key(), combination.keyboardModifiers())
    QApplication.processEvents()


# what is answered stands in the table


def test_every_shortcut_of_the_window_stands_in_the_help(hands: Hands) -> None:
    native = QKeySequence.SequenceFormat.NativeText
    keys = {k.toString(native) for action in hands.window.findChildren(QAction) for k in action.shortcuts()}
    assert keys == told(ANYWHERE) and len(keys) >= 20


def test_no_two_actions_share_an_id_or_a_key() -> None:
    ids, strokes = [a.id for a in ACTIONS], [stroke for a in ACTIONS for stroke in a.keys]
    assert len(set(ids)) == len(ids) and len(set(strokes)) == len(strokes)


def test_every_key_that_strips_sheets_and_help_answer_stands_in_their_table(hands: Hands, qtbot: QtBot) -> None:
    """Pressed are all keys there are; what a widget takes for itself must be told."""
    sheet, help_page = SheetView("A sheet"), HelpWindow(key_sections())
    for widget in (sheet, help_page):
        qtbot.addWidget(widget)
    page = hands.page
    answering: list[tuple[QWidget, Sequence[Key]]] = [
        (page.angle, angle.KEYS), (page.section, section.KEYS), (page.grooves, grooves.KEYS),
        (page.gutter, ()), (page, findings_page.KEYS), (sheet, sheet_view.KEYS), (help_page, help_window.KEYS),
    ]  # fmt: skip
    for widget, keys in answering:
        told_here = {name for each in keys for name in each.names}
        for key in (*EVERY_KEY, EURO):
            for modifiers in MODIFIERS:
                page.pointer.point(knot=1, groove=2)
                page.grooves.open_card(key is not Qt.Key.Key_Up)
                event = QKeyEvent(QEvent.Type.KeyPress, key, modifiers)
                widget.keyPressEvent(event)
                assert not event.isAccepted() or stroke_of(event) in told_here, (widget, stroke_of(event))


@pytest.mark.qt_log_ignore("This plugin does not support")  # raising a window without a screen
def test_the_help_shows_every_row(qtbot: QtBot) -> None:
    window = HelpWindow(key_sections())
    qtbot.addWidget(window)
    window.show_page(KEYS_PAGE)
    text = window.text.toPlainText()
    for part in key_sections():
        assert part.where in text and part.rows
        for how, words in part.rows:
            assert how in text and words in text


# every row, pressed, does something


@dataclass
class Scene:
    """One part of the window with its keys: how it stands ready for a key, and what can be seen of it."""

    widget: QWidget
    keys: Sequence[Key]
    seen: Callable[[], object]
    ready: Callable[[str], object] = lambda stroke: None


def walk(scene: Scene) -> list[str]:
    """The strokes that did nothing that could be seen."""
    idle = []
    for key in scene.keys:
        for stroke, _ in key.strokes:
            scene.ready(stroke)
            before = scene.seen()
            press(scene.widget, stroke)
            if scene.seen() == before:
                idle.append(f"{stroke}: {key.words}")
    return idle


def test_the_keys_of_the_angle_strip_do_what_they_say(hands: Hands) -> None:
    def ready(stroke: str) -> None:
        hands.rest()
        hands.angle.setFocus()
        hands.page.pointer.point(knot=1, leaving=False)
        if stroke == "Esc":
            at = hands.handle(1)
            hands.press(hands.angle, at)
            hands.move(hands.angle, at + QPoint(30, 5))

    def seen() -> object:
        now = hands.page.pointer.now
        return hands.study, now.knot, now.cursor_mm, hands.document.in_gesture

    assert walk(Scene(hands.angle, angle.KEYS, seen, ready)) == []


def test_the_keys_of_section_grooves_and_page_do_what_they_say(hands: Hands) -> None:
    page = hands.page
    mouths = hands.evaluation.shape.mouths
    groove = QPoint(40, round(page.pointer.now.axis.y(float(mouths.middle[5]))))
    hands.press(page.section, groove)
    hands.move(page.section, groove + QPoint(0, 12))
    assert hands.document.in_gesture
    (back,) = (key for key in section.KEYS if key.names == ("Esc",))
    assert walk(Scene(page.section, (back,), lambda: hands.document.in_gesture)) == []
    assert not hands.document.in_gesture and hands.steps == 0

    def chosen(_: str) -> None:
        page.pointer.point(groove=4)
        hands.rest()

    def grooved() -> object:
        return page.pointer.now.groove, page.pointer.now.cursor_mm, hands.study

    others = [key for key in section.KEYS if key is not back]
    assert walk(Scene(page.section, others, grooved, chosen)) == []
    assert hands.steps == 2  # up by a step, and down

    def card(stroke: str) -> None:
        page.pointer.point(groove=4)
        page.grooves.open_card(stroke not in ("Up", "Down", "Return", "Enter"))
        hands.rest()
        page.grooves.scroll_card(60.0)

    def rows() -> object:
        return page.pointer.now.groove, page.grooves.card_open, page.grooves._scrolled

    assert walk(Scene(page.grooves, grooves.KEYS, rows, card)) == []
    count = page.findings.count
    assert walk(Scene(page, findings_page.KEYS, count.isChecked, lambda _: count.setChecked(True))) == []


@pytest.mark.qt_log_ignore("This plugin does not support")  # raising a list without a screen
def test_the_keys_of_a_number_and_of_a_name_do_what_they_say(hands: Hands) -> None:
    box = hands.page.duty_bar.boxes[SPEED]

    def ready(stroke: str) -> None:
        box.setFocus()
        if stroke == "Esc":
            QTest.keyClicks(box, "7")

    assert walk(Scene(box, number_box.KEYS, box.text, ready)) == []
    combo = hands.page.duty_bar.design
    name = NameBox(combo, "Another")
    assert walk(Scene(name, list_menu.KEYS, name.isVisible)) == []
    assert hands.design.name == combo.currentText()

    combo.setFocus()
    QTest.keyClicks(combo, "c")
    assert combo.typed == "c" and combo.view().isVisible()
    assert walk(Scene(combo.view(), choice_box.KEYS, lambda: combo.typed, lambda _: combo.narrow("co"))) == []
    combo.hidePopup()


def test_the_keys_of_tables_and_sheets_do_what_they_say(hands: Hands, qtbot: QtBot) -> None:
    clipboard, news = QApplication.clipboard(), []
    sizes, table, ledger = SizesTable(), TableView("A table"), LedgerView(LedgerModel())
    sheet = SheetView("A sheet")
    for widget in (sizes, table, ledger, sheet):
        qtbot.addWidget(widget)
        widget.resize(400, 300)
        widget.show()
    sizes.paste_wanted.connect(lambda: news.append("paste"))
    assert walk(Scene(sizes, sizes_table.KEYS, lambda: len(news))) == []

    table.show_table(TableShown(("a", "b"), (("1", "2"),)))
    table.selectAll()
    assert walk(Scene(table, table_view.KEYS, clipboard.text, lambda _: clipboard.setText("-"))) == []
    assert clipboard.text() == "1\t2"

    ledger.cells_pasted.connect(news.append)
    ready = lambda stroke: clipboard.setText("R1\tA\t1")  # noqa: E731
    assert walk(Scene(ledger, trial_ledger.LEDGER_KEYS, lambda: (clipboard.text(), len(news)), ready)) == []

    sheet.turned.connect(news.append)
    sheet.show_sheet(Sheet(210.0, 297.0, (), View((0.0, 0.0), 1.0)))

    def enlarged(stroke: str) -> None:
        sheet.fit()
        sheet.zoom(4.0)

    where = lambda: (sheet.zoomed, sheet.corner(), len(news))  # noqa: E731
    assert walk(Scene(sheet, sheet_view.KEYS, where, enlarged)) == []


def test_the_keys_of_a_divider_do_what_they_say(qtbot: QtBot) -> None:
    for way in Qt.Orientation:
        parts = splitter.Splitter(way)
        qtbot.addWidget(parts)
        parts.addWidget(QWidget())
        parts.addWidget(QWidget())
        parts.resize(400, 300)
        parts.show()
        qtbot.waitExposed(parts)
        parts.setSizes([150, 150])
        assert walk(Scene(parts.handle(1), splitter.KEYS, parts.sizes)) == []


@pytest.mark.qt_log_ignore("This plugin does not support")  # raising a window without a screen
def test_the_keys_of_the_help_do_what_they_say(qtbot: QtBot) -> None:
    window = HelpWindow(key_sections())
    qtbot.addWidget(window)

    def ready(stroke: str) -> None:
        window.show_page()
        window.wanted.setText("repose")
        window.wanted.setFocus()
        window.step(1)

    seen = lambda: (window.isVisible(), window.hits.at, window.list.currentRow())  # noqa: E731
    assert walk(Scene(window.wanted, help_window.KEYS, seen, ready)) == []


READY: dict[str, Callable[[Hands], object]] = {
    "edit.undo": lambda h: h.page.edits.add_knot(60.0, 5.0),
    "edit.redo": lambda h: (h.page.edits.add_knot(60.0, 5.0), h.document.undo_stack.undo()),
    "curve.delete": lambda h: h.page.pointer.point(knot=1),
    "curve.corner": lambda h: h.page.pointer.point(knot=1),
    "view.fit": lambda h: h.page.zoom(1.5),
}
LAST = ("file.new", "file.close")  # these take the study away


@pytest.mark.qt_log_ignore("This plugin does not support")  # raising a window without a screen
def test_every_action_does_what_it_says_by_its_key_or_from_its_menu(
    hands: Hands, monkeypatch: pytest.MonkeyPatch
) -> None:
    window, page, asked = hands.window, hands.page, hands.answers.asked
    for question in ("ask_open", "ask_save", "ask_export", "ask_new_study", "tell_about"):
        hands.answers.answer(question, None)
    hands.answers.answer("ask_unsaved", Unsaved.DISCARD)
    monkeypatch.setattr(printing, "ask_printer", lambda *_: asked.append("print"))

    def sides() -> list[int]:
        return [p.side.currentIndex() for p in (page, *window.pages.findChildren(FormsPage))]

    def seen() -> object:
        shown = (window.pages.currentIndex(), *sides(), page.unfold.isChecked(), window.theme.name)
        help_page = window._help and window._help.list.currentRow()
        return (
            hands.study, hands.steps, page.pointer.now, page.has_ghost, page.findings.count.isChecked(),
            QApplication.focusWidget(), window.isVisible(), len(asked), help_page, *shown,
        )  # fmt: skip

    idle = []
    try:
        for action in sorted(
            (a for a in ACTIONS if a.do is not None), key=lambda a: LAST.index(a.id) if a.id in LAST else -1
        ):
            for stroke in action.keys or ("",):
                if action.enabled is not None:
                    window.pages.open(SHAPE)  # where every action has something to act upon
                READY.get(action.id, lambda _: None)(hands)
                window.activateWindow()
                hands.rest()
                before = seen()
                if stroke:
                    press(window, stroke)
                else:
                    window.menus.actions[action.id].trigger()
                hands.rest()
                if seen() == before:
                    idle.append(f"{stroke or 'menu'}: {action.plain}")
                for dialog in QApplication.topLevelWidgets():
                    if isinstance(dialog, QDialog) and dialog.isVisible():
                        dialog.reject()  # it would take the next key
    finally:
        dress(QApplication.instance(), LIGHT)
    assert idle == [], "; ".join(idle)


def test_ticks_and_what_is_possible_follow_what_there_is(hands: Hands) -> None:
    made = hands.window.menus.actions
    assert not made["curve.ghost"].isChecked() and not made["edit.undo"].isEnabled()
    hands.page.show_ghost(hands.design)  # not from the menu
    hands.page.edits.add_knot(60.0, 5.0)
    assert made["curve.ghost"].isChecked()
    assert made["edit.undo"].isEnabled() and made["edit.undo"].text() == "Undo Add a knot"
    with hands.dragging(hands.angle, hands.handle(1), hands.handle(1) + QPoint(20, 0)):
        assert not made["edit.undo"].isEnabled()  # what is held is let go first
    hands.undo()
    hands.undo()
    assert not made["edit.undo"].isEnabled() and made["edit.redo"].text() == "Redo Add a knot"


def test_a_knot_is_added_from_the_menu_at_the_crosshair_or_in_the_widest_gap(hands: Hands) -> None:
    hands.page.pointer.point(cursor_mm=200.04)
    hands.do("Add a knot")
    assert hands.knots[2].height_mm == 200.0
    hands.page.pointer.point(cursor_mm=None)
    hands.do("Add a knot")
    assert [k.height_mm for k in hands.knots] == [0.0, 57.5, 115.0, 200.0, 225.0, 330.0]


def test_the_hint_on_a_grooves_card_names_keys_that_are_answered(hands: Hands) -> None:
    hands.page.grooves.open_card(True)
    hands.rest()
    card = hands.page.grooves.picture(hands.page.grooves.scene)
    (hint,) = [item.text for item in card.items if isinstance(item, Label) and "closes" in item.text]
    named = {"Enter", "Esc", "Up", "Down"}
    assert all(word in hint for word in ("Enter", "Esc", "↑", "↓"))
    assert named <= {name for each in grooves.KEYS for name in each.names}


def test_a_control_arrow_moves_a_knot_by_the_tenth_the_help_says(hands: Hands) -> None:
    """Of the millimetre an arrow key moves: the field's own step, so that the keys reach every height of a drag."""
    (words,) = [words for how, words in rows_of("Wall angle strip") if how == "Ctrl+Up, Ctrl+Down"]
    assert words == "Move the chosen knot by 0.1 mm"
    hands.choose_knot(1)
    press(hands.angle, "Ctrl+Up")
    assert hands.knots[1].height_mm == pytest.approx(115.1, abs=1e-9)
