"""What a new study starts from: a machine and a first duty, typed; nothing of any other study comes along.

What is not typed stands at the record's own default: of a machine that it is not given, of a duty the usual value,
which the report marks.
"""

from collections.abc import Mapping
from typing import TypeVar

from profiler.study.records.duty import D50, DRY_FEED, SOLIDS, SPEED, WATER, Duty
from profiler.study.records.fields import Field, NumberField, required
from profiler.study.records.machine import JACKET_GAP, Machine

MACHINE_LIP = required(Machine, "lip_radius_mm", float)
MACHINE_HEIGHT = required(Machine, "height_mm", float)
OF_MACHINE = (MACHINE_LIP, MACHINE_HEIGHT)
OF_DUTY = (SPEED, SOLIDS, D50, DRY_FEED, WATER)

Typed = Mapping[NumberField, float | None]
Number = TypeVar("Number", float, float | None)


def blank_machine(typed: Typed) -> Machine:
    """A machine of a lip radius and a height, without a seat. Raises ValueError, one sentence, for what is missing."""
    lip, height = (_needed(field, typed) for field in OF_MACHINE)
    return JACKET_GAP.set(Machine("Machine", (), lip, height), _fit_to_use(JACKET_GAP, typed.get(JACKET_GAP)))


def first_duty(typed: Typed, name: str = "First duty") -> Duty:
    """Raises ValueError, one sentence, for what is missing or out of bounds."""
    duty = Duty(name)
    for field in OF_DUTY:
        duty = field.set(duty, _needed(field, typed))
    return duty


def _needed(field: Field[float], typed: Typed) -> float:
    value = typed.get(field)
    if value is None:
        raise ValueError(f"{field.label} is not given: a first study needs it, in {field.unit}.")
    return _fit_to_use(field, value)


def _fit_to_use(field: Field[Number], value: Number) -> Number:
    objection = None if value is None else field.objection(value)
    if objection is not None:
        raise ValueError(objection)
    return value
