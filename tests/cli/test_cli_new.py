"""From nothing to a report in the terminal: machine typed, seat drawn, bowl fitted; no number of an example in it."""

import re
from pathlib import Path

import msgspec
import pytest
from msgspec.structs import replace

from profiler.cli.main import main
from profiler.study import Knot, Study, WallCurve, not_given, read_study, write_study
from profiler.study.files import examples
from profiler.study.records.machine import DRIVE_POWER, FASTEST_SPEED, OTHER_MASS, SUPPLY_PRESSURE
from tests.assess.drawn.written import draw_rotor, saved

TYPED = ["--speed", "701", "--solids", "31", "--d50", "93", "--feed", "1.23", "--water", "57"]
EXAMPLE = examples.read(examples.DEFAULT)


def test_a_study_from_nothing_holds_nothing_of_an_example_in_its_report(tmp_path: Path) -> None:
    mine, machine, fitted, report = (str(tmp_path / name) for name in ("a.bowl", "b.bowl", "c.bowl", "r.html"))
    drawing = str(saved(tmp_path / "rotor.dxf", draw_rotor))
    assert main(["new", mine, "--lip", "190", "--height", "260", "--jacket-gap", "5.5", *TYPED]) == 0
    assert main(["envelope", drawing, "--into", mine, "--lip", "190", "--height", "260", "--save", machine]) == 0
    study = read_study(Path(machine))
    wall = WallCurve((Knot(0.0, 25.0), Knot(90.0, 19.5), Knot(177.0, 9.0), Knot(260.0, 1.5)), lip_radius_mm=190.0)
    rule = replace(study.design.grooves, count=14, mouth_mm=7.5, depth_mm=7.0, to_mm=265.0)
    graded = replace(study.design, name="Graded", wall=wall, grooves=rule)
    write_study(study.having("design", graded), Path(machine))
    assert main(["fit", machine, "--save", fitted]) == 0
    assert read_study(Path(fitted)).design.grooves.count == 14
    assert main(["export", fitted, report]) == 0
    text = re.sub(r"<[^>]+>", " ", Path(report).read_text(encoding="utf-8"))
    theirs = words_of(EXAMPLE) - words_of(read_study(Path(fitted)))
    assert read_study(Path(fitted)).design.body.fill_seat and "5.5 mm" in text
    assert set(not_given(read_study(Path(fitted)).machine)) >= {FASTEST_SPEED, SUPPLY_PRESSURE, DRIVE_POWER, OTHER_MASS}
    assert {"217.6", EXAMPLE.machine.name, EXAMPLE.design.name} <= theirs
    found = {word for word in theirs if re.search(rf"(?<![\d.]){re.escape(word)}(?![\d.])", text)}
    assert found == set()


def words_of(study: Study) -> set[str]:
    """Names, notes and telling numbers of a study: three digits or more, which nothing else gives by chance."""
    found: set[str] = set()

    def walk(value: object) -> None:
        if isinstance(value, dict):
            for each in value.values():
                walk(each)
        elif isinstance(value, list):
            for each in value:
                walk(each)
        elif isinstance(value, str) and len(value) > 8:
            found.add(value)
        elif isinstance(value, float) and len(f"{value:g}".replace(".", "").strip("0-")) > 2:
            found.add(f"{value:g}")

    walk(msgspec.to_builtins(study))
    return found


@pytest.mark.parametrize(
    ("words", "said"),
    [(["--lip", "190", *TYPED], "Bowl height is not given"),
     (["--lip", "190", "--height", "260"], "Speed is not given"),
     (["--lip", "x", "--height", "260", *TYPED], "--lip:"),
     (["--machine-of", "other.bowl", "--jacket-gap", "4", *TYPED], "--jacket-gap is of a new machine")],
)  # fmt: skip
def test_what_lacks_is_one_sentence(words: list[str], said: str, tmp_path: Path, capsys) -> None:
    assert main(["new", str(tmp_path / "n.bowl"), *words]) == 2
    assert said in capsys.readouterr().err and not list(tmp_path.iterdir())
