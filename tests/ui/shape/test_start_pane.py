"""Curves to start from: live, always fitted, one undo step a drag; a limit that binds leaves the last one that fits."""

import pytest

from profiler.assess import evaluate
from profiler.study.files.examples import read
from profiler.ui.document.document import Document
from profiler.ui.shape.start_pane import KINDS, StartPane
from tests.ui.hands import Hands


@pytest.fixture
def pane(qtbot):
    made = StartPane(Document(read("graded")))
    qtbot.addWidget(made)
    made.start()
    return made


def choose(pane, index):
    pane.kind.setCurrentIndex(index)
    pane.kind.activated.emit(index)


@pytest.mark.parametrize("index", range(len(KINDS)))
def test_every_curve_is_fitted(pane, index):
    choose(pane, index)
    study = pane._document.study
    shape = evaluate(study.design, study.machine, study.duty).shape
    assert shape.lip_radius == pytest.approx(study.machine.lip_radius_mm, abs=1e-6)
    assert shape.height == pytest.approx(study.machine.height_mm, abs=1e-6)
    assert study.design.wall != read("graded").design.wall and study.design.name == read("graded").design.name
    assert "Fitted to" in pane.sentence.text()


def test_a_drag_of_a_handle_is_one_undo_step(pane):
    document, slider = pane._document, pane.sliders[0]
    before = document.study
    slider.setSliderDown(True)
    for value in (60, 62, 64):
        slider.setValue(value)
    slider.setSliderDown(False)
    assert document.design.wall.knots[0].angle_deg == 16.0 and document.undo_stack.count() == 1
    document.undo_stack.undo()
    assert document.study == before


def test_a_limit_that_binds_is_named_and_changes_nothing(pane):
    choose(pane, 0)
    fits = pane._document.design
    pane.sliders[0].setValue(160)
    assert "nothing is changed" in pane.sentence.text() and pane._document.design == fits


@pytest.mark.parametrize(
    ("index", "pulls", "values"),
    [
        (0, [(1, 330.0, 16.0, False)], (16.0,)),
        (1, [(0, 0.0, 24.0, False), (2, 330.0, 6.0, False), (1, 132.0, None, False)], (24.0, 6.0, 40.0)),
        (1, [(1, 165.0, 12.0, True)], (20.0, 12.0, 50.0)),
        (2, [(0, 0.0, 30.0, False), (4, 330.0, 2.0, False)], (30.0, 2.0, 1.0)),
        (2, [(2, 165.0, 28.0 - 24.0 * 0.75, False)], (28.0, 4.0, 2.0)),  # a quarter of the fall is left half way up
    ],
)
def test_a_knot_pulled_in_the_angle_strip_is_a_handle_of_the_curve(pane, index, pulls, values):
    choose(pane, index)
    for pull in pulls:
        assert pane.pull(*pull)
    assert pane.values() == pytest.approx(values, abs=0.03)
    knots = pane._document.design.wall.knots
    assert len(knots) == len(KINDS[index].knots(330.0, *values))


def test_a_curve_of_other_knots_is_not_pulled(pane):
    assert not pane.pull(0, 0.0, 12.0, False)  # the shown design is none of the started ones yet
    choose(pane, 2)
    before = pane.values()
    assert pane.pull(2, 165.0, 40.0, False) and pane.values() == before  # no power passes through it


def test_a_drag_in_the_strip_while_a_curve_is_started_pulls_it_in_one_step(qtbot, tmp_path, monkeypatch):
    hands = Hands(qtbot, tmp_path, monkeypatch)
    hands.do("Start a curve")
    pane = hands.page.side.currentWidget()
    choose(pane, 0)
    steps, angle = hands.steps, pane.values()[0]
    strip = hands.page.angle
    strip.drag_began.emit(1, False)
    strip.dragged.emit(1, 330.0, angle + 1.5, False)
    strip.drag_ended.emit(True)
    assert pane.values() == (angle + 1.5,) and hands.steps == steps + 1
    assert [k.angle_deg for k in hands.design.wall.knots] == [angle + 1.5, angle + 1.5]
    hands.page.side.show_forms()
    strip.drag_began.emit(1, False)
    strip.dragged.emit(1, 330.0, angle, False)
    strip.drag_ended.emit(True)
    assert [k.angle_deg for k in hands.design.wall.knots] == [angle + 1.5, angle]
