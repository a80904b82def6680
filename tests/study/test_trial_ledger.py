"""The ledger: its words, columns, import, export and edits; and the way from a study's trial to the statistics."""

from datetime import date

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess.trials.planning import Question, answer
from profiler.assess.trials.verdicts import TrialEvaluation, evaluate_trial
from profiler.numbers import number_of, plainly
from profiler.output.blocks.as_html import html_of
from profiler.output.tables.trial_csv import blank_ledger_csv, ledger_csv, sizes_csv
from profiler.output.trials.error_blocks import worth_blocks
from profiler.output.trials.run_blocks import run_blocks
from profiler.output.trials.trial_blocks import verdict_pane_blocks, worth_pane_blocks
from profiler.output.trials.trial_protocol import CAUTION, protocol_html
from profiler.statistics.inference.comparison import Kind
from profiler.statistics.sampling.budget import Reading
from profiler.statistics.trial.planner import chance_order
from profiler.study.edits import trial_edits as edits
from profiler.study.files import examples
from profiler.study.files.file import BowlFileError, decode_study, encode_study
from profiler.study.ledger.columns import COLUMNS
from profiler.study.ledger.headings import column_for, heading_of
from profiler.study.ledger.reading import preview
from profiler.study.ledger.size_tables import is_size_table, size_preview
from profiler.study.ledger.text_tables import read_table
from profiler.study.records.trial import (
    GoldClass,
    Plan,
    Run,
    SampledStream,
    SamplingInputs,
    SieveAssay,
    Trial,
    WorthInputs,
)
from profiler.words import Basis, FeedGrade, GateState, Ordering, VerdictState, Waiver
from tests.laws.trials.test_trials_two_sets import FEED_A, FEED_B, GAIN_B, RECOVERY_A

EXAMPLE = examples.read("trial").trials[0]


def stated(recoveries_b=GAIN_B, **plan) -> Trial:
    found = []
    for i in range(10):
        for design, feed, rec in (("A", FEED_A[i], RECOVERY_A[i]), ("B", FEED_B[i], recoveries_b[i])):
            found.append(Run(f"{design}{i + 1}", design, block=str(i + 1), recovery_pct=rec, feed_grade_g_t=feed))
    return Trial("T", tuple(found), Plan(basis=Basis.STATED, worthwhile_points=1.0, **plan))


def bowl_run(name="1", design="A", **members) -> Run:
    """The one run worked out in every way beforehand: 40.707 % on built-up head, 40.8996 % reconciled."""
    base = Run(
        name,
        design,
        feed=SampledStream(1000.0, (4.0,)),
        concentrate=SampledStream(1.20, (1400.0,)),
        tail=SampledStream(None, (2.45,)),
    )
    return replace(base, **members)


# balances


def test_the_one_run_is_balanced_through_the_study_path():
    """Values by a Lagrange iteration and by SLSQP beforehand; errors of 8, 6 and 8 %, feed 1 %."""
    sampling = SamplingInputs(feed_rsd_pct=8.0, concentrate_rsd_pct=6.0, tail_rsd_pct=8.0, mass_rsd_pct=1.0)
    found = evaluate_trial(Trial("T", (bowl_run(),), Plan(), sampling))
    b = found.balances
    assert b.recovery_pct[0] == pytest.approx(40.707, abs=5e-4)
    assert 100 * b.balances.two_product.value[0] == pytest.approx(38.818, abs=5e-4)
    assert 100 * b.balances.two_product.sd[0] == pytest.approx(6.938, abs=5e-4)
    assert 100 * b.balances.over_feed.value[0] == pytest.approx(42.0)
    assert b.balances.built_up_head[0] == pytest.approx(4.12706, abs=5e-6)
    assert 100 * b.reconciled.recovery[0] == pytest.approx(40.90, abs=0.02)  # the concentrate's mass here 1 %, not 0.5
    assert found.judgement is None and "exactly two designs" in found.trouble


def test_assay_error_comes_from_duplicates_where_there_are_any():
    pairs = [(2.10, 2.40), (3.95, 3.10), (0.88, 0.95), (5.60, 4.90), (1.42, 1.10),
             (7.80, 10.10), (2.75, 2.62), (1.05, 1.31), (4.20, 3.75), (6.10, 6.90)]  # fmt: skip
    ledger = Trial("T", tuple(bowl_run(str(i), tail=SampledStream(None, p)) for i, p in enumerate(pairs)))
    found = evaluate_trial(ledger).balances
    assert found.tail_error.rsd == pytest.approx(0.12428834, abs=5e-9)
    assert found.tail_error.duplicates == 10
    assert found.streams.tail.grade_rsd[0] == pytest.approx(found.tail_error.rsd / 2**0.5)
    assert np.isnan(found.concentrate_error.rsd)


def test_odd_runs_are_flagged_and_the_rest_is_judged():
    odd = replace(EXAMPLE.runs[2], concentrate=SampledStream(1.15, (3.0,)))
    ledger = replace(EXAMPLE, runs=(*EXAMPLE.runs[:2], odd, *EXAMPLE.runs[3:]))
    found = evaluate_trial(ledger)
    assert "concentrate-below-feed" in {flag.code for flag in found.balances.flags[2]}
    assert found.judgement is not None
    assert ledger.runs[2].concentrate.grades_g_t == (3.0,)  # raw stays raw


# verdicts


def test_the_study_path_gives_the_numbers_of_the_statistics():
    found = evaluate_trial(stated())
    assert found.judgement is not None
    c = found.judgement.comparison
    assert (c.difference, c.p) == (pytest.approx(2.47), pytest.approx(0.000569356, abs=5e-10))
    assert found.judgement.verdict.state is VerdictState.WORTHWHILE
    assert found.judgement.needed == 20


def test_the_shared_assay_and_the_circuit_block_the_adjustment():
    for plan in (
        Plan(basis=Basis.OVER_FEED, feed_grade=FeedGrade.ASSAYED_FEED),
        Plan(feed_grade=FeedGrade.BUILT_UP_HEAD),
        Plan(feed_grade=FeedGrade.INDEPENDENT, in_circuit=True),
    ):
        found = evaluate_trial(replace(EXAMPLE, plan=replace(plan, worthwhile_points=1.0)))
        assert found.judgement is not None and found.judgement.adjustment.result is None
        assert "Not adjusted for feed grade" in found.account


def test_a_reason_for_every_exclusion_is_a_gate():
    silent = replace(EXAMPLE.runs[9], exclusion_reason="")
    found = evaluate_trial(replace(EXAMPLE, runs=(*EXAMPLE.runs[:9], silent, *EXAMPLE.runs[10:])))
    assert found.judgement is not None and found.judgement.verdict.state is VerdictState.NOT_FAIR
    gate = next(g for g in found.judgement.verdict.gates if g.code == "exclusions")
    assert gate.state is GateState.FAILED


def test_entries_that_cannot_be_used_are_named():
    ledger = replace(stated(), plan=Plan(stamped="soon", basis=Basis.STATED))
    first = replace(ledger.runs[0], started="yesterday", speed_rpm=1e9)
    found = evaluate_trial(replace(ledger, runs=(first, *ledger.runs[1:])))
    said = " ".join(found.problems)
    for sentence in (
        "Run A1: the start “yesterday”",
        "Speed is 1\u202f000\u202f000\u202f000 rpm",
        "freezing date “soon”",
    ):
        assert sentence in said
    entered = evaluate_trial(replace(EXAMPLE, runs=tuple(replace(r, recovery_pct=40.0) for r in EXAMPLE.runs)))
    assert any("the recovery entered is not used" in p for p in entered.problems)


def test_an_empty_ledger_and_a_waiver_without_reason_say_why():
    assert "the ledger is empty" in evaluate_trial(Trial("T")).trouble
    waived = stated(waivers=(Waiver("speed", " "),))
    assert "cannot be waived without a reason" in evaluate_trial(waived).trouble
    assert "no gate “poetry”" in evaluate_trial(stated(waivers=(Waiver("poetry", "x"),))).trouble


def test_ounces_and_money_follow_the_published_example():
    """1.2 Mt a year at 4 g/t, 99 against 94 % net return: see tests/published/test_trials_worth.py for 2 points."""
    given = WorthInputs(tonnes_a_year=1.2e6, head_grade_g_t=4.0, gravity_return_pct=99.0, downstream_recovery_pct=94.0,
                        downstream_pay_pct=100.0, price_per_oz=2000.0, hours_a_year=8000.0, reference_life_h=2000.0,
                        new_life_h=1000.0, change_cost=5000.0)  # fmt: skip
    found = evaluate_trial(replace(stated(), worth=given))
    assert found.judgement is not None and found.judgement.worth is not None and found.net_a_year is not None
    extra = found.judgement.worth.extra_oz
    assert found.judgement.worth.caught_oz.estimate == pytest.approx(3812, abs=0.5)
    assert extra is not None and extra.estimate == pytest.approx(191, abs=0.5)
    assert found.net_a_year.estimate == pytest.approx(extra.estimate * 2000.0 - 20_000.0)
    assert found.net_a_year.interval.low < found.net_a_year.estimate < found.net_a_year.interval.high
    assert net_label(found) == "Before other cost, not given; in the currency of the price"
    whole = evaluate_trial(replace(stated(), worth=replace(given, other_cost_a_year=0.0)))
    assert whole.net_a_year == found.net_a_year and net_label(whole).startswith("Net of wear and other cost")
    bare = evaluate_trial(replace(stated(), worth=replace(given, new_life_h=None)))
    assert net_label(bare) == "Before wear of the liners and other cost, not given; in the currency of the price"


def net_label(found: TrialEvaluation) -> str:
    """What the money is said to be before or after."""
    return next(row[0] for block in worth_blocks(found) for row in getattr(block, "rows", ()) if "currency" in row[0])


def test_the_example_finds_what_was_put_in():
    """3.1 points were put into the simulation; states and prediction stand beside the verdict."""
    found = evaluate_trial(EXAMPLE, examples.read("trial"))
    assert found.judgement is not None
    limits = found.judgement.comparison.interval95
    assert limits.low < 3.08 < limits.high
    assert all(gate.state is GateState.MET for gate in found.judgement.verdict.gates)
    assert {p.design for p in found.predictions} == {"Plain cone", "Graded, first try"}
    assert found.budget is not None and found.budget.reading is Reading.EXPLAINED
    assert found.sizes is not None and found.sizes.words == ("+212", "−212+106", "−106+53", "−53+25", "−25")
    gain = found.sizes.gain
    assert gain.raw == pytest.approx(gain.design + gain.head)


def test_size_classes_of_a_known_head_are_found_again():
    """Class recoveries put in: .30 to .33 and .58 to .60; masses made to fit."""
    reference, new = (0.30, 0.58), (0.33, 0.60)
    ledger = []
    for pair in range(6):
        for design, recoveries in (("A", reference), ("B", new)):
            shift = 0.002 * (pair % 3 - 1) * (1 if design == "A" else -1)
            r = [x + shift for x in recoveries]
            classes = tuple(
                SieveAssay(um, 50.0, 1000.0 * x * 8.0 / 0.5, 50.0, 8.0 * (1 - x))
                for um, x in zip((106.0, 0.0), r, strict=True)
            )
            run = Run(f"{design}{pair}", design, block=str(pair), recovery_pct=100 * sum(r) / 2, sizes=classes)
            ledger.append(replace(run, concentrate=SampledStream(0.5, (1.0,)), tail=SampledStream(1000.0, (1.0,))))
    found = evaluate_trial(Trial("T", tuple(ledger), Plan(basis=Basis.STATED)))
    assert found.sizes is not None
    assert found.sizes.reference_recoveries == pytest.approx(reference, abs=1e-9)
    assert found.sizes.new_recoveries == pytest.approx(new, abs=1e-9)
    other = replace(ledger[0], sizes=(replace(ledger[0].sizes[0], opening_um=300.0), ledger[0].sizes[1]))
    moved = evaluate_trial(Trial("T", (*ledger[1:], other), Plan(basis=Basis.STATED)))
    assert any("sieves are not those" in p for p in moved.problems)


# table and file


@pytest.mark.parametrize(
    ("heading", "key", "factor"),
    [
        ("rec", "recovery_pct", 1.0), ("rec (fraction)", "recovery_pct", 100.0), ("Feed", "feed_grade_g_t", 1.0),
        ("feed kg", "feed_kg", 1.0), ("Feed, t", "feed_kg", 1000.0), ("feed t/h", "feed_t_h", 1.0),
        ("Conc. mass (g)", "concentrate_kg", 0.001), ("con_g_t_2", "concentrate_g_t", 1.0), ("tail", "tail_g_t", 1.0),
        ("Tail assay ppb", "tail_g_t", 0.001), ("F80 [mm]", "feed_f80_um", 1e3),
        ("water m3/h", "water_l_min", 1e3 / 60),
        ("cycle h", "cycle_min", 60.0), ("gold output (oz)", "gold_output_g", 31.1034768), ("Pair", "block", 1.0),
        ("speed_rpm", "speed_rpm", 1.0), ("Wear (d)", "wear_h", 24.0), ("% solids", "solids_pct", 1.0),
    ],
)  # fmt: skip
def test_headings_are_understood_with_their_units(heading, key, factor):
    found = column_for(heading_of(heading))
    assert found is not None and found[0].key == key and found[1] == pytest.approx(factor)


def test_every_columns_own_heading_leads_back_to_it():
    for column in COLUMNS.values():
        for heading in (column.heading, column.key):
            found = column_for(heading_of(heading))
            assert found == (column, 1.0), heading


def test_a_ledger_survives_its_csv():
    seen = preview(read_table(ledger_csv(EXAMPLE)))
    assert not seen.problems and not seen.missing and not seen.passed_over
    plain = tuple(replace(run, sizes=()) for run in EXAMPLE.runs)
    assert seen.runs == plain
    table = read_table(sizes_csv(EXAMPLE))
    assert is_size_table(table)
    assert edits.with_sizes(replace(EXAMPLE, runs=plain), size_preview(table).by_run) == EXAMPLE


def test_a_study_with_trials_survives_its_file():
    study = examples.read("trial")
    assert decode_study(encode_study(study), "trial") == study
    twice = replace(study, trials=(study.trials[0], study.trials[0]))
    with pytest.raises(BowlFileError, match="two trials called"):
        encode_study(twice)
    many = replace(study, trials=(Trial("T", tuple(Run(str(i), "A") for i in range(10_001))),))
    with pytest.raises(BowlFileError, match='"T" holds 10001 runs'):
        encode_study(many)


def test_several_assay_columns_and_slashes_are_all_kept():
    seen = preview(read_table("design,rec,tail g/t 1,tail g/t 2\nA,40,2.4 / 2.6,2.5\n"))
    assert seen.runs[0].tail.grades_g_t == (2.4, 2.6, 2.5)


def test_a_row_with_a_problem_is_left_out_and_named_by_its_line():
    seen = preview(read_table("design,rec\nA,40\n\nB,abc\nB,41\n"))
    assert [run and run.design for run in seen.rows] == ["A", None, "B"]
    assert [p.sentence for p in seen.problems] == ["line 4, rec: “abc” is not a number."]


@pytest.mark.parametrize(
    ("text", "value"),
    [("1,5", 1.5), ("1.5", 1.5), ("−2", -2.0), (" 41 % ", 41.0), ("1e3", 1000.0), ("", None), ("n/a", None)],
)
def test_numbers_are_read_as_people_write_them(text, value):
    assert number_of(text) == value


@pytest.mark.parametrize("text", ["1,234.5", "abc", "1_0", "inf", "0x1"])
def test_what_is_no_number_is_refused(text):
    with pytest.raises(ValueError, match="is not a number"):
        number_of(text)


@pytest.mark.parametrize("value", [0.1, 1e-7, 123456789.125, -3.0, 40.0])
def test_a_number_is_written_so_that_it_reads_back(value):
    assert number_of(plainly(value)) == value


# edits


def test_a_run_is_left_out_only_with_a_reason():
    with pytest.raises(ValueError, match="only with a reason"):
        edits.exclude(EXAMPLE, (0,), "  ")
    with pytest.raises(ValueError, match="Choose the runs"):
        edits.exclude(EXAMPLE, (), "pump")
    with pytest.raises(ValueError, match="only with a reason"):
        edits.set_cells(EXAMPLE, {(0, "excluded"): "yes"})
    left = edits.exclude(EXAMPLE, (0, 1), "pump")
    assert [r.exclusion_reason for r in left.runs[:2]] == ["pump", "pump"]
    assert edits.take_back(left, (0, 1)) == EXAMPLE


def test_cells_are_taken_all_or_none():
    two = edits.set_cells(Trial("T"), {(0, "design"): "A", (0, "recovery_pct"): "41,5", (1, "design"): "B"})
    assert [(r.run, r.design, r.recovery_pct) for r in two.runs] == [("1", "A", 41.5), ("2", "B", None)]
    with pytest.raises(ValueError, match="Run 1, recovery: “x” is not a number"):
        edits.set_cells(two, {(0, "recovery_pct"): "x", (1, "recovery_pct"): "40"})
    with pytest.raises(ValueError, match="There is a run “1” already"):
        edits.set_cells(two, {(1, "run"): "1"})
    with pytest.raises(ValueError, match="needs its design"):
        edits.set_cells(two, {(1, "design"): ""})


def test_what_was_frozen_cannot_change_and_stay_frozen():
    frozen = edits.freeze_plan(EXAMPLE, date(2031, 3, 1))
    assert edits.set_plan(frozen, "ordering", Ordering.FIXED).plan.stamped == "2031-03-01"
    for name, value in (("worthwhile_points", 0.5), ("basis", Basis.RECONCILED), ("exclusion_rule", "none")):
        assert edits.set_plan(frozen, name, value).plan.stamped == ""
    with pytest.raises(ValueError, match="Agree on the worthwhile gain first"):
        edits.freeze_plan(Trial("T"), date(2031, 3, 1))


def test_waivers_need_a_reason_and_can_be_taken_back():
    with pytest.raises(ValueError, match="without a reason"):
        edits.waive(EXAMPLE, "speed", "")
    waived = edits.waive(EXAMPLE, "speed", "made for it")
    assert edits.unwaive(waived, "speed") == EXAMPLE


def test_gold_sizes_are_read_as_typed():
    assert edits.gold_of("75") == (GoldClass(75.0),)
    assert edits.gold_of("38: 40; 75: 30,5") == (GoldClass(38.0, 40.0), GoldClass(75.0, 30.5))
    assert edits.gold_of(edits.gold_text(EXAMPLE.sampling.gold)) == EXAMPLE.sampling.gold
    for text in ("coarse", "75: x", "-1", "75: 0"):
        with pytest.raises(ValueError):
            edits.gold_of(text)


# planner, protocol, words


def test_the_planner_gives_the_published_numbers_of_pairs():
    """Two-sided 5 %, 80 % power: 34 pairs for half the spread, 10 for the whole, 64 runs each unpaired."""
    assert answer(Question(gain=1.0, spread=2.0)).units == 34
    assert answer(Question(gain=2.0, spread=2.0)).units == 10
    assert answer(Question(gain=1.0, spread=2.0), Kind.UNPAIRED).units == 64
    assert "plan" in " ".join(answer(Question(spread_from=6)).sentences)
    assert answer(Question(gain=0.0)).units is None


def test_the_order_is_by_chance_but_even():
    for pairs in (1, 2, 7, 12):
        order = chance_order(pairs, 5)
        assert len(order) == pairs and abs(2 * sum(order) - pairs) <= 1
        assert order == chance_order(pairs, 5)
    assert len({chance_order(12, seed) for seed in range(50)}) > 40
    with pytest.raises(ValueError):
        chance_order(0, 1)


def test_protocol_and_blank_ledger_hold_the_same_order_and_the_caution():
    designs = ("Cone <A>", "B")
    page = protocol_html(EXAMPLE, designs, 8, 3)
    assert "Cone &lt;A&gt;" in page and "<A>" not in page and CAUTION in page and "seed 3" in page
    assert "to be agreed" not in page and "to be agreed" in protocol_html(Trial("T"), designs, 8, 3)
    rows = preview(read_table(blank_ledger_csv(designs, 8, chance_order(8, 3))))
    assert len(rows.runs) == 16 and not rows.problems
    firsts = [run.design for run in rows.runs if run.order == 1]
    assert firsts == [designs[0] if first else designs[1] for first in chance_order(8, 3)]


def test_what_stands_beside_the_ledger_names_the_interval_and_escapes_names():
    named = replace(EXAMPLE, runs=tuple(replace(r, design=r.design.replace("Plain", "<Plain>")) for r in EXAMPLE.runs))
    named = replace(named, plan=replace(named.plan, reference="<Plain> cone"))
    found = evaluate_trial(named, examples.read("trial"))
    page = html_of(verdict_pane_blocks(found))
    assert "95 % interval +" in page and "&lt;Plain&gt; cone" in page and "<Plain>" not in page
    assert "no design of this name" in page
    assert "built-up head" in html_of(run_blocks(found, 0)) and "points" in html_of(worth_pane_blocks(found))
    assert "the ledger is empty" in html_of(verdict_pane_blocks(evaluate_trial(Trial("T"))))
