"""Another study is shown for a while: the designer's own waits with its file, its changes and its undo steps."""

import pytest
from msgspec.structs import replace

from profiler.study import read_study
from profiler.study.files.examples import read
from profiler.ui.document.document import Document


@pytest.fixture
def document(qapp):
    made = Document(read("graded"))
    for speed in (600.0, 620.0, 630.0):
        made.edit_duty(replace(made.duty, speed_rpm=speed), f"To {speed:g}")
    made.undo_stack.undo()
    return made


def test_coming_back_gives_the_study_its_undo_steps_and_its_place_among_them(document):
    own, stack = document.study, document.undo_stack
    document.visit(read("cone"))
    assert document.visiting and stack.count() == 0 and document.own_study is own
    document.edit_duty(replace(document.duty, solids_pct=33.0), "Something")
    document.come_back()
    assert document.study is own and not document.visiting
    assert (stack.count(), stack.index()) == (3, 2)
    assert [stack.text(i) for i in range(3)] == ["To 600", "To 620", "To 630"]
    stack.redo()
    assert document.duty.speed_rpm == 630.0
    stack.undo()
    stack.undo()
    stack.undo()
    assert document.study == read("graded") and not document.modified


def test_a_visit_is_no_change_of_the_study(qapp):
    document = Document(read("graded"))
    document.visit(read("cone"))
    document.edit_duty(replace(document.duty, solids_pct=33.0), "Something")
    assert not document.modified


def test_saving_during_a_visit_saves_the_designers_own_study(document, tmp_path):
    own = document.study
    document.visit(read("cone"))
    document.save(tmp_path / "own.bowl")
    assert read_study(tmp_path / "own.bowl") == own == document.study
    assert not document.modified and not document.visiting


def test_opening_another_study_ends_the_visit(document):
    document.visit(read("cone"))
    document.adopt(read("upright"))
    assert not document.visiting and document.study == read("upright")


def test_a_visit_from_a_visit_still_comes_back_to_the_own_study(document):
    own = document.study
    document.visit(read("cone"))
    document.visit(read("upright"))
    document.come_back()
    assert document.study is own


def test_the_clean_step_is_still_known_after_coming_back(document, tmp_path):
    document.save(tmp_path / "a.bowl")
    document.edit_duty(replace(document.duty, speed_rpm=700.0), "To 700")
    document.visit(read("cone"))
    document.come_back()
    assert document.modified and not document.undo_stack.isClean()
    document.undo_stack.undo()
    assert document.undo_stack.isClean() and not document.modified
