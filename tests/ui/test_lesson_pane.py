"""Lessons by mouse and keys: each is reached by a scripted user, and the designer's own study comes back untouched."""

import pytest
from msgspec.structs import replace
from PySide6.QtWidgets import QPushButton

from profiler.lessons import LESSONS
from profiler.study import read_study
from profiler.ui.lesson_pane import LessonPane
from profiler.ui.number_box import NumberBox

from .hands import Hands


@pytest.fixture
def hands(qtbot, tmp_path, monkeypatch):
    made = Hands(qtbot, tmp_path, monkeypatch)
    made.document.edit_duty(replace(made.duty, speed_rpm=655.0), "Own change")
    made.settle()
    return made


@pytest.fixture
def pane(qtbot, hands):
    made = LessonPane(hands.document)
    qtbot.addWidget(made)
    made.resize(256, 560)
    made.show()
    return made


def open_wall(hands):
    hands.drag_knot(0, hands.place(0.0, 16.0))


def open_top(hands):
    hands.drag_knot(2, hands.place(330.0, 6.0))


def thicken(hands):
    hands.type_into(hands.page.duty_bar.boxes["solids_pct"], "48")


def widen(hands):
    group = hands.page.forms.grooves
    hands.page.forms.open(group)
    hands.settle()
    box = group.form.boxes["mouth_mm"]
    assert isinstance(box, NumberBox)
    hands.type_into(box, "13.5")


def speed_up(hands):
    hands.type_into(hands.page.duty_bar.boxes["speed_rpm"], "710")


DEEDS = (open_wall, open_top, thicken, widen, speed_up)


@pytest.mark.parametrize(
    ("lesson", "deed"), list(zip(LESSONS, DEEDS, strict=True)), ids=[lesson.title for lesson in LESSONS]
)
def test_doing_the_task_is_noticed_and_everything_comes_back(hands, pane, lesson, deed):
    own, steps = hands.study, hands.steps
    pane.begin(lesson)
    hands.settle()
    hands.page.fit_again()
    hands.settle()
    assert hands.study != own and not pane.finished and pane.seen.isHidden()
    deed(hands)
    assert pane.finished and not pane.seen.isHidden()
    assert [n.text() for n in pane.numbers] == [look.text(hands.evaluation) for look in lesson.look]
    pane.leave()
    hands.settle()
    assert hands.study is own and hands.steps == steps and hands.document.modified
    hands.undo()
    assert hands.duty.speed_rpm == 640.0


def test_the_reason_is_offered_with_equation_and_source(hands, pane):
    pane.begin(LESSONS[0])
    assert pane.why.isHidden()
    pane.why_button.click()
    assert not pane.why.isHidden()
    assert LESSONS[0].why.equation in pane.why.text() and LESSONS[0].why.source in pane.why.text()


def test_undo_in_a_lesson_stays_in_the_lesson(hands, pane):
    own = hands.study
    pane.begin(LESSONS[4])
    hands.settle()
    speed_up(hands)
    for _ in range(4):
        hands.undo()
    assert hands.study == LESSONS[4].study() and hands.document.own_study is own


def test_the_next_lesson_follows_and_the_own_study_still_comes_back(hands, pane):
    own = hands.study
    pane.begin(LESSONS[0])
    pane.next_button.click()
    hands.settle()
    assert pane.lesson is LESSONS[1]
    pane.begin(LESSONS[-1])
    assert pane.next_button.isHidden()
    pane.leave()
    assert hands.study is own


def test_saving_in_a_lesson_saves_the_own_study_and_ends_the_lesson(hands, pane, tmp_path):
    own = hands.study
    pane.begin(LESSONS[2])
    hands.settle()
    hands.answers.answer("ask_save", tmp_path / "own.bowl")
    hands.do("Save")
    assert read_study(tmp_path / "own.bowl") == own
    assert pane.lesson is None and hands.study == own


def test_the_list_leads_back_to_the_forms(pane, qtbot):
    back = next(b for b in pane.findChildren(QPushButton) if b.text() == "Back to the forms")
    with qtbot.waitSignal(pane.closed, timeout=1000):
        back.click()
