"""find in the terminal: its keys, its exit codes, and one sentence for what cannot be searched."""

import json

import pytest
from msgspec.structs import replace

from profiler.cli.main import main
from profiler.study import read_study, write_study
from profiler.study.files.examples import read

STUDY = read("graded")
FEW = ("--points", "2", "--knots", "2")


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "study.bowl"
    write_study(STUDY, path)
    return str(path)


def test_find_answers_saves_and_says_what_it_does_not_know(file, tmp_path, capsys):
    out = tmp_path / "found.bowl"
    assert main(["find", file, "--raise", "strong_height_mm", *FEW, "--save", str(out)]) == 0
    said = capsys.readouterr().out
    assert said.startswith("Best found for your goal within this model. The model does not know which bowl catches")
    assert "optimal" not in said and "optimum" not in said and f"written: {out}" in said
    assert "trivial wall" in said
    study = read_study(out)
    assert study.shown.design == "Graded, first try, found" and study.designs[0] == STUDY.designs[0]


def test_find_as_json_has_the_keys_that_were_promised(file, capsys):
    assert main(["find", file, "--course", "20,40,25,15", "--over", "window", *FEW, "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["met"] is True and answer["binding"] == [] and answer["evaluations"] > 2
    assert answer["value"] <= answer["start"]
    assert answer["candidates"][0]["value"] == answer["value"] and len(answer["candidates"][0]["angles_deg"]) >= 2
    assert answer["duties"] == [d.name for d in STUDY.window]


def test_conditions_that_exclude_everything_exit_with_1_and_write_nothing(file, tmp_path, capsys):
    out = tmp_path / "found.bowl"
    least = ("--at-least", "exposed_height_mm=900")
    assert main(["find", file, "--lower", "deepest_bed_mm", *least, *FEW, "--json", "--save", str(out)]) == 1
    answer = json.loads(capsys.readouterr().out)
    assert answer["met"] is False and answer["value"] is None and answer["start"] is not None
    assert answer["binding"][0]["key"] == "exposed_height_mm" and not out.exists()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--raise", "count_strong"), "band"),
        (("--raise", "land_mm"), "one number of the whole bowl"),
        (("--raise", "gold"), "no quantity"),
        (("--course", "1,2,3"), "add up to 100"),
        (("--course", "a,b,c,d"), "not a number"),
        (("--lower", "mass_kg", "--at-least", "land_mm"), "write it as"),
        (("--lower", "mass_kg", "--knots", "9"), "2 to 5 knots"),
        (("--lower", "mass_kg", "--seed", "-1"), "seed"),
        (("--lower", "mass_kg", "--save", "x.dxf"), "cannot be the study's file"),
        ((), "required"),
    ],
)
def test_what_cannot_be_searched_is_one_sentence(file, capsys, words, said):
    assert main(["find", file, *words]) == 2
    told = capsys.readouterr().err
    assert said in told and told.count("\n") == 1


def test_an_empty_ore_window_is_one_sentence(tmp_path, capsys):
    path = tmp_path / "study.bowl"
    write_study(replace(STUDY, duties=tuple(replace(d, in_window=False) for d in STUDY.duties)), path)
    assert main(["find", str(path), "--course", "25,25,25,25"]) == 2
    assert "ore window is empty" in capsys.readouterr().err
