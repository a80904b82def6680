"""Each design keeps its lineage: made from which, what changed (worked out), why (typed), what its trial said.

No outside source: what is tested is bookkeeping of our own.
"""

import json

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.assess.fitting.counterpart import counterpart
from profiler.assess.fitting.fit import fit
from profiler.assess.fitting.starting import fitted_cone
from profiler.assess.fitting.starting_curves import one_angle, started
from profiler.assess.worn.wear import Course
from profiler.assess.worn.worn_bowl import worn_bowl
from profiler.cli.main import main
from profiler.explore.compare import compare
from profiler.explore.lineages import lineages
from profiler.explore.shop_steps import Steps, rounded
from profiler.output.report.lineage_blocks import lineage_blocks
from profiler.output.terminal.comparison_text import comparison_json, comparison_text
from profiler.study import Lineage, Way, read_study, write_study
from profiler.study.edits import list_edits
from profiler.study.edits.list_edits import Listed
from profiler.study.files.examples import read
from profiler.study.files.file import decode_study, encode_study
from profiler.study.records.design import GROOVE_MOUTH
from profiler.study.records.lineage import LINEAGE_WHY, MADE

STUDY = read("graded")
GRADED, CONE = STUDY.designs[0], STUDY.designs[1]


def told(study, name=""):
    return next(t for t in lineages(study) if t.design == (name or study.design.name))


def test_every_way_has_its_words() -> None:
    assert set(MADE) == set(Way)


def test_a_file_that_knows_of_no_lineage_has_none() -> None:
    raw = json.loads(encode_study(STUDY))
    for design in raw["designs"]:
        del design["lineage"]
    older = decode_study(json.dumps(raw).encode(), "older.bowl")
    assert {d.lineage for d in older.designs} == {Lineage()}
    assert told(older).made == "How it was made is not recorded." and told(older).changes is None


def test_a_copy_tells_what_changed_since_and_why() -> None:
    copy = list_edits.duplicate(STUDY, Listed.DESIGN)
    assert told(copy).changes == () and "Nothing differs" in told(copy).changed
    wider = LINEAGE_WHY.set(GROOVE_MOUTH.set(copy, 9.5), "the moulder's pins are wider")
    found = told(wider)
    assert [(c.what, c.before, c.now) for c in found.changes] == [("grooves, mouth", "8.00 mm", "9.50 mm")]
    assert "1 thing differs from “Graded, first try” as it stands now." in found.sentence
    assert "Why: the moulder's pins are wider." in found.sentence and "No trial names it" in found.sentence
    assert "grooves, mouth: 8.00 mm → 9.50 mm" in found.cells[2]
    assert decode_study(encode_study(wider), "x.bowl") == wider


def test_a_cell_lists_the_first_changes_and_counts_the_others() -> None:
    copy = list_edits.duplicate(STUDY, Listed.DESIGN)
    other = copy.having("design", replace(copy.design, wall=CONE.wall))
    found = told(other)
    assert len(found.changes) > 4 and f"and {len(found.changes) - 4} more" in found.cells[2]


def test_the_changes_are_worked_out_anew_when_the_origin_moves() -> None:
    copy = list_edits.duplicate(STUDY, Listed.DESIGN)
    moved = GROOVE_MOUTH.set(copy.having("shown", STUDY.shown.having("design", GRADED.name)), 9.0)
    assert [c.now for c in told(moved, copy.design.name).changes] == ["8.00 mm"]


@pytest.mark.parametrize(
    ("made", "way", "words"),
    [
        (lambda: counterpart(GRADED, CONE, STUDY.machine, "twin").design, Way.COUNTERPART,
         f"A counterpart of “{GRADED.name}” with the wall of “{CONE.name}”"),
        (lambda: fitted_cone("cone", STUDY.machine), Way.CONE, "A plain cone, made from no other design, then fitted"),
        (lambda: rounded(evaluate(GRADED, STUDY.machine, STUDY.duty), Steps(angle_deg=0.5, diameter_mm=1.0)).design,
         Way.NOT_RECORDED, "How it was made is not recorded, then rounded to shop steps."),
        (lambda: started(GRADED, STUDY.machine, one_angle(STUDY.machine.height_mm, 15.0)).design, Way.NOT_RECORDED,
         "How it was made is not recorded, then given a new curve to start from, then fitted to the machine."),
        (lambda: worn_bowl(GRADED, STUDY.machine, Course(np.array([0.0]), np.array([1.0])), "w").design, Way.WORN,
         f"“{GRADED.name}”, worn."),
    ],
    ids=["counterpart", "cone", "shop steps", "starting curve", "worn"],
)  # fmt: skip
def test_whatever_makes_a_design_of_another_says_so(made, way, words) -> None:
    lineage = made().lineage
    assert lineage.way is way and lineage.words.startswith(words)


def test_what_changes_nothing_is_no_step() -> None:
    once = fit(GRADED, STUDY.machine).design
    again = fit(once, STUDY.machine).design
    assert again == once and again.lineage.then.count(Way.FIT) <= 1


def test_names_follow_a_renaming_and_a_deleted_origin_is_said_to_be_gone() -> None:
    copy = list_edits.duplicate(STUDY, Listed.DESIGN)
    name, back = copy.design.name, copy.having("shown", STUDY.shown.having("design", GRADED.name))
    renamed = list_edits.rename(back, Listed.DESIGN, "Second try")
    assert told(renamed, name).origin == "Second try" and told(renamed, name).changes == ()
    gone = list_edits.delete(renamed, Listed.DESIGN)
    assert "“Second try” (deleted since)" in told(gone, name).made and told(gone, name).changes is None
    cone = gone.having("shown", gone.shown.having("design", CONE.name))
    namesake = list_edits.rename(cone, Listed.DESIGN, "Second try")
    assert told(namesake, name).changes is None, "another design under the old name is not its origin"


@pytest.fixture(scope="module")
def tried():
    return read("trial")


def test_a_trial_speaks_of_the_designs_its_runs_name_with_its_interval(tried) -> None:
    copy = list_edits.duplicate(tried, Listed.DESIGN)
    found = {t.design: t for t in lineages(copy)}
    assert found[copy.design.name].trials == ()
    for name in ("Plain cone", "Graded, first try"):
        assert "95 % interval" in found[name].trials[0] and copy.trials[0].name in found[name].trials[0]


def test_compare_tells_it_in_words_and_as_json() -> None:
    study = LINEAGE_WHY.set(list_edits.duplicate(STUDY, Listed.DESIGN), "for a test")
    c = compare(study, (study.design, CONE))
    words = " ".join(comparison_text(replace_reference(c)).split())
    assert "A copy of “Graded, first try”." in words and "Why: for a test." in words
    found = {d["name"]: d["lineage"] for d in json.loads(comparison_json(replace_reference(c)))["designs"]}
    mine = found[study.design.name]
    assert (mine["way"], mine["made_from"], mine["changes"], mine["why"]) == ("copy", GRADED.name, [], "for a test")
    assert found[CONE.name]["changes"] is None


def replace_reference(c):
    """The comparison with one of its own designs as the reference."""
    from dataclasses import replace as with_

    return with_(c, study=replace(c.study, reference=CONE.name))


def test_the_report_has_it_with_every_change() -> None:
    study = GROOVE_MOUTH.set(list_edits.duplicate(STUDY, Listed.DESIGN), 9.5)
    heading, words, grid = lineage_blocks(told(study))
    assert heading.text == "Lineage" and "A copy of" in words.text
    assert grid.rows == (("grooves, mouth", "8.00 mm", "9.50 mm"),)
    assert lineage_blocks(None) == []


def test_the_terminal_keeps_the_why_with_what_it_writes(tmp_path) -> None:
    file, out = tmp_path / "a.bowl", tmp_path / "b.bowl"
    write_study(STUDY, file)
    said = ["--why", "one wall, two grooves", "--save", str(out)]
    assert main(["counterpart", str(file), "--wall-of", CONE.name, *said]) == 0
    made = read_study(out).design.lineage
    assert (made.way, made.why) == (Way.COUNTERPART, "one wall, two grooves")
