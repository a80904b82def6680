"""Curves to start from: live, always fitted, one undo step a drag; a limit that binds leaves the last one that fits."""

import pytest

from profiler.assess import evaluate
from profiler.study.files.examples import read
from profiler.ui.document.document import Document
from profiler.ui.shape.start_pane import KINDS, StartPane


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
