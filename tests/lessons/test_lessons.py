"""The lessons as data: they start undone; right ways are taken, by whichever way one goes; wrong ways are refused, and
the sentence says what is missing; no number is typed into their words, and no letter left unexplained."""

import dataclasses
import re
from string import Formatter

import pytest
from msgspec.structs import replace

from profiler.assess import Evaluation, Severity
from profiler.assess.quantities.symbols import SYMBOLS, symbols_of
from profiler.lessons import LESSONS, Lesson, how_sure, where_water
from profiler.study import HolePlan, Record, fields_of
from tests.lessons.ways import CASES, RIGHT, RIGHT_IDS, WRONG, Case, Way, begun, seen


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


FREE = {  # what a lesson is about, by record and member
    "What does a thicker feed do?": {"solids_pct"},
    "How far does a groove fall?": {"mouth_mm"},
    "What does speed change, and what not?": {"speed_rpm"},
    "Where does the water go?": set(fields_of(HolePlan)),
    "What does a coarser feed do?": {"d50_um"},
    "How sure is the model?": {"friction"},
    "Why does turning shrink the eddy?": {"speed_rpm"},
}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.lesson.title)
def test_nothing_but_the_knob_may_differ_whichever_number_it_is(case: Case) -> None:
    """A right answer with any other number of duty, machine, grooves, body or holes changed is none."""
    start, now = begun(case.lesson), seen(case.right[0](case.lesson.study()))
    assert case.lesson.done(start, now)
    parts = {"duties": now.duty, "machine": now.machine, "grooves": now.design.grooves, "body": now.design.body,
             "holes": now.design.holes, "wall": now.design.wall}  # fmt: skip
    tried = 0
    for part, record in parts.items():
        for name, field in fields_of(type(record)).items():
            if name in FREE.get(case.lesson.title, set()) or name == "weight":
                continue
            held = getattr(record, name)
            other = replace(record, **{name: 1.5 if held is None else held + 1})
            missing = case.lesson.missing(start, _with(now, part, other))
            assert missing is not None and "Changed too: " in missing and field.label in missing, (part, name)
            tried += 1
    assert tried > 50


def _with(e: Evaluation, part: str, record: Record) -> Evaluation:
    """The evaluation as if of another duty, machine or part of the design; nothing is worked out anew."""
    if part == "duties":
        return dataclasses.replace(e, duties=(record,))
    if part == "machine":
        return dataclasses.replace(e, machine=record)
    return dataclasses.replace(e, design=replace(e.design, **{part: record}))


COUNTED_STATES = ("count_strong", "count_weak", "count_matched", "count_sheltered", "exposed_count")


@pytest.mark.parametrize(("lesson", "way"), [r for r in RIGHT if any(look.key in COUNTED_STATES for look in r[0].look)])
def test_where_states_are_counted_no_groove_stands_below_the_entry_height(lesson: Lesson, way: Way) -> None:
    for e in (begun(lesson), seen(way(lesson.study()))):
        assert e.shape is not None and e.flow is not None
        assert e.shape.mouths.lower[0] > e.flow.entry[0]


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


def test_what_is_not_known_is_called_not_given() -> None:
    water, sure = (case.lesson for case in CASES if case.lesson in (where_water.LESSON, how_sure.LESSON))
    assert begun(water).machine.supply_kpa is None and "pressure of the water supply is not given" in water.about
    assert "measured slope, not given" in sure.about
    for lesson in LESSONS:
        assert not re.search(r"\b(unknown|n/a|none given)\b", " ".join(words_of(lesson)))
