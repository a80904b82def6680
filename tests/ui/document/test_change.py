"""One number changed through its field: one undo step that reads as a sentence, or a refusal that says why."""

import pytest
from pytestqt.qtbot import QtBot

from profiler.assess.shape.held_ends import mismatch_mm
from profiler.study import Hold, HolePlan, Machine, SquareTo, fields_of
from profiler.study.edits import design_edits as edits
from profiler.study.files import examples
from profiler.study.records.design import (
    BODY_FILL,
    GROOVE_COUNT,
    GROOVE_MOUTH,
    GROOVE_OFF,
    GROOVE_SQUARE_TO,
    KNOT_ANGLE,
    KNOT_HEIGHT,
    KNOT_LEAVING,
    KNOT_LOCKED,
)
from profiler.study.records.duty import SPEED
from profiler.study.records.machine import SEAT_RADIUS, SHELL_MATERIAL
from profiler.study.records.materials import STRENGTH
from profiler.ui.document.document import Document


@pytest.fixture
def document(qtbot: QtBot) -> Document:
    return Document(examples.read(examples.DEFAULT))


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        (GROOVE_COUNT, 18, "Change the groove count"),
        (GROOVE_MOUTH, 12.0, "Change the grooves' mouth"),
        (GROOVE_SQUARE_TO, SquareTo.AXIS, "Turn the grooves"),
        (GROOVE_OFF.at(3), True, "Leave a groove out"),
        (BODY_FILL, True, "Fill the seat"),
        (KNOT_ANGLE.at(1), 14.5, "Change a knot's wall angle"),
        (KNOT_LOCKED.at(1), True, "Lock this knot"),
        (SPEED, 655.0, "Change speed"),
        (fields_of(HolePlan)["count"], 24, "Change holes a ring"),
        (fields_of(Machine)["lip_radius_mm"], 218.0, "Change the machine's lip radius"),
        (SEAT_RADIUS.at(1), 251.0, "Change the seat"),
        (STRENGTH.under(SHELL_MATERIAL), 200.0, "Change the material's strength"),
    ],
)
def test_a_change_is_one_undo_step_that_reads_as_a_sentence(document: Document, field, value, words: str) -> None:
    before = document.study
    assert document.change(field, value)
    assert field.get(document.study) == value
    assert document.undo_stack.count() == 1 and document.undo_stack.undoText() == words
    document.undo_stack.undo()
    assert document.study == before


def test_what_changes_nothing_leaves_no_step(document: Document) -> None:
    before = document.study
    assert document.change(GROOVE_COUNT, document.design.grooves.count)
    assert document.study is before and document.undo_stack.count() == 0


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [(KNOT_HEIGHT.at(0), 5.0, "stays 0 mm"), (GROOVE_COUNT, 3.5, "whole number"), (KNOT_LEAVING.at(0), 9.0, "inside")],
)
def test_a_refusal_is_said_and_changes_nothing(qtbot: QtBot, document: Document, field, value, words: str) -> None:
    before = document.study
    with qtbot.waitSignal(document.announced) as said:
        assert not document.change(field, value)
    assert words in said.args[0] and said.args[0].endswith(".")
    assert document.study is before and document.undo_stack.count() == 0


def test_changes_of_one_gesture_are_one_step_with_the_name_it_began_with(document: Document) -> None:
    document.begin(SPEED.undo_words)
    for speed in (645.0, 650.0, 655.0):
        document.change(SPEED, speed)
    document.commit()
    assert document.duty.speed_rpm == 655.0 and document.undo_stack.count() == 1
    assert document.undo_stack.undoText() == "Change speed"


def test_another_name_can_be_given_to_the_step(document: Document) -> None:
    document.change(SPEED, 700.0, "Faster")
    assert document.undo_stack.undoText() == "Faster"


def test_the_other_knots_follow_one_that_is_typed_where_both_ends_are_held(document: Document) -> None:
    shape = document.evaluation.shape
    document.edit_design(edits.held(document.design, Hold.BOTH, shape.lip_radius, shape.floor_radius), "Hold")
    old = document.design.wall.knots
    assert document.change(KNOT_ANGLE.at(1), old[1].angle_deg + 2.0)
    new = document.design.wall.knots
    assert new[1].angle_deg == old[1].angle_deg + 2.0 and new[2].angle_deg != old[2].angle_deg
    assert abs(mismatch_mm(document.design)) < 1e-6
    document.change(KNOT_LOCKED.at(0), True)
    assert document.design.wall.knots[1:] == new[1:]  # a tick moves no knot
