"""Measurements in the window: kept with bowl and duty, the friction taken in one undo step, refusals in a sentence."""

import pytest

from profiler.study.files.examples import read
from profiler.ui.document.document import Document
from profiler.ui.ore.measured_pane import MeasuredPane


@pytest.fixture
def pane(qtbot):
    made = MeasuredPane(Document(read("graded")))
    qtbot.addWidget(made)
    made.show_study()
    return made


def test_an_angle_is_kept_and_its_friction_taken(pane):
    document = pane._document
    assert "friction is a guess" in pane.sentence.text() and not pane.apply.isEnabled()
    pane.angle.setText("8.5")
    pane.at_height.setText("200")
    pane.keep.click()
    pane.show_study()
    assert document.study.measurements[0].design == document.design and "95 % interval" in pane.sentence.text()
    pane.apply.click()
    assert document.duty.calibrated is not None
    document.undo_stack.undo()
    assert document.duty.calibrated is None and len(document.study.measurements) == 1
    pane.forget.click()
    assert not document.study.measurements


@pytest.mark.parametrize(
    ("boxes", "words"),
    [
        ({}, "Type a measured angle"),
        ({"angle": "8", "at_height": "900"}, "outside the wall"),
        ({"angle": "steep", "at_height": "200"}, "not a number"),
        ({"seen": "pxc"}, "not a groove's state"),
        ({"seen": "ppc"}, "has 14"),
    ],
)
def test_what_cannot_be_used_is_one_sentence_and_nothing_is_kept(pane, boxes, words):
    for name, text in boxes.items():
        getattr(pane, name).setText(text)
    pane.keep.click()
    assert words in pane.sentence.text() and not pane._document.study.measurements
