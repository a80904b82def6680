"""The page Find: a goal has to be stated, candidates come as they are found, one of them becomes a design."""

import pytest
from PySide6.QtWidgets import QComboBox

from profiler.explore.search.goal import CLAIM
from profiler.study.files.examples import read
from profiler.ui.document.document import Document
from profiler.ui.find import goal_form
from profiler.ui.find.find_page import FindPage
from profiler.ui.work.jobs import Jobs

GHOSTS = []


@pytest.fixture
def page(qtbot, monkeypatch):
    GHOSTS.clear()
    monkeypatch.setattr(goal_form, "POINTS", 4)
    jobs = Jobs()
    made = FindPage(Document(read("graded")), jobs, GHOSTS.append)
    qtbot.addWidget(made)
    made.resize(1200, 700)
    made.show()
    qtbot.waitExposed(made)
    made.activated()
    yield made
    jobs.close()


def choose(combo: QComboBox, data: object) -> None:
    combo.setCurrentIndex(combo.findData(data))
    combo.activated.emit(combo.currentIndex())


def searched(page, qtbot):
    page.form.start.click()
    qtbot.waitUntil(lambda: page.found is not None and not page.jobs.busy, timeout=30000)


def test_nothing_is_searched_before_a_goal_is_stated(page):
    page.form.start.click()
    assert "State a goal first" in page.sentence.text() and not page.jobs.busy and page.found is None


def test_the_claim_stands_above_and_the_answer_is_one_sentence(page, qtbot):
    choose(page.form.kind, goal_form.RAISE)
    searched(page, qtbot)
    assert CLAIM in [label.text() for label in page.findChildren(type(page.sentence))]
    assert "Raise height that overturns strongly" in page.sentence.text() and "evaluations" in page.sentence.text()
    assert "trivial wall" in page.more.text()
    assert page.best.rowCount() >= 1 and page.form.start.isEnabled() and not page.form.stop.isEnabled()


def test_the_best_candidate_and_then_the_chosen_one_is_a_ghost_in_the_strips(page, qtbot):
    choose(page.form.kind, goal_form.RAISE)
    searched(page, qtbot)
    assert GHOSTS[-1] == page._chosen().design
    shown = len(GHOSTS)
    page.show_evaluation(page.document.evaluation)
    assert len(GHOSTS) == shown, "a ghost that was let go must not come back by itself"
    if page.best.rowCount() > 1:
        page.best.setCurrentCell(page.best.rowCount() - 1, 0)
        assert GHOSTS[-1] == page._chosen().design and len(GHOSTS) == shown + 1


def test_a_candidate_is_taken_as_a_design_in_one_undo_step(page, qtbot):
    choose(page.form.kind, goal_form.RAISE)
    searched(page, qtbot)
    before = page.document.study
    page.best.setCurrentCell(page.best.rowCount() - 1, 0)
    chosen = page._chosen()
    page.take.click()
    design = page.document.design
    assert design.name == "Graded, first try, found" and "seed 1" in design.lineage.told
    assert design.wall == chosen.design.wall and design.wall != before.design.wall
    page.document.undo_stack.undo()
    assert page.document.study.designs == before.designs


def test_a_course_is_taken_at_its_worst_and_conditions_are_read(page, qtbot):
    choose(page.form.kind, goal_form.COURSE)
    page.form.course.setText("20, 40, 25, 15")
    page.form.least.setText("land_mm=1, exposed_height_mm=10")
    searched(page, qtbot)
    assert len(page.found.asked.conditions) == 2 and len(page.found.asked.duties) == 3
    assert "at its worst in the ore window" in page.sentence.text()


def test_enough_keeps_what_was_found(page, qtbot, monkeypatch):
    monkeypatch.setattr(goal_form, "POINTS", 4000)
    choose(page.form.kind, goal_form.RAISE)
    page.form.start.click()
    qtbot.waitUntil(lambda: len(page._tried) > 3, timeout=30000)
    page.form.stop.click()
    qtbot.waitUntil(lambda: page.found is not None, timeout=30000)
    assert not page.found.complete and page.best.rowCount() >= 1 and "Stopped" in page.more.text()


@pytest.mark.parametrize(
    ("box", "text", "words"),
    [("least", "land_mm", "write it as"), ("most", "gold=1", "no quantity"), ("seed", "-1", "whole number")],
)
def test_what_cannot_be_read_is_one_sentence(page, box, text, words):
    choose(page.form.kind, goal_form.RAISE)
    getattr(page.form, box).setText(text)
    page.form.start.click()
    assert words in page.sentence.text() and not page.jobs.busy
