"""Rounding to shop steps: they are met, the change is told before it is made, coarse ones are refused in a line."""

import itertools
from math import radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.cli.main import main
from profiler.explore.shop_steps import NOTHING_MOVES, Steps, round_design, rounded
from profiler.study import read_study, write_study
from profiler.study.files import examples


@pytest.fixture(scope="module")
def study():
    return examples.read("graded")


@pytest.fixture(scope="module")
def e(study):
    return evaluate(study.design, study.machine, study.duty)


def radii(design):
    """R = dz / (sin t2 - sin t1) of every arc: the closed form of the arc spans."""
    knots = design.wall.knots
    found = []
    for a, b in itertools.pairwise(knots):
        turn = sin(radians(b.angle_deg)) - sin(radians(a.leaving))
        if abs(turn) > 1e-9:
            found.append((b.height_mm - a.height_mm) / turn)
    return found


@settings(max_examples=40, deadline=None)
@given(st.sampled_from([0.5, 1.0, 5.0, 10.0]), st.sampled_from([None, 0.05, 0.5, 1.0]))
def test_every_arc_of_the_wall_has_a_radius_of_the_step_and_heights_stay(radius, angle):
    design = examples.read("graded").design
    made = round_design(design, Steps(radius_mm=radius, angle_deg=angle))
    for r in radii(made):
        assert abs(r / radius - round(r / radius)) * radius < 1e-3  # angles are held to six decimals
    assert [k.height_mm for k in made.wall.knots] == [k.height_mm for k in design.wall.knots]
    if angle is None:  # then each angle moves by no more than half a step of its radius makes
        knots = zip(design.wall.knots[1:], made.wall.knots[1:], made.wall.knots, strict=False)
        for old, new, low in knots:
            rise = new.height_mm - low.height_mm
            start = sin(radians(low.leaving))
            wanted, got = (rise / (sin(radians(k.angle_deg)) - start) for k in (old, new))
            assert abs(got - wanted) <= 0.5 * radius + 1e-3


def test_angles_alone_land_on_their_step_and_rounding_twice_changes_nothing(study):
    bent = replace(study.design, wall=replace(study.design.wall, knots=tuple(
        replace(k, angle_deg=k.angle_deg + 0.237) for k in study.design.wall.knots)))  # fmt: skip
    once = round_design(bent, Steps(angle_deg=0.25))
    for old, new in zip(bent.wall.knots, once.wall.knots, strict=True):
        assert new.angle_deg / 0.25 == pytest.approx(round(new.angle_deg / 0.25), abs=1e-6)
        assert abs(new.angle_deg - old.angle_deg) <= 0.125 + 1e-9
    assert round_design(once, Steps(angle_deg=0.25)) == once


def test_the_held_diameter_and_the_hub_land_on_their_step(study):
    made = round_design(study.design, Steps(diameter_mm=5.0))
    assert made.wall.lip_radius_mm == 217.5 and made.wall.floor_radius_mm is None and made.body.hub_hole_mm == 75.0


def test_locked_knots_and_straight_spans_stay_what_they_are(study):
    knots = study.design.wall.knots
    locked = replace(study.design, wall=replace(study.design.wall, knots=(
        knots[0], replace(knots[1], locked=True), *knots[2:])))  # fmt: skip
    assert round_design(locked, Steps(radius_mm=50.0, angle_deg=3.0)).wall.knots[1] == locked.wall.knots[1]
    cone = examples.read("cone").design
    made = round_design(cone, Steps(radius_mm=5.0, angle_deg=1.0)).wall.knots
    assert len({k.angle_deg for k in made}) == 1


def test_what_changes_is_told_with_both_values_and_states_are_those_of_the_design_it_gives(e):
    found = rounded(e, Steps(radius_mm=50.0, angle_deg=2.0))
    after = evaluate(found.design, e.machine, e.duty)
    differ = int((after.flow.groove_state[0] != e.flow.groove_state[0]).sum())
    assert len(found.states) == differ and found.moved
    assert any(line.startswith("angle at 115.0 mm: 21.000 to ") for line in found.moved)
    assert not found.refusal and "would change" in found.sentence


def test_steps_it_stands_on_already_change_nothing(e):
    assert rounded(e, Steps(angle_deg=1.0)).sentence == NOTHING_MOVES
    assert rounded(e, Steps()).design == e.design


def test_steps_so_coarse_that_nothing_can_be_built_are_refused_in_one_sentence(e):
    for steps in (Steps(angle_deg=10.0, diameter_mm=100.0, radius_mm=500.0), Steps(diameter_mm=100.0, radius_mm=0.1)):
        found = rounded(e, steps)
        assert bool(found.refusal) == (evaluate(found.design, e.machine, e.duty).shape is None) or found.refusal
    small = replace(e.design, wall=replace(e.design.wall, lip_radius_mm=30.0))
    bad = rounded(evaluate(small, e.machine, e.duty), Steps(angle_deg=10.0))
    assert bad.refusal.startswith("These steps are too coarse: ") and bad.refusal.count(". ") == 0


def test_the_terminal_tells_first_and_writes_where_a_file_is_named(study, tmp_path, capsys):
    write_study(study, tmp_path / "s.bowl")
    asked = ["steps", str(tmp_path / "s.bowl"), "--radius", "5", "--diameter", "0.5"]
    assert main(asked) == 0
    assert "would change" in capsys.readouterr().out and not (tmp_path / "o.bowl").exists()
    assert main([*asked, "--save", str(tmp_path / "o.bowl")]) == 0
    made = read_study(tmp_path / "o.bowl").design
    assert made == round_design(study.design, Steps(5.0, 0.5)) and made != study.design
    assert main(["steps", str(tmp_path / "s.bowl"), "--radius", "0"]) == 2
