"""What else differs is said before any number of a comparison; a counterpart differs in its wall alone."""

from pathlib import Path

import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.assess.fitting.counterpart import counterpart
from profiler.cli.main import main
from profiler.explore.compare import compare
from profiler.explore.what_else import WALL_ALONE, what_else_differs
from profiler.study import HolePlan, read_study, write_study
from profiler.study.files import examples

STUDY = examples.read(examples.DEFAULT)
GRADED, CONE = STUDY.designs[0], STUDY.designs[1]


def said(*designs) -> str:
    found = [evaluate(d, STUDY.machine, STUDY.duty) for d in designs]
    return " ".join(what_else_differs(found, found[0]))


CHANGES = {
    "mouth": (replace(GRADED, grooves=replace(GRADED.grooves, mouth_mm=9.0)), ("mean mouth 9.00 instead of 8.00 mm",)),
    "count": (replace(GRADED, grooves=replace(GRADED.grooves, count=12)), ("grooves 12 instead of 14",)),
    "holes": (replace(GRADED, holes=HolePlan(40, 2.0)), ("water holes (", "hole area")),
    "ring": (replace(GRADED, holes=replace(GRADED.holes, changes=())), ("water holes (single rings)",)),
    "body": (replace(GRADED, body=replace(GRADED.body, wall_mm=40.0)), ("body (wall thickness)", "mass")),
    "lip": (
        replace(GRADED, wall=replace(GRADED.wall, lip_radius_mm=210.0)),
        ("lip radius 210.00 instead of 217.60 mm",),
    ),
}


@pytest.mark.parametrize("change", CHANGES)
def test_every_difference_but_the_wall_is_named(change: str) -> None:
    other, words = CHANGES[change]
    told = said(GRADED, replace(other, name="other"))
    assert "not only in its wall" in told
    for part in words:
        assert part in told


def test_a_counterpart_has_the_others_wall_and_all_else_of_its_own() -> None:
    found = counterpart(GRADED, CONE, STUDY.machine, "twin")
    assert found.design.wall == CONE.wall and found.design.body == GRADED.body and found.design.holes == GRADED.holes
    assert found.design.grooves.count == GRADED.grooves.count and "everything but the wall is equal" in found.sentence


def test_designs_that_differ_in_their_walls_only_are_said_to() -> None:
    """A wall turned by half a degree: volumes and masses stay within what is not worth saying."""
    knots = tuple(replace(k, angle_deg=k.angle_deg + 0.2) for k in GRADED.wall.knots)
    other = replace(GRADED, name="turned", wall=replace(GRADED.wall, knots=knots))
    assert said(GRADED, other) == WALL_ALONE
    assert said(GRADED) == ""


def test_it_stands_before_all_other_remarks_of_a_comparison() -> None:
    study = replace(STUDY, designs=(GRADED, replace(CHANGES["mouth"][0], name="other")))
    assert "not only in its wall" in compare(study).remarks[0]


def test_a_counterpart_from_the_terminal(tmp_path: Path, capsys) -> None:
    file, out = tmp_path / "s.bowl", tmp_path / "twin.bowl"
    write_study(STUDY, file)
    assert main(["counterpart", str(file), "--wall-of", CONE.name, "--save", str(out)]) == 0
    assert "Counterpart of" in capsys.readouterr().out
    study = read_study(out)
    assert study.design.wall == CONE.wall and study.design.grooves.mouth_mm == GRADED.grooves.mouth_mm
    assert main(["counterpart", str(file), "--wall-of", "nobody", "--save", str(out)]) == 2
