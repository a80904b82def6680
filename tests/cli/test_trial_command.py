"""The terminal's `trial`: verdicts of tables and studies, and one sentence for what cannot be judged."""

import json

import pytest
from msgspec.structs import replace

from profiler.cli import main as cli
from profiler.numbers import with_minus
from profiler.study import write_study
from profiler.study.files import examples
from profiler.words import Structure
from tests.laws.trials.test_trials_two_sets import ALIKE_B, FEED_A, FEED_B, GAIN_B, RECOVERY_A

KEYS = {
    "state", "difference", "ci95", "ci90", "p", "relative", "relative_ci95", "detectable", "pairs_needed", "gates",
    "sentence",
}  # fmt: skip
WORDS = ("is better", "recovers less", "no difference", "not resolved", "not a fair comparison")


@pytest.fixture
def run(capsys):
    def run(*words):
        code = cli.main([str(w) for w in words])
        out, err = capsys.readouterr()
        return code, out, err

    return run


@pytest.fixture
def table(tmp_path):
    def write(text, name="runs.csv"):
        path = tmp_path / name
        path.write_text(text, "utf-8")
        return path

    return write


def rows(recoveries_b, pairs=10, block=True, separator=","):
    """The invented trial as a table, A and B of each pair in turn."""
    head = ["block"] * block + ["design", "feed", "rec"]
    lines = [separator.join(head)]
    for i in range(pairs):
        for design, feed, rec in (("A", FEED_A[i], RECOVERY_A[i]), ("B", FEED_B[i], recoveries_b[i])):
            lines.append(separator.join([str(i + 1)] * block + [design, str(feed), str(rec)]))
    return "\n".join(lines) + "\n"


def judged(run, path, *words):
    code, out, err = run("trial", path, "--json", *words)
    assert (code, err) == (0, "")
    return json.loads(out)


@pytest.mark.parametrize(
    ("recoveries", "gain", "state"), [(GAIN_B, 1, 2), (GAIN_B, 2, 4), (ALIKE_B, 1, 5), (ALIKE_B, 0.5, 6)]
)
def test_the_invented_trials_get_their_states(run, table, recoveries, gain, state):
    """Worked out beforehand by statsmodels and by hand: see test_trials_two_sets."""
    found = judged(run, table(rows(recoveries)), "--worthwhile", gain)
    assert found["state"] == state
    assert set(found) >= KEYS


def test_the_numbers_of_a_real_gain(run, table):
    found = judged(run, table(rows(GAIN_B)), "--worthwhile", 1)
    assert found["difference"] == pytest.approx(2.47)
    assert found["ci95"] == [pytest.approx(1.3940, abs=5e-5), pytest.approx(3.5460, abs=5e-5)]
    assert found["ci90"] == [pytest.approx(1.5981, abs=5e-5), pytest.approx(3.3419, abs=5e-5)]
    assert found["p"] == pytest.approx(0.000569356, abs=5e-10)
    assert found["relative"] == pytest.approx(6.2946, abs=5e-5)
    assert found["relative_ci95"] == [pytest.approx(3.4368, abs=5e-5), pytest.approx(9.3834, abs=5e-5)]
    assert found["detectable"] == pytest.approx(1.4981, abs=5e-5)
    assert found["pairs_needed"] == 20
    assert found["adjusted"] == pytest.approx(2.25920, abs=5e-6)
    assert found["permutation_p"] == 4 / 1024
    assert (found["reference"], found["new"], found["units"]) == ("A", "B", [10, 10])


def test_without_a_block_the_runs_are_unpaired(run, table):
    found = judged(run, table(rows(GAIN_B, block=False)))
    assert found["structure"] == Structure.UNPAIRED.value
    assert found["p"] == pytest.approx(0.1305, abs=5e-5)
    assert found["ci95"] == [pytest.approx(-0.81, abs=5e-3), pytest.approx(5.75, abs=5e-3)]
    assert found["pairs_needed"] is None and found["worthwhile"] is None
    assert "agree on one" in found["sentence"]


def test_the_reference_turns_the_sign(run, table):
    found = judged(run, table(rows(GAIN_B)), "--reference", "B", "--worthwhile", 1)
    assert found["difference"] == pytest.approx(-2.47)
    assert (found["state"], found["favours"], found["size"]) == (2, "B", "worthwhile")


def test_a_relative_gain_that_cannot_be_estimated_is_null(run, table):
    """Eight pairs whose ratio is unbounded by Fieller at 95 %: NIST Dataplot manual, scaled to per cent."""
    first = [41.23, 7.60, 7.21, 1.42, 1.87, 3.31, 1.27, 2.19]
    second = [2.69, 0.49, 0.37, 0.06, 0.15, 0.19, 0.08, 0.09]
    lines = ["block,design,rec"]
    for i, (a, b) in enumerate(zip(first, second, strict=True)):
        lines += [f"{i},A,{a}", f"{i},B,{b}"]
    found = judged(run, table("\n".join(lines)))
    assert found["relative"] is None and found["relative_ci95"] is None
    assert "cannot be estimated" in found["sentence"]


def test_more_columns_are_read_by_name_and_close_gates(run, table):
    lines = rows(GAIN_B).splitlines()
    more = [lines[0] + ",speed_rpm,Fluidising water (m3/h),colour"]
    more += [line + (",640,2.4,red" if i % 2 else ",700,2.4,blue") for i, line in enumerate(lines[1:])]
    found = judged(run, table("\n".join(more)))
    gates = {gate["code"]: gate for gate in found["gates"]}
    assert gates["speed"]["state"] == "failed" and gates["water"]["state"] == "met"
    assert gates["water"]["text"].startswith("40 against 40")
    assert found["state"] == 0
    assert any("colour" in remark for remark in found["remarks"])


def test_streams_in_a_table_are_balanced(run, table):
    """One run's own check: 1.20 kg at 1400 g/t against 998.8 kg at 2.45 g/t is 40.707 % on built-up head."""
    lines = ["pair,design,feed kg,feed assay g/t,conc (g),conc g/t,tail g/t"]
    for pair in range(6):
        lines += [f"{pair},A,1000,4.0,1200,1400,2.45", f"{pair},B,1000,4.0,1200,{1500 + pair},2.45"]
    found = judged(run, table("\n".join(lines)))
    assert found["basis"] == "recovery on built-up head"
    assert found["reference_recovery"] == pytest.approx(40.707, abs=5e-4)


def test_text_and_json_agree_and_no_verdict_stands_without_its_interval(run, table):
    for recoveries in (GAIN_B, ALIKE_B, [r - 4 for r in GAIN_B]):
        for words in ((), ("--worthwhile", 0.5), ("--worthwhile", 3), ("--structure", "before-after")):
            path = table(rows(recoveries))
            found = judged(run, path, *words)
            _, text, _ = run("trial", path, *words)
            low, high = found["ci95"]
            interval = f"95 % interval {low:+.2f} to {high:+.2f}"
            assert interval in found["verdict"] and interval in found["sentence"]
            assert max(map(len, text.splitlines())) <= 100
            plain = " ".join(text.split())
            assert any(word in plain for word in WORDS) and with_minus(interval) in plain
            for part in (found["verdict"], *(line for line in found["sentence"].split(". ") if "Verdict" in line)):
                assert interval in part
            assert "significant" not in plain


@pytest.mark.parametrize("separator", [";", "\t"])
def test_semicolons_tabs_and_decimal_commas_are_read(run, table, separator):
    text = rows(GAIN_B, separator=separator).replace(".", ",")
    assert judged(run, table(text))["difference"] == pytest.approx(2.47)


BAD = {
    "empty": ("", "empty"),
    "headings only": ("block,design,feed,rec\n", "at least one run"),
    "text for a number": (rows(GAIN_B).replace("37.9", "abc"), "line 2, rec: “abc” is not a number"),
    "a thousands mark": (rows(GAIN_B).replace("37.9", '"1,037.9"'), "Recovery is 1037.90 %"),
    "zero feed": (rows(GAIN_B).replace("3.62", "0"), "line 2, feed: Feed grade is 0.000 g/t"),
    "recovery above 100": (rows(GAIN_B).replace("37.9", "137.9"), "Recovery is 137.90 %"),
    "fractions": ("design,rec\nA,0.37\nA,0.39\nB,0.41\nB,0.40\n", "between 0 and 1"),
    "no design": ("block,feed,rec\n1,4,40\n", "design"),
    "no recovery": ("block,design,feed\n1,A,4\n1,B,4\n", "gives a recovery"),
    "unknown unit": ("block,design,rec (stones)\n1,A,40\n", "“stones” is not a unit for recovery"),
    "two columns alike": ("design,rec,recovery\nA,40,41\n", "second column for recovery"),
    "one run": ("block,design,feed,rec\n1,A,4,40\n", "exactly two designs; these are of 1"),
    "one pair": (rows(GAIN_B, pairs=1), "1 complete pair(s) give no interval"),
    "one design": ("design,rec\nA,40\nA,41\n", "exactly two designs"),
    "identical runs": (rows(RECOVERY_A), "pair differences are the same"),
    "missing pairs": ("block,design,rec\n1,A,40\n2,B,41\n3,A,42\n4,B,43\n", "No pair of both designs is left"),
    "all excluded": (
        "block,design,rec,excluded,reason\n1,A,40,yes,pump\n1,B,41,yes,pump\n", "every run is excluded"
    ),
    "a run twice": ("run,design,rec\n1,A,40\n1,B,41\n", "the run “1” is there already"),
    "a bad date": ("design,rec,date\nA,40,yesterday\n", "“yesterday” is not a date"),
    "neither yes nor no": ("design,rec,excluded\nA,40,perhaps\n", "“perhaps” is neither yes nor no"),
    "too many cells": ("design,rec\nA,40,1\n", "3 cells under 2 headings"),
    "concentrate below feed": (
        "block,design,feed assay,conc g/t,tail\n1,A,4,3,2\n1,B,4,3,2\n2,A,4,3,2\n2,B,4,3,2\n",
        "concentrate 3 g/t is not above feed 4 g/t",
    ),
    "zero feed assay": ("design,feed assay,conc g/t,tail\nA,0,1400,2\n", "no recovery without metal in the feed"),
    "zero feed mass": ("block,design,feed kg,conc kg,conc g/t,tail\n1,A,0,1,1400,2\n", "Feed mass is 0.000 kg"),
}  # fmt: skip


@pytest.mark.parametrize("case", BAD)
def test_a_table_that_cannot_be_judged_gets_one_sentence(run, table, case):
    text, sentence = BAD[case]
    code, out, err = run("trial", table(text))
    assert (code, out) == (2, "")
    assert sentence in err and err.startswith("bowl-profiler: runs.csv") and err.count("\n") == 1


@pytest.mark.parametrize("points", ["0", "-1", "x", "nan", "inf"])
def test_a_worthwhile_gain_must_be_above_zero(run, table, points):
    code, out, err = run("trial", table(rows(GAIN_B)), f"--worthwhile={points}")
    assert (code, out) == (2, "") and points in err and err.count("\n") == 1


def test_other_input_that_cannot_be_used(run, table, tmp_path):
    path = table(rows(GAIN_B))
    for words, sentence in (
        ((path, "--reference", "C"), "The reference “C” is not among the designs that ran: A, B"),
        ((path, "--trial", "x"), "names a trial of a study"),
        ((tmp_path / "nothing.csv",), "There is no file"),
        ((tmp_path,), "is a folder"),
    ):
        code, out, err = run("trial", *words)
        assert (code, out) == (2, "") and sentence in err and err.count("\n") == 1
    binary = tmp_path / "b.csv"
    binary.write_bytes(b"design\0rec")
    assert "neither a study nor a table" in run("trial", binary)[2]


def test_a_study_is_judged_with_its_plan_and_its_prediction(run, tmp_path):
    path = tmp_path / "trial.bowl"
    assert run("example", "trial", path)[0] == 0
    found = judged(run, path)
    assert found["worthwhile"] == 1.0 and found["reference"] == "Plain cone"
    assert "plan frozen 2031-03-01" in found["sentence"]
    assert any("Graded, first try at 580 rpm" in p and "2 strong overturn" in p for p in found["predictions"])
    other = judged(run, path, "--worthwhile", 2)
    assert "plan not frozen" in other["sentence"] and other["difference"] == found["difference"]


def test_a_study_without_trials_and_a_wrong_name_are_said(run, tmp_path):
    path = tmp_path / "s.bowl"
    write_study(examples.read("graded"), path)
    assert "s.bowl holds no trial." in run("trial", path)[2]
    write_study(examples.read("trial"), path)
    code, _, err = run("trial", path, "--trial", "Other")
    assert code == 2 and "it holds “Graded against plain cone”" in err


def test_the_study_marks_the_reference_where_the_plan_names_none(run, tmp_path):
    study = examples.read("trial")
    trial = replace(study.trials[0], plan=replace(study.trials[0].plan, reference=""))
    path = tmp_path / "s.bowl"
    write_study(replace(study, trials=(trial,), reference="Plain cone"), path)
    assert judged(run, path)["reference"] == "Plain cone"
    write_study(replace(study, trials=(trial,), reference="Graded, first try"), path)
    assert judged(run, path)["reference"] == "Graded, first try"
    write_study(replace(study, trials=(trial,), reference=""), path)
    assert judged(run, path)["reference"] == trial.runs[0].design


def stretched(stretches=8, cycles=4):
    lines = ["design,rec"]
    for stretch in range(stretches):
        lines += [f"{'AB'[stretch % 2]},{40 + stretch % 3 + 0.1 * cycle}" for cycle in range(cycles)]
    return "\n".join(lines) + "\n"


def test_cycles_in_stretches_are_refused_a_verdict_and_the_way_on_is_named(run, table):
    path = table(stretched())
    found = judged(run, path)
    gates = {gate["code"]: gate for gate in found["gates"]}
    assert found["state"] == 0 and gates["units"]["state"] == "failed"
    assert "name the installation of each run" in found["verdict"]
    filled = judged(run, path, "--fill-installations")
    assert filled["state"] != 0 and filled["units"] == [4, 4]
    assert filled["structure"] == "cycles within installations"


def test_neighbours_are_paired_when_asked(run, table):
    path = table(rows(GAIN_B, block=False))
    loose, paired = judged(run, path), judged(run, path, "--pair-neighbours")
    assert "neighbours could be paired (10 pairs)" in loose["sentence"]
    assert (loose["structure"], paired["structure"]) == ("unpaired runs", "pairs")
    assert paired["difference"] == pytest.approx(2.47) and paired["p"] == pytest.approx(0.000569356, abs=5e-10)
    code, _, err = run("trial", table(stretched()), "--pair-neighbours")
    assert code == 2 and "do not alternate" in err
    code, _, err = run("trial", path, "--pair-neighbours", "--fill-installations")
    assert code == 2 and "choose one" in err


DOUBTS = {  # what a table leaves in doubt: a word of the refusal, and the options that answer it
    "decimal": ("block;design;feed g/t;conc g/t;tail g/t\n" + "".join(
        f"{i};{d};{4 + i};1,4{i}0;{2 + (d == 'A')}\n" for i in range(1, 7) for d in "AB"),
        "--decimal", ["--decimal", "."]),
    "dates": (rows(GAIN_B).replace("\n", ",03/04/2031\n").replace("rec,03/04/2031", "rec,date"), "--dates dmy",
              ["--dates", "dmy"]),
    "unit": (rows(GAIN_B).replace("\n", ",1200\n").replace("rec,1200", "rec,conc mass"), "concentrate mass, g",
             ["--as", "conc mass=concentrate mass, g", "--as", "feed=feed grade, g/t"]),
    "far": (rows(GAIN_B).replace("37.9", "0.379"), "--as-typed", ["--as-typed", "rec"]),
    "second": (rows(GAIN_B).replace("\n", ",40.1\n").replace("rec,40.1", "rec,recovery"), "=nothing",
               ["--as", "recovery=nothing"]),
    "headings": ("design,rec,speed\n" + rows(GAIN_B), "", ["--heading", "2"]),
    "a word": (rows(GAIN_B).replace("3.62", "lost"), '--empty "WORD"', ["--empty", "lost"]),
    "blanks": ("pair,design,rec\n1,A,40\n,B,41\n2,A,41\n,B,41.5\n3,A,42\n,B,44\n", "--blanks above",
               ["--blanks", "above"]),
}  # fmt: skip


@pytest.mark.parametrize("case", DOUBTS)
def test_what_a_table_leaves_in_doubt_is_refused_with_its_option_and_answered_by_it(run, table, case):
    text, word, options = DOUBTS[case]
    path = table(text)
    if word:
        code, out, err = run("trial", path)
        assert (code, out) == (2, "") and word in err and err.count("\n") == 1
    assert judged(run, path, *options)["read_as"]


def test_json_says_what_every_column_was_taken_for(run, table):
    path = table(rows(GAIN_B).replace("\n", ",red\n").replace("rec,red", "rec,colour"))
    found = judged(run, path)
    by_heading = {row["heading"]: row for row in found["read_as"]}
    assert by_heading["rec"] == {
        "heading": "rec", "column": "recovery_pct", "meaning": "Recovery", "unit": "%", "cells": 20,
        "note": "no unit named: taken as %",
    }  # fmt: skip
    assert by_heading["feed"]["column"] == "feed_grade_g_t"
    assert by_heading["colour"]["column"] is None and by_heading["colour"]["note"] == "passed over"
    _, text, _ = run("trial", path)
    assert "“rec” as recovery, %" in " ".join(text.split()).replace('"rec"', "“rec”")


def test_a_study_has_no_reading_and_takes_no_answers(run, tmp_path):
    path = tmp_path / "trial.bowl"
    write_study(examples.read("trial"), path)
    assert judged(run, path)["read_as"] is None
    code, _, err = run("trial", path, "--decimal", ".")
    assert code == 2 and "leaves nothing in doubt" in err


@pytest.mark.parametrize(
    ("option", "sentence"),
    [
        ("rec", "write HEADING=MEANING"),
        ("rec=joy", "is not a column of the ledger"),
        ("rec=recovery, kg", "not a unit"),
    ],
)
def test_an_answer_that_means_nothing_is_refused(run, table, option, sentence):
    code, out, err = run("trial", table(rows(GAIN_B)), "--as", option)
    assert (code, out) == (2, "") and sentence in err


def test_own_words_for_headings_are_read_from_a_list(run, table, tmp_path):
    words = tmp_path / "words.json"
    words.write_text('{"recovery_pct": ["caught"], "design": ["bowl type"]}', "utf-8")
    path = table(rows(GAIN_B).replace("design", "bowl type").replace("rec", "caught"))
    assert run("trial", path)[0] == 2
    assert judged(run, path, "--words", words)["difference"] == pytest.approx(2.47)
    words.write_text('{"poetry": ["caught"]}', "utf-8")
    assert "“poetry” is not a column" in run("trial", path, "--words", words)[2]


def test_size_classes_come_from_a_table_of_their_own(run, table, tmp_path):
    study = examples.read("trial")
    bare = replace(study.trials[0], runs=tuple(replace(r, sizes=()) for r in study.trials[0].runs))
    path = tmp_path / "s.bowl"
    write_study(replace(study, trials=(bare,)), path)
    lines = ["run;Sieve;Conc mass (g);Conc Au ppm;Tails %;Tails grade g/t"]
    for r in study.trials[0].runs:
        for size in r.sizes:
            name = f"+{size.opening_um:g}" if size.opening_um else "pan"
            cells = (7 * size.concentrate_pct, size.concentrate_g_t, size.tail_pct, size.tail_g_t)
            lines.append(";".join([r.run, name, *(f"{c:.6g}" for c in cells)]))
    sizes = table("\n".join(lines), "sizes.csv")
    found = judged(run, path, "--sizes", sizes)
    assert any("“Sieve” as opening" in remark for remark in found["remarks"])
    _, with_sizes, _ = run("trial", path, "--sizes", sizes)
    write_study(study, path)
    _, as_kept, _ = run("trial", path)
    shares = [line for line in as_kept.splitlines() if line.strip().startswith(("+212", "-25", "−25"))]
    assert shares and all(line in with_sizes for line in shares)
    code, _, err = run("trial", path, "--sizes", table(lines[0] + "\nx;+106;1;1;1;1\n", "sizes.csv"))
    assert code == 2 and "which the ledger does not hold" in err
    code, _, err = run("trial", sizes)
    assert code == 2 and "--sizes" in err


def test_a_file_too_large_is_refused_unread(run, tmp_path):
    path = tmp_path / "large.csv"
    with path.open("wb") as file:
        file.truncate(50_000_000)
    code, _, err = run("trial", path)
    assert code == 2 and "50 MB" in err and "save the runs alone" in err
