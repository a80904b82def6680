"""Values as ISO 10303-21 writes them (strings: clause 6.4.3; reals: clause 6.4.2; both from memory)."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from profiler.output.step.part21 import Entities, quoted, real
from profiler.output.step.solid import Label, file_text, solid_of
from tests.output.step.part21_reader import File, decoded
from tests.published.drawings.test_drawing_values import GROOVED, chain, polygon

LETTERS = st.text(st.characters(exclude_categories=["Cs", "Cc"]))


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("Bowl 3", "'Bowl 3'"),
        ("Müller", "'M\\X2\\00FC\\X0\\ller'"),
        ("碗Ж", "'\\X2\\78970416\\X0\\'"),
        ("𝛼x", "'\\X4\\0001D6FC\\X0\\x'"),
        ("a\\b", "'a\\\\b'"),
        ("two\nlines", "'two lines'"),
        ("\ud800", "'?'"),
    ],
)
def test_a_string_is_written_by_the_rules(text, written):
    assert quoted(text) == written


@settings(max_examples=200, derandomize=True, deadline=None)
@given(LETTERS)
def test_any_text_comes_back_from_plain_ascii(text):
    written = quoted(text)
    assert written.isascii() and written.isprintable()
    assert decoded(written) == text


def test_no_string_holds_an_apostrophe_that_a_reader_could_end_it_at():
    """One common kernel takes a doubled apostrophe before a comma or a bracket for the end, and drops the entity."""
    for text in ("the owner's", "'quoted', then", "('')"):
        assert "'" not in quoted(text)[1:-1]
        assert decoded(quoted(text)) == text


@settings(max_examples=200, derandomize=True, deadline=None)
@given(st.floats(allow_nan=False, allow_infinity=False, min_value=-1e12, max_value=1e12))
def test_a_real_has_its_point_and_its_value(value):
    text = real(value)
    assert re.fullmatch(r"-?\d+\.\d*(E-?\d+)?", text)
    assert float(text) == pytest.approx(value, rel=1e-14, abs=0.0)


@pytest.mark.parametrize(("value", "text"), [(-0.0, "0."), (1.0, "1."), (1e-6, "1.E-6"), (6.1e-17, "6.1E-17")])
def test_a_real_by_example(value, text):
    assert real(value) == text


def test_what_is_shared_is_written_once_and_what_is_not_is_not():
    entities = Entities()
    assert entities.point((1.0, 2.0, 3.0)) == entities.point((1.0, 2.0, 3.0)) == "#1"
    assert entities.add("VERTEX_POINT('',#1)") != entities.add("VERTEX_POINT('',#1)")


def test_directions_that_are_all_but_an_axis_are_that_axis():
    entities = Entities()
    assert entities.direction((6.1e-17, 0.0, 1.0)) == entities.direction((0.0, -0.0, 1.0))


def test_the_header_names_format_program_and_day():
    label = Label("Ring", "ring", ("Plain words.",), "ring.step", "2031-04-05", "A. Nobody")
    header = File(file_text(solid_of(chain(*GROOVED)), label)).header
    assert header["FILE_DESCRIPTION"] == [["Plain words."], "2;1"]
    name, day, authors, organisations, preprocessor, system, approval = header["FILE_NAME"]
    assert (name, day, authors, organisations, approval) == (
        "ring.step",
        "2031-04-05T00:00:00",
        ["A. Nobody"],
        [""],
        "",
    )
    assert preprocessor == system and system.startswith("Bowl Profiler ")
    ((schema,),) = header["FILE_SCHEMA"]
    assert schema == "AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF { 1 0 10303 442 1 1 4 }"


def test_long_statements_are_parted_before_readers_part_them():
    label = Label("Ring", "ring", ("word " * 100,))
    statements = File(file_text(solid_of(chain(*GROOVED)), label)).header["FILE_DESCRIPTION"][0]
    assert "".join(statements) == "word " * 100 and max(map(len, statements)) <= 256


def test_units_uncertainty_and_product_are_there_and_lead_to_the_solid():
    file = File(file_text(solid_of(chain(*GROOVED)), Label("Ring, bowl", "bowl")))
    (link,) = file.all("SHAPE_DEFINITION_REPRESENTATION")
    shape, representation = (file[ref] for ref in link.values)
    definition = file[shape.values[2]]
    product = file[file[definition.values[2]].values[2]]
    assert product.values[:2] == ["Ring, bowl", "Ring, bowl"]
    assert {file[ref].keyword for ref in representation.values[1]} == {"AXIS2_PLACEMENT_3D", "MANIFOLD_SOLID_BREP"}
    context = file[representation.values[2]]
    ((unsure,),) = context.part("GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT")
    assert file[unsure].values[0].values == [1e-6]
    units = [file[ref] for ref in context.part("GLOBAL_UNIT_ASSIGNED_CONTEXT")[0]]
    prefixes = [[getattr(value, "name", value) for value in unit.part("SI_UNIT")] for unit in units]
    assert prefixes == [["MILLI", "METRE"], ["$", "RADIAN"], ["$", "STERADIAN"]]
    assert file[unsure].values[1] == context.part("GLOBAL_UNIT_ASSIGNED_CONTEXT")[0][0]


@pytest.mark.parametrize(
    ("right", "wrong"),
    [("1.E-6", "1E-6"), ("PLANE('',", "PLANE(''"), ("EDGE_LOOP('',(#", "EDGE_LOOP('',(#9"), ("VERTEX_POINT", "VERTEX"),
     (",.T.);", ");"), ("2;1", "ü")],
)  # fmt: skip
def test_the_tests_own_reader_refuses_a_faulty_file(right, wrong):
    text = file_text(solid_of(polygon((10, 0), (20, 0), (20, 5), (10, 5))), Label("Ring", "ring"))
    File(text)
    assert right in text
    with pytest.raises((AssertionError, KeyError, UnicodeEncodeError)):
        File(text.replace(right, wrong, 1))
