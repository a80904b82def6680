"""A machine's envelope from a drawing: which chain is the seat, which an existing bowl, and the machine they give."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from msgspec.structs import replace

from profiler.assess.drawn.bowl_wall import DrawnWall, drawn_wall
from profiler.assess.drawn.drawing import GAP_MM, Circle, Drawing
from profiler.assess.drawn.drawn_grooves import lands_of
from profiler.assess.drawn.inside import InnerLine, NoInnerLine, inner_line, is_hollow
from profiler.assess.drawn.placing import Axis, Placed
from profiler.assess.drawn.seat import NoSeat, ReadSeat, read_seat
from profiler.geometry.chain import Chain
from profiler.numbers import as_printed, counted
from profiler.study import Design, Machine, objections
from profiler.study.records.record import Record

MOST_LOOKED_AT = 12  # chains, the longest first, that may be seat or bowl without being pointed at
GROOVES_OF_A_BOWL = 3  # so many recognised, and the chain is a bowl
PIPE_SHARE = 0.4  # of the largest radius, within which an upright line may be a feed pipe


class NoEnvelope(ValueError):
    """Why a chain cannot be what it was said to be, as one sentence."""


@dataclass(frozen=True, slots=True)
class Roles:
    """Places of chains in `Placed.chains`; None: there is none. Lip radius and height where they are typed."""

    seat: int | None = None
    bowl: int | None = None
    lip_radius_mm: float | None = None
    height_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Envelope:
    """The machine with what was read, the shown design with the body's numbers that were drawn, and the drawn bowl."""

    machine: Machine
    design: Design
    bowl: DrawnWall | None
    sentence: str


def proposed_roles(placed: Placed) -> Roles:
    """The longest chain with grooves is a bowl; the one that reaches furthest out of the others the seat."""
    lines: dict[int, InnerLine] = {}
    for place, chain in enumerate(placed.chains[:MOST_LOOKED_AT]):
        try:
            lines[place] = inner_line(chain)
        except NoInnerLine:
            continue
    bowl = next((p for p, line in lines.items() if len(lands_of(line).grooves) >= GROOVES_OF_A_BOWL), None)
    rest = {p: line for p, line in lines.items() if p != bowl and line.rim[0] > 0.0}
    tallest = max((line.height for line in rest.values()), default=0.0)
    tall = {p: line for p, line in rest.items() if line.height > 0.5 * tallest}
    return Roles(max(tall, key=lambda p: float(tall[p].rim[0]), default=None), bowl)


def envelope(placed: Placed, roles: Roles, machine: Machine, design: Design, drawing: Drawing, axis: Axis) -> Envelope:
    """Raises NoEnvelope or NoCurve, one sentence each, where a chain cannot be what it is said to be."""
    seat = None if roles.seat is None else _seat(placed.chains[roles.seat])
    inner = None if roles.bowl is None else _inner(placed.chains[roles.bowl], "bowl's wall")
    said: list[str] = []
    if seat is not None:
        machine = replace(machine, seat=seat.points)
        said.append(f"a seat of {counted(len(seat.points), 'point')}, {seat.points[-1].height_mm:g} mm high")
        if seat.ledges:
            said.append(f"{counted(seat.ledges, 'level ledge')} in it raised by 0.01 mm")
    bowl = None
    if inner is not None:
        bowl = drawn_wall(inner, design)
        machine = replace(machine, lip_radius_mm=round(float(inner.rim[0]), 4), height_mm=round(inner.height, 4))
        design = _with_body(design, inner, seat, placed.chains[roles.bowl or 0])
    machine = _typed(machine, roles)
    machine = _with_pipe(machine, placed, seat, inner)
    design = _with_hub(design, drawing, axis)
    _refuse_unusable(machine, seat)
    said.append(f"lip radius {machine.lip_radius_mm:g} mm, height {machine.height_mm:g} mm{_told(roles, inner)}")
    if seat is not None and inner is None and roles.height_mm is None:
        said.append(f"with this flange and floor plate a bowl on it is {_height_over(seat, design):g} mm high")
    if machine.feed_pipe_mm and machine.feed_pipe_mm == 2.0 * _pipe_radius(placed, seat, inner):
        said.append(f"a feed pipe of {machine.feed_pipe_mm:g} mm")
    sentence = "From the drawing: " + "; ".join(said) + "."
    return Envelope(machine, design, bowl, as_printed(f"{sentence} {bowl.sentence}" if bowl else sentence))


def _height_over(seat: ReadSeat, design: Design) -> float:
    """The bowl's height where its flange stands on the seat's rim and its floor plate on the seat's floor."""
    return seat.points[-1].height_mm + design.body.flange_mm - design.body.floor_plate_mm


def _told(roles: Roles, inner: InnerLine | None) -> str:
    if inner is not None:
        return ", from the drawn bowl"
    missing = roles.lip_radius_mm is None or roles.height_mm is None
    return ", as before: a seat alone does not say where the lip ends" if missing else ""


def _inner(chain: Chain, word: str) -> InnerLine:
    try:
        return inner_line(chain)
    except NoInnerLine as reason:
        raise NoEnvelope(f"This chain cannot be the {word}: {_inside(str(reason))}") from None


def _seat(chain: Chain) -> ReadSeat:
    try:
        return read_seat(_inner(chain, "seat"))
    except NoSeat as reason:
        raise NoEnvelope(f"This chain cannot be the seat: {_inside(str(reason))}") from None


def _inside(sentence: str) -> str:
    return f"{sentence[0].lower()}{sentence[1:]}"


def _typed(machine: Machine, roles: Roles) -> Machine:
    lip = machine.lip_radius_mm if roles.lip_radius_mm is None else roles.lip_radius_mm
    height = machine.height_mm if roles.height_mm is None else roles.height_mm
    return replace(machine, lip_radius_mm=lip, height_mm=height)


def _with_body(design: Design, inner: InnerLine, seat: ReadSeat | None, chain: Chain) -> Design:
    """Hub hole, floor plate and flange as drawn, where both floors and both rims are."""
    body = design.body
    if chain.closed and not is_hollow(chain) and float(chain.points[:, 0].min()) > GAP_MM:
        body = replace(body, hub_hole_mm=round(2.0 * float(chain.points[:, 0].min()), 4))
    if seat is not None:
        plate = float(inner.foot[1]) - seat.floor_mm
        flange = float(inner.rim[1]) - seat.floor_mm - seat.points[-1].height_mm
        body = replace(body, floor_plate_mm=round(plate, 4) if plate > GAP_MM else body.floor_plate_mm)
        body = replace(body, flange_mm=round(flange, 4) if flange > GAP_MM else body.flange_mm)
    return replace(design, body=body)


def _with_hub(design: Design, drawing: Drawing, axis: Axis) -> Design:
    """The smallest circle about the axis is the hub's hole, seen from above."""
    about = [c for c in drawing.circles if abs(_across(c, axis) - axis.at_mm) < GAP_MM]
    if not about:
        return design
    hole = 2.0 * min(c.radius for c in about)
    return replace(design, body=replace(design.body, hub_hole_mm=round(hole, 4)))


def _across(circle: Circle, axis: Axis) -> float:
    return circle.x if axis.upright else circle.y


def _with_pipe(machine: Machine, placed: Placed, seat: ReadSeat | None, inner: InnerLine | None) -> Machine:
    """An upright line by itself, near the axis and ending above the floor, is the feed pipe's outside."""
    radius = _pipe_radius(placed, seat, inner)
    if radius == 0.0:
        return machine
    floor = float(inner.foot[1]) if inner is not None else seat.floor_mm if seat is not None else 0.0
    low = min(float(c.points[:, 1].min()) for c in _pipes(placed.chains, seat, inner))
    return replace(machine, feed_pipe_mm=2.0 * radius, feed_pipe_end_mm=round(max(low - floor, 0.0), 4))


def _pipe_radius(placed: Placed, seat: ReadSeat | None, inner: InnerLine | None) -> float:
    return max((round(float(c.points[0, 0]), 4) for c in _pipes(placed.chains, seat, inner)), default=0.0)


def _pipes(chains: Sequence[Chain], seat: ReadSeat | None, inner: InnerLine | None) -> list[Chain]:
    rim = float(inner.rim[0]) if inner is not None else seat.points[-1].radius_mm if seat is not None else 0.0
    floor = float(inner.foot[1]) if inner is not None else seat.floor_mm if seat is not None else 0.0

    def is_pipe(chain: Chain) -> bool:
        radius = chain.points[:, 0]
        upright = not chain.closed and float(np.ptp(radius)) < GAP_MM and not np.any(chain.bulges[:-1])
        return (
            upright and GAP_MM < float(radius[0]) < PIPE_SHARE * rim and float(chain.points[:, 1].min()) > floor + 1.0
        )

    return [c for c in chains if is_pipe(c)]


def _refuse_unusable(machine: Machine, seat: ReadSeat | None) -> None:
    """Raises NoEnvelope for numbers no machine can have, and a seat the lip would not go into."""
    records: tuple[Record, ...] = (machine, *machine.seat)
    for record in records:
        for field, _, sentence in objections(record):
            if field.unit == "mm":
                raise NoEnvelope(f"{sentence} Is the unit or the scale of the drawing another?")
    if seat is not None and seat.points[-1].radius_mm <= machine.lip_radius_mm:
        top, lip = seat.points[-1].radius_mm, machine.lip_radius_mm
        raise NoEnvelope(f"The seat's rim, R {top:.2f} mm, is narrower than the lip radius of {lip:g} mm.")
