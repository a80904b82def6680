"""Lessons by mouse and keys: each is reached by a scripted user, and the designer's own study comes back untouched."""

import pytest
from msgspec.structs import replace
from PySide6.QtWidgets import QLabel, QPushButton

from profiler.lessons import LESSONS
from profiler.pictures.basics.lengths import INCHES
from profiler.study import read_study
from profiler.study.records.design import GROOVE_MOUTH
from profiler.study.records.duty import D50, FRICTION, SOLIDS, SPEED
from profiler.study.records.holes import HOLE_DIAMETER
from profiler.ui.forms.group import Group
from profiler.ui.forms.record_form import RecordForm
from profiler.ui.shape.lesson_pane import LessonPane
from profiler.ui.widgets.number_box import NumberBox
from tests.tiers import kept
from tests.ui.hands import Hands


@pytest.fixture
def hands(qtbot, tmp_path, monkeypatch):
    made = Hands(qtbot, tmp_path, monkeypatch)
    made.own_speed = made.duty.speed_rpm
    made.document.edit_duty(replace(made.duty, speed_rpm=made.own_speed + 15.0), "Own change")
    made.settle()
    return made


@pytest.fixture
def pane(qtbot, hands):
    made = LessonPane(hands.document, lambda field: field.label)
    qtbot.addWidget(made)
    made.resize(256, 560)
    made.show()
    return made


def chosen(hands, place):
    """The pane of a lesson chosen from the list."""
    hands.do("Lessons")
    hands.click(hands.window.pages.shown.parts.lessons.buttons[place])
    hands.settle()
    return hands.page.side.currentWidget()


def open_wall(hands):
    hands.drag_knot(1, hands.place(330.0, 16.0))


def open_top(hands):
    hands.drag_knot(2, hands.place(330.0, 10.0))


def thicken(hands):
    hands.type_into(hands.page.duty_bar.boxes[SOLIDS], "48")


def widen(hands):
    group = hands.page.forms.grooves
    hands.page.forms.open(group)
    hands.settle()
    box = group.form.boxes[GROOVE_MOUTH]
    assert isinstance(box, NumberBox)
    hands.type_into(box, "13.5")


def speed_up(hands):
    hands.type_into(hands.page.duty_bar.boxes[SPEED], "710")


def drill_finer(hands):
    group = hands.page.forms.water
    hands.page.forms.open(group)
    hands.settle()
    hands.type_into(group.plan.boxes[HOLE_DIAMETER], "0.65")
    hands.rest()


def coarsen(hands):
    hands.type_into(hands.page.duty_bar.boxes[D50], "150")
    hands.rest()


def take_an_end_of_the_band(hands):
    group = hands.open_form("Slurry and duty")
    hands.type_into(group.form.boxes[FRICTION], "0.8")


def stand_the_wall_up(hands):
    hands.drag_knot(1, hands.place(330.0, 12.0))
    hands.drag_knot(0, hands.place(0.0, 13.0))
    hands.rest()


def speed_up_and_rest(hands):
    speed_up(hands)
    hands.rest()


DEEDS = (
    open_wall, open_top, thicken, widen, speed_up, drill_finer, coarsen, take_an_end_of_the_band, stand_the_wall_up,
    speed_up_and_rest,
)  # fmt: skip


@pytest.mark.parametrize(
    ("lesson", "deed"),
    kept(zip(LESSONS, DEEDS, strict=True), list(zip(LESSONS, DEEDS, strict=True))[::3]),
    ids=[lesson.title for lesson in LESSONS],
)
def test_doing_the_task_is_noticed_and_everything_comes_back(hands, pane, lesson, deed):
    own, steps = hands.study, hands.steps
    pane.begin(lesson)
    hands.settle()
    hands.page.fit_again()
    hands.settle()
    assert hands.study != own and not pane.finished and pane.seen.isHidden()
    deed(hands)
    assert pane.finished and not pane.seen.isHidden() and pane.missing.isHidden()
    hands.rest()
    assert "{" not in pane.task.text() + pane.seen.text() and "–" not in pane.seen.text()
    assert [n.text() for n in pane.numbers] == [look.text(hands.evaluation) for look in lesson.look]
    pane.leave()
    hands.settle()
    assert hands.study is own and hands.steps == steps and hands.document.modified
    hands.undo()
    assert hands.duty.speed_rpm == hands.own_speed


@pytest.mark.parametrize(("place", "typed"), [(3, "13.5"), (5, "0.65")])
def test_a_form_that_a_lesson_asks_for_is_one_click_away_and_the_lesson_one_click_back(hands, place, typed):
    side, lesson = hands.page.side, LESSONS[place]
    pane = chosen(hands, place)
    assert hands.window.pages.shown is hands.page
    assert pane.lesson is lesson and not hands.page.forms.isVisible()
    hands.click(pane.form_button)
    group = next(g for g in side.findChildren(Group) if lesson.field in g.fields)
    assert group.isVisible() and side.back.isVisible() and side.back.text() == "Back to the lesson"
    box = next(f.boxes[lesson.field] for f in group.findChildren(RecordForm) if lesson.field in f.boxes)
    hands.type_into(box, typed)
    hands.rest()
    assert side.back.text() == "Done: back to the lesson"
    hands.click(side.back)
    assert side.currentWidget() is pane and pane.finished and pane.seen.isVisible()
    pane.leave()
    hands.settle()
    assert hands.page.forms.isVisible() and not side.back.isVisible()


def test_where_inches_are_shown_a_lesson_speaks_in_inches_too(hands):
    """As the forms do that it sends one to: no note has to say otherwise."""
    pane = chosen(hands, next(n for n, lesson in enumerate(LESSONS) if lesson.title.startswith("How far")))
    numbers = [label.text() for label in pane.numbers]
    assert any(" mm" in text for text in numbers)
    hands.do("Lengths in inches")
    assert [label.text() for label in pane.numbers] == [INCHES.told(text) for text in numbers]
    assert not any(" mm" in label.text() for label in pane.findChildren(QLabel))
    hands.do("Lengths in inches")
    assert [label.text() for label in pane.numbers] == numbers


def test_the_way_back_to_a_lesson_goes_when_the_lesson_ends(hands, tmp_path):
    chosen(hands, 5)
    side = hands.page.side
    hands.click(side.currentWidget().form_button)
    hands.answers.answer("ask_save", tmp_path / "own.bowl")
    hands.do("Save")
    assert hands.page.forms.isVisible() and not side.back.isVisible()


def test_the_reason_is_offered_with_equation_and_source(hands, pane):
    pane.begin(LESSONS[0])
    assert pane.why.isHidden()
    pane.why_button.click()
    assert not pane.why.isHidden()
    assert LESSONS[0].why.equation in pane.why.text() and LESSONS[0].why.source in pane.why.text()


def test_what_is_missing_is_said_as_soon_as_something_is_changed(hands, pane):
    pane.begin(LESSONS[4])
    hands.settle()
    assert pane.missing.isHidden()
    hands.type_into(hands.page.duty_bar.boxes[SPEED], "620")
    assert pane.missing.text() == "Missing: Speed stands at 620 rpm: raise it to 708 rpm or more."
    hands.type_into(hands.page.duty_bar.boxes[SOLIDS], "50")
    speed_up(hands)
    assert not pane.finished and "Changed too: Solids. Put that back" in pane.missing.text()
    hands.type_into(hands.page.duty_bar.boxes[SOLIDS], "36")
    assert pane.finished and pane.missing.isHidden()


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


def test_the_list_stands_on_the_page_eddy_and_a_lesson_leads_back_to_the_forms(hands, qtbot):
    hands.do("Lessons")
    page = hands.window.pages.shown
    assert hands.window.pages.title == "Eddy" and page.parts.lessons.isVisible()
    assert [b.text().split("  ")[1] for b in page.parts.lessons.buttons] == [lesson.title for lesson in LESSONS]
    pane = chosen(hands, 0)
    back = next(b for b in pane.findChildren(QPushButton) if b.text() == "Back to my study")
    with qtbot.waitSignal(pane.closed, timeout=1000):
        back.click()
    assert hands.page.forms.isVisible()
