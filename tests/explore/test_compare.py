"""The comparison: every number is evaluate()'s, differences against the reference, better only where it means so."""

import csv
import io
import json

import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.assess.findings.finding import stops
from profiler.assess.quantities.table import quantity
from profiler.explore.compare import ROWS, Over, Sense, View, best, compare, conditions_of
from profiler.output.tables.comparison_csv import comparison_csv
from profiler.output.terminal.comparison_text import comparison_json, comparison_text
from profiler.physics.slurry.overturn import State
from profiler.pictures.charts.comparison_table import MARK, table, views
from profiler.progress import Cancelled, Progress
from profiler.study.edits import list_edits
from profiler.study.files.examples import read

ROW = {row.key: row for row in ROWS}


def windowed(study, weights=(1.0, 1.0, 1.0)):
    return replace(
        study, duties=tuple(replace(d, in_window=True, weight=w) for d, w in zip(study.duties, weights, strict=True))
    )


STUDY = windowed(read("graded"), (6.0, 3.0, 1.0))


@pytest.fixture(scope="module")
def compared():
    return compare(list_edits.mark_reference(STUDY, "Plain cone"))


def test_every_number_equals_the_windows_to_the_last_bit(compared):
    for standing in compared.results:
        for i, duty in enumerate(compared.duties):
            e = evaluate(standing.design, STUDY.machine, duty)
            for r in ROWS:
                if r.key in ("stops", "checks"):
                    continue
                assert r.get(standing.under(i)) == float(quantity(r.key).get(e)[0]), (standing.design.name, r.key)
            assert ROW["stops"].get(standing.under(i)) == stops(e.findings)


def test_the_window_gives_lowest_highest_and_weighted(compared):
    standing = compared.results[0]
    values = [ROW["count_strong"].get(e) for e in standing.window]
    assert values == [2.0, 4.0, 0.0]
    spread = standing.spread(ROW["count_strong"])
    assert (spread.low, spread.high) == (0.0, 4.0)
    assert spread.weighted == pytest.approx((6 * 2.0 + 3 * 4.0) / 10.0)
    assert spread.worst != spread.worst  # neither end is worse
    assert standing.spread(ROW["checks"]).worst == max(ROW["checks"].get(e) for e in standing.window)


def test_better_is_marked_only_where_better_has_a_meaning(compared):
    assert all(r.sense is Sense.NONE for r in ROWS if r.key.startswith(("share_", "area_", "count_")))
    lines = {line.head: line for line in table(compared, View())}
    masses = [ROW["mass_kg"].get(s.shown) for s in compared.results]
    marked = [i for i, cell in enumerate(lines["Body mass"].cells) if cell.better]
    assert marked == [masses.index(min(masses))]
    assert not any(c.better for line in lines.values() for c in line.cells if "overturn" in line.head)


@pytest.mark.parametrize(
    ("values", "marks"),
    [((3.0, 2.0, 2.0), (1, 2)), ((1.0, 1.0), ()), ((1.0,), ()), ((float("nan"), 1.0), ()), ((1.004, 1.001), ())],
)
def test_nothing_is_better_among_equals_or_alone(values, marks):
    assert best(ROW["mass_kg"], values) == marks
    assert best(ROW["matched_mm"], values) == ()


def test_differences_are_against_the_reference(compared):
    plain, differences = table(compared, View()), table(compared, View(), differences=True)
    head = [line.head for line in plain].index("Body mass")
    masses = [ROW["mass_kg"].get(s.shown) for s in compared.results]
    assert differences[head].cells[1].text == plain[head].cells[1].text
    assert differences[head].cells[0].text == f"{masses[0] - masses[1]:+.2f} kg".replace("-", "−")


def test_grooves_of_one_state_throughout_are_counted(compared):
    for standing in compared.results:
        states = [e.flow.groove_state[0] for e in standing.window]
        assert standing.steady == sum(
            len(set(column)) == 1 and column[0] != State.NONE for column in zip(*states, strict=True)
        )


def test_what_is_the_same_for_all_is_said_on_top(compared):
    for words in ("Pilot rotor (invented)", "As designed", "580 rpm", "36 % solids", "110 µm", "70 L/min"):
        assert words in compared.conditions(View())[0]


def test_one_design_and_an_empty_window_are_a_sentence_each():
    study = read("graded")
    study = replace(study, designs=study.designs[:1], duties=tuple(replace(d, in_window=False) for d in study.duties))
    c = compare(study)
    assert len(c.remarks) == 2 and "one design only" in c.remarks[0] and "ore window is empty" in c.remarks[1]
    assert [words for words, _ in views(c)] == ["As designed (shown)"]
    assert len(table(c, View())) == len(ROWS)


def test_weights_of_nothing_give_no_weighted_number_and_say_so():
    c = compare(windowed(read("graded"), (0.0, 0.0, 0.0)))
    assert any("weights" in r for r in c.remarks)
    assert all(cell.text == "–" for line in table(c, View(Over.WEIGHTED))[:3] for cell in line.cells)


def test_a_design_that_cannot_be_drawn_is_named_and_the_others_are_compared():
    design = STUDY.designs[2]
    broken = replace(design, grooves=replace(design.grooves, mouth_mm=60.0))
    c = compare(replace(STUDY, designs=(*STUDY.designs[:2], broken)))
    assert any(broken.name in r for r in c.remarks)
    assert ROW["mass_kg"].text(ROW["mass_kg"].get(c.results[2].shown)) == "–"
    assert ROW["stops"].get(c.results[2].shown) > 0


def test_a_comparison_can_be_cancelled():
    def at(share):
        if share > 0.3:
            raise Cancelled

    with pytest.raises(Cancelled):
        compare(STUDY, progress=Progress(at))


def test_the_csv_holds_every_number_in_full_precision(compared):
    rows = list(csv.reader(io.StringIO(comparison_csv(compared))))
    assert len({len(r) for r in rows}) == 1
    found = next(
        r for r in rows if r[0] == "Graded, first try" and r[2] == "As designed (shown)" and r[3] == "Body mass"
    )
    mass = ROW["mass_kg"].get(compared.results[0].shown)
    assert float(found[5]) == mass
    assert float(found[6]) == mass - ROW["mass_kg"].get(compared.results[1].shown)


def test_json_and_text_tell_the_same_numbers(compared):
    answer = json.loads(comparison_json(compared))
    assert answer["reference"] == "Plain cone"
    assert answer["designs"][0]["under"]["shown"]["count_strong"] == 2.0
    assert answer["designs"][0]["window"]["count_strong"] == {"low": 0.0, "high": 4.0, "weighted": 2.4, "worst": None}
    text = comparison_text(compared)
    assert MARK in text and max(map(len, text.splitlines()[2:])) <= 100


def test_every_view_names_the_conditions_of_its_own_duties_and_of_no_other(compared):
    """Whoever reads a number reads under what it was worked out: on screen, in text, on each page, in JSON."""
    said = {d.name: conditions_of(d) for d in compared.duties}
    assert len({c.partition(": ")[2] for c in said.values()}) == len(said) == 3
    for words, view in views(compared):
        lines = compared.conditions(view)
        of = {compared.duties[view.duty].name} if view.over is Over.DUTY else {d.name for d in compared.window}
        assert {name for name, c in said.items() if c in " ".join(lines)} == of, words
        assert len(lines) == (1 if view.over is Over.DUTY else 1 + len(compared.window))
    text = comparison_text(compared)
    for part in text.split("\n\n"):
        view = next((v for words, v in views(compared) if part.startswith(words)), None)
        if view is not None:
            told = " ".join(" ".join(part.splitlines()[1:]).split())
            assert told.startswith(" ".join(" ".join(compared.conditions(view)).split()))
    assert json.loads(comparison_json(compared))["conditions"] == said
