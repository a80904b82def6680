"""The terminal: what its commands say, write and return."""

import json
import os
import subprocess
import sys

import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.assess.quantities.table import quantity
from profiler.cli import main as cli
from profiler.numbers import fixed
from profiler.output.terminal.check_json import check_of
from profiler.output.terminal.check_text import WIDTH
from profiler.physics.slurry.overturn import State
from profiler.study import Duty, GrooveRule, Knot, write_study
from profiler.study.edits.design_edits import with_design, with_duty, with_grooves, with_knots
from profiler.study.files import examples

WALL_KEYS = [
    "height_mm", "wall_angle_deg", "radius_mm", "acceleration_g", "film_g", "repose_low_deg", "repose_deg",
    "repose_high_deg", "margin_deg", "slope", "surface_radius_mm", "buried_mm", "held_at_mm", "state",
]  # fmt: skip
GROOVE_KEYS = [
    "number", "height_mm", "radius_mm", "mouth_mm", "depth_mm", "state", "buried_mm", "overfall_mm",
    "overturn_ratio", "overturn_power_w",
]  # fmt: skip
FINDING_KEYS = ["code", "severity", "text", "value", "limit", "unit", "from_mm", "to_mm", "groove", "grooves"]
BODY_KEYS = ["section_area_mm2", "section_length_mm", "volume_l", "mass_kg", "inertia_kg_m2"]


@pytest.fixture
def run(capsys):
    def run(*words):
        code = cli.main([str(w) for w in words])
        out, err = capsys.readouterr()
        return code, out, err

    return run


@pytest.fixture
def study(tmp_path):
    """Write an example, edited or not, and return its file."""

    def write(edit=lambda s: s, name="graded"):
        path = tmp_path / f"{name}.bowl"
        write_study(edit(examples.read(name)), path)
        return path

    return write


def impossible(study):
    return with_design(study, with_grooves(study.design, GrooveRule(mouth_mm=40.0)))


def test_check_lists_the_worst_finding_first_and_returns_one(run, study):
    code, out, err = run("check", study(name="faulty"))
    assert (code, err) == (1, "")
    severities = [line.split()[0] for line in out.splitlines() if line.split()[:1] in (["stop"], ["check"], ["note"])]
    assert severities == sorted(severities, key=["stop", "check", "note"].index)
    assert severities[0] == "stop"


def test_check_of_a_sound_bowl_returns_zero(run, study):
    code, out, err = run("check", study())
    assert (code, err) == (0, "")
    assert "Graded, first try" in out and "580 rpm" in out


@pytest.mark.parametrize("name", examples.names())
def test_check_keeps_to_a_hundred_columns(run, study, name):
    _, out, _ = run("check", study(name=name))
    assert max(map(len, out.splitlines())) <= WIDTH == 100


def test_the_groove_table_says_what_the_evaluation_says(run, study):
    path = study()
    _, out, _ = run("check", path)
    loaded = examples.read("graded")
    flow = evaluate(loaded.design, loaded.machine, loaded.duty).flow
    rows = [line.split() for line in out.splitlines() if line.split()[:1] and line.split()[0].isdigit()]
    count = len(flow.groove_state[0])
    claimed = ["–" if s == State.NONE else State(s).name.lower() for s in flow.groove_state[0]]
    assert [row[3] for row in rows[:count]] == claimed


def test_water_and_catch_stand_in_a_table_with_what_they_rest_on(run, study):
    loaded = examples.read("watered")
    e = evaluate(loaded.design, loaded.machine, loaded.duty)
    code, out, _ = run("check", study(name="watered"))
    assert code == 0
    heads = next(i for i, line in enumerate(out.splitlines()) if "velocity ratio (low to high)" in line)
    rows = [line.split() for line in out.splitlines()[heads + 2 : heads + 2 + len(e.shape.mouths)]]
    for key, cell in (("hole_count", 1), ("groove_water_l_min", 5), ("velocity_ratio", 6)):
        assert [float(row[cell]) for row in rows] == pytest.approx(quantity(key).get(e), abs=5.1e-3)
    level, inlet = (float(quantity(k).get(e)[0]) for k in ("free_surface_mm", "inlet_kpa"))
    assert f"{fixed(inlet, 1)} kPa at the jacket inlet; jacket part full, its water at R {level:.1f} mm" in " ".join(
        out.split()
    )
    assert "no recovery follows from them" in out and "% recovery" not in out


def test_check_json_has_every_promised_key(run, study):
    code, out, _ = run("check", study(name="faulty"), "--json")
    answer = json.loads(out)
    assert code == 1
    assert out.isascii() and out.count("\n") == 1
    assert answer["schema"] == 2
    assert (answer["design"], answer["duty"]) == ("Faulty on purpose", "Too fast")
    for rows, keys in (("wall", WALL_KEYS), ("grooves", GROOVE_KEYS), ("findings", FINDING_KEYS)):
        assert answer[rows] and all(set(keys) <= set(row) for row in answer[rows])
    assert set(BODY_KEYS) <= set(answer["body"])
    assert {w["state"] for w in answer["wall"]} == {None, "strong", "weak", "matched", "sheltered"}
    assert {w["slope"] for w in answer["wall"]} <= {"shallower", "within", "steeper"}


def test_check_json_names_the_grooves_of_a_finding(run, study):
    _, out, _ = run("check", study(name="faulty"), "--json")
    narrow = next(f for f in json.loads(out)["findings"] if f["code"] == "land_narrow")
    assert narrow["severity"] == "check"
    assert narrow["grooves"] == list(range(1, 20)) and narrow["groove"] == 1
    assert narrow["value"] == pytest.approx((335.0 - 13.0) / 19.0 - 13.0, abs=1e-9)
    assert (narrow["limit"], narrow["unit"]) == (4.0, "mm")


def test_the_wall_has_401_equal_heights(run, study):
    wall = json.loads(run("check", study(), "--json")[1])["wall"]
    assert [w["height_mm"] for w in wall] == pytest.approx([330.0 * k / 400.0 for k in range(401)], abs=1e-9)


@pytest.mark.parametrize(("height", "rows"), [(231.0, 402), (230.0, 403)])
def test_a_corners_height_comes_twice_with_its_two_angles(run, study, height, rows):
    """231 mm is one of the equal heights, 230 mm is not."""
    knots = (Knot(0, 15), Knot(height, 15, 1), Knot(330, 1))
    path = study(lambda s: with_design(s, with_knots(s.design, knots)))
    wall = json.loads(run("check", path, "--json")[1])["wall"]
    assert len(wall) == rows
    corner = [w for w in wall if w["height_mm"] == pytest.approx(height, abs=1e-9)]
    assert [w["wall_angle_deg"] for w in corner] == pytest.approx([15.0, 1.0])
    assert corner[0]["radius_mm"] == corner[1]["radius_mm"]


def test_buried_heights_are_held_by_a_land_above_and_exposed_ones_by_none(run, study):
    wall = json.loads(run("check", study(name="upright"), "--json")[1])["wall"]
    buried = [w for w in wall if w["buried_mm"] > 0.0]
    assert 50 < len(buried) < len(wall) - 50
    for w in buried:
        assert w["held_at_mm"] > w["height_mm"]
        assert w["buried_mm"] == pytest.approx(w["radius_mm"] - w["surface_radius_mm"], abs=1e-9)
    assert all(w["held_at_mm"] is None for w in wall if w not in buried)
    assert wall[-1]["buried_mm"] == 0.0  # the lip


def test_margin_is_wall_less_repose_and_slope_its_place_against_the_band(run, study):
    for w in json.loads(run("check", study(), "--json")[1])["wall"]:
        angle, low, high = w["wall_angle_deg"], w["repose_low_deg"], w["repose_high_deg"]
        assert w["margin_deg"] == pytest.approx(angle - w["repose_deg"], abs=1e-9)
        assert w["slope"] == ("shallower" if angle > high else "steeper" if angle < low else "within")


def test_design_and_duty_are_chosen_by_name(run, study):
    code, out, _ = run("check", study(), "--design", "Plain cone", "--duty", "Thin and fine", "--json")
    answer = json.loads(out)
    assert (code, answer["design"], answer["duty"]) == (0, "Plain cone", "Thin and fine")
    assert [g["state"] for g in answer["grooves"]] == [None, None] + ["weak"] * 12  # two below the entry height


@pytest.mark.parametrize(
    ("option", "known"),
    [("--design", "“Graded, first try”, “Plain cone”"), ("--duty", "“As designed”, “Thin and fine”")],
)
def test_an_unknown_name_lists_the_known_ones(run, study, option, known):
    code, out, err = run("check", study(), option, "Nobody")
    assert (code, out) == (2, "")
    assert err.count("\n") == 1 and "“Nobody”" in err and known in err


def test_an_impossible_geometry_has_no_wall_and_says_why(run, study):
    code, out, err = run("check", study(impossible), "--json")
    answer = json.loads(out)
    assert (code, err) == (1, "")
    assert answer["wall"] is answer["grooves"] is answer["body"] is None
    assert {"mouths_overlap"} == {f["code"] for f in answer["findings"] if f["severity"] == "stop"}


def test_a_duty_that_cannot_be_worked_leaves_the_shape_and_nulls_for_the_flow():
    loaded = examples.read("graded")
    check = check_of(evaluate(loaded.design, loaded.machine, replace(loaded.duty, solids_pct=0.0)))
    assert check.body is not None and check.wall is not None and check.grooves is not None
    assert {w.repose_deg for w in check.wall} == {w.state for w in check.wall} == {None}
    assert {g.overturn_ratio for g in check.grooves} == {None}


def test_export_writes_the_half_section_and_says_what_it_wrote(run, study, tmp_path):
    target = tmp_path / "half.dxf"
    code, out, err = run("export", study(), target)
    assert (code, err) == (0, "")
    assert out == f"written: 125 lines and arcs, closed: {target}\n"
    text = target.read_text("ascii")
    assert text.count("\nLINE\n") + text.count("\nARC\n") == 125


def test_the_full_section_has_twice_the_segments(run, study, tmp_path):
    path = study()
    run("export", path, tmp_path / "half.dxf", "--half")
    _, out, _ = run("export", path, tmp_path / "full.dxf", "--full", "--kind", "profile")
    assert out.startswith("written: 250 lines and arcs, closed: ")


def test_export_of_a_bowl_with_stop_findings_writes_and_returns_one(run, study, tmp_path):
    target = tmp_path / "faulty.dxf"
    code, out, _ = run("export", study(name="faulty"), target)
    assert code == 1
    assert "NOT CHECKED: 3 stop findings" in out
    assert "NOT CHECKED: 3 stop findings" in target.read_text("ascii")


def test_export_of_an_impossible_outline_writes_nothing_and_returns_one(run, study, tmp_path):
    target = tmp_path / "none.dxf"
    code, out, err = run("export", study(impossible), target)
    assert (code, out) == (1, "")
    assert err.count("\n") == 1 and "mouth overlaps" in err
    assert not target.exists()


@pytest.mark.parametrize("other", [".", "sub/../graded.bowl", "link.dxf", "other.bowl"])
def test_export_never_writes_over_a_study(run, study, tmp_path, other):
    path = study()
    (tmp_path / "sub").mkdir()
    (tmp_path / "link.dxf").symlink_to(path)
    (tmp_path / "other.bowl").write_text("somebody's work")
    before = path.read_bytes()
    code, _, err = run("export", path, path if other == "." else tmp_path / other)
    assert code == 2 and err.count("\n") == 1
    assert path.read_bytes() == before
    assert (tmp_path / "other.bowl").read_text() == "somebody's work"


def test_export_replaces_an_older_drawing(run, study, tmp_path):
    target = tmp_path / "old.dxf"
    target.write_text("old")
    assert run("export", study(), target)[0] == 0
    assert "SECTION" in target.read_text("ascii")


def test_example_list_has_a_name_first_on_each_line(run):
    code, out, _ = run("example", "--list")
    assert code == 0
    assert [line.split()[0] for line in out.splitlines()] == list(examples.names())
    assert all("invented" in line.lower() for line in out.splitlines())


@pytest.mark.parametrize("name", examples.names())
def test_an_example_is_written_ready_to_be_checked(run, tmp_path, name):
    target = tmp_path / "new.bowl"
    assert run("example", name, target) == (0, f"written: {target}\n", "")
    assert run("check", target)[0] == (1 if name == "faulty" else 0)


def test_an_example_is_not_written_over_somebodys_study(run, study, tmp_path):
    path = study(lambda s: with_duty(s, replace(s.duty, speed_rpm=500.0)))
    before = path.read_bytes()
    code, out, err = run("example", "graded", path)
    assert (code, out) == (2, "") and err.count("\n") == 1
    assert path.read_bytes() == before
    assert run("example", "cone", tmp_path / "cone.bowl")[0] == run("example", "cone", tmp_path / "cone.bowl")[0] == 0


@pytest.mark.parametrize(
    "words",
    [
        ["check"], ["export", "a.bowl"], ["example"], ["example", "graded"], ["example", "nobody", "x.bowl"],
        ["--nonsense"], ["check", "a.bowl", "--nonsense"], ["export", "a", "b", "--half", "--full"],
        ["export", "a", "b", "--kind", "poem"], ["chekc", "a.bowl"], ["nothing.bowl"],
    ],
    ids=" ".join,
)  # fmt: skip
def test_arguments_that_cannot_be_used_get_one_sentence(run, tmp_path, monkeypatch, words):
    monkeypatch.chdir(tmp_path)
    code, out, err = run(*words)
    assert (code, out) == (2, "")
    assert err.startswith("bowl-profiler: ") and err.count("\n") == 1 and err.endswith(".\n")
    assert list(tmp_path.iterdir()) == []


def test_help_and_version_return_zero(run):
    assert run("--help")[0] == run("check", "--help")[0] == run("--version")[0] == 0


def test_a_name_the_terminal_cannot_print_is_no_failure(study):
    path = study(lambda s: with_duty(s, replace(s.duty, name="Ωμέγα")))
    done = subprocess.run(
        [sys.executable, "-m", "profiler", "check", path],
        capture_output=True, env=os.environ | {"PYTHONIOENCODING": "ascii"}, check=False,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"Duty: ?????" in done.stdout
    assert b"   -1.78 " in done.stdout  # a true minus has a plain sign that stands for it, and is no question mark


@pytest.mark.skipif(sys.platform == "win32", reason="pipes break otherwise there")
def test_a_reader_that_leaves_early_changes_nothing_in_the_exit_code(study):
    path = study(name="faulty")
    with subprocess.Popen(
        [sys.executable, "-m", "profiler", "check", path, "--json"], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as process:
        process.stdout.read(1)
        process.stdout.close()
        assert process.stderr.read() == b""
    assert process.returncode == 1


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="other systems always have a display")
def test_without_a_display_the_window_says_so(run, study, monkeypatch):
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    code, _, err = run(study())
    assert code == 2 and "no display" in err and err.count("\n") == 1


def test_without_pyside6_the_window_says_so(study):
    """A None in sys.modules is how Python marks a module as not importable; in a process of its own, for no trace."""
    program = (
        "import sys; sys.modules['PySide6'] = None; from profiler.cli.main import main; sys.exit(main(sys.argv[1:]))"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, study()],
        capture_output=True, env=os.environ | {"QT_QPA_PLATFORM": "offscreen"}, check=False,
    )  # fmt: skip
    assert done.returncode == 2
    assert b"PySide6" in done.stderr and done.stderr.count(b"\n") == 1


def test_a_file_that_cannot_be_read_is_told_before_any_window_opens(run, tmp_path):
    broken = tmp_path / "broken.bowl"
    broken.write_text("{")
    code, _, err = run(broken)
    assert code == 2 and "broken.bowl" in err and err.count("\n") == 1


def test_a_check_reads_its_duty_as_it_was_typed(run, study):
    path = study(lambda s: with_duty(s, Duty("Odd", speed_rpm=500.0)))
    assert json.loads(run("check", path, "--json")[1])["duty"] == "Odd"
