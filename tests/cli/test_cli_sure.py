"""castings and matters in the terminal: no share without its bowls, keys, and one sentence for what cannot be used."""

import json

import pytest

from profiler.cli.main import main
from profiler.study import write_study
from profiler.study.files.examples import read


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "study.bowl"
    write_study(read("graded"), path)
    return str(path)


def test_castings_say_how_many_bowls_stand_behind_them(file, capsys):
    assert main(["castings", file, "--bowls", "4", "--angle", "0.5"]) == 0
    said = capsys.readouterr().out
    assert said.startswith(
        "Shares of simulated bowls under tolerances you assumed; friction is unknown and shown apart."
    )
    assert "In 4 simulated bowls" in said and "Bowls of 4" in said and "common practice" in said
    assert "angle of the wall 0.5" in said


def test_castings_as_json_have_the_keys_that_were_promised(file, capsys):
    assert main(["castings", file, "--bowls", "4", "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["bowls"] == 4 and len(answer["grooves"]) == 14 and len(answer["friction"]) == 3
    first = answer["grooves"][0]
    assert [n / 4 for n in first["bowls_falling"]] == first["share_falling"]
    assert set(answer["costs_mm"]) == set(answer["tolerances"])


def test_matters_ranks_what_is_given_and_lists_what_is_not(file, capsys):
    assert main(["matters", file, "--plus-minus", "solids=2", "--quantity", "power_w"]) == 0
    said = capsys.readouterr().out
    assert said.startswith("Overturn power, all grooves") and "Not given, so not ranked: speed" in said
    assert main(["matters", file, "--plus-minus", "solids=2", "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert {e["input"] for e in answer["quantities"][0]["effects"]} == {"friction", "solids"}
    assert "Speed" in answer["not_given"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("castings", "--bowls", "1"), "at least 2"),
        (("castings", "--angle", "wide"), "not a number"),
        (("castings", "--seed", "-2"), "seed"),
        (("matters", "--plus-minus", "solids"), "write it as"),
        (("matters", "--plus-minus", "gold=1"), "not an input"),
        (("matters", "--quantity", "count_strong"), "band"),
    ],
)
def test_what_cannot_be_used_is_one_sentence(file, capsys, words, said):
    assert main([words[0], file, *words[1:]]) == 2
    told = capsys.readouterr().err
    assert said in told and told.count("\n") == 1
