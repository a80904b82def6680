"""The groups Spinning and Machine in the window: figures with their caution, materials, the user's lists, the seat."""

import re

import pytest
from msgspec.structs import replace
from PySide6.QtWidgets import QLabel

from profiler.assess.quantities.left_out import told
from profiler.assess.quantities.spin_quantities import CAUTION, SPIN_QUANTITIES
from profiler.assess.quantities.table import quantity
from profiler.study import Machine, Material
from profiler.study.files import examples
from profiler.study.files.owned_lists import file_name, read_list, shipped
from profiler.study.records.machine import SHELL, SUPPLY_PRESSURE
from profiler.study.records.materials import STRENGTH, TYPED
from profiler.ui.files import folders
from profiler.ui.forms.spin_group import SpinGroup, tip
from tests.laws.bowl.provoked import PROVOKED
from tests.ui.hands import Hands

MATERIALS = shipped(Material)


@pytest.fixture
def hands(qtbot, tmp_path, monkeypatch):
    lists = tmp_path / "lists"
    for module in ("machine_group", "spin_group"):
        monkeypatch.setattr(f"profiler.ui.forms.{module}.lists", lambda: lists)
    assert folders.lists() != lists
    hands = Hands(qtbot, tmp_path, monkeypatch)
    hands.lists = lists
    yield hands
    hands.settle()


def opened(hands: Hands, title: str):
    group = hands.open_form(title)
    hands.rest()
    return group


def figure(group: SpinGroup, key: str) -> str:
    return next(label.text() for t in group.tables for q, label in t._numbers if q.key == key)


def pick(hands: Hands, picker, name: str) -> None:
    picker.names.setCurrentIndex(picker.names.findText(name))
    picker.names.activated.emit(picker.names.currentIndex())
    hands.settle()


WHERE_MOST = "hoop_height_mm"  # of the shell's stress: the supply's pressure is not given here, so nobody knows where


def test_where_the_shell_is_stressed_most_is_told_once_the_supplys_pressure_is(hands):
    group = opened(hands, "Spinning")
    assert figure(group, WHERE_MOST) == "–"
    hands.document.change(SUPPLY_PRESSURE, 180.0)
    hands.rest()
    assert float(figure(group, WHERE_MOST)) == round(
        float(quantity(WHERE_MOST).get(hands.document.whole_evaluation)[0])
    )


def test_every_figure_shown_is_the_evaluations_own_with_its_equation_and_source(hands):
    group, e = opened(hands, "Spinning"), hands.document.whole_evaluation
    for q in SPIN_QUANTITIES:
        words = told(q, e)
        assert figure(group, q.key) == (words.removesuffix(f" {q.unit}") if q.unit else words), q.key
        assert (words == "–") is (q.key == WHERE_MOST), q.key
        assert q.equation in tip(q) and q.source in tip(q)


def test_every_part_tells_its_centre_and_inertias_too(hands):
    group, e = opened(hands, "Spinning"), hands.document.whole_evaluation
    said = [label.text() for label in group.findChildren(QLabel) if label.text().startswith("centre")]
    parts = e.spin.parts
    for part in (parts.liner, parts.shell, parts.water, parts.slurry, parts.concentrate, parts.dry):
        centre, polar, across = (float(a[0]) for a in (part.centre, part.polar, part.transverse))
        words = next(s for s in said if s.startswith(f"centre {1e3 * centre:.1f} mm\n".replace("-", "−")))
        told = [float(n) for n in re.findall(r"(?:polar|transverse) ([\d.]+)", words)]
        assert told == pytest.approx([polar, across], abs=5.1e-4) and words.endswith(" kg m²")
    assert len(said) == 6
    hands.do("Lengths in inches")
    hands.rest()
    words = f"centre {1e3 * float(parts.shell.centre[0]) / 25.4:.3f} in"
    assert any(label.text().startswith(words.replace("-", "−")) for label in group.findChildren(QLabel))


def test_lengths_among_the_figures_follow_the_display_and_nothing_else_does(hands):
    group = opened(hands, "Spinning")
    before = {q.key: figure(group, q.key) for q in SPIN_QUANTITIES}
    hands.do("Lengths in inches")
    hands.rest()
    e = hands.document.whole_evaluation
    lengths = {q.key for q in SPIN_QUANTITIES if q.unit == "mm"}
    assert lengths == {"rotor_centre_mm", "hoop_height_mm"}
    mm = float(quantity("rotor_centre_mm").get(e)[0])
    assert float(figure(group, "rotor_centre_mm")) == pytest.approx(mm / 25.4, abs=0.006)
    assert {k: v for k, v in before.items() if k not in lengths} == {
        q.key: figure(group, q.key) for q in SPIN_QUANTITIES if q.key not in lengths
    }
    words = [label.text() for label in group.findChildren(QLabel)]
    assert "mm" not in words and words.count("in") == len(lengths) + 2  # shell and its floor, as typed
    hands.do("Lengths in inches")
    hands.rest()
    assert {q.key: figure(group, q.key) for q in SPIN_QUANTITIES} == before


def test_the_words_on_the_jacket_follow_the_display_too(hands):
    hands.document.adopt(examples.read("watered"))
    group = opened(hands, "Water holes and catch")
    assert "R, mm" in group.figures.text() and ">71<" in group.figures.text()
    hands.do("Lengths in inches")
    hands.rest()
    level = float(quantity("free_surface_mm").get(hands.document.whole_evaluation)[0])
    assert f">{level / 25.4:.2f}<" in group.figures.text()
    assert "R, in" in group.figures.text() and " mm" not in group.figures.text()


def test_the_caution_stands_over_the_figures_of_strength(hands):
    group = opened(hands, "Spinning")
    hands.settle()
    words = [label for label in group.findChildren(QLabel) if label.isVisible()]
    caution = next(label for label in words if label.text() == CAUTION)
    stress = next(label for label in words if label.text() == "Shell stress, thick ring")
    head = next(label for label in words if "Strength" in label.text())
    places = [label.mapTo(group, label.rect().topLeft()).y() for label in (head, caution, stress)]
    assert places == sorted(places)


def test_typing_a_shell_is_one_undo_step_and_moves_the_stress(hands):
    group = opened(hands, "Spinning")
    before = figure(group, "hoop_mpa")
    hands.type_into(group.form.boxes[SHELL], "4")
    hands.rest()
    assert hands.study.machine.shell_mm == 4.0 and hands.steps == 1
    after, stress = (float(t.removeprefix("at least ")) for t in (figure(group, "hoop_mpa"), before))
    assert after > stress
    hands.document.undo_stack.undo()
    hands.rest()
    assert figure(group, "hoop_mpa") == before and hands.study == examples.read("graded")


def test_a_dash_stands_where_there_is_no_shell(hands):
    group = opened(hands, "Spinning")
    hands.type_into(group.form.boxes[SHELL], "0")
    hands.rest()
    assert figure(group, "hoop_mpa") == "–" and figure(group, "strength_factor") == "–"
    assert figure(group, "rotor_mass_kg") != "–"


def test_a_drag_keeps_the_figures_until_it_ends(hands):
    group = opened(hands, "Spinning")
    before = figure(group, "energy_kj")
    hands.document.begin("Faster")
    hands.document.edit_duty(replace(hands.duty, speed_rpm=700.0), "Faster")
    hands.rest()
    assert hands.evaluation.spin is None and figure(group, "energy_kj") == before
    hands.document.commit()
    hands.rest()
    assert float(figure(group, "energy_kj")) > float(before)


def test_a_material_taken_from_the_list_is_copied_into_the_machine(hands):
    group, steel = opened(hands, "Spinning"), MATERIALS[2]
    pick(hands, group.material.list, steel.name)
    hands.click(group.material.list.copy)
    hands.rest()
    assert hands.study.machine.shell_material == steel and hands.steps == 1
    assert steel.strength_source in group.material.sources.text()


def test_a_material_for_the_bowl_brings_its_density(hands):
    group, steel = opened(hands, "Spinning"), MATERIALS[2]
    group.part.setCurrentIndex(group.part.findText("The bowl"))
    group.part.activated.emit(group.part.currentIndex())
    pick(hands, group.material.list, steel.name)
    hands.click(group.material.list.copy)
    body = hands.design.body
    assert body.material == steel and body.density_kg_m3 == steel.density_kg_m3 and hands.steps == 1


def test_a_number_typed_is_this_studys_and_says_so(hands):
    group = opened(hands, "Spinning")
    hands.type_into(group.material.form.boxes[STRENGTH], "180,5")
    found = hands.study.machine.shell_material
    assert (found.strength_mpa, found.strength_source) == (180.5, TYPED)
    hands.type_into(group.material.form.boxes[STRENGTH], "")
    hands.rest()
    assert hands.study.machine.shell_material.strength_mpa is None and figure(group, "strength_factor") == "–"


def test_a_material_is_added_to_the_list_and_replaced_or_removed_at_the_second_asking(hands):
    group = opened(hands, "Spinning")
    path = hands.lists / file_name(Material)
    hands.type_into(group.material.name, "Own steel")
    hands.click(group.material.list.add)
    assert read_list(Material, path).named("Own steel") is not None and "was added" in hands.said
    hands.type_into(group.material.form.boxes[STRENGTH], "300")
    hands.click(group.material.list.add)
    assert read_list(Material, path).named("Own steel").strength_mpa == 210.0 and "press again" in hands.said
    hands.click(group.material.list.add)
    assert read_list(Material, path).named("Own steel").strength_mpa == 300.0
    pick(hands, group.material.list, "Own steel")
    hands.click(group.material.list.remove)
    assert read_list(Material, path).named("Own steel") is not None
    hands.click(group.material.list.remove)
    assert read_list(Material, path).named("Own steel") is None
    assert hands.study.machine.shell_material.name == "Own steel"  # the study keeps its copy


def test_the_machine_can_be_named_kept_and_taken(hands):
    group = opened(hands, "Machine")
    hands.type_into(group.name, "Own rotor")
    assert hands.study.machine.name == "Own rotor" and hands.steps == 1
    hands.click(group.list.add)
    own = hands.study.machine
    assert read_list(Machine, hands.lists / file_name(Machine)).named("Own rotor") == own
    plant = next(m for m in shipped(Machine) if "Plant" in m.name)
    pick(hands, group.list, plant.name)
    hands.click(group.list.copy)
    assert hands.study.machine == plant and hands.steps == 2
    hands.document.undo_stack.undo()
    hands.settle()
    assert hands.study.machine == own


def test_a_broken_list_is_told_in_one_sentence_and_not_written_over(hands):
    hands.lists.mkdir()
    path = hands.lists / file_name(Machine)
    path.write_text("[{")
    group = opened(hands, "Machine")
    assert hands.said.startswith("machines.json is not a list")
    assert group.list.names.count() == len(shipped(Machine))
    hands.type_into(group.name, "Own rotor")
    hands.click(group.list.add)
    assert "Nothing is written over it" in hands.said and path.read_text() == "[{"


def test_the_seat_is_a_table_that_is_typed_in_and_grows(hands):
    group = opened(hands, "Machine")
    assert [group.seat.item(row, 0).text() for row in range(3)] == ["332.0", "240.0", "0.0"]
    group.seat.item(1, 1).setText("251,5")
    hands.settle()
    assert hands.study.machine.seat[1].radius_mm == 251.5 and hands.steps == 1
    group.seat.setCurrentCell(2, 0)
    hands.click(group.add)
    assert [p.height_mm for p in hands.study.machine.seat] == [0.0, 120.0, 240.0, 332.0]
    group.seat.setCurrentCell(2, 0)
    hands.click(group.delete)
    assert [p.height_mm for p in hands.study.machine.seat] == [0.0, 240.0, 332.0]


def test_nonsense_in_the_seat_is_refused_and_changes_nothing(hands):
    group = opened(hands, "Machine")
    for text, words in (("abc", "is not a number"), ("500000", "must lie between"), ("400", "lies between")):
        group.seat.item(1, 0).setText(text)
        hands.settle()
        assert words in hands.said and group.seat.item(1, 0).text() == "240.0"
    assert hands.steps == 0 and hands.study == examples.read("graded")


def test_the_seat_is_shown_in_inches_by_choice_and_typed_in_them(hands):
    group = opened(hands, "Machine")
    hands.window.toggle_inches()
    hands.settle()
    assert group.seat.horizontalHeaderItem(1).text() == "Radius, in"
    group.seat.item(1, 1).setText("10")
    hands.settle()
    assert hands.study.machine.seat[1].radius_mm == pytest.approx(254.0)


def test_no_number_of_the_machine_stands_in_two_groups(hands):
    spin, machine = (opened(hands, title) for title in ("Spinning", "Machine"))
    assert not set(spin.form.boxes) & set(machine.form.boxes)
    assert quantity("hoop_mpa").unit == "MPa"


@pytest.mark.parametrize("title", ["Spinning", "Machine"])
def test_the_group_fits_the_pane_beside_its_scroll_bar(hands, title):
    group = opened(hands, title)
    assert group.minimumSizeHint().width() <= hands.forms_with(title).viewport().width() + 4  # less than its own margin


def test_no_group_keeps_the_mass_of_a_section_that_crosses_itself(hands):
    """The body's own figures stood where the section they were of no longer did."""

    def told() -> list[str]:
        body = opened(hands, "Body").figures.text()
        spinning = opened(hands, "Spinning")
        return [body, *(figure(spinning, key) for key in ("energy_kj", "rotor_mass_kg"))]

    before = told()
    assert "kg" in before[0] and "–" not in before
    case = PROVOKED["outline_crosses"]
    hands.document.edit_design(replace(case.design, name=hands.design.name), "Cross it")
    hands.rest()
    assert hands.evaluation.shape is not None and hands.evaluation.body is None
    assert told() == ["Mass –, inertia –", "–", "–"]
    hands.undo()
    hands.rest()
    assert told() == before
