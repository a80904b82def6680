"""The exact solid among the outputs: flags of the terminal, the table shown before it is written, refusals."""

import pytest
from msgspec.structs import replace

from profiler.assess import Stages, evaluate
from profiler.assess.findings.finding import NEVER_SPIN
from profiler.cli.command import STOPPED
from profiler.cli.main import main
from profiler.output.record.option import Request
from profiler.output.step.step_output import STEP
from profiler.pictures.basics.display import Area
from profiler.pictures.sheet.items import Placed, Text
from profiler.study import HoleChange, HolePlan, write_study
from profiler.study.edits.design_edits import with_design
from profiler.study.files import examples
from tests.output.step.part21_reader import File

PLAN = HolePlan(3, 1.5, 0.0, (HoleChange(2, diameter_mm=9.0),))


@pytest.fixture(scope="module")
def study():
    read = examples.read("watered")
    return with_design(read, replace(read.design, holes=PLAN))


@pytest.fixture
def export(study, tmp_path, capsys):
    path = tmp_path / "s.bowl"
    write_study(study, path)

    def run(*flags, name="out.step"):
        code = main(["export", str(path), str(tmp_path / name), *flags])
        said = capsys.readouterr()
        return code, said.out + said.err, tmp_path / name

    return run


@pytest.mark.parametrize(
    ("flags", "words", "statement"),
    [
        ((), "33 water holes, 1 ring of holes as axes and points", "LEFT OUT of the solid: 3 water holes in 1 ring"),
        (("--no-holes",), "exact solid, 108 faces:", "LEFT OUT: the water holes."),
        (("--part", "former", "--shrinkage", "1.5"), "exact solid, 101 faces:", "Shrinkage +1.5 % added."),
        (("--part", "seat"), "exact solid, 4 faces:", 'Seat of the rotor of the design "Graded, with water holes"'),
    ],
)
def test_the_terminal_writes_the_part_it_is_told(export, flags, words, statement):
    code, said, path = export(*flags, "--date", "2031-04-05", "--creator", "A. Nobody")
    assert code == STOPPED and words in said  # a ring of 9 mm holes is a finding that stops
    header = File(path.read_text("ascii")).header
    assert any(line.startswith(statement) for line in header["FILE_DESCRIPTION"][0])
    assert any(line.startswith("NOT CHECKED: ") for line in header["FILE_DESCRIPTION"][0])
    assert header["FILE_NAME"][:3] == ["out.step", "2031-04-05T00:00:00", ["A. Nobody"]]


def test_the_other_usual_extension_will_do_and_a_shrunken_bowl_will_not(export):
    assert export("--part", "seat", name="out.stp")[2].exists()
    code, said, path = export("--shrinkage", "2", name="no.step")
    assert code == 2 and "--shrinkage belongs to --part former" in said and not path.exists()


def test_what_is_shown_before_writing_names_each_ring_left_out_and_why(study):
    e = evaluate(study.design, study.machine, study.duty, want=Stages.FINDINGS)
    said = shown(e)
    assert said[said.index("Water holes cut") + 1] == "33"
    at = said.index("Only marked: groove 2: 3 holes of diameter 9")
    assert said[at + 1 : at + 3] == ["3", "they are wider than the flat of the groove floor"]
    assert not any(text.startswith("Only marked") for text in shown(e, holes="left_out"))


@pytest.mark.parametrize("part", ["liner", "former", "seat"])
def test_the_part_is_shown_cut_open_with_its_name_and_the_caution(study, part):
    e = evaluate(study.design, study.machine, study.duty, want=Stages.FINDINGS)
    name = {"liner": "bowl", "former": "groove former", "seat": "seat of the rotor"}[part]
    (sheet,) = STEP.preview(e, Request({"part": part}))
    picture = next(item.picture for item in sheet.items if isinstance(item, Placed))
    assert sum(isinstance(item, Area) for item in picture.items) > 50
    said = " ".join(shown(e, part=part))
    assert f"The {name} cut open" in said and NEVER_SPIN.lower() in said.lower()


def shown(e, **values):
    """The texts of the preview's pages."""
    return [item.text for sheet in STEP.preview(e, Request(values)) for item in sheet.items if isinstance(item, Text)]


def test_a_part_that_has_no_solid_is_no_choice(export):
    code, said, path = export("--part", "gauge")
    assert code == 2 and not path.exists() and "none of liner, former, seat" in said
