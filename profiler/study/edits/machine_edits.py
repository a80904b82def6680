"""Pure edits of a machine: each takes a machine and returns a new one, or refuses with one sentence (ValueError)."""

from msgspec.structs import replace

from profiler.study.edits.names import typed_name
from profiler.study.records.machine import Machine, SeatPoint

STEP_MM = 20.0  # a new topmost point stands so much higher


def rename(machine: Machine, name: str) -> Machine:
    return replace(machine, name=typed_name(name, "machine", machine.name))


def add_seat_point(machine: Machine, index: int) -> Machine:
    """A point halfway between this one and the next; above the topmost one, a step higher on the same line."""
    seat = machine.seat
    if not seat:
        return _with(machine, (SeatPoint(0.0, round(machine.lip_radius_mm, 1)),))
    here = seat[index]
    if index + 1 < len(seat):
        above = seat[index + 1]
        new = SeatPoint(
            round(0.5 * (here.height_mm + above.height_mm), 1), round(0.5 * (here.radius_mm + above.radius_mm), 1)
        )
        if not here.height_mm < new.height_mm < above.height_mm:
            raise ValueError("These two seat points stand too close for another between them.")
    else:
        new = SeatPoint(here.height_mm + STEP_MM, here.radius_mm)
    return _with(machine, (*seat[: index + 1], new, *seat[index + 1 :]))


def delete_seat_point(machine: Machine, index: int) -> Machine:
    seat = machine.seat
    if index == 0 and len(seat) > 1:
        raise ValueError(
            "The lowest seat point stands on the seat's floor; it cannot be deleted while there are others."
        )
    return _with(machine, (*seat[:index], *seat[index + 1 :]))


def _with(machine: Machine, seat: tuple[SeatPoint, ...]) -> Machine:
    return replace(machine, seat=seat)
