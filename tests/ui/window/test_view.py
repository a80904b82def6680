"""What is shown and how: the ghost, dark colours, lengths in inches, the page walked by keys."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profiler.pictures.basics.display import Line, Role
from profiler.ui.widgets.theme import DARK, LIGHT
from tests.ui.hands import Hands
from tests.ui.safety.test_trouble import pixels


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


@pytest.fixture
def light_again():
    """The look belongs to the application, not to a window."""
    yield
    from profiler.ui.widgets.theme import dress

    dress(QApplication.instance(), LIGHT)


def ghosts(hands: Hands) -> list[Line]:
    return [
        item
        for strip in (hands.angle, hands.page.section)
        for item in strip.picture(strip.scene).items
        if isinstance(item, Line) and item.role is Role.GHOST
    ]


def test_k_keeps_the_present_curve_as_a_ghost_while_dragging_on(hands: Hands) -> None:
    assert not ghosts(hands)
    kept = hands.angle.picture(hands.angle.scene)
    curve = next(i for i in kept.items if isinstance(i, Line) and i.role is Role.WALL)
    hands.key(hands.angle, Qt.Key.Key_K)
    hands.drag_knot(1, hands.place(120.0, 22.0))
    ghost = ghosts(hands)
    assert len(ghost) == 2 and all(line.dashes for line in ghost)
    assert ghost[0].points == pytest.approx(curve.points)


def test_a_ghost_is_kept_in_the_middle_of_a_drag(hands: Hands) -> None:
    with hands.dragging(hands.angle, hands.handle(1), hands.place(120.0, 21.0)):
        hands.key(hands.angle, Qt.Key.Key_K)
        assert hands.document.in_gesture and len(ghosts(hands)) == 2
    assert hands.steps == 1


def test_k_again_lets_the_ghost_go(hands: Hands) -> None:
    hands.key(hands.angle, Qt.Key.Key_K)
    hands.key(hands.angle, Qt.Key.Key_K)
    assert not ghosts(hands)
    assert hands.steps == 0 and not hands.document.modified


def test_dark_colours_repaint_every_strip_and_the_window(hands: Hands, light_again: None) -> None:
    bright = [pixels(strip).mean() for strip in hands.page.strips]
    hands.do("Dark colours")
    dark = [pixels(strip).mean() for strip in hands.page.strips]
    assert all(d < 0.5 * b for d, b in zip(dark, bright, strict=True))
    assert hands.window.palette().window().color().name() == DARK.window
    hands.do("Dark colours")
    assert [pixels(strip).mean() for strip in hands.page.strips] == pytest.approx(bright)


def test_dark_colours_are_remembered_and_change_nothing_in_the_study(
    hands: Hands, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, light_again: None
) -> None:
    hands.do("Dark colours")
    assert hands.steps == 0 and not hands.document.modified
    hands.window.settings.sync()
    again = Hands(qtbot, tmp_path, monkeypatch)
    assert again.window.theme is DARK


def test_what_is_drawn_in_the_dark_is_drawn_from_the_same_items(hands: Hands, light_again: None) -> None:
    before = [len(strip.picture(strip.scene).items) for strip in hands.page.strips]
    hands.do("Dark colours")
    assert [len(strip.picture(strip.scene).items) for strip in hands.page.strips] == before
