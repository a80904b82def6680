"""The `.bowl` format: its JSON Schema, the page that tells it, and the stored samples of every schema there has been.

The schema is checked with jsonschema, a reference implementation of JSON Schema, draft 2020-12.
"""

import json
import random
from pathlib import Path

import jsonschema
import pytest

from profiler.assess import evaluate
from profiler.output.terminal.format_text import WIDTH, format_text, said
from profiler.study import FrictionBasis, GrooveRule
from profiler.study.files import examples
from profiler.study.files.file import SCHEMA, decode_study, encode_study
from profiler.study.files.schema import json_schema, sections
from profiler.study.records.design import GROOVE_MOUTH
from profiler.study.records.fields import members_of
from profiler.study.records.trial import Run, SampledStream
from profiler.ui.help.help_window import STUDY_FILE, pages
from tests.safety.any_edits import any_edit
from tests.study.test_fields import KINDS

SAMPLES = Path(__file__).parent / "samples"
EDITS, EVERY = 300, 15  # edits at random, and after how many of them a study is looked at


@pytest.fixture(scope="module")
def validator():
    schema = json_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def sample(schema: int) -> bytes:
    return (SAMPLES / f"schema-{schema}.bowl").read_bytes()


@pytest.mark.parametrize("schema", range(1, SCHEMA + 1))
def test_the_sample_of_every_schema_loads_and_can_be_worked_with(schema: int) -> None:
    study = decode_study(sample(schema), "sample.bowl")
    assert decode_study(encode_study(study), "again.bowl") == study
    e = evaluate(study.design, study.machine, study.duty)
    assert e.shape is not None and e.flow is not None


def test_the_sample_of_the_present_schema_is_written_just_as_it_was_read() -> None:
    assert encode_study(decode_study(sample(SCHEMA), "sample.bowl")) == sample(SCHEMA)


def test_the_first_sample_holds_what_was_typed_into_it() -> None:
    study = decode_study(sample(1), "sample.bowl")
    assert study.design.grooves.heights_mm == (20.5, 60.0, 118.0)
    assert study.design.wall.knots[1].leaving_deg == 9.5 and study.design.holes.ring(1) == (24, 1.0, 10.0)
    assert study.duty.size_classes[1].retained_pct == 45.0 and study.machine.entry_mm == 40.0
    assert study.trials[0].plan.waivers[0].reason == "a pump was exchanged" and len(study.trials[0].runs) == 4


def test_the_second_sample_holds_frictions_for_either_law() -> None:
    present, former = decode_study(sample(2), "sample.bowl").duties[:2]
    assert present.friction_basis is FrictionBasis.IN_PLACE and present.friction == 0.55
    assert former.friction_basis is FrictionBasis.DELIVERED and former.friction_low == 0.3


@pytest.mark.parametrize("name", examples.names())
def test_every_example_follows_the_schema(validator, name: str) -> None:
    validator.validate(json.loads(encode_study(examples.read(name))))


def test_the_sample_follows_the_schema(validator) -> None:
    validator.validate(json.loads(sample(SCHEMA)))


def test_studies_edited_at_random_follow_the_schema_also_outside_the_bounds(validator) -> None:
    chance, study = random.Random(10), examples.read("trial")
    outside = 0
    for number in range(EDITS):
        study = any_edit(study, chance)
        if number % EVERY == 0:
            validator.validate(json.loads(encode_study(study)))
            findings = evaluate(study.design, study.machine, study.duty).findings
            outside += any("must lie between" in f.text for f in findings)
    assert outside > 0  # values out of bounds were really among them


def changed(path: str, value: object) -> object:
    raw = json.loads(sample(SCHEMA))
    *way, last = path.split(".")
    place = raw
    for step in way:
        place = place[int(step) if step.isdigit() else step]
    place[last] = value
    return raw


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("designs.0.grooves.count", 12.5), ("designs.0.grooves.count", "12"), ("designs.0.grooves.placing", "anywhere"),
        ("designs.0.wall.colour", "red"), ("machine.lip_radius_mm", None), ("duties.0.in_window", 1),
        ("format", "another"), ("schema", SCHEMA + 1),
    ],
)  # fmt: skip
def test_what_the_program_refuses_does_not_follow_the_schema(validator, path: str, value: object) -> None:
    raw = changed(path, value)
    assert not validator.is_valid(raw)
    with pytest.raises(ValueError, match=r"\.$"):
        decode_study(json.dumps(raw).encode(), "changed.bowl")


def test_bounds_stand_in_the_schema_as_annotations(validator) -> None:
    mouth = json_schema()["$defs"]["GrooveRule"]["properties"]["mouth_mm"]
    assert (mouth["x-lowest"], mouth["x-highest"], mouth["x-unit"]) == (GROOVE_MOUTH.low, GROOVE_MOUTH.high, "mm")
    assert mouth["title"] == GROOVE_MOUTH.label and mouth["description"] == GROOVE_MOUTH.help
    assert validator.is_valid(changed("designs.0.grooves.mouth_mm", GROOVE_MOUTH.high + 1.0))


def test_every_member_of_every_record_is_in_the_schema_with_its_words() -> None:
    kinds = json_schema()["$defs"]
    for kind in KINDS:
        properties = kinds[kind.__name__]["properties"]
        assert set(properties) - {"format", "schema"} == set(kind.__struct_fields__)
        for name, field in members_of(kind).items():
            found = properties[name]
            found = found if "title" in found else found["anyOf"][0]
            assert (found["title"], found["description"]) == (field.label, field.help)


# the page


def test_the_page_tells_every_member_with_label_unit_bounds_and_default() -> None:
    told = {section.name: {m.name: m for m in section.members} for section in sections()}
    assert set(told) == {kind.__name__ for kind in KINDS} | {"Waiver"}  # a word shared with statistics
    assert told["Waiver"]["reason"].help == "Printed beside it."
    for kind in KINDS:
        for name, field in members_of(kind).items():
            line = told[kind.__name__][name]
            assert (line.label, line.help, line.unit) == (field.label, field.help, field.unit)
            assert line.span == (f"{field.low:g} to {field.high:g}" if field.is_number else "")
    mouth = told["GrooveRule"]["mouth_mm"]
    assert said(mouth) == f"number, 0.5 to 300 mm; {GrooveRule().mouth_mm} if left out"
    assert said(told["Machine"]["entry_mm"]) == "number or null, 0 to 3000 mm; null if left out"
    assert said(told["SampledStream"]["grades_g_t"]) == "list of numbers; [] if left out"


def test_the_page_tells_where_every_kind_of_record_stands() -> None:
    places = {section.name: section.places for section in sections()}
    kept = ("designs[].", "measurements[].design.", "profiles[].design.")  # the bowl as it ran, and as it was drawn
    assert places["GrooveChange"] == tuple(f"{k}grooves.changes[]" for k in kept)
    assert places["Material"] == ("machine.shell_material", *(f"{k}body.material" for k in kept))
    streams = [name for name, field in members_of(Run).items() if field.kind is SampledStream]
    assert places["SampledStream"] == tuple(f"trials[].runs[].{s}" for s in streams)


def test_terminal_and_help_print_the_page(capsys) -> None:
    from profiler.cli.main import main

    assert main(["schema", "--page"]) == 0
    printed = capsys.readouterr().out
    assert printed == format_text() and max(map(len, printed.splitlines())) <= WIDTH
    helped = pages(())[STUDY_FILE]
    for section in sections():
        assert f"{section.name} (" in printed and f"<h3>{section.name}</h3>" in helped
        for member in section.members:
            assert f"  {member.name}: " in printed and f"<b>{member.name}</b>" in helped


def test_the_terminal_prints_the_schema(capsys) -> None:
    from profiler.cli.main import main

    assert main(["schema"]) == 0
    assert json.loads(capsys.readouterr().out) == json.loads(json.dumps(json_schema()))
