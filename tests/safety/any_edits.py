"""Edits of whole studies at random: what menus, tables and canvases propose, with sane and impossible numbers."""

import random
from collections.abc import Callable
from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from profiler.study import GrooveChange, HoleChange, Material, SizeClass, Study, fields_of
from profiler.study.edits import design_edits as edits
from profiler.study.edits import list_edits, trial_edits
from profiler.study.edits.list_edits import Listed
from profiler.study.files import examples
from profiler.study.files.owned_lists import shipped
from profiler.study.ledger.columns import COLUMNS
from profiler.study.records.design import (
    BODY_MATERIAL,
    KNOT_EASED,
    KNOT_HEIGHT,
    KNOT_LEAVING,
    KNOT_LOCKED,
    Design,
    Hold,
    Placing,
    SquareTo,
)
from profiler.study.records.fields import members_of
from profiler.study.records.machine import SHELL_MATERIAL
from profiler.study.records.size_classes import made_whole
from profiler.study.records.trial import Trial
from profiler.words import Structure

Edit = Callable[[Study, random.Random], Study]
MATERIALS = (None, *shipped(Material))
CELLS = ("", "x", "4,5", "-1", "1e9", "A", "2031-03-04T08:00", "yes", "12.5")
MOST_ITEMS = 6  # of each list: long scripts are to grow in edits, not in designs


def any_edit(study: Study, chance: random.Random) -> Study:
    """The study after one edit; the same study where the edit is refused (ValueError: the sentence shown)."""
    try:
        return chance.choice(EDITS)(study, chance)
    except ValueError as error:
        assert str(error).rstrip().endswith("."), error  # a sentence, not an accident
        return study


def _design(change: Callable[[Design, random.Random], Design]) -> Edit:
    return lambda study, chance: edits.with_design(study, change(study.design, chance))


def _move_knot(design: Design, chance: random.Random) -> Design:
    index, height = chance.randrange(len(design.wall.knots)), chance.uniform(-10.0, design.wall.height_mm + 10.0)
    return edits.move_knot(design, index, round(height, 1), round(chance.uniform(-15.0, 40.0), 2))


def _set_height(design: Design, chance: random.Random) -> Design:
    return KNOT_HEIGHT.at(_knot(design, chance)).set(design, round(chance.uniform(0, 500), 1))


def _add_knot(design: Design, chance: random.Random) -> Design:
    if len(design.wall.knots) > 12:
        return edits.delete_knot(design, chance.randrange(len(design.wall.knots)))
    height, angle = chance.uniform(0.0, design.wall.height_mm), chance.uniform(0.0, 30.0)
    return edits.add_knot(design, round(height, 1), round(angle, 2))[0]


def _delete_knot(design: Design, chance: random.Random) -> Design:
    return edits.delete_knot(design, chance.randrange(len(design.wall.knots)))


def _corner(design: Design, chance: random.Random) -> Design:
    return KNOT_LEAVING.at(_knot(design, chance)).set(design, round(chance.uniform(-5.0, 35.0), 2))


def _smooth(design: Design, chance: random.Random) -> Design:
    return KNOT_LEAVING.at(_knot(design, chance)).set(design, None)


def _knot_mark(design: Design, chance: random.Random) -> Design:
    index = _knot(design, chance)
    return chance.choice((KNOT_EASED, KNOT_LOCKED)).at(index).set(design, chance.random() < 0.5)


def _knot(design: Design, chance: random.Random) -> int:
    return chance.randrange(len(design.wall.knots))


def _hold(design: Design, chance: random.Random) -> Design:
    return edits.held(design, chance.choice(list(Hold)), chance.uniform(150.0, 300.0), chance.uniform(80.0, 200.0))


def _groove(design: Design, chance: random.Random) -> Design:
    name, value = chance.choice(
        (("off", True), ("off", False), ("shift_mm", round(chance.uniform(-8, 8), 1)), ("depth_mm", 9.0),
         ("mouth_mm", round(chance.uniform(4, 16), 1)), ("mouth_mm", None))
    )  # fmt: skip
    return members_of(GrooveChange)[name].at(chance.randint(1, 20)).set(design, value)


def _groove_rule(design: Design, chance: random.Random) -> Design:
    name, value = chance.choice(
        (("placing", chance.choice(list(Placing))), ("square_to", chance.choice(list(SquareTo))),
         ("heights_mm", tuple(round(chance.uniform(0, 330), 1) for _ in range(chance.randrange(8)))))
    )  # fmt: skip
    return edits.with_grooves(design, replace(design.grooves, **{name: value}))


def _number(record: Struct, chance: random.Random) -> Struct:
    """A number of the record a little changed, or far out of bounds now and then."""
    name, field = chance.choice(list(fields_of(type(record)).items()))
    held = getattr(record, name)
    if chance.random() < 0.05:
        value = chance.choice((field.low - field.step, field.high + field.step))
    elif held is None or not field.low <= held <= field.high:
        value = 0.5 * (field.low + field.high) if chance.random() < 0.1 else _default(record, name, field.low)
    else:
        value = min(max(held * chance.uniform(0.8, 1.25), field.low), field.high)
    value = field.snapped(value)
    return replace(record, **{name: round(value) if isinstance(held, int) else value})


def _default(record: Struct, name: str, otherwise: float) -> float:
    """What the record's class gives the member when nothing is said."""
    names, defaults = record.__struct_fields__, record.__struct_defaults__
    place = names.index(name) - (len(names) - len(defaults))
    value = defaults[place] if place >= 0 else None
    return value if isinstance(value, (int, float)) else otherwise


def _add_item(study: Study, chance: random.Random) -> Study:
    kind = chance.choice(list(Listed))
    do = list_edits.delete if len(list_edits.items(study, kind)) >= MOST_ITEMS else chance.choice(
        (list_edits.add, list_edits.duplicate)
    )  # fmt: skip
    return do(study, kind)


def _mark(study: Study, chance: random.Random) -> Study:
    if chance.random() < 0.5:
        return list_edits.mark_reference(study, chance.choice(["", "no such design", *(d.name for d in study.designs)]))
    return list_edits.mark_in_window(study, chance.choice(study.duties).name, chance.random() < 0.5)


def _body_mark(design: Design, chance: random.Random) -> Design:
    name = chance.choice(("fill_seat", "backed"))
    return replace(design, body=replace(design.body, **{name: chance.random() < 0.5}))


def _material(study: Study, chance: random.Random) -> Study:
    """Of the bowl or of the shell: one of the shipped list, a number of it changed, or none."""
    of_bowl = chance.random() < 0.5
    held = study.design.body.material if of_bowl else study.machine.shell_material
    material = _number(held, chance) if held is not None and chance.random() < 0.4 else chance.choice(MATERIALS)
    return (BODY_MATERIAL if of_bowl else SHELL_MATERIAL).set(study, material)


def _holes(design: Design, chance: random.Random) -> Design:
    if chance.random() < 0.6:
        name, value = chance.choice((("count", chance.randint(0, 60)), ("diameter_mm", chance.choice((1.0, 1.5, 3.0)))))
        plan = replace(design.holes, **{name: value})
        return replace(design, holes=_number(plan, chance) if chance.random() < 0.3 else plan)
    name, value = chance.choice(
        (("count", chance.randint(0, 80)), ("count", None), ("diameter_mm", round(chance.uniform(0.5, 8.0), 1)),
         ("skew_deg", round(chance.uniform(-60.0, 60.0), 1)), ("skew_deg", None))
    )  # fmt: skip
    return members_of(HoleChange)[name].at(chance.randint(1, 20)).set(design, value)


def _add_trial(study: Study, chance: random.Random) -> Study:
    if len(study.trials) >= 3:
        return trial_edits.delete_trial(study, chance.randrange(len(study.trials)))
    return trial_edits.add_trial(study, chance.choice((Trial("Trial"), examples.read("trial").trials[0])))


def _trial(study: Study, chance: random.Random) -> Study:
    """One of the edits the trials page proposes."""
    if not study.trials:
        return _add_trial(study, chance)
    index = chance.randrange(len(study.trials))
    trial = study.trials[index]
    row = chance.randrange(len(trial.runs) + 1)
    changed = chance.choice(
        (
            lambda: trial_edits.add_run(trial, chance.choice(("", study.design.name, "B"))),
            lambda: trial_edits.delete_runs(trial, [row]),
            lambda: trial_edits.exclude(trial, [row], chance.choice(("", "pump stopped"))),
            lambda: trial_edits.take_back(trial, [row]),
            lambda: trial_edits.set_cells(trial, {(row, chance.choice(list(COLUMNS))): chance.choice(CELLS)}),
            lambda: trial_edits.renamed(trial, chance.choice(("", "Trial", "Second season"))),
            lambda: trial_edits.adjust_also(trial, chance.choice(("wear_h", "speed_rpm")), chance.random() < 0.5),
            lambda: trial_edits.freeze_plan(trial, date(2031, 3, 1)),
            lambda: trial_edits.set_plan(trial, "structure", chance.choice(list(Structure))),
            lambda: trial_edits.waive(trial, "trend", chance.choice(("", "a known cause"))),
            lambda: replace(trial, plan=_optional_number(trial.plan, chance)),
            lambda: replace(trial, worth=_optional_number(trial.worth, chance)),
        )
    )()
    return trial_edits.with_trial(study, index, changed)


def _optional_number(record: Struct, chance: random.Random) -> Struct:
    """A number of the record within its bounds, or none where it may be empty."""
    name, field = chance.choice(list(fields_of(type(record)).items()))
    if _default(record, name, float("nan")) != _default(record, name, float("nan")) and chance.random() < 0.3:
        return replace(record, **{name: None})
    value = field.snapped(chance.uniform(field.low, min(field.high, field.low + 1000.0 * field.step)))
    return replace(record, **{name: round(value) if name == "planned_units" else value})


def _size_classes(study: Study, chance: random.Random) -> Study:
    """None, sound ones, or some that contradict each other."""
    count = chance.randint(0, 22)
    sizes = sorted((round(chance.uniform(1.0, 2000.0), 1) for _ in range(count)), reverse=True)
    rows = tuple(SizeClass(size, round(chance.uniform(0.0, 9.0), 2)) for size in sizes)
    if rows and chance.random() < 0.7:
        rows = made_whole(rows)
    return edits.with_duty(study, replace(study.duty, size_classes=rows))


EDITS: tuple[Edit, ...] = (
    *(_design(change) for change in (
        _move_knot, _move_knot, _set_height, _add_knot, _delete_knot, _corner, _smooth, _knot_mark, _hold, _groove,
        _groove_rule, lambda d, c: edits.with_grooves(d, _number(d.grooves, c)),
        lambda d, c: replace(d, body=_number(d.body, c)), _body_mark, _holes, _holes,
    )),
    _material, _add_trial, _trial, _trial,
    lambda s, c: edits.with_duty(s, _number(s.duty, c)),
    _size_classes,
    lambda s, c: edits.with_machine(s, _number(s.machine, c)),
    _add_item,
    _mark,
    lambda s, c: list_edits.delete(s, c.choice(list(Listed))),
    lambda s, c: list_edits.move(s, c.choice(list(Listed)), c.randint(-3, 3)),
    lambda s, c: list_edits.rename(s, c.choice(list(Listed)), c.choice(("", "A", "B  b", "As designed", s.duty.name))),
)  # fmt: skip
