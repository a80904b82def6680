"""One crosshair for all strips, and the numbers under it."""

from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPoint
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profiler.assess.quantities.reading import reading_at
from profiler.pictures.basics.display import Line, Role, Strokes
from profiler.pictures.strips.readout import DASH, readout
from profiler.ui.strips.base import Strip
from tests.ui.hands import Hands

STRIPS = ("gutter", "angle", "section", "grooves")
HEIGHTS = (3.0, 60.0, 172.0, 240.0, 318.0)


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def over(hands: Hands, strip: Strip, height_mm: float) -> None:
    hands.hover(strip, QPoint(20, round(hands.page.pointer.now.axis.y(height_mm))))


def level(strip: Strip) -> list[float]:
    """Where the level line of the crosshair is drawn in a strip."""
    found = [i for i in strip.picture(strip.scene).items if i.role is Role.CURSOR]
    lines = [i.points for i in found if isinstance(i, Line)] + [i.ends[0] for i in found if isinstance(i, Strokes)]
    return [float(line[0, 1]) for line in lines if line[0, 0] == 0.0]


def numbers(hands: Hands) -> tuple[str, ...]:
    return tuple(label.text() for label in hands.page.readout._values)


def test_the_crosshair_of_any_strip_is_drawn_at_the_same_height_in_all(hands: Hands) -> None:
    for name, height in zip(STRIPS, HEIGHTS, strict=False):
        over(hands, getattr(hands.page, name), height)
        cursor = hands.page.pointer.now.cursor_mm
        assert cursor == pytest.approx(height, abs=0.5)
        y = hands.page.pointer.now.axis.y(cursor)
        for other in STRIPS:
            assert level(getattr(hands.page, other)) == [pytest.approx(y)], f"{name}, {other}"


def test_the_read_out_shows_the_evaluations_own_numbers(hands: Hands) -> None:
    for height in HEIGHTS:
        over(hands, hands.page.section, height)
        reading = reading_at(hands.evaluation, hands.page.pointer.now.cursor_mm)
        assert numbers(hands) == readout(reading)
        assert hands.page.readout.remark.text() == reading.remark


def test_the_read_out_follows_while_a_knot_is_dragged(hands: Hands) -> None:
    with hands.dragging(hands.angle, hands.handle(1), hands.place(140.0, 24.0)):
        hands.hold_still()
        assert numbers(hands) == readout(reading_at(hands.evaluation, hands.page.pointer.now.cursor_mm))


def test_beyond_floor_and_lip_there_is_no_crosshair_and_no_number(hands: Hands) -> None:
    for height in (-10.0, 338.0):
        over(hands, hands.page.section, 100.0)
        over(hands, hands.page.section, height)
        assert hands.page.pointer.now.cursor_mm is None
        assert set(numbers(hands)) == {DASH}


def test_leaving_a_strip_takes_the_crosshair_away(hands: Hands) -> None:
    over(hands, hands.page.section, 100.0)
    QApplication.sendEvent(hands.page.section, QEvent(QEvent.Type.Leave))
    assert hands.page.pointer.now.cursor_mm is None


def test_the_numbers_do_not_move_the_columns(hands: Hands) -> None:
    """Fixed columns: nothing dances while the mouse goes up the wall."""
    places = set()
    for height in range(1, 330, 23):
        over(hands, hands.page.section, float(height))
        places.add(tuple(label.x() for label in hands.page.readout._values))
    assert len(places) == 1


def test_where_slope_and_state_say_different_things_the_read_out_says_why(hands: Hands) -> None:
    hands.page.duty_bar.design.setCurrentText("Cone under an upright top")
    hands.page.duty_bar.design.textActivated.emit("Cone under an upright top")
    hands.settle()
    over(hands, hands.page.section, 265.0)
    assert "buried from above: held at" in hands.page.readout.remark.text()


def test_the_wheel_zooms_about_the_height_under_the_mouse_in_all_strips(hands: Hands) -> None:
    from tests.ui.shape.test_duty_bar import wheel

    at = hands.page.pointer.now.axis.height(hands.page.section.rect().center().y())
    wheel(hands.page.section, up=True)
    hands.settle()
    axis = hands.page.pointer.now.axis
    assert axis.height(hands.page.section.rect().center().y()) == pytest.approx(at)
    assert {strip.scene.axis for strip in hands.page.strips} == {axis}
    hands.do("Whole bowl in view")
    assert hands.page.pointer.now.fitted
    assert hands.page.pointer.now.axis.y(330.0) > 12.0
