"""The ore ladder in the window: a column per duty of the window, live while a knot is dragged; ghosts in all strips."""

from itertools import pairwise

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPoint

from profiler.pictures.strips.ladder import COLUMN_PX
from profiler.study.files.examples import read
from profiler.ui.document.ladder import BETWEEN_S
from tests.ui.hands import Hands


def opened(qtbot, tmp_path, monkeypatch, inside=True, size=(1280, 720)):
    study = read("graded")
    study = replace(study, duties=tuple(replace(d, in_window=inside) for d in study.duties))
    return Hands(qtbot, tmp_path, monkeypatch, study, size)


def test_the_gutter_widens_by_a_column_per_duty(qtbot, tmp_path, monkeypatch):
    hands = opened(qtbot, tmp_path, monkeypatch)
    width = hands.page.gutter.width()
    duty = replace(hands.duty, in_window=False)
    hands.document.edit_duty(duty, "Out")
    hands.settle()
    assert hands.page.gutter.width() == width - COLUMN_PX
    assert "As designed" not in hands.page.gutter.toolTip() and "Thin and fine" in hands.page.gutter.toolTip()


def test_the_ladder_is_live_while_a_knot_is_dragged_and_is_of_the_shape_shown(qtbot, tmp_path, monkeypatch):
    hands = opened(qtbot, tmp_path, monkeypatch)
    before = hands.page.scene().ladder
    start = hands.handle(0)
    with hands.dragging(hands.angle, start, start + QPoint(-60, 0)):
        qtbot.wait(int(1000 * BETWEEN_S) + 20)  # it follows some twenty times a second
        scene = hands.page.scene()
        assert hands.document.in_gesture and scene.ladder is not before
        assert scene.ladder.shape is hands.evaluation.shape and len(scene.ladder.duties) == 3
    assert hands.steps == 1


def test_the_column_of_the_shown_duty_tells_what_the_tape_tells(qtbot, tmp_path, monkeypatch):
    hands = opened(qtbot, tmp_path, monkeypatch)
    ladder = hands.page.scene().ladder
    place = [d.name for d in ladder.duties].index(hands.duty.name)
    assert (ladder.flow.state[place] == hands.evaluation.flow.state[0]).all()


def test_pointing_about_works_nothing_out_again(qtbot, tmp_path, monkeypatch):
    hands = opened(qtbot, tmp_path, monkeypatch)
    before = hands.page.scene().ladder
    hands.hover(hands.angle, hands.place(100.0, 10.0))
    assert hands.page.scene().ladder is before


def test_without_a_window_there_is_no_ladder(qtbot, tmp_path, monkeypatch):
    hands = opened(qtbot, tmp_path, monkeypatch, inside=False)
    assert hands.page.scene().ladder is None
    tip = hands.page.gutter.toolTip()
    assert "Narrow tapes" not in tip and "Below the entry height no state is claimed" in tip


@pytest.mark.parametrize("forms", [False, True])
def test_nine_columns_fit_at_1024_by_600(qtbot, tmp_path, monkeypatch, forms):
    study = read("graded")
    nine = tuple(replace(study.duty, name=f"Duty {i}", in_window=True) for i in range(1, 10))
    hands = Hands(qtbot, tmp_path, monkeypatch, replace(study, duties=nine), (1024, 600))
    if forms is not hands.page.forms.isVisible():
        hands.click(hands.page.unfold)
    strips = [s for s in hands.page.strips if s.isVisible()]
    assert all(a.geometry().right() < b.geometry().left() for a, b in pairwise(strips))
    assert strips[-1].mapTo(hands.page, QPoint(strips[-1].width(), 0)).x() <= hands.page.width()


def test_another_design_is_a_ghost_in_all_strips_and_follows_the_duty(qtbot, tmp_path, monkeypatch):
    hands = opened(qtbot, tmp_path, monkeypatch)
    other = hands.study.designs[1]
    hands.page.duty_bar.designs.ghost_wanted.emit(other)
    ghost = hands.page.scene().ghost
    assert ghost.design is other and ghost.duty is hands.duty
    hands.document.show_duty("Thick and coarse")
    hands.settle()
    assert hands.page.scene().ghost.duty.name == "Thick and coarse"
    hands.page.grab()
    assert not any(s.failure for s in hands.page.strips)
    hands.page.show_ghost(None)
    assert hands.page.scene().ghost is None


def test_nothing_shifts_while_the_design_cannot_be_built(qtbot, tmp_path, monkeypatch):
    hands = opened(qtbot, tmp_path, monkeypatch)
    places = [strip.geometry() for strip in hands.page.strips]
    grooves = replace(hands.design.grooves, mouth_mm=60.0)
    hands.document.edit_design(replace(hands.design, grooves=grooves), "Overlap")
    hands.settle()
    assert hands.evaluation.shape is None and hands.page.scene().ladder is not None
    assert [strip.geometry() for strip in hands.page.strips] == places
