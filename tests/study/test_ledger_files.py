"""What is read from ledgers as people keep them: never a wrong number without a word."""

import csv
import io
import random

import pytest
from msgspec.structs import replace

from profiler.study.files.disk import BowlFileError
from profiler.study.ledger.columns import COLUMNS
from profiler.study.ledger.reading import preview
from profiler.study.ledger.size_tables import is_size_table, size_preview
from profiler.study.ledger.table_files import table_of
from tests.study.ledger_files import LEDGERS, Ledger


def as_bytes(ledger: Ledger) -> bytes:
    if isinstance(ledger.text, bytes):
        return ledger.text
    if isinstance(ledger.text, str):
        return ledger.text.encode()
    from openpyxl import Workbook

    book = Workbook()
    for row in ledger.text:
        book.active.append(row)
    book.create_sheet("Empty")
    found = io.BytesIO()
    book.save(found)
    return found.getvalue()


def seen_of(ledger: Ledger):
    return preview(table_of(as_bytes(ledger), "ledger"), ledger.reading)


@pytest.mark.parametrize("name", LEDGERS)
def test_a_ledger_gives_its_values_or_asks_or_is_refused(name):
    ledger = LEDGERS[name]
    seen = seen_of(ledger)
    must = [question.doubt for question in seen.open_questions]
    assert must == ([ledger.asks] if ledger.asks else []) or (ledger.asks in must and not ledger.gives), seen.questions
    kinds = {problem.kind for problem in seen.problems}
    assert ledger.asks or kinds == ({ledger.problem} if ledger.problem else set()), seen.problems
    for row, key, text in ledger.gives:
        run = seen.rows[row]
        assert run is not None and COLUMNS[key].show(run) == text
    if ledger.runs is not None and not (ledger.runs == 0 and seen.missing):
        assert len(seen.runs) == ledger.runs
    assert [one.why for one in seen.passed if one.why != "of the headings"] == list(ledger.passed)
    assert ledger.said in " ".join(seen.read_as)
    if ledger.proposes:
        question = next(q for q in seen.questions if q.doubt is ledger.asks)
        assert question.choices[question.proposed].words.startswith(ledger.proposes)


def test_the_table_is_as_long_as_it_has_to_be_and_says_something_of_each_file():
    assert len(LEDGERS) >= 60
    for name, ledger in LEDGERS.items():
        told = ledger.gives or ledger.asks or ledger.problem or ledger.runs is not None
        assert told, name


@pytest.mark.parametrize("name", [name for name, ledger in LEDGERS.items() if ledger.asks])
def test_every_answer_offered_is_one_and_settles_its_question(name):
    """Read again with any answer, this question is gone; two answers never give the same reading."""
    seen = seen_of(LEDGERS[name])
    table = seen.table
    for question in seen.open_questions:
        assert len(question.choices) >= 2 and 0 <= question.proposed < len(question.choices)
        assert question.option.startswith("--") and question.text.endswith((".", "?"))
        assert len({choice.words for choice in question.choices}) == len(question.choices)
        for choice in question.choices:
            after = preview(table, choice.reading)
            same = [q for q in after.questions if (q.doubt, q.heading) == (question.doubt, question.heading)]
            assert not same, choice


def test_answers_are_used_for_another_file_of_the_same_headings_only():
    ledger = LEDGERS["mass answered"]
    kept = seen_of(ledger).reading.for_next()
    again = table_of(b"design,conc mass,conc g/t,tail g/t\nB,990,1400,2.4\n", "next")
    assert preview(again, kept).runs[0].concentrate.mass_kg == 0.99
    other = table_of(b"design,conc mass,conc g/t,tail g/t,rec %\nB,990,1400,2.4,40\n", "other")
    assert preview(other, kept).open_questions
    meant = replace(kept, as_typed=("rec",))
    assert meant.for_next().as_typed == ()


def test_the_users_own_words_go_before_those_known():
    table = table_of(b"bowl type,caught\nA,40.5\nB,41.5\n", "x")
    seen = preview(table, words={"bowl type": "design", "caught": "recovery_pct"})
    assert [run.recovery_pct for run in seen.runs] == [40.5, 41.5] and not seen.missing


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        (b"", "empty"), (b"design,rec\n", "one line only"), (b"design,rec\n\n\n", "one line only"),
        (b"\x00\x01\x02\x03design", "neither a study nor a table"), (b"PK\x03\x04broken", "damaged"),
        (b"\xd0\xcf\x11\xe0old", "save it as .xlsx"),
        (("," * 10_000 + "\n").encode() * 3 + b"a" + b",b" * 10_000, "10001 columns"),
        (b"a,b\n" * 50_000, "50000 lines"), (b"design,rec\n" + b"A,40\n" * 10_100, "more than 10000 lines"),
    ],
)  # fmt: skip
def test_what_is_no_ledger_is_refused_in_one_sentence_with_a_way_on(data, sentence):
    with pytest.raises(BowlFileError, match=sentence) as refused:
        table_of(data, "x.csv")
    assert str(refused.value).startswith("x.csv")


def test_a_file_s_own_evidence_goes_before_an_answer_kept_from_another():
    kept = seen_of(LEDGERS["answered"]).reading
    assert kept.decimal == "."
    told = table_of(b"design;conc g/t;tail g/t\nA;1,450;2,4\n", "next")
    assert preview(told, kept).runs[0].concentrate.grades_g_t == (1.45,)
    untold = table_of(b"design;conc g/t;tail g/t\nA;1,450;2\n", "next")
    assert preview(untold, kept).runs[0].concentrate.grades_g_t == (1450.0,)


@pytest.mark.parametrize("text", ["design,rec\nMean,40\n", "design,rec\n,,\nnote\n"])
def test_a_table_without_runs_says_so(text):
    with pytest.raises(ValueError, match="Nothing stands below the headings in line 1"):
        preview(table_of(text.encode(), "x.csv"))


@pytest.mark.parametrize(
    ("name", "doubt", "runs"), [("a run twice", "names of runs", 2), ("a word for a number", "words for numbers", 2)]
)
def test_problems_with_a_common_answer_offer_it(name, doubt, runs):
    seen = seen_of(LEDGERS[name])
    question = next(q for q in seen.questions if q.doubt == doubt)
    assert not question.must
    for choice in question.choices:
        after = preview(seen.table, choice.reading)
        assert not after.problems and len(after.runs) == runs


PIECES = (
    "",
    "1",
    "A",
    "1e400",
    "9" * 400,
    "-5",
    "1,450",
    "1.450",
    "1.2.3",
    "03/04/2031",
    "45000",
    "0.35",
    "8:30",
    "<0.05",
    ">10",
    "1/2",
    "abc",
    "Mean",
    "37 %",
    "1250 g",
    "5 ton",
    "–",
    "=1+2",
    "٣",
    "½",
    "+212",
    "pan",
    "99/99/99",
    "31.02.2031",
    "//",
    "<",
)
HEADINGS = (
    "design",
    "rec",
    "feed",
    "conc",
    "tail",
    "conc mass",
    "feed oz/t",
    "date",
    "time",
    "notes",
    "Comments",
    "run",
    "pair",
    "conc %",
    "F80",
    "order",
    "size",
    "Tails %",
    "excluded",
    "(g/t)",
    "",
    "speed rpm",
    "1",
)


def test_whatever_a_table_holds_it_is_read_asked_about_or_refused_in_a_sentence():
    """Made up at random, with a fixed seed: nothing but a ValueError that names what is wrong with the whole."""
    chance = random.Random(13)
    for _ in range(250):
        width = chance.randint(1, 6)
        rows = [[chance.choice(HEADINGS) for _ in range(width)] for _ in range(chance.choice((1, 1, 2)))]
        rows += [[chance.choice(PIECES) for _ in range(width)] for _ in range(chance.randint(0, 6))]
        text = io.StringIO()
        csv.writer(text, delimiter=chance.choice(",;\t")).writerows(rows)
        try:
            table = table_of(text.getvalue().encode(), "x")
            if is_size_table(table):
                assert size_preview(table).refusal() is not None
                continue
            seen = preview(table)
            for question in seen.questions:
                for choice in question.choices:
                    preview(table, choice.reading)
        except ValueError as reason:
            assert any(words in str(reason) for words in ("empty", "one line only", "Nothing stands below"))
        else:
            assert len(seen.read_as) >= len({m.heading for m in seen.matches if m.column is not None})
            assert all(group.sentence.endswith(".") for group in seen.groups)
