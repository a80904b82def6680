"""The job without a mouse: each task of a page and each dialog from its beginning to its end, by keys alone.

Nothing here touches a widget but to see that the keyboard has come to it; where it goes is left to Tab, F6 and arrows.
"""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QDialog, QLineEdit, QWidget
from shiboken6 import isValid

from profiler.explore.search.search import Asked, Found, Tell
from profiler.explore.search.tried import Tried
from profiler.progress import Progress
from profiler.study.edits.new_study import OF_DUTY, OF_MACHINE
from profiler.study.records.design import KNOT_ANGLE
from profiler.ui.dialogs import dialogs
from profiler.ui.dialogs.dialogs import Unsaved
from profiler.ui.eddy.groove_canvas import GrooveCanvas
from profiler.ui.envelope.envelope_dialog import EnvelopeDialog
from profiler.ui.find import find_page
from profiler.ui.page_stack import EDDY, FIND, PAGES, SHAPE, TRIALS, PageEntry
from profiler.ui.strips.angle import AngleStrip
from profiler.ui.strips.section import SectionStrip
from profiler.ui.window import Window
from tests.ui.everywhere import one_window

pytestmark = pytest.mark.qt_log_ignore("This plugin does not support")  # raising a window without a screen
MOST = 120  # strokes to get anywhere
RUNS = "run,design,block,feed,rec\n" + "\n".join(
    f"{design}{i},{design},{i},{4 + i / 10:g},{40 + i * 0.7 + gain * (1 + i % 3):g}"
    for i in range(8)
    for design, gain in (("A", 0.0), ("B", 1.1))
)


@pytest.fixture(scope="module")
def window(qapp: QApplication, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Window]:
    with one_window(tmp_path_factory.mktemp("keys")) as made:
        yield made


@pytest.fixture
def keys(window: Window) -> "Keys":
    window.activateWindow()
    window.page.angle.setFocus()
    return Keys(window)


def name_of(widget: QWidget) -> str:
    words = widget.accessibleName()
    return words or (widget.text().replace("&", "") if isinstance(widget, QAbstractButton) else "")


class Keys:
    """Two hands on a keyboard."""

    def __init__(self, window: Window) -> None:
        self.window = window

    @property
    def at(self) -> QWidget:
        return QApplication.focusWidget() or QApplication.activeWindow() or self.window

    def press(self, *strokes: str) -> None:
        for stroke in strokes:
            combination = QKeySequence(stroke)[0]
            QTest.keyClick(self.at, combination.key(), combination.keyboardModifiers())
            QApplication.processEvents()

    def type(self, text: str) -> None:
        QTest.keyClicks(self.at, text)
        QApplication.processEvents()

    def go(self, there: Callable[[QWidget], bool], stroke: str = "Tab") -> QWidget:
        """Press this until the keyboard is there."""
        for _ in range(MOST):
            if there(self.at):
                return self.at
            self.press(stroke)
        raise AssertionError(f"{stroke} does not lead there; it ended at {self.at} {name_of(self.at)!r}")

    def to(self, name: str) -> QWidget:
        """Tab to a control of this name."""
        return self.go(lambda widget: name_of(widget).startswith(name))

    def turn_to(self, entry: PageEntry) -> None:
        """By Ctrl+PgDown or Ctrl+PgUp, whichever is nearer; then F6 leads into the page."""
        titles = [each.title for each in PAGES]
        way = PAGES.index(entry) - titles.index(self.window.pages.title)
        for _ in range(abs(way)):
            self.press("Ctrl+PgDown" if way > 0 else "Ctrl+PgUp")
        assert self.window.pages.title == entry.title
        self.press("F6")

    def choose(self, name: str, letters: str) -> None:
        """In the list of this name, what holds these letters."""
        box = self.to(name)
        assert isinstance(box, QComboBox)
        self.type(letters[0])
        QTest.keyClicks(box.view(), letters[1:])
        QTest.keyClick(box.view(), QKeySequence("Return")[0].key())
        QApplication.processEvents()
        assert letters in box.currentText().lower()

    def rest(self) -> None:
        self.window.document.flush()
        QApplication.processEvents()


def during(question: Callable[[QDialog], object], ask: Callable[[], object]) -> None:
    """Ask what waits for a dialog, and answer it as soon as it stands there."""
    failed: list[BaseException] = []

    def answer() -> None:
        dialog = QApplication.activeModalWidget()
        try:
            assert isinstance(dialog, QDialog)
            question(dialog)
        except BaseException as error:  # raised once the dialog is gone: it would wait for ever
            failed.append(error)
        finally:
            if isinstance(dialog, QDialog) and dialog.isVisible():
                failed.append(AssertionError("the keys did not close the dialog"))
                dialog.reject()

    QTimer.singleShot(50, answer)
    ask()
    if failed:
        raise failed[0]


def test_a_knot_is_chosen_and_moved_and_the_wall_read(keys: Keys) -> None:
    window = keys.window
    keys.turn_to(SHAPE)
    keys.go(lambda w: isinstance(w, AngleStrip), "F6")
    keys.go(lambda _: window.page.pointer.now.knot == 1)
    before = window.document.design.wall.knots[1]
    keys.press("Up", "Right")
    keys.rest()
    after = window.document.design.wall.knots[1]
    assert (after.height_mm, after.angle_deg) == pytest.approx((before.height_mm + 1.0, before.angle_deg + 0.05))
    keys.go(lambda w: isinstance(w, SectionStrip), "F6")
    keys.press("PgUp")
    first = window.page.pointer.now.cursor_mm
    keys.press("PgUp", "Shift+PgUp")
    assert window.page.pointer.now.cursor_mm == pytest.approx(first + 11.0)
    keys.press("Ctrl+Z", "Ctrl+Z")
    assert window.document.design.wall.knots[1] == before


def test_a_crosshair_beyond_what_is_zoomed_takes_the_strip_along(keys: Keys) -> None:
    window = keys.window
    keys.turn_to(SHAPE)
    keys.go(lambda w: isinstance(w, SectionStrip), "F6")
    keys.press("Ctrl++", "Ctrl++", "Ctrl++", "Ctrl++")
    keys.press(*["PgUp"] * 40)
    now = window.page.pointer.now
    assert now.cursor_mm == window.document.design.wall.height_mm
    assert now.axis.top - 1e-6 <= now.axis.y(now.cursor_mm) <= now.axis.bottom + 1e-6
    keys.press("Ctrl+0")


def test_grooves_are_placed(keys: Keys) -> None:
    document = keys.window.document
    keys.turn_to(SHAPE)
    keys.to("Wall curve")
    keys.press("Down")  # from head to head of the forms
    keys.to("Groove count")
    count = document.design.grooves.count
    keys.press("Down")
    keys.rest()
    assert document.design.grooves.count == count - 1
    keys.press("Ctrl+Z")


def test_the_section_is_exported(keys: Keys, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """By the dialog itself."""
    path = tmp_path / "by keys.dxf"

    def fill(dialog: QDialog) -> None:
        keys.to("File")
        keys.press("Ctrl+A")
        keys.type(str(path))
        keys.to("Export")
        keys.press("Space")

    during(fill, lambda: keys.press("Ctrl+Shift+E"))
    for _ in range(400):
        if not keys.window.exporting.busy:
            break
        QTest.qWait(20)
    assert path.is_file()


def test_a_trial_is_imported_and_judged(keys: Keys, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    path = tmp_path / "runs.csv"
    path.write_text(RUNS, encoding="utf-8")
    monkeypatch.setattr(dialogs, "ask_table", lambda parent: path)  # the system's own dialog
    keys.turn_to(TRIALS)
    page = keys.window.pages.open(TRIALS)
    keys.to("Import…")
    keys.press("Space")
    wait_for(lambda: page.importing.under_way and page.importing.panel.take.isEnabled())
    keys.to("Import 16 runs")
    keys.press("Space")
    wait_for(lambda: page.found is not None and page.found.judgement is not None)
    assert len(keys.window.document.study.trials[-1].runs) == 16
    assert page.found.judgement.verdict.difference_text in page.parts.heading.text()
    keys.press("Ctrl+Z")


def found_at_once(asked: Asked, progress: Progress, tell: Tell) -> Found:
    """The study's own designs as candidates: a real search is walked in the tests of the page."""
    tried = tuple(Tried(d, float(value), -float(value)) for value, d in enumerate(asked.study.designs))
    return Found(asked, tried[0], tried[-1], tried[-1], tried, (), len(tried), (), True)


def test_a_candidate_is_searched_and_taken(keys: Keys, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(find_page, "search", found_at_once)
    keys.turn_to(FIND)
    page = keys.window.pages.open(FIND)
    keys.choose("Goal", "raise")
    keys.choose("Quantity", "strongly")
    keys.to("Search")
    keys.press("Space")
    wait_for(lambda: page.found is not None and not page.jobs.busy)
    keys.to("Best candidates")
    row = page.best.currentRow()
    keys.press("Down")
    assert page.best.currentRow() == min(row + 1, page.best.rowCount() - 1)
    keys.to("Add as a design")
    keys.press("Space")
    assert "found" in keys.window.document.design.name
    keys.press("Ctrl+Z")


def test_the_wall_on_trial_is_turned_and_used(keys: Keys) -> None:
    document = keys.window.document
    keys.turn_to(EDDY)
    page = keys.window.pages.open(EDDY)
    keys.go(lambda w: isinstance(w, GrooveCanvas), "F6")
    said, before, wall = name_of(keys.at), page.parts.boxes[KNOT_ANGLE].value, document.design.wall
    keys.press("Right")
    assert page.parts.boxes[KNOT_ANGLE].value == pytest.approx(before + 0.5, abs=0.051) and document.design.wall == wall
    assert name_of(keys.at) != said and f"groove {page.groove}" in name_of(keys.at)
    keys.to("Use this angle")
    keys.press("Space")
    keys.rest()
    assert document.design.wall != wall
    keys.press("Ctrl+Z")


def test_a_new_study_is_begun(keys: Keys, monkeypatch: pytest.MonkeyPatch) -> None:
    window, numbers = keys.window, iter((200.0, 250.0, 500.0, 30.0, 90.0, 1.2, 55.0))

    def fill(dialog: QDialog) -> None:
        keys.to("Machine")
        for _ in (*OF_MACHINE, *OF_DUTY):
            keys.press("Tab")
            assert isinstance(keys.at, QLineEdit)
            keys.type(f"{next(numbers):g}")
        keys.press("Return")

    monkeypatch.setattr(dialogs, "ask_unsaved", lambda *_: Unsaved.DISCARD)
    before = window.document.study
    during(fill, lambda: keys.press("Ctrl+N"))
    assert window.document.study.title == "New study" and window.document.study.machine.lip_radius_mm == 200.0
    window.filing.document.adopt(before)


def test_an_envelope_is_pasted_chosen_and_taken(keys: Keys) -> None:
    window = keys.window
    QApplication.clipboard().setText("radius;height\n160;0\n225;200\n227;262\n")
    window.menus.actions["study.envelope"].trigger()  # from its menu
    dialog = window.findChild(EnvelopeDialog)
    dialog.activateWindow()
    before = window.document.study
    keys.to("Paste points")
    keys.press("Space")
    wait_for(lambda: not window.jobs.busy and dialog.laid is not None)
    keys.choose("Seat", "1:")
    keys.to("Take the envelope")
    keys.press("Space")
    assert [p.radius_mm for p in window.document.study.machine.seat] == [160.0, 225.0, 227.0]
    keys.press("Esc")
    assert not isValid(dialog) or not dialog.isVisible()
    window.document.adopt(before)


def wait_for(there: Callable[[], bool]) -> None:
    for _ in range(1500):
        if there():
            QApplication.processEvents()
            return
        QTest.qWait(20)
    raise AssertionError("waited for nothing")
