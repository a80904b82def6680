"""calibrate in the terminal: measurements kept, friction set, check --json tells of it; one sentence for what fails."""

import json

import pytest

from profiler.cli.main import main
from profiler.study import read_study, write_study
from profiler.study.files.examples import read


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "study.bowl"
    write_study(read("graded"), path)
    return str(path)


def test_an_angle_is_kept_and_the_duty_calibrated(file, tmp_path, capsys):
    out = tmp_path / "measured.bowl"
    angle = ("--angle", "8.5", "--height", "200", "--how", "invented")
    assert main(["calibrate", file, *angle, "--save", str(out)]) == 0
    said = capsys.readouterr().out
    assert "95 % interval" in said and "One slurry, one bowl, one stop. A packed groove may have lacked water." in said
    study = read_study(out)
    assert study.measurements[0].angle_deg == 8.5 and study.duty.calibrated is not None
    main(["check", str(out), "--json"])
    row = json.loads(capsys.readouterr().out)["calibration"]
    assert row["friction"] == study.duty.friction and row["least_band_deg"] == pytest.approx(1.0)
    main(["check", file, "--json"])
    assert json.loads(capsys.readouterr().out)["calibration"] is None


def test_a_stopped_bowl_as_json_has_the_keys_that_were_promised(file, capsys):
    assert main(["calibrate", file, "--seen", "cccccccuuppppp", "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["kind"] == "bracket" and answer["low"] < answer["friction"] < answer["high"]
    assert answer["measurements"][0]["name"] == "Stopped bowl" and answer["contradictions"] == []


def test_no_friction_exits_with_1_and_keeps_the_measurement(file, tmp_path, capsys):
    out = tmp_path / "measured.bowl"
    assert main(["calibrate", file, "--seen", "cccccccccuuuuu", "--save", str(out)]) == 1
    study = read_study(out)
    assert len(study.measurements) == 1 and study.duty.calibrated is None


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "no measurement"),
        (("--angle", "8"), "--height"),
        (("--angle", "steep", "--height", "200"), "not a number"),
        (("--angle", "8", "--height", "200", "--spread", "0"), "above 0"),
        (("--seen", "pxc"), "not a groove's state"),
        (("--seen", "ppc"), "has 14"),
    ],
)
def test_what_cannot_be_used_is_one_sentence(file, capsys, words, said):
    assert main(["calibrate", file, *words]) == 2
    told = capsys.readouterr().err
    assert said in told and told.count("\n") == 1
