"""eddy in the terminal: the promised keys, the files it writes, and one sentence for what cannot be answered."""

import csv
import io
import json
import re
from xml.etree import ElementTree

import pytest
from msgspec.structs import replace

from profiler.cli.main import main
from profiler.study import write_study
from profiler.study.edits.design_edits import with_design, with_grooves
from profiler.study.files.examples import read

KEYS = (
    "groove driven converged elements reynolds rotation lid_speed_m_s lid_lag mouth_mm depth_ratio drop_ratio fill "
    "through_flow wall_angle_deg psi_min centre_x centre_y reach reach_low reach_high circulation_m2_s turnover_s "
    "moving_depth_mm_low moving_depth_mm_high left_out"
)
SVG = "{http://www.w3.org/2000/svg}"


def written(path, **cut):
    """The graded example with its grooves cut otherwise."""
    study = read("graded")
    write_study(with_design(study, with_grooves(study.design, replace(study.design.grooves, **cut))), path)
    return str(path)


@pytest.fixture(scope="module")
def file(tmp_path_factory):
    return written(tmp_path_factory.mktemp("eddy") / "graded.bowl")


def answered(capsys, *words):
    assert main(["eddy", *words, "--json"]) in (0, 1)
    return json.loads(capsys.readouterr().out)


def test_json_has_the_promised_keys_and_belongs_together(file, capsys):
    asked = ("--reynolds", "200", "--landing", "0.3", "--fill", "0,25")
    said = answered(capsys, file, "--groove", "3", *asked)
    assert list(said) == KEYS.split()
    assert (said["reynolds"], said["fill"]) == (200.0, 0.25)
    assert said["driven"] and said["converged"] and said["elements"] == [24, 24]
    assert said["reach_low"] < said["reach"] < said["reach_high"]
    assert said["lid_lag"] > 0.0 and said["psi_min"] < 0.0 and said["centre_y"] < 0.0
    assert said["drop_ratio"] == 0.0  # a groove square to the wall: the lid lies along the mouth
    assert said["moving_depth_mm_low"] < said["moving_depth_mm_high"]


def test_a_sheltered_groove_has_nulls_and_says_why(file, capsys):
    said = answered(capsys, file, "--groove", "13")
    assert not said["driven"] and not said["converged"]
    assert {said[k] for k in ("psi_min", "reach", "reach_low", "circulation_m2_s", "turnover_s", "elements")} == {None}
    assert said["depth_ratio"] == pytest.approx(9.0 / 8.0, rel=1e-4)
    assert said["left_out"][0].startswith("No eddy is driven here")


@pytest.mark.long
def test_csv_and_svg_are_written(file, tmp_path, capsys):
    table, picture = tmp_path / "eddy.csv", tmp_path / "eddy.svg"
    assert main(["eddy", file, "--groove", "3", "--csv", str(table)]) == 0
    assert main(["eddy", file, "--groove", "3", "--svg", str(picture)]) == 0
    assert capsys.readouterr().out.splitlines() == [f"written: {table}", f"written: {picture}"]
    rows = list(csv.reader(io.StringIO(table.read_text(encoding="utf-8"))))
    assert rows[0] == ["figure", "unit", "low", "middle", "high"]
    for label, _, low, middle, high in rows[1:]:
        assert float(low) <= float(middle or low) <= float(high), label
    root = ElementTree.parse(picture).getroot()
    assert len(root.findall(f"{SVG}polyline")) > 10
    assert any("overfall" in (text.text or "") for text in root.iter(f"{SVG}text"))


@pytest.mark.long
def test_the_text_names_every_band_and_the_standing_doubt(file, capsys):
    assert main(["eddy", file, "--groove", "3"]) == 0
    out = capsys.readouterr().out
    assert "Change no depth on this alone." in out and "What is left out" in out
    assert re.search(r"Reach +\d\.\d \(\d\.\d to \d\.\d\) mm", out)
    assert max(map(len, out.splitlines())) <= 100


REFUSALS = {
    "depth 0": ({"depth_mm": 0.0}, "depth", 1),
    "flanks that meet": ({"flank_deg": 30.0}, "flank", 1),
    "edge radius of a fifth": ({"edge_radius_mm": 1.6, "floor_radius_mm": 0.5}, "edge radius is 0.2 mouths", None),
}


@pytest.mark.parametrize("cut, words, code", REFUSALS.values(), ids=REFUSALS)
def test_a_groove_without_an_answer_is_refused_in_one_sentence(tmp_path, capsys, cut, words, code):
    exits = main(["eddy", written(tmp_path / "odd.bowl", **cut), "--groove", "3", "--json"])
    told = capsys.readouterr()
    if code is None:
        said = json.loads(told.out)
        assert said["driven"] and not said["converged"] and said["reach"] is None
        assert words in said["left_out"][0]
    else:
        assert exits == code and not told.out
        assert words in told.err.lower() and told.err.count("\n") == 1


@pytest.mark.parametrize(
    "words, sentence",
    [
        (["--groove", "23"], "has no groove 23; it has 14."),
        (["--groove", "3", "--landing", "2"], "it lies between 0 and 1."),
        (["--groove", "3", "--fill", "2"], "is 2 full of a bed; the share lies between 0 and 1."),
        (["--groove", "12", "--fill=-1"], "is -1 full of a bed; the share lies between 0 and 1."),
        (["--groove", "12", "--reynolds", "0"], "Reynolds number of 0 is none; it lies above 0."),
        (["--groove", "3", "--reynolds", "many"], "many"),
        (["--groove", "3", "--svg", "study.bowl"], "give it a name such as eddy.svg."),
    ],
)
def test_what_cannot_be_used_is_one_sentence(file, capsys, words, sentence):
    assert main(["eddy", file, *words]) == 2
    told = capsys.readouterr()
    assert not told.out and sentence in told.err and told.err.count("\n") == 1


def test_a_full_groove_is_refused_in_one_sentence(file, capsys):
    said = answered(capsys, file, "--groove", "3", "--fill", "1")
    assert not said["converged"] and "full to its mouth" in said["left_out"][0]
