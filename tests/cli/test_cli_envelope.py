"""envelope in the terminal: a machine read from a drawing into a study, and one sentence for what cannot be used."""

import json
from pathlib import Path

import pytest

from profiler.cli.main import main
from profiler.study import read_study, write_study
from profiler.study.files.examples import read
from tests.assess.drawn.written import SEAT, draw_rotor, saved


@pytest.fixture
def into(tmp_path: Path) -> str:
    path = tmp_path / "study.bowl"
    write_study(read("graded"), path)
    return str(path)


def test_a_rotor_becomes_the_studys_machine_and_the_bowl_is_fitted_to_it(into: str, tmp_path: Path, capsys) -> None:
    drawing = saved(tmp_path / "rotor.dxf", draw_rotor)
    machine, out = str(tmp_path / "machine.bowl"), tmp_path / "fitted.bowl"
    assert main(["envelope", str(drawing), "--into", into, "--lip", "190", "--height", "260", "--save", machine]) == 0
    assert "a seat of 3 points, 262 mm high" in capsys.readouterr().out
    assert main(["fit", machine, "--save", str(out)]) == 0
    study = read_study(out)
    assert [(p.height_mm, p.radius_mm) for p in study.machine.seat] == list(SEAT)
    assert study.design.wall.lip_radius_mm == 190.0 and study.design.wall.height_mm == 260.0
    assert study.design.grooves.count == 14


def test_a_drawn_bowl_is_taken_as_a_further_design(into: str, tmp_path: Path, capsys) -> None:
    drawing, out = tmp_path / "bowl.dxf", tmp_path / "with.bowl"
    assert main(["export", into, str(drawing)]) == 0
    words = ["envelope", str(drawing), "--into", into, "--wall", "As drawn", "--save", str(out), "--json"]
    capsys.readouterr()
    assert main(words) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["bowl_grooves"] == 14 and answer["bowl_worst_mm"] <= 0.2
    assert [d.name for d in read_study(out).designs].count("As drawn") == 1


def test_points_need_a_unit(into: str, tmp_path: Path, capsys) -> None:
    table = tmp_path / "seat.csv"
    table.write_text("radius,height\n0,0\n6.3,0\n9.0,9.8\n")
    assert main(["envelope", str(table), "--into", into]) == 2
    assert "does not say its unit: give --unit" in capsys.readouterr().err
    words = ["envelope", str(table), "--into", into, "--unit", "inch", "--lip", "190", "--height", "250", "--json"]
    assert main(words) == 0
    assert json.loads(capsys.readouterr().out)["seat"][0]["radius_mm"] == pytest.approx(160.02)


@pytest.mark.parametrize(
    ("more", "words"),
    [(["--seat", "99"], "--seat 99: the drawing has"), (["--axis", "9"], "There is no axis 9"),
     (["--scale", "0"], "scale must be"), (["--lip", "x"], "--lip:"), (["--wall", "w"], "no existing bowl"),
     (["--lip", "240"], "narrower than the lip")],
)  # fmt: skip
def test_what_cannot_be_used_is_one_sentence(more: list[str], words: str, into: str, tmp_path: Path, capsys) -> None:
    drawing = saved(tmp_path / "rotor.dxf", draw_rotor)
    assert main(["envelope", str(drawing), "--into", into, *more]) == 2
    told = capsys.readouterr().err
    assert words in told and told.count("\n") == 1
