"""The lessons as data: they start undone; right ways are taken, by whichever way one goes; wrong ways are refused, and
the sentence says what is missing; no number is typed into their words, and no letter left unexplained."""

import re
from string import Formatter

import pytest

from profiler.assess import Severity
from profiler.assess.flow.entry import entry_height
from profiler.lessons import LESSONS, Lesson, how_sure, where_water
from profiler.lessons.symbols import SYMBOLS, symbols_of
from tests.lessons.ways import CASES, RIGHT, RIGHT_IDS, WRONG, Way, begun, seen


def test_every_lesson_is_tried() -> None:
    assert [case.lesson for case in CASES] == list(LESSONS)
    assert all(len(case.right) >= 2 and len(case.wrong) >= 2 for case in CASES)


@pytest.mark.parametrize("lesson", LESSONS, ids=lambda lesson: lesson.title)
def test_a_lesson_starts_undone_on_a_bowl_that_can_be_built_with_a_number_for_everything_watched(lesson: Lesson):
    e = begun(lesson)
    assert not lesson.done(e, e)
    assert not [f for f in e.findings if f.severity is Severity.STOP or f.code.startswith(("out_of_bounds", "speed"))]
    assert "(invented)" in lesson.study().title and "(invented)" in e.machine.name
    for look in lesson.look:
        assert look.text(e) != "–", look.label
    assert lesson.why.source


@pytest.mark.parametrize(("lesson", "way"), RIGHT, ids=RIGHT_IDS)
def test_a_right_way_is_taken_and_told_in_numbers(lesson: Lesson, way: Way) -> None:
    start, now = begun(lesson), seen(way(lesson.study()))
    assert lesson.missing(start, now) is None
    told = lesson.told(lesson.seen, start, now)
    assert "–" not in told and "nan" not in told and "{" not in told


@pytest.mark.parametrize(("lesson", "way", "said"), WRONG, ids=[f"{w[0].title} {w[2]}" for w in WRONG])
def test_a_wrong_way_is_refused_and_the_missing_step_named(lesson: Lesson, way: Way, said: str) -> None:
    missing = lesson.missing(begun(lesson), seen(way(lesson.study())))
    assert missing is not None and said in missing, missing


COUNTED_STATES = ("count_strong", "count_weak", "count_matched", "count_sheltered", "exposed_count")


@pytest.mark.parametrize(("lesson", "way"), [r for r in RIGHT if any(look.key in COUNTED_STATES for look in r[0].look)])
def test_where_states_are_counted_no_groove_stands_below_the_entry_height(lesson: Lesson, way: Way) -> None:
    for e in (begun(lesson), seen(way(lesson.study()))):
        assert e.shape is not None and e.flow is not None
        assert e.shape.mouths.lower[0] > entry_height(e.machine, e.shape, e.flow)


# Words: no number is typed, no letter left unexplained

NUMBER_WORD = re.compile(
    r"\d|\b(two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|half(?!-way| is finer)|third|fourth|fifth|tenth"
    r"|twice|double|quarter|dozen)\b"
)


def words_of(lesson: Lesson) -> list[str]:
    return [lesson.about, lesson.task, lesson.seen, *(step.missing for step in lesson.steps)]


@pytest.mark.parametrize("lesson", LESSONS, ids=lambda lesson: lesson.title)
def test_no_number_is_typed_into_the_words_and_every_name_in_them_is_worked_out(lesson: Lesson) -> None:
    used: set[str] = set()
    for words in words_of(lesson):
        parts = list(Formatter().parse(words))
        used |= {name for _, name, _, _ in parts if name}
        for text, _, _, _ in parts:
            typed = NUMBER_WORD.search(text.replace("d50", ""))
            assert typed is None, text
    assert used == set(lesson.numbers)


@pytest.mark.parametrize("lesson", LESSONS, ids=lambda lesson: lesson.title)
def test_every_letter_of_an_equation_is_explained_below_it(lesson: Lesson) -> None:
    letters = symbols_of(lesson.why.equation)
    assert letters
    for letter in letters:
        assert f"\n{letter}: {SYMBOLS[letter]}" in lesson.why.whole


def test_a_letter_nobody_explained_is_found_and_no_meaning_stands_unused() -> None:
    assert symbols_of("θ_f = q_m tan(θw − δ)·d/h over r_0²") == ("θ_f", "q_m", "θw", "δ", "d/h", "r_0")
    used = {letter for lesson in LESSONS for letter in symbols_of(lesson.why.equation)}
    assert used == set(SYMBOLS)


def test_what_is_not_known_is_called_not_given() -> None:
    water, sure = (case.lesson for case in CASES if case.lesson in (where_water.LESSON, how_sure.LESSON))
    assert begun(water).machine.supply_kpa == 0.0 and "pressure of the water supply is not given" in water.about
    assert "measured slope, not given" in sure.about
    for lesson in LESSONS:
        assert not re.search(r"\b(unknown|n/a|none given)\b", " ".join(words_of(lesson)))
