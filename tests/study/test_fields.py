"""Every field of a study: gives back what was put in, changes nothing else, objects to its bounds, names its step."""

from collections.abc import Iterator
from enum import Enum
from pathlib import Path
from typing import get_args, get_type_hints

import pytest

from profiler.study import FRICTIONS, Material, Record, Study, read_study
from profiler.study.files.file import SCHEMA
from profiler.study.records.design import (
    BODY_MATERIAL,
    FLOOR_RADIUS,
    GROOVE_COUNT,
    GROOVE_MOUTH,
    GROOVE_PLACING,
    GROOVE_SHIFT,
    KNOT_ANGLE,
    KNOT_HEIGHT,
    KNOT_LEAVING,
    Design,
    GrooveRule,
    Placing,
)
from profiler.study.records.duty import SPEED
from profiler.study.records.fields import Field, members_of, optional, required
from profiler.study.records.machine import SEAT_HEIGHT, SHELL_MATERIAL
from profiler.study.records.materials import SOURCES
from profiler.study.records.record import Rows
from tests.tiers import each

STUDY = read_study(Path(__file__).parent / "samples" / f"schema-{SCHEMA}.bowl")  # every kind of record stands in it

ROWS = {"trials": 0, "runs": 0, "gold": 0}
ROW_OF_PLACE = {"grooves.changes.1": "grooves.changes.0", "holes.changes.1": "holes.changes.0"}  # both have the place 1

# what a change brings along, by the record's own rule
ALONG = {
    "designs.0.body.material.density_kg_m3": {"designs.0.body.density_kg_m3"},
    "designs.0.name": {"shown.design"},
    "duties.0.name": {"shown.duty"},
    **{f"duties.0.{name}": {"duties.0.calibrated"} for name in FRICTIONS},  # a friction typed is measured no more
    **{f"trials.0.plan.{name}": {"trials.0.plan.stamped"} for name in (
        "basis", "size_cut", "exclusion_rule", "worthwhile_points", "worthwhile_source")},
}  # fmt: skip


def kinds_below(kind: type[Record]) -> Iterator[type[Record]]:
    """The kind, and all kinds of records it holds."""
    yield kind
    hints = get_type_hints(kind)
    for name in kind.__struct_fields__:
        for part in (hints[name], *get_args(hints[name])):
            if isinstance(part, type) and issubclass(part, Record):
                yield from kinds_below(part)


KINDS = tuple(dict.fromkeys(kinds_below(Study)))


def every_field() -> Iterator[Field]:
    """All fields of a study, each where the sample holds something: mostly in the second row of a list."""
    for kind in KINDS:
        parents = [None]
        if kind is not Study and not kind.PLACE.steps:  # it stands at several places, or is no part of any edit
            parents = [f for k in KINDS for f in members_of(k).values() if f.kind is kind]
        for parent in parents:
            for field in members_of(kind).values():
                placed = field if parent is None else field.under(parent)
                yield placed.at(*(ROWS.get(step.name, 1) for step in placed.path if isinstance(step, Rows)))


def where(field: Field) -> str:
    """The place in the file, in the shown design and duty; single grooves by their row."""
    steps = [f"{s.name}.{s.key}" if isinstance(s, Rows) else s for s in (*field.path, field.name)]
    place = ".".join([{"design": "designs.0", "duty": "duties.0"}.get(steps[0], steps[0]), *steps[1:]])
    return next((place.replace(a, b) for a, b in ROW_OF_PLACE.items() if a in place), place)


EVERY = [f for f in every_field() if f.name != "place"]  # by it a single groove or ring is found


def another(field: Field, held: object) -> object:
    """A value the field may have, other than the one it has."""
    if field.is_number:
        value = field.low + 3 * field.step if held is None else held + field.step
        value = value if value <= field.high else held - field.step
        return field.kind(round(value, 6))
    if issubclass(field.kind, Enum):
        return next(option for option in field.options if option is not held)
    if issubclass(field.kind, Record):
        return None if field.may_be_none and held is not None else held
    if field.kind is tuple:
        return held[:-1]
    if field.kind is int:
        return 1 if held is None else held + 1
    return not held if field.kind is bool else f"{held}x"


def differences(before: object, after: object, place: str = "") -> set[str]:
    """Places whose values are not the very same objects any more; lists whose records changed are walked by row."""
    if before is after:
        return set()
    if isinstance(before, Record) and type(before) is type(after):
        pairs = ((n, getattr(before, n), getattr(after, n)) for n in before.__struct_fields__)
    elif isinstance(before, tuple) and isinstance(after, tuple) and len(before) == len(after):
        pairs = ((str(i), a, b) for i, (a, b) in enumerate(zip(before, after, strict=True)))
    else:
        return {place}
    return {d for name, a, b in pairs for d in differences(a, b, f"{place}.{name}".removeprefix("."))}


def test_the_sample_and_the_walk_leave_no_kind_of_record_out() -> None:
    assert len(KINDS) > 20 and len(EVERY) > 200
    assert all(set(members_of(kind)) == set(kind.__struct_fields__) for kind in KINDS)


@each(EVERY)
def test_a_field_gives_back_what_was_put_in_and_changes_nothing_else(field: Field) -> None:
    held = field.get(STUDY)
    assert field.set(STUDY, held) is STUDY
    value = another(field, held)
    changed = field.set(STUDY, value)
    assert field.get(changed) == value and type(field.get(changed)) is type(value)
    along = ALONG.get(where(field), set()) | _sources(where(field))
    assert differences(STUDY, changed) == (along | {where(field)} if value != held else set())
    if not along and field.kind is not Material:  # a material given sets the body's density
        assert field.set(changed, held) == STUDY


def _sources(place: str) -> set[str]:
    """A number of a material brings its source along."""
    name = place.rpartition(".")[2]
    return {place.replace(name, SOURCES[name])} if name in SOURCES and "material." in place else set()


@each([f for f in EVERY if f.is_number])
def test_bounds_are_objected_to_in_a_sentence_and_still_set(field: Field) -> None:
    for inside in (field.low, field.high):
        assert field.objection(inside) is None
    for outside in (field.low - 1.0, field.high * 2.0 + 1.0):
        said = field.objection(outside)
        assert said is not None and said.startswith(field.label) and said.endswith(".")
    assert "must be a number" in (field.objection(float("nan")) or "")


@each(EVERY)
def test_every_field_says_what_it_is_and_names_its_undo_step(field: Field) -> None:
    assert field.label[0].isupper() and field.help.endswith((".", "money"))
    words = field.undo_words
    assert words[0].isupper() and not words.endswith(".") and "{" not in words


def test_a_value_is_kept_as_its_type_has_it() -> None:
    assert type(GROOVE_COUNT.get(GROOVE_COUNT.set(STUDY, 18.0))) is int  # as a box that was typed in gives it
    assert type(SPEED.get(SPEED.set(STUDY, 600))) is float
    assert GROOVE_PLACING.get(GROOVE_PLACING.set(STUDY, Placing.IN_HEIGHT)) is Placing.IN_HEIGHT


@pytest.mark.parametrize("count", [18.5, 0.25])
def test_a_count_that_is_not_whole_is_refused(count: float) -> None:
    assert GROOVE_COUNT.objection(count) == f"Groove count is {count:g}, but must be a whole number."
    with pytest.raises(ValueError, match="must be a whole number"):
        GROOVE_COUNT.set(STUDY, count)


def test_a_count_has_no_tenths_of_a_step() -> None:
    assert GROOVE_COUNT.step_of(fine=True) == 1.0 and GROOVE_COUNT.nearest(17.0, fine=True) == 17.0
    assert GROOVE_MOUTH.step_of(fine=True) == pytest.approx(0.01)
    assert GROOVE_MOUTH.nearest(13.0123, fine=True) == 13.01 and GROOVE_MOUTH.nearest(1e6) == GROOVE_MOUTH.high


def test_a_field_is_asked_of_the_study_or_of_any_record_on_the_way() -> None:
    design, duty = STUDY.design, STUDY.duty
    assert SPEED.get(STUDY) == SPEED.get(duty) == duty.speed_rpm
    assert GROOVE_MOUTH.get(design) == GROOVE_MOUTH.get(design.grooves) == design.grooves.mouth_mm
    assert isinstance(GROOVE_MOUTH.set(design, 12.0), Design)
    assert isinstance(GROOVE_MOUTH.set(design.grooves, 12.0), GrooveRule)
    assert KNOT_ANGLE.get(design.wall.knots[0]) == design.wall.knots[0].angle_deg
    with pytest.raises(TypeError, match="does not stand in a Duty"):
        GROOVE_MOUTH.get(duty)
    with pytest.raises(TypeError, match="Which of the knots"):
        KNOT_ANGLE.get(STUDY)


def test_only_the_shown_design_and_duty_are_changed() -> None:
    changed = GROOVE_MOUTH.set(SPEED.set(STUDY, 555.0), 11.5)
    assert changed.designs[1] is STUDY.designs[1] and changed.duties[1] is STUDY.duties[1]
    assert changed.machine is STUDY.machine and changed.trials is STUDY.trials and changed.shown is STUDY.shown
    assert changed.design.wall is STUDY.design.wall and changed.design.body is STUDY.design.body


def test_which_is_shown_follows_a_renaming() -> None:
    renamed = members_of(Design)["name"].set(STUDY, "Another name")
    assert renamed.shown.design == "Another name" and renamed.design is renamed.designs[0]
    assert renamed.shown.duty == STUDY.shown.duty


def test_a_groove_that_follows_the_rule_again_leaves_no_entry() -> None:
    place = 7
    moved = GROOVE_SHIFT.at(place).set(STUDY, 2.0)
    assert [c.place for c in moved.design.grooves.changes] == [1, 3, 7]
    assert GROOVE_SHIFT.at(place).set(moved, 0.0) == STUDY
    assert GROOVE_SHIFT.at(place).get(STUDY) == 0.0 and GROOVE_SHIFT.at(place).set(STUDY, 0.0) is STUDY


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        (KNOT_HEIGHT.at(0), 5.0, "stays 0 mm"),
        (KNOT_HEIGHT.at(1), STUDY.design.wall.knots[2].height_mm, "cannot share"),
        (KNOT_HEIGHT.at(1), STUDY.design.wall.knots[2].height_mm + 1.0, "This knot lies between"),
        (KNOT_HEIGHT.at(len(STUDY.design.wall.knots) - 1), 1.0, "This knot lies above"),
        (KNOT_LEAVING.at(0), 3.0, "inside the wall"),
        (SEAT_HEIGHT.at(0), 5.0, "stays 0 mm"),
        (SEAT_HEIGHT.at(1), 0.0, "This seat point lies between"),
        (SEAT_HEIGHT.at(2), 1.0, "This seat point lies above"),
    ],
)
def test_what_would_put_knots_or_seat_points_out_of_order_is_refused_in_a_sentence(field, value, words) -> None:
    with pytest.raises(ValueError, match=rf"{words}.*\.$"):
        field.set(STUDY, value)


def test_a_number_of_a_material_is_asked_of_the_bowl_or_of_the_shell() -> None:
    density = members_of(Material)["density_kg_m3"]
    changed = density.under(SHELL_MATERIAL).set(STUDY, 7800.0)
    assert changed.machine.shell_material.density_kg_m3 == 7800.0
    assert changed.machine.shell_material.density_source == "typed in this study"
    assert changed.designs is STUDY.designs
    assert density.under(BODY_MATERIAL).set(STUDY, 1200.0).design.body.density_kg_m3 == 1200.0


def test_a_field_that_is_not_declared_so_cannot_be_made() -> None:
    for make, name, kind in ((required, "count", float), (required, "mouth_mm", int), (optional, "count", int)):
        with pytest.raises(TypeError, match="not declared so"):
            make(GrooveRule, name, kind)


def test_what_an_empty_box_means_is_told_by_the_field() -> None:
    assert FLOOR_RADIUS.empty == "" and GROOVE_COUNT.empty == ""  # a radius is freed by what is held, not by emptying
    assert members_of(type(STUDY.machine))["entry_mm"].empty == "by rule"
    assert members_of(Material)["strength_mpa"].empty == "not known"
