"""The lists of materials and machines the user owns, and the edits of a machine and a material that go with them."""

import json
from pathlib import Path

import pytest
from msgspec.structs import replace

from profiler.assess import Severity, evaluate
from profiler.study import BowlFileError, Machine, Material, objections
from profiler.study.edits import machine_edits
from profiler.study.files import examples
from profiler.study.files.file import SCHEMA, decode_study, encode_study
from profiler.study.files.owned_lists import add, file_name, read_list, remove, shipped
from profiler.study.records.machine import SEAT_HEIGHT, SEAT_RADIUS
from profiler.study.records.materials import SOURCES, STRENGTH, TYPED

KINDS = (Machine, Material)
OWN = Material("Own steel", 7800.0, 200000.0, 0.3, 250.0, "yield stress")
STUDY = examples.read("graded")


@pytest.mark.parametrize("kind", KINDS)
def test_where_there_is_no_list_the_shipped_one_is_shown_and_nothing_is_written(kind, tmp_path):
    path = tmp_path / "lists" / file_name(kind)
    found = read_list(kind, path)
    assert found.items == shipped(kind) and found.items and not found.trouble
    assert not path.parent.exists()


def test_every_number_of_a_shipped_material_has_a_source():
    for material in shipped(Material):
        for name, source in material.sources:
            assert getattr(material, name) is not None and source and source != TYPED, (material.name, name)
        assert material.strength_kind


def test_shipped_metals_have_the_densities_and_moduli_of_the_handbooks():
    by_name = {m.name: m for m in shipped(Material)}
    for name, density, modulus in (("S355", 7850.0, 210e3), ("1.4301", 7900.0, 193e3), ("1.4401", 8000.0, 193e3)):
        found = next(m for full, m in by_name.items() if name in full)
        assert (found.density_kg_m3, found.modulus_mpa) == (density, modulus)
    rubber = next(m for full, m in by_name.items() if "rubber" in full)
    assert rubber.modulus_mpa < 10.0  # a printed 0.7 GPa for vulcanised rubber is wrong some five hundred times


def test_shipped_machines_are_labelled_invented_and_lie_within_their_bounds():
    for machine in shipped(Machine):
        assert "invented" in machine.name and machine.note.startswith("Invented")
        assert not objections(machine) and not any(objections(p) for p in machine.seat)


def test_the_example_runs_on_its_machine_of_the_list():
    pilot = next(m for m in shipped(Machine) if m.name == STUDY.machine.name)
    found = evaluate(STUDY.design, pilot, STUDY.duty)
    assert not [f for f in found.findings if f.severity is Severity.STOP]


@pytest.mark.parametrize("record", [OWN, replace(STUDY.machine, name="Own rotor")], ids=["material", "machine"])
def test_what_is_kept_is_read_back_equal_beside_the_shipped_ones(record, tmp_path):
    path = tmp_path / "new folder" / file_name(type(record))
    kept = add(path, record)
    assert kept == read_list(type(record), path)
    assert kept.items == (*shipped(type(record)), record)


def test_keeping_the_same_name_again_replaces_it_in_its_place(tmp_path):
    path = tmp_path / "materials.json"
    add(path, OWN)
    changed = STRENGTH.set(OWN, 300.0)
    found = add(path, changed)
    assert found.named(OWN.name) == changed
    assert len(found.items) == len(shipped(Material)) + 1


def test_dropping_takes_one_entry_out_but_never_the_last(tmp_path):
    path = tmp_path / "materials.json"
    names = [m.name for m in add(path, OWN).items]
    for name in names[:-1]:
        assert remove(path, Material, name).named(name) is None
    with pytest.raises(BowlFileError, match="the list is empty"):
        remove(path, Material, OWN.name)
    assert read_list(Material, path).items == (OWN,)


BROKEN = {
    "cut short": b'[{"name": "x"',
    "empty": b"",
    "no list": b'{"name": "x"}',
    "empty list": b"[]",
    "not UTF-8": b"\xff\xfe[\x00",
    "a member missing": b'[{"name": "x", "density_kg_m3": 1000.0}]',
    "a member unknown": b'[{"name": "x", "density_kg_m3": 1000, "modulus_mpa": 1, "poisson": 0.3, "colour": "red"}]',
    "out of bounds": b'[{"name": "x", "density_kg_m3": -1, "modulus_mpa": 1, "poisson": 0.3}]',
    "no number": b'[{"name": "x", "density_kg_m3": NaN, "modulus_mpa": 1, "poisson": 0.3}]',
    "no name": b'[{"name": " ", "density_kg_m3": 1000, "modulus_mpa": 1, "poisson": 0.3}]',
    "one name twice": b'[{"name": "x", "density_kg_m3": 1000, "modulus_mpa": 1, "poisson": 0.3},'
    b'{"name": "x", "density_kg_m3": 1000, "modulus_mpa": 1, "poisson": 0.3}]',
    "nested for ever": b"[" * 100_000,
}


@pytest.mark.parametrize("what", BROKEN)
def test_a_broken_list_is_one_sentence_and_the_shipped_ones_and_stays_as_it_is(what, tmp_path):
    path = tmp_path / "materials.json"
    path.write_bytes(BROKEN[what])
    found = read_list(Material, path)
    assert found.items == shipped(Material)
    assert found.trouble.startswith("materials.json is not a list") and found.trouble.endswith(".")
    assert "\n" not in found.trouble and len(found.trouble) < 400
    for change in (lambda: add(path, OWN), lambda: remove(path, Material, OWN.name)):
        with pytest.raises(BowlFileError, match="Nothing is written over it"):
            change()
    assert path.read_bytes() == BROKEN[what]


def test_a_list_that_is_a_folder_is_one_sentence(tmp_path):
    (tmp_path / "machines.json").mkdir()
    assert "machines.json is not a list" in read_list(Machine, tmp_path / "machines.json").trouble


def test_a_record_that_could_not_be_read_again_is_not_kept(tmp_path):
    path = tmp_path / "materials.json"
    for wrong in (replace(OWN, name="  "), replace(OWN, density_kg_m3=1.0), replace(OWN, poisson=float("nan"))):
        with pytest.raises(BowlFileError, match=r"materials\.json was not changed"):
            add(path, wrong)
    assert not path.exists()


def test_a_folder_that_cannot_be_made_is_one_sentence(tmp_path):
    (tmp_path / "lists").write_text("a file where the folder should be")
    with pytest.raises(BowlFileError, match=r"not a directory|cannot be written"):
        add(tmp_path / "lists" / "materials.json", OWN)


def test_a_full_disk_leaves_the_old_list(tmp_path, monkeypatch):
    path = tmp_path / "materials.json"
    add(path, OWN)
    before = path.read_bytes()

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("profiler.study.files.disk.os.fsync", full)
    with pytest.raises(BowlFileError, match="no space left on device"):
        add(path, replace(OWN, name="Another"))
    assert path.read_bytes() == before and list(tmp_path.iterdir()) == [path]


def test_a_study_holds_its_own_copy_and_opens_without_any_list(tmp_path):
    path = tmp_path / "materials.json"
    add(path, OWN)
    study = replace(STUDY, machine=replace(STUDY.machine, shell_material=OWN))
    data = encode_study(study)
    remove(path, Material, OWN.name)
    assert decode_study(data, "x.bowl") == study


def test_a_number_that_is_typed_names_the_study_as_its_source():
    stainless = shipped(Material)[0]
    changed = STRENGTH.set(stainless, 230.0)
    assert (changed.strength_mpa, changed.strength_source) == (230.0, TYPED)
    assert changed.density_source == stainless.density_source
    assert set(SOURCES) == {name for name, _ in stainless.sources}


# edits of a machine


def test_a_seat_point_is_put_between_two_on_their_line():
    changed = machine_edits.add_seat_point(STUDY.machine, 0)
    assert [(p.height_mm, p.radius_mm) for p in changed.seat[:3]] == [(0.0, 186.0), (120.0, 218.0), (240.0, 250.0)]
    assert machine_edits.delete_seat_point(changed, 1) == STUDY.machine


def test_the_seat_grows_upward_and_from_nothing():
    top = machine_edits.add_seat_point(STUDY.machine, 2).seat[-1]
    assert top.height_mm > 332.0 and top.radius_mm == 252.0
    bare = replace(STUDY.machine, seat=())
    assert len(machine_edits.add_seat_point(bare, -1).seat) == 1


@pytest.mark.parametrize(
    "edit",
    [
        lambda m: SEAT_HEIGHT.at(0).set(m, 5.0),
        lambda m: SEAT_HEIGHT.at(1).set(m, 0.0),
        lambda m: SEAT_HEIGHT.at(1).set(m, 332.0),
        lambda m: machine_edits.delete_seat_point(m, 0),
        lambda m: machine_edits.rename(m, "   "),
    ],
)
def test_what_would_put_the_seat_out_of_order_is_refused_in_one_sentence(edit):
    with pytest.raises(ValueError, match=r"^[A-Z].*\.$"):
        edit(STUDY.machine)


def test_a_seat_point_is_changed_exactly():
    changed = SEAT_RADIUS.at(1).set(STUDY.machine, 251.25)
    assert changed.seat[1].radius_mm == 251.25 and changed.seat[0] is STUDY.machine.seat[0]
    assert machine_edits.rename(STUDY.machine, "  Own ").name == "Own"


def test_no_list_is_needed_where_the_folder_is_of_somebody_else():
    assert read_list(Material, Path("/nowhere/at/all/materials.json")).items == shipped(Material)


# older lists


def test_a_list_of_machines_from_before_it_said_its_schema_is_read_with_the_same_meaning(tmp_path):
    """A bare list is of schema 2: a supply of 0 kPa was one that is not known, and what was left out had a value."""
    path = tmp_path / "machines.json"
    path.write_text('[{"name": "Old", "seat": [], "lip_radius_mm": 190, "height_mm": 260, "supply_kpa": 0.0}]')
    found = read_list(Machine, path)
    assert not found.trouble
    (old,) = found.items
    assert old.supply_kpa is None and old.drive_kw is None and old.spin_up_s == 60.0 and old.deflector_mm == 0.0
    add(path, replace(old, name="New", drive_kw=0.0))  # what is typed today is what it says
    assert [(m.name, m.drive_kw, m.supply_kpa) for m in read_list(Machine, path).items] == [
        ("Old", None, None), ("New", 0.0, None)]  # fmt: skip


@pytest.mark.parametrize("schema", [0, SCHEMA + 1, "3", None])
def test_a_list_of_a_schema_that_is_not_known_is_left_alone(schema, tmp_path):
    path = tmp_path / "materials.json"
    path.write_text(json.dumps({"schema": schema, "items": []}))
    assert read_list(Material, path).trouble and read_list(Material, path).items == shipped(Material)
