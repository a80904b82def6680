"""compare and map in the terminal: what they print, their exit codes, and one sentence for what cannot be used."""

import csv
import io
import json
import re

import pytest

from profiler.assess import evaluate
from profiler.assess.quantities.table import quantity
from profiler.cli.main import main
from profiler.explore.ore_map import AXES
from profiler.study import write_study
from profiler.study.files.examples import read


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "graded.bowl"
    write_study(read("graded"), path)
    return str(path)


def test_compare_prints_a_table_of_at_most_100_columns(file, capsys):
    assert main(["compare", file]) == 0
    out = capsys.readouterr().out
    assert "All on Pilot rotor (invented)" in out and "Cone under an upr" in out
    assert max(map(len, out.splitlines()[1:])) <= 100 or "ore window is empty" in out


def test_compare_under_another_duty_gives_its_numbers(file, capsys):
    assert main(["compare", file, "--duty", "Thin and fine", "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["duty"] == "Thin and fine"
    assert answer["designs"][0]["under"]["shown"]["count_strong"] == 4.0  # and two not claimed


def test_compare_exits_with_1_where_a_stop_exists_and_still_prints(tmp_path, capsys):
    path = tmp_path / "faulty.bowl"
    write_study(read("faulty"), path)
    assert main(["compare", str(path), "--csv"]) == 1
    assert capsys.readouterr().out.startswith("design,reference")


def test_map_as_json_holds_the_windows_value_at_the_present_point(file, capsys):
    words = ["map", file, "--x", "solids=20:65", "--y", "d50=50:400", "--count", "5", "--json"]
    assert main([*words, "--quantity", "groove_ratio", "--groove", "4"]) == 0
    answer = json.loads(capsys.readouterr().out)
    study = read("graded")
    now = float(quantity("groove_ratio").get(evaluate(study.design, study.machine, study.duty))[3])
    row, column = answer["y"]["values"].index(110.0), answer["x"]["values"].index(36.0)
    assert answer["values"][row][column] == answer["present"]["value"] == now


def test_map_as_csv_text_and_picture(file, tmp_path, capsys):
    words = ["map", file, "--x", "solids", "--y", "water", "--count", "4"]
    assert main([*words, "--csv"]) == 0
    assert len(list(csv.reader(io.StringIO(capsys.readouterr().out)))) == 17
    assert main(words) == 0
    assert "across Solids, % by mass" in capsys.readouterr().out
    assert main([*words, "--png", str(tmp_path / "map.png")]) == 0
    assert (tmp_path / "map.png").read_bytes().startswith(b"\x89PNG")


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--x", "solids=65:20", "--y", "d50"], "is empty"),
        (["--x", "solids=20", "--y", "d50"], "20:65"),
        (["--x", "solids=a:b", "--y", "d50"], "20:65"),
        (["--x", "pressure", "--y", "d50"], "no axis"),
        (["--x", "solids", "--y", "solids"], "two different"),
        (["--x", "solids", "--y", "d50", "--quantity", "nothing"], "no quantity"),
        (["--x", "solids", "--y", "d50", "--quantity", "groove_ratio"], "1 to 14"),
        (["--x", "solids", "--y", "d50", "--count", "1"], "2 to 400"),
        (["--x", "solids", "--y", "d50", "--png", "graded.bowl"], "cannot be the picture"),
        (["--x", "solids", "--y", "d50", "--duty", "Nobody"], "no duty"),
        (["--x", "solids"], "--y"),
    ],
)
def test_what_cannot_be_used_is_one_sentence_and_exit_code_2(file, arguments, words, capsys):
    assert main(["map", file, *arguments]) == 2
    said = capsys.readouterr()
    assert said.out == "" and words in said.err and said.err.count("\n") == 1


def test_the_columns_of_a_map_of_small_numbers_stay_apart(file, capsys):
    assert main(["map", file, "--x", "feed=0.0012345:0.02", "--y", "d50", "--count", "6"]) == 0
    rows = [line.split() for line in capsys.readouterr().out.splitlines()[3:10]]
    assert [len(row) for row in rows] == [7] * 6 + [6]


def test_a_design_without_a_flow_cannot_be_mapped_and_exits_with_1(tmp_path, capsys):
    from msgspec.structs import replace

    study = read("graded")
    broken = replace(study.design, grooves=replace(study.design.grooves, mouth_mm=60.0))
    write_study(replace(study, designs=(broken,)), tmp_path / "b.bowl")
    assert main(["map", str(tmp_path / "b.bowl"), "--x", "solids", "--y", "d50"]) == 1
    said = capsys.readouterr()
    assert said.out == "" and "nothing mapped" in said.err


def test_the_help_of_the_map_names_every_axis_and_no_other(capsys):
    assert main(["map", "--help"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    found = re.search(r"--x AXIS\[=LOW:HIGH\] ([^\[\]]*), with its range", said)
    assert found is not None and set(re.split(", | or ", found[1])) == {axis.word for axis in AXES}
