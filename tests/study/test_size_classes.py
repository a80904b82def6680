"""Size classes as typed, pasted, stored and printed: rows of a table, the study file, the terminal's answer."""

import json

import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.explore.ask import free_numbers
from profiler.explore.compare import View, compare
from profiler.explore.ore_map import asked, axis, ore_map, span
from profiler.output.report.inputs import input_blocks
from profiler.output.terminal.check_json import check_json
from profiler.output.terminal.check_text import check_text
from profiler.study import BowlFileError, Duty, SizeClass, Study
from profiler.study.edits import design_edits as edits
from profiler.study.files import examples
from profiler.study.files.file import decode_study, encode_study
from profiler.study.records.size_classes import Measure, made_whole, pasted, rows_objection

PAIRS = ((250.0, 4.0), (180.0, 12.0), (125.0, 18.0), (90.0, 19.0), (63.0, 17.0), (45.0, 11.0), (9.0, 19.0))
ROWS = tuple(SizeClass(*pair) for pair in PAIRS)
DEFAULT = examples.read(examples.DEFAULT)


def by_sieve(rows: tuple[SizeClass, ...] = ROWS) -> Study:
    return edits.with_duty(DEFAULT, replace(DEFAULT.duty, size_classes=rows))


def scaled(*per_cents: float) -> tuple[SizeClass, ...]:
    return tuple(SizeClass(200.0 - 10.0 * n, pct) for n, pct in enumerate(per_cents))


# what is wrong with rows


def test_rows_that_fall_and_add_up_to_100_are_taken() -> None:
    assert rows_objection(ROWS) is None and rows_objection(()) is None
    assert rows_objection(scaled(60.0, 40.5)) is None and rows_objection(scaled(60.0, 39.5)) is None


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        (scaled(60.0, 39.4), "99.40 %, not 100 %: 0.60 % missing"),
        (scaled(60.0, 40.6), "0.60 % too much"),
        ((SizeClass(100.0, 50.0), SizeClass(120.0, 50.0)), "120 µm follows 100 µm"),
        ((SizeClass(100.0, 50.0), SizeClass(100.0, 50.0)), "100 µm follows 100 µm"),
        (scaled(*[100.0 / 21.0] * 21), "21 size classes; 20 is the most"),
        (scaled(50.0, float("nan")), "nan"),
    ],
)
def test_rows_that_cannot_be_worked_with_are_refused_in_one_sentence(rows: tuple[SizeClass, ...], words: str) -> None:
    found = rows_objection(rows)
    assert found is not None and words in found and found.endswith(".")


def test_twenty_rows_are_worked_with() -> None:
    rows = tuple(SizeClass(1000.0 * 0.8**n, 5.0) for n in range(20))
    whole = evaluate(DEFAULT.design, DEFAULT.machine, replace(DEFAULT.duty, size_classes=rows))
    assert whole.flow is not None


def test_rows_are_made_whole_in_their_proportions() -> None:
    whole = made_whole(scaled(30.0, 30.0, 30.0))
    assert sum(row.retained_pct for row in whole) == pytest.approx(100.0, abs=1e-9)
    assert [row.retained_pct for row in whole] == pytest.approx([33.33, 33.33, 33.33], abs=0.011)
    with pytest.raises(ValueError, match="Nothing is retained"):
        made_whole(scaled(0.0, 0.0))


# out of a spreadsheet

PASTED = {
    "retained, heads and a pan": "Sieve µm\tOn it %\n250\t4\n180\t12\n125\t18\n90\t19\n63\t17\n45\t11\npan\t19\n",
    "passing, finest first, spaces": "45 19\n63 30\n90 47\n125 66\n180 84\n250 96\n",
    "decimal commas": "250;4,0\n180;12,0\n125;18,0\n90;19,0\n63;17,0\n45;11,0\n-45;19,0",
    "classes between two sieves": "+250\t4\n-250+180\t12\n-180+125\t18\n-125+90\t19\n-90+63\t17\n-63+45\t11\n<45\t19",
    "finer than, passing": "-250\t96\n-180\t84\n-125\t66\n-90\t47\n-63\t30\n-45\t19",
}


@pytest.mark.parametrize("kind", PASTED)
def test_tables_of_every_usual_kind_give_the_same_rows(kind: str) -> None:
    rows, measure = pasted(PASTED[kind])
    assert rows == ROWS
    assert measure is (Measure.PASSING if "passing" in kind else Measure.RETAINED)


def test_the_sieve_that_everything_passes_bounds_the_coarsest_class() -> None:
    rows, _ = pasted("1000 100\n500 100\n355 100\n250 96\n45 19")
    assert (rows[0].size_um, rows[0].retained_pct) == (355.0, 0.0) and rows[1] == ROWS[0]


def test_what_per_cents_are_can_be_said_where_their_sum_would_mislead() -> None:
    rows, measure = pasted("200 60\n100 30\n50 10")
    assert measure is Measure.RETAINED and [r.retained_pct for r in rows] == [60.0, 30.0, 10.0]
    rows, measure = pasted("200 60\n100 30\n50 10", Measure.PASSING)
    assert [r.retained_pct for r in rows] == [40.0, 30.0, 20.0, 10.0] and rows[-1].size_um == 10.0


@pytest.mark.parametrize("text", ["", "no table", "90 50\nfoo 50", "250 90\n180 95\n90 20", "100 20\npan 40\n-38 40"])
def test_what_is_no_table_is_refused_and_nothing_is_pasted(text: str) -> None:
    with pytest.raises(ValueError, match="nothing was pasted"):
        pasted(text)


# in the file


def test_classes_come_back_from_the_file_as_they_were() -> None:
    study = by_sieve()
    assert decode_study(encode_study(study), "a.bowl") == study


def test_a_file_from_before_there_were_classes_is_fed_by_its_d50() -> None:
    raw = json.loads(encode_study(DEFAULT))
    for duty in raw["duties"]:
        del duty["size_classes"]
    assert decode_study(json.dumps(raw).encode(), "old.bowl") == DEFAULT


def test_a_file_with_thousands_of_classes_is_refused() -> None:
    raw = json.loads(encode_study(DEFAULT))
    raw["duties"][0]["size_classes"] = [{"size_um": 10.0, "retained_pct": 0.0}] * 1001
    with pytest.raises(BowlFileError, match="1001 size classes in duty"):
        decode_study(json.dumps(raw).encode(), "big.bowl")


def test_numbers_out_of_bounds_load_and_become_a_finding_that_names_the_row() -> None:
    study = by_sieve((SizeClass(100.0, 120.0), SizeClass(50.0, -20.0)))
    whole = evaluate(study.design, study.machine, study.duty)
    texts = [f.text for f in whole.findings if f.code == "out_of_bounds_retained_pct"]
    assert len(texts) == 2 and texts[0].startswith("SizeClass 1: Retained is 120.00 %")
    assert whole.shape is not None and whole.flow is None


# in what is printed


def test_the_terminal_gives_classes_d50_d80_and_fines() -> None:
    study = by_sieve()
    whole = evaluate(study.design, study.machine, study.duty)
    feed = json.loads(check_json(whole))["feed"]
    assert [(row["size_um"], row["retained_pct"]) for row in feed["size_classes"]] == list(PAIRS)
    assert (round(feed["d50_um"], 1), round(feed["d80_um"], 1)) == (94.8, 166.0)
    assert 20.0 < feed["liquid_um"] < 24.0 and 9.0 < feed["fine_pct"] < 12.0
    text = check_text(whole)
    assert "d50 95 µm (of 7 classes)" in text and "d80 166 µm" in text and "count as liquid" in text
    assert max(len(line) for line in text.splitlines()) <= 100


def test_a_feed_of_one_d50_is_printed_as_before() -> None:
    whole = evaluate(DEFAULT.design, DEFAULT.machine, DEFAULT.duty)
    feed = json.loads(check_json(whole))["feed"]
    assert (feed["d50_um"], feed["d80_um"], feed["size_classes"], feed["fine_pct"]) == (110.0, None, [], None)
    assert "110 µm" in check_text(whole) and "classes" not in check_text(whole)


def test_a_table_that_contradicts_itself_is_printed_with_its_stop() -> None:
    study = by_sieve(scaled(60.0, 30.0))
    whole = evaluate(study.design, study.machine, study.duty)
    feed = json.loads(check_json(whole))["feed"]
    assert feed["d80_um"] is None and feed["liquid_um"] is None
    assert "10.00 % missing" in check_text(whole)


def test_the_report_and_the_comparison_say_that_the_feed_is_by_sieve() -> None:
    study = by_sieve()
    whole = evaluate(study.design, study.machine, study.duty)
    assert "d50 95 µm (of 7 classes)" in str(input_blocks(whole)) and "'19.00'" in str(input_blocks(whole))
    assert "d50 95 µm (of 7 classes)" in str(compare(study, study.designs[:1]).conditions(View()))


# where a d50 is turned


def test_the_map_scales_the_whole_curve_about_its_own_d50() -> None:
    study = by_sieve()
    whole = evaluate(study.design, study.machine, study.duty)
    d50 = axis("d50")
    assert d50.value(study.duty) == pytest.approx(94.79, abs=0.01)
    turned = d50.turned(study.duty, 189.58)
    assert turned.size_classes[0].size_um == pytest.approx(500.0, abs=0.05)
    question = asked(span("solids", 30.0, 50.0, 3), span("d50", 50.0, 200.0, 3), "power_w", None, whole)
    found = ore_map(question, whole)
    assert found.remark == "d50 scales every sieve"
    for row, y in enumerate(found.y):
        for column, x in enumerate(found.x):
            duty: Duty = replace(d50.turned(study.duty, float(y)), solids_pct=float(x))
            alone = evaluate(study.design, study.machine, duty)
            assert found.values[row, column] == pytest.approx(question.quantity.get(alone)[0], rel=1e-6)


def test_asked_backwards_a_d50_scales_the_curve_too() -> None:
    study = by_sieve()
    free = next(f for f in free_numbers(evaluate(study.design, study.machine, study.duty)) if f.words == "Size d50")
    assert free.now == pytest.approx(94.79, abs=0.01)
    changed = free.turned(120.0)
    assert isinstance(changed, Duty) and len(changed.size_classes) == 7 and changed.d50_um == 120.0
