"""What a new study starts from: a machine and a first duty, typed; nothing of any other study comes along.

What is not typed stands at the record's own default, which for everything a machine may lack says that it is not given.
"""

from collections.abc import Mapping

from profiler.study.records.duty import D50, DRY_FEED, SOLIDS, SPEED, WATER, Duty
from profiler.study.records.fields import Field, required
from profiler.study.records.machine import Machine

MACHINE_LIP = required(Machine, "lip_radius_mm", float)
MACHINE_HEIGHT = required(Machine, "height_mm", float)
OF_MACHINE = (MACHINE_LIP, MACHINE_HEIGHT)
OF_DUTY = (SPEED, SOLIDS, D50, DRY_FEED, WATER)

Typed = Mapping[Field[float], float | None]


def blank_machine(typed: Typed) -> Machine:
    """A machine of a lip radius and a height, without a seat. Raises ValueError, one sentence, for what is missing."""
    lip, height = (_needed(field, typed) for field in OF_MACHINE)
    speed = typed.get(SPEED)
    known = Machine("Machine", (), lip, height)
    if speed is None or known.speed_low_rpm <= speed <= known.speed_high_rpm:
        return known
    return known.having("speed_low_rpm", min(speed, known.speed_low_rpm)).having(
        "speed_high_rpm", max(speed, known.speed_high_rpm)
    )


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
    objection = field.objection(value)
    if objection is not None:
        raise ValueError(objection)
    return value
