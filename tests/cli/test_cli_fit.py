"""fit in the terminal: what it prints and writes, its exit codes, and one sentence for what cannot be used."""

import json
from pathlib import Path

import pytest
from msgspec.structs import replace

from profiler.cli.main import main
from profiler.study import Study, read_study, write_study
from profiler.study.files.examples import read

STUDY = read("graded")


def written(folder: Path, study: Study) -> str:
    path = folder / "study.bowl"
    write_study(study, path)
    return str(path)


@pytest.fixture
def smaller(tmp_path: Path) -> str:
    return written(
        tmp_path, replace(STUDY, machine=replace(STUDY.machine, lip_radius_mm=200.0, height_mm=280.0, seat=()))
    )


def test_fit_says_what_gave_way_and_saves_the_study_with_the_design_shown(smaller, tmp_path, capsys):
    out = tmp_path / "fitted.bowl"
    assert main(["fit", smaller, "--design", "Plain cone", "--save", str(out)]) == 0
    said = capsys.readouterr().out
    assert "Fitted to Pilot rotor (invented): lip radius 200 mm, height 280 mm" in said and f"written: {out}" in said
    study = read_study(out)
    assert study.shown.design == "Plain cone" and study.design.wall.lip_radius_mm == 200.0
    assert study.design.wall.height_mm == 280.0 and study.designs[0] == STUDY.designs[0]


def test_fit_as_json_has_the_keys_that_were_promised(smaller, capsys):
    assert main(["fit", smaller, "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["met"] is True and answer["binding"] is None and answer["misses_mm"] is None
    assert abs(answer["lip_error_mm"]) < 1e-6 and abs(answer["height_error_mm"]) < 1e-6


def test_a_limit_that_binds_exits_with_1_and_writes_nothing(tmp_path, capsys):
    file = written(tmp_path, replace(STUDY, machine=replace(STUDY.machine, lip_radius_mm=260.0)))
    out = tmp_path / "fitted.bowl"
    assert main(["fit", file, "--json", "--save", str(out)]) == 1
    answer = json.loads(capsys.readouterr().out)
    assert answer["met"] is False and answer["binding"] == "least_wall" and answer["misses_mm"] > 0.0
    assert answer["lip_error_mm"] == pytest.approx(217.6 - 260.0)
    assert not out.exists()


def test_the_ways_that_remain_are_printed(tmp_path, capsys):
    file = written(tmp_path, replace(STUDY, machine=replace(STUDY.machine, lip_radius_mm=110.0, seat=())))
    assert main(["fit", file]) == 1
    assert "Turn all unlocked knots by" in capsys.readouterr().out


def test_what_is_no_study_file_is_not_written(smaller, capsys):
    assert main(["fit", smaller, "--save", "fitted.dxf"]) == 2
    assert "cannot be the study's file" in capsys.readouterr().err
