"""Older files: what a study of schema 1 or 2 becomes when it is read, and what is told of it, once."""

import json
from pathlib import Path

import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.cli.main import main
from profiler.study import (
    FRICTIONS,
    NOT_GIVEN,
    Duty,
    FrictionBasis,
    Machine,
    fields_of,
    read_study,
    write_study,
)
from profiler.study.files.file import SCHEMA, decode_noted, decode_study, encode_study, read_stamped
from profiler.study.files.upgrades import (
    FORMER_MACHINE,
    NOT_KNOWN_AT_ZERO,
    UPGRADES,
    friction_in_place,
    not_given_as_null,
)
from profiler.study.records.duty import FRICTION, SOLIDS

SAMPLE = Path(__file__).parent / "samples" / "schema-1-friction.bowl"
NOW = (0.45, 0.60, 0.80)


def band(duty: Duty) -> tuple[float, ...]:
    return tuple(getattr(duty, name) for name in FRICTIONS)


def test_the_sample_is_of_schema_1_and_every_older_schema_has_its_step() -> None:
    assert json.loads(SAMPLE.read_bytes())["schema"] == 1
    assert SCHEMA == 3 and sorted(UPGRADES) == list(range(1, SCHEMA))


def test_a_friction_left_at_the_former_defaults_becomes_the_present_one() -> None:
    study = read_study(SAMPLE)
    untouched = study.duties[0]
    assert band(untouched) == NOW == band(Duty("new"))
    assert untouched.friction_basis is FrictionBasis.IN_PLACE


def test_a_friction_that_was_typed_stays_whole_and_is_marked() -> None:
    """Low, middle and high are one statement: a band of which only the middle was typed keeps its ends too."""
    middle_typed, all_typed = read_study(SAMPLE).duties[1:3]
    assert band(middle_typed) == (0.32, 0.5, 0.63) and band(all_typed) == (0.5, 0.58, 0.66)
    assert {d.friction_basis for d in (middle_typed, all_typed)} == {FrictionBasis.DELIVERED}


def test_nothing_else_of_the_file_is_changed() -> None:
    old, new = json.loads(SAMPLE.read_bytes()), json.loads(encode_study(read_study(SAMPLE)))
    for name in ("supply_kpa", "supply_l_min", "flange_hold_kn"):  # as below
        assert old["machine"].pop(name) == 0.0 and new["machine"].pop(name) is None
    for study in (old, new):
        study.pop("schema")
        study.setdefault("measurements", [])
        study.setdefault("profiles", [])
        study["machine"].setdefault("turning", "not given")  # written since there are any, as below
        for design in study["designs"]:
            design.pop("lineage", None)  # of designs made from others, which those of the sample do not say
            design["holes"] = {"start_deg": 0.0, "phase_deg": 0.0, "making": None, **design["holes"]}
        for duty in study["duties"]:
            duty.setdefault("size_classes", [])
            duty.setdefault("calibrated", None)
            duty.setdefault("yield_stress_pa", None)
            for name in ("follow_feed", "follow_speed", "follow_water"):
                duty.setdefault(name, False)
            for name in (*FRICTIONS, "friction_basis"):
                duty.pop(name, None)
    assert new == old


def test_one_note_tells_of_both_and_of_nothing_once_the_file_is_written_anew(tmp_path: Path) -> None:
    study, _, notes = read_stamped(SAMPLE)
    assert len(notes) == 1
    assert 'former default friction of duty "As designed" became the present default' in notes[0]
    assert 'The friction of duties "Thin and fine", "Thick and coarse" was typed for the former law' in notes[0]
    write_study(study, tmp_path / "again.bowl")
    again = read_stamped(tmp_path / "again.bowl")
    assert again.notes == () and again.study == study


def test_the_step_is_pure_and_leaves_what_it_cannot_read_to_the_decoder() -> None:
    raw = json.loads(SAMPLE.read_bytes())
    before = json.dumps(raw)
    friction_in_place(raw)
    assert json.dumps(raw) == before
    for odd in ({}, {"duties": None}, {"duties": 3}, {"duties": [None, 4, "x"]}):
        assert friction_in_place(dict(odd)).raw == odd and friction_in_place(dict(odd)).notes == ()
    assert friction_in_place({"duties": [{"name": "bare"}]}).raw == {"duties": [{"name": "bare"}]}


def test_many_duties_are_counted_and_names_cannot_break_the_note() -> None:
    raw = json.loads(SAMPLE.read_bytes())
    first = raw["duties"][0]
    raw["duties"] = [{**first, "name": f"duty {k}\n"} for k in range(40)]
    raw["shown"]["duty"] = ""
    note = decode_noted(json.dumps(raw).encode(), "many.bowl")[1][0]
    assert "of 40 duties" in note
    raw["duties"] = raw["duties"][:2]
    note = decode_noted(json.dumps(raw).encode(), "two.bowl")[1][0]
    assert "\n" not in note and "duty 1\\n" in note


@pytest.mark.parametrize("name", FRICTIONS)
def test_typing_a_friction_takes_the_mark_away(name: str) -> None:
    marked = read_study(SAMPLE).duties[2]
    typed = fields_of(Duty)[name]
    assert typed.set(marked, 0.7).friction_basis is FrictionBasis.IN_PLACE
    assert typed.set(marked, typed.get(marked)).friction_basis is FrictionBasis.IN_PLACE, "the same, confirmed"
    assert SOLIDS.set(marked, 33.0).friction_basis is FrictionBasis.DELIVERED


def test_a_friction_typed_into_the_study_leaves_other_duties_as_they_were() -> None:
    study = read_study(SAMPLE)
    study = study.having("shown", replace(study.shown, duty=study.duties[2].name))
    after = FRICTION.set(study, 0.7)
    assert after.duty.friction_basis is FrictionBasis.IN_PLACE and after.duty.friction == 0.7
    assert after.duties[:2] == study.duties[:2]


def test_a_marked_friction_is_a_finding_whose_remedy_takes_the_present_one() -> None:
    study = read_study(SAMPLE)
    for duty in study.duties:
        told = [f for f in evaluate(study.design, study.machine, duty).findings if f.code == "friction_former_law"]
        assert bool(told) is (duty.friction_basis is FrictionBasis.DELIVERED)
        if told:
            assert "typed for the former law" in told[0].text and told[0].remedy is not None
            mended = told[0].remedy.changed
            assert isinstance(mended, Duty) and band(mended) == NOW
            assert (
                replace(mended, **dict(zip(FRICTIONS, band(duty), strict=True)), friction_basis=duty.friction_basis)
                == duty
            )


@pytest.mark.parametrize("basis", list(FrictionBasis))
def test_a_duty_that_says_for_which_law_its_friction_was_typed_is_believed(basis: FrictionBasis) -> None:
    """No file of schema 1 says so by itself; one that does was written by hand, and nothing it says is dropped."""
    raw = json.loads(SAMPLE.read_bytes())
    for duty in raw["duties"]:
        duty["friction_basis"] = basis.value
    study = decode_study(json.dumps(raw).encode(), "x")
    for read, written in zip(study.duties, raw["duties"], strict=True):
        assert read.friction_basis is basis
        assert all(getattr(read, name) == written[name] for name in FRICTIONS if name in written)


def test_the_terminal_tells_the_note_beside_its_answer(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(SAMPLE), "--json"]) == 0
    said = capsys.readouterr()
    json.loads(said.out)
    assert said.err.count("former default friction") == 1 and SAMPLE.name in said.err
    assert "typed for the former law" in said.err


def test_a_study_of_today_is_read_without_a_word(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write_study(decode_study(SAMPLE.read_bytes(), "x"), tmp_path / "now.bowl")
    assert main(["check", str(tmp_path / "now.bowl")]) == 0
    assert capsys.readouterr().err == ""


SECOND = Path(__file__).parent / "samples" / "schema-2.bowl"


def test_a_number_of_the_machine_that_was_not_known_becomes_null_and_nothing_else_moves() -> None:
    """Equal meaning: 0 said "not known" of these, "there is none" of feed parts and strainer, and 0 of all others."""
    old, new = json.loads(SECOND.read_bytes()), json.loads(encode_study(read_study(SECOND)))
    assert old.pop("schema") == 2 and new.pop("schema") == SCHEMA
    unknown = {name for name in NOT_KNOWN_AT_ZERO if old["machine"][name] == 0.0}
    assert unknown == {"supply_kpa", "supply_l_min", "flange_hold_kn"}
    for name in unknown:
        old["machine"][name] = None
    for measurement in old["measurements"]:
        if measurement["angle_deg"] is None:
            assert measurement["height_mm"] == 0.0
            measurement["height_mm"] = None
    assert moved(old, new) == [] and new["machine"]["deflector_mm"] == 0.0
    assert new["trials"][0]["worth"]["other_cost_a_year"] == 0.0, "a cost of nothing is a cost"
    assert read_stamped(SECOND).notes == ()


def moved(old: object, new: object, where: str = "") -> list[str]:
    """Where a value of the old file is another in the new one; members that came since do not count."""
    if isinstance(old, dict) and isinstance(new, dict):
        return [place for key, value in old.items() for place in moved(value, new.get(key), f"{where}.{key}")]
    if isinstance(old, list) and isinstance(new, list) and len(old) == len(new):
        return [place for k, pair in enumerate(zip(old, new, strict=True)) for place in moved(*pair, f"{where}[{k}]")]
    return [] if old == new else [where]


@pytest.mark.parametrize("name", [*NOT_KNOWN_AT_ZERO, *FORMER_MACHINE])
def test_what_a_file_of_schema_2_left_out_has_the_value_it_had_by_that(name: str) -> None:
    raw = json.loads(SECOND.read_bytes())
    del raw["machine"][name]
    assert getattr(decode_study(json.dumps(raw).encode(), "x").machine, name) == FORMER_MACHINE.get(name)
    raw["machine"][name] = False
    with pytest.raises(ValueError, match=name):  # no number at all: the decoder says so, nothing is made of it
        decode_study(json.dumps(raw).encode(), "x")


def test_a_trial_and_a_measurement_keep_what_they_meant() -> None:
    angle = {"name": "a", "angle_deg": 6.0}
    raw = not_given_as_null({"trials": [{"name": "t"}], "measurements": [angle, {"name": "b"}]}).raw
    assert raw["trials"] == [{"name": "t", "worth": {"other_cost_a_year": 0.0}}]
    assert raw["measurements"] == [angle | {"height_mm": 0.0}, {"name": "b", "height_mm": None}]


def test_every_number_a_machine_may_lack_had_its_way_through_the_step() -> None:
    assert {f.name for f in fields_of(Machine).values() if f.empty == NOT_GIVEN} == {
        *NOT_KNOWN_AT_ZERO,
        *FORMER_MACHINE,
    }


def test_the_step_is_pure_and_leaves_an_odd_machine_to_the_decoder() -> None:
    raw = json.loads(SECOND.read_bytes())
    before = json.dumps(raw)
    not_given_as_null(raw)
    assert json.dumps(raw) == before
    for odd in ({}, {"machine": None}, {"machine": [3]}, {"trials": [4], "measurements": {"a": 1}}):
        assert not_given_as_null(dict(odd)) == (odd, ())
