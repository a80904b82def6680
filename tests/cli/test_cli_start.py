"""Starting curves: what each is, that it is always fitted, and the command that gives one."""

import numpy as np
import pytest

from profiler.assess import evaluate
from profiler.assess.fitting.starting_curves import graded, one_angle, started, two_angles
from profiler.cli.main import main
from profiler.study import read_study, write_study
from profiler.study.files.examples import read

STUDY = read("graded")
HEIGHT = STUDY.machine.height_mm


def test_every_starting_curve_is_fitted():
    """By the plain evaluation: lip, height and floor radius by hand."""
    run = HEIGHT * np.tan(np.radians(16.0))
    two = 100.0 * np.tan(np.radians(22.0)) + (HEIGHT - 100.0) * np.tan(np.radians(12.0))
    for knots, opened in (
        (one_angle(HEIGHT, 16.0), run),
        (two_angles(HEIGHT, 22.0, 12.0, 100.0), two),
        (graded(HEIGHT, 28.0, 6.0, 1.0), None),
    ):
        found = started(STUDY.design, STUDY.machine, knots)
        shape = evaluate(found.design, STUDY.machine, STUDY.duty).shape
        assert shape.lip_radius == pytest.approx(STUDY.machine.lip_radius_mm, abs=1e-6)
        assert shape.height == pytest.approx(HEIGHT, abs=1e-6)
        if opened is not None:
            assert shape.lip_radius - shape.floor_radius == pytest.approx(opened, abs=1e-6)


@pytest.mark.parametrize("power", [0.5, 1.0, 2.0, 3.0])
def test_a_graded_curve_follows_its_law(power):
    e = evaluate(
        started(STUDY.design, STUDY.machine, graded(HEIGHT, 28.0, 8.0, power)).design, STUDY.machine, STUDY.duty
    )
    at = e.shape.stations
    law = 8.0 + 20.0 * (1.0 - at.height / HEIGHT) ** power
    assert np.max(np.abs(np.degrees(at.angle) - law)) < (3.0 if power < 1.0 else 1.0)


def test_the_command_saves_a_fitted_curve_and_refuses_in_a_sentence(tmp_path, capsys):
    file, out = tmp_path / "study.bowl", tmp_path / "started.bowl"
    write_study(STUDY, file)
    assert main(["start", str(file), "--two", "22,12,100", "--save", str(out)]) == 0
    assert read_study(out).design.wall.knots[1].leaving_deg == 12.0
    capsys.readouterr()
    for words, said in ((("--two", "22,12"), "three numbers"), (("--two", "22,12,900"), "inside the wall"),
                        (("--graded", "28,8,9"), "makes no wall"), (("--one", "steep"), "not a number")):  # fmt: skip
        assert main(["start", str(file), *words]) == 2
        assert said in capsys.readouterr().err
    assert main(["start", str(file), "--one", "45"]) == 1
