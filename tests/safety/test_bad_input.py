"""Input that cannot be used, through the terminal: one sentence or one finding each, nothing lost, no traceback.

`cli.main` is called as the command is; a traceback would be an exception here and fail the test.
"""

import errno
import json
import os
import sys

import pytest
from msgspec.structs import replace

from profiler.cli import main as cli
from profiler.output import outputs
from profiler.output.record.option import Amount, flag_of
from profiler.study import BowlFileError, GrooveRule, Knot, Placing, SeatPoint, fields_of, read_study, write_study
from profiler.study.edits.design_edits import (
    with_design,
    with_duty,
    with_grooves,
    with_knots,
    with_machine,
)
from profiler.study.files import examples
from profiler.study.files.file import decode_study, encode_study

GOOD = encode_study(examples.read("graded"))
AS_ROOT = hasattr(os, "geteuid") and os.geteuid() == 0


def edited(**changes):
    """The bytes of a sound file with keys of its outermost object changed; None takes a key out."""
    raw = json.loads(GOOD) | changes
    return json.dumps({key: value for key, value in raw.items() if value is not None}).encode()


def deep(*path, value):
    """The bytes of a sound file with one value somewhere inside it changed."""
    raw = json.loads(GOOD)
    place = raw
    for step in path[:-1]:
        place = place[step]
    place[path[-1]] = value
    return json.dumps(raw).encode()


def with_text(old, new):
    assert old in GOOD
    return GOOD.replace(old, new, 1)


FILES = {
    "empty": (b"", "is empty"),
    "blank": (b" \n\t\n", "is empty"),
    "truncated": (GOOD[: len(GOOD) // 2], "cut short"),
    "last brace lost": (GOOD.rstrip()[:-1], "cut short"),
    "two objects": (GOOD + GOOD, "not a study file"),
    "binary": (bytes(range(256)) * 40, "not a study file"),
    "not utf-8": (with_text(b"Plain cone", b"Plain c\xf6ne"), "not a study file"),
    "nested without end": (b"[" * 100_000, "not a study file"),
    "a list": (b"[1, 2, 3]", '"format"'),
    "a number": (b"42", "not a study"),
    "another program's": (b'{"format": "recipe", "schema": 1}', '"format"'),
    "no format": (edited(format=None), '"format"'),
    "no schema": (edited(schema=None), '"schema"'),
    "schema of words": (edited(schema="one"), "'one'"),
    "schema true": (edited(schema=True), "True"),
    "schema zero": (edited(schema=0), "not 0"),
    "newer schema": (edited(schema=99), "schema 99"),
    "unknown key": (edited(colour="red"), "colour"),
    "unknown key inside": (deep("duties", 0, "colour", value="red"), "duties[0]"),
    "missing key": (edited(machine=None), "machine"),
    "number as text": (deep("duties", 1, "speed_rpm", value="640"), "duties[1].speed_rpm"),
    "null for a number": (deep("designs", 0, "body", "wall_mm", value=None), "designs[0].body.wall_mm"),
    "text for a list": (deep("designs", 0, "wall", "knots", value="none"), "designs[0].wall.knots"),
    "half a groove": (deep("designs", 0, "grooves", "count", value=2.5), "designs[0].grooves.count"),
    "unknown placing": (deep("designs", 0, "grooves", "placing", value="at random"), "placing"),
    "not a number": (with_text(b'"speed_rpm": 580.0', b'"speed_rpm": NaN'), "not a study file"),
    "infinity": (with_text(b'"speed_rpm": 580.0', b'"speed_rpm": Infinity'), "not a study file"),
    "too large for a number": (with_text(b'"speed_rpm": 580.0', b'"speed_rpm": 1e999'), "not a study file"),
    "no designs": (edited(designs=[]), "no design"),
    "no duties": (edited(duties=[]), "no duty"),
    "two duties of one name": (deep("duties", 1, "name", value="As designed"), '"As designed"'),
    "two designs of one name": (deep("designs", 1, "name", value="Graded, first try"), '"Graded, first try"'),
    "one knot": (deep("designs", 0, "wall", "knots", value=[{"height_mm": 0, "angle_deg": 10}]), "two knots"),
}


@pytest.fixture
def run(capsys):
    def run(*words):
        code = cli.main([str(w) for w in words])
        out, err = capsys.readouterr()
        return code, out, err

    return run


@pytest.fixture
def sound(tmp_path):
    path = tmp_path / "sound.bowl"
    path.write_bytes(GOOD)
    return path


def one_sentence(text):
    return text.count("\n") == 1 and text.endswith(".\n") and "Traceback" not in text


@pytest.mark.parametrize("command", ["check", "export", "window"])
@pytest.mark.parametrize("case", FILES)
def test_a_broken_file_gets_one_sentence_and_stays_as_it_is(run, tmp_path, case, command):
    data, words = FILES[case]
    path = tmp_path / "broken.bowl"
    path.write_bytes(data)
    arguments = {"check": ["check", path], "export": ["export", path, tmp_path / "out.dxf"], "window": [path]}
    code, out, err = run(*arguments[command])
    assert (code, out) == (2, "")
    assert one_sentence(err) and "broken.bowl" in err and words in err
    assert path.read_bytes() == data
    assert list(tmp_path.iterdir()) == [path]


def test_the_broken_files_are_broken_by_what_they_say_and_nothing_else():
    assert decode_study(edited(), "same") == decode_study(GOOD, "good") == examples.read("graded")


def test_missing_files_folders_and_huge_files_get_one_sentence(run, tmp_path):
    huge = tmp_path / "huge.bowl"
    with huge.open("wb") as file:
        file.truncate(65 * 1024 * 1024)
    for path, words in ((tmp_path / "none.bowl", "no file"), (tmp_path, "folder"), (huge, "64 MB")):
        code, out, err = run("check", path)
        assert (code, out) == (2, "") and one_sentence(err) and words in err


@pytest.mark.skipif(AS_ROOT or sys.platform == "win32", reason="the super-user may read everything")
def test_a_file_that_may_not_be_read_gets_one_sentence(run, sound):
    sound.chmod(0)
    code, _, err = run("check", sound)
    assert code == 2 and one_sentence(err)


# values a file can hold but nobody can work with: they load, and become findings


def duty(study, **changes):
    return with_duty(study, replace(study.duty, **changes))


def body(study, **changes):
    return with_design(study, replace(study.design, body=replace(study.design.body, **changes)))


def grooves(study, **changes):
    return with_design(study, with_grooves(study.design, replace(study.design.grooves, **changes)))


def knots(study, *those):
    return with_design(study, with_knots(study.design, those))


def wall(study, **changes):
    return with_design(study, replace(study.design, wall=replace(study.design.wall, **changes)))


def machine(study, **changes):
    return with_machine(study, replace(study.machine, **changes))


VALUES = {
    "no solids": (lambda s: duty(s, solids_pct=0.0), "out_of_bounds_solids_pct"),
    "nothing but solids": (lambda s: duty(s, solids_pct=100.0), "out_of_bounds_solids_pct"),
    "no speed": (lambda s: duty(s, speed_rpm=0.0), "out_of_bounds_speed_rpm"),
    "backwards": (lambda s: duty(s, speed_rpm=-640.0), "out_of_bounds_speed_rpm"),
    "above the drive's speed": (lambda s: duty(s, speed_rpm=801.0), "speed_range"),
    "no feed": (lambda s: duty(s, dry_feed_t_h=0.0), "out_of_bounds_dry_feed_t_h"),
    "grains that float": (lambda s: duty(s, solids_density_kg_m3=900.0), "out_of_bounds_solids_density_kg_m3"),
    "ice": (lambda s: duty(s, temperature_c=0.0), "out_of_bounds_temperature_c"),
    "no thickness": (lambda s: body(s, wall_mm=0.0), "out_of_bounds_wall_mm"),
    "a floor plate turned inside out": (lambda s: body(s, floor_plate_mm=-16.0), "out_of_bounds_floor_plate_mm"),
    "no hub hole": (lambda s: body(s, hub_hole_mm=0.0), "out_of_bounds_hub_hole_mm"),
    "a hub as wide as the floor": (lambda s: body(s, hub_hole_mm=280.0), "floor_inside_hub"),
    "fewer than no grooves": (lambda s: grooves(s, count=-1), "out_of_bounds_count"),
    "mouths of no width": (lambda s: grooves(s, mouth_mm=0.0), "out_of_bounds_mouth_mm"),
    "grooves wider than their pitch": (lambda s: grooves(s, mouth_mm=26.0, depth_mm=20.0), "mouths_overlap"),
    "grooves through the wall": (lambda s: grooves(s, depth_mm=32.0, flank_deg=0.0), "wall_thin"),
    "grooves past the lip": (lambda s: grooves(s, to_mm=350.0), "mouth_outside"),
    "grooves listed past the lip": (
        lambda s: grooves(s, placing=Placing.LISTED, heights_mm=(100.0, 900.0)), "mouth_outside",
    ),
    "flanks that cross": (lambda s: grooves(s, flank_deg=40.0), "flanks_cross"),
    "roundings longer than the flank": (lambda s: grooves(s, depth_mm=2.0, floor_radius_mm=3.0), "flank_short"),
    "square to the axis": (lambda s: knots(s, Knot(0, 10), Knot(330, 90)), "out_of_bounds_angle_deg"),
    "leaving square to the axis": (
        lambda s: knots(s, Knot(0, 10), Knot(100, 10, -90), Knot(330, 5)), "out_of_bounds_leaving_deg",
    ),
    "two knots at one height": (
        lambda s: knots(s, Knot(0, 10), Knot(100, 9), Knot(100, 3), Knot(330, 5)), "knot_order",
    ),
    "knots in disorder": (lambda s: knots(s, Knot(0, 10), Knot(200, 9), Knot(100, 3), Knot(330, 5)), "knot_order"),
    "a wall that begins above the floor": (lambda s: knots(s, Knot(5, 10), Knot(330, 5)), "wall_start"),
    "no radius held": (lambda s: wall(s, lip_radius_mm=None), "no_radius"),
    "a lip of no radius": (lambda s: wall(s, lip_radius_mm=0.0), "out_of_bounds_lip_radius_mm"),
    "a wall that closes over the axis": (
        lambda s: knots(wall(s, lip_radius_mm=60.0), Knot(0, 20), Knot(330, 20)), "floor_inside_hub",
    ),
    "a lip off the machine's": (lambda s: wall(s, lip_radius_mm=210.0), "lip_radius"),
    "a seat of disorder": (lambda s: machine(s, seat=(SeatPoint(100, 200), SeatPoint(50, 220))), "seat_order"),
    "a seat too narrow": (lambda s: machine(s, seat=(SeatPoint(0, 186), SeatPoint(332, 190))), "seat_clash"),
}  # fmt: skip


@pytest.mark.parametrize("case", VALUES)
def test_a_value_nobody_can_work_with_is_a_stop_finding(run, tmp_path, case):
    edit, code_word = VALUES[case]
    path = tmp_path / "value.bowl"
    write_study(edit(examples.read("graded")), path)
    before = path.read_bytes()
    code, out, err = run("check", path, "--json")
    assert (code, err) == (1, "")
    stops = {f["code"] for f in json.loads(out)["findings"] if f["severity"] == "stop"}
    assert code_word in stops
    assert run("check", path)[0] == run("export", path, tmp_path / "out.dxf")[0] == 1
    assert path.read_bytes() == before


def test_two_knots_at_one_height_are_refused_with_the_way_out(run, tmp_path):
    path = tmp_path / "value.bowl"
    write_study(VALUES["two knots at one height"][0](examples.read("graded")), path)
    assert "make it a corner" in run("check", path)[1]


def _records(study):
    """Every record of a study that has fields, with the edit that puts a changed one back."""
    others, seat = study.design.wall.knots, study.machine.seat
    return [
        (study.duty, lambda r: with_duty(study, r)),
        (study.machine, lambda r: with_machine(study, r)),
        (study.design.body, lambda r: with_design(study, replace(study.design, body=r))),
        (study.design.grooves, lambda r: with_design(study, with_grooves(study.design, r))),
        (study.design.wall, lambda r: with_design(study, replace(study.design, wall=r))),
        (others[1], lambda r: with_design(study, with_knots(study.design, (others[0], r, *others[2:])))),
        (seat[0], lambda r: machine(study, seat=(r, *seat[1:]))),
    ]


EVERY_FIELD = [
    (which, name)
    for which, (record, _) in enumerate(_records(examples.read("graded")))
    for name in fields_of(type(record))
]


@pytest.mark.parametrize(("which", "name"), EVERY_FIELD)
def test_every_field_stops_at_its_bounds(run, tmp_path, which, name):
    """Below the lowest and above the highest value a field allows there is a `stop`, whatever else is wrong."""
    record, put_back = _records(examples.read("graded"))[which]
    field = fields_of(type(record))[name]
    for value in (field.low - 1, field.high * 2 + 1, -1e6, 1e9):
        path = tmp_path / "value.bowl"
        write_study(put_back(replace(record, **{name: type(getattr(record, name) or 1.0)(value)})), path)
        code, out, err = run("check", path, "--json")
        assert (code, err) == (1, "")
        found = {f["code"]: f for f in json.loads(out)["findings"]}[f"out_of_bounds_{name}"]
        assert found["severity"] == "stop" and found["value"] == value
        assert field.label in found["text"]


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -float("inf")])
def test_what_is_not_a_number_is_never_written(tmp_path, sound, value):
    before = sound.read_bytes()
    with pytest.raises(ValueError, match=r"duties\[0\].speed_rpm"):
        write_study(duty(examples.read("graded"), speed_rpm=value), sound)
    assert sound.read_bytes() == before
    assert list(tmp_path.iterdir()) == [sound]


# targets that cannot be written


def test_a_target_in_no_folder_or_that_is_one_gets_one_sentence(run, tmp_path, sound):
    for target in (tmp_path / "nowhere" / "out.dxf", tmp_path, tmp_path / ("x" * 300 + ".dxf")):
        code, out, err = run("export", sound, target)
        assert (code, out) == (2, "") and one_sentence(err)
    for target in (tmp_path / "nowhere" / "out.bowl", tmp_path):
        code, out, err = run("example", "cone", target)
        assert (code, out) == (2, "") and one_sentence(err)
    assert list(tmp_path.iterdir()) == [sound]


@pytest.mark.skipif(AS_ROOT or sys.platform == "win32", reason="the super-user may write everywhere")
def test_a_folder_that_may_not_be_written_gets_one_sentence(run, tmp_path, sound):
    closed = tmp_path / "closed"
    closed.mkdir(mode=0o500)
    code, _, err = run("export", sound, closed / "out.dxf")
    assert code == 2 and one_sentence(err)


def test_a_write_protected_drawing_stays(run, tmp_path, sound, monkeypatch):
    target = tmp_path / "kept.dxf"
    target.write_text("kept")
    target.chmod(0o400)
    monkeypatch.setattr(os, "access", lambda path, mode: False)  # what an ordinary user would be told
    code, out, err = run("export", sound, target)
    assert (code, out) == (2, "") and one_sentence(err) and "kept.dxf" in err
    assert target.read_text() == "kept"


def test_a_full_disk_leaves_the_old_file_and_no_rubbish(run, tmp_path, sound, monkeypatch):
    target = tmp_path / "old.dxf"
    target.write_text("old")

    def full(descriptor):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    code, out, err = run("export", sound, target)
    assert (code, out) == (2, "") and one_sentence(err) and "no space left" in err
    with pytest.raises(BowlFileError, match="no space left"):
        write_study(examples.read("cone"), sound)
    assert sound.read_bytes() == GOOD and target.read_text() == "old"
    assert sorted(tmp_path.iterdir()) == [target, sound]


def test_a_link_to_a_study_is_written_through(tmp_path, sound):
    link = tmp_path / "link.bowl"
    link.symlink_to(sound)
    write_study(examples.read("cone"), link)
    assert link.is_symlink() and read_study(sound) == examples.read("cone")


def test_grooves_of_no_number_are_no_failure(run, tmp_path):
    path = tmp_path / "none.bowl"
    for rule in (GrooveRule(count=0), GrooveRule(placing=Placing.LISTED)):
        write_study(with_design(s := examples.read("graded"), with_grooves(s.design, rule)), path)
        code, out, _ = run("check", path, "--json")
        answer = json.loads(out)
        assert code == 0 and answer["grooves"] == []
        assert "no_grooves" in {f["code"] for f in answer["findings"] if f["severity"] == "check"}
        assert run("check", path)[0] == run("export", path, tmp_path / "out.dxf")[0] == 0


@pytest.mark.parametrize("gap", [5e-324, 1e-300, 1e-12, 1e-6, 0.001, 0.0099])
@pytest.mark.parametrize("eased", [False, True])
def test_knots_nearer_than_a_hundredth_of_a_millimetre_are_one_finding_and_not_a_fall(run, tmp_path, gap, eased):
    study = examples.read("graded")
    for place in (0.0, 115.0):
        knots = study.design.wall.knots
        if place + gap == place:
            continue
        near = replace(knots[0], height_mm=place + gap, eased=eased)
        rows = tuple(sorted((*knots, near), key=lambda k: k.height_mm))
        write_study(with_design(study, with_knots(study.design, rows)), tmp_path / "near.bowl")
        code, out, err = run("check", tmp_path / "near.bowl")
        assert code == 1 and not err and "nearer than 0.01 mm" in out
        assert f"{place + gap:g}" in out


def test_knots_a_hundredth_of_a_millimetre_apart_can_be_built(run, tmp_path):
    study = examples.read("cone")
    first, *rest = study.design.wall.knots
    rows = (first, replace(first, height_mm=0.01), *rest)
    write_study(with_design(study, with_knots(study.design, rows)), tmp_path / "near.bowl")
    code, _, err = run("check", tmp_path / "near.bowl")
    assert code == 0 and not err


WILD = ("nan", "-nan", "inf", "-inf", "1e308", "-1e308", "5e-324", "-1", "1e999", "0x10", "1_0", "", "ten", "1,2,3")


@pytest.mark.parametrize("text", WILD)
def test_no_numeric_flag_takes_a_number_it_cannot_work_with(run, sound, tmp_path, text):
    """Every number the terminal takes: refused in one sentence that names the value, or within the field's bounds."""
    amounts = [o for o in outputs.options().values() if isinstance(o, Amount)]
    assert len(amounts) >= 2
    for option in amounts:
        choice = None if option.only is None else option.only.choice
        also = (flag_of(choice), option.only.value) if choice is not None and choice.in_terminal else ()
        code, _, err = run("export", sound, tmp_path / "out.dxf", *also, f"{flag_of(option)}={text}")
        if code == 2:
            assert one_sentence(err) and not (tmp_path / "out.dxf").exists()
            assert text in err or text.replace("-", "\u2212") in err or option.field.label in err
        else:
            assert option.field.objection(float(text)) is None
            (tmp_path / "out.dxf").unlink(missing_ok=True)
