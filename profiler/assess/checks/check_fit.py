"""Checks of a bowl against its machine: seat, lip, height, speed; and the caution that goes with anything spinning."""

from contextlib import suppress
from functools import lru_cache

import numpy as np

from profiler.assess.findings.finding import Finding, Remedy
from profiler.assess.findings.kinds import Kind, Severity
from profiler.assess.shape.held_ends import CannotJoin, joined, mismatch_mm
from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.chain import Chain, distances, sampled
from profiler.geometry.wall import FloatArray, Wall, pairs
from profiler.numbers import Against
from profiler.study import Design, Duty, Machine, not_given
from profiler.study.records.design import BODY_FILL
from profiler.study.records.duty import SPEED

SAME_MM = 0.05

SPINNING_CAUTION = Finding(
    kind=Kind.SPINNING_CAUTION,
    text="Spinning bowls and pressurised water can kill. These figures are for screening: stress, overspeed, guarding, "
    "balance and pressure belong to a licensed engineer under local codes.",
)


def speed_findings(machine: Machine, duty: Duty) -> list[Finding]:
    low, high, speed = machine.speed_low_rpm, machine.speed_high_rpm, duty.speed_rpm
    source, found = f"machine {machine.name}", []
    if high is None:
        text = f"The machine's fastest speed is not given: whether it may turn at {speed:g} rpm is not checked."
        found.append(Finding(kind=Kind.SPEED_UNKNOWN, text=text, value=speed, unit="rpm", own_source=source))
    fast = high is not None and speed > high
    limit = high if fast else low
    if limit is None or machine.may_turn_at(speed):
        return found
    text = f"The duty runs at {speed:g} rpm; {machine.name} may run {_may_run(low, high)} rpm."
    remedy = Remedy(f"Set the speed to {limit:g} rpm", SPEED.set(duty, limit))
    return [
        *found,
        Finding(
            kind=Kind.SPEED_RANGE, text=text, value=speed, limit=limit, unit="rpm", remedy=remedy,
            own_severity=Severity.STOP if fast else None, own_source=source,
        )
    ]  # fmt: skip


def _may_run(low: float | None, high: float | None) -> str:
    if high is None:
        return f"from {low:g}"
    return f"up to {high:g}" if low is None else f"from {low:g} to {high:g}"


def lacks_findings(machine: Machine) -> list[Finding]:
    """What is not given of the machine, in one sentence: nothing is worked out with it."""
    lacking = not_given(machine)
    if not lacking:
        return []
    names = ", ".join(field.label.lower() for field in lacking)
    text = f"Not given of the machine, so left out or not checked: {names}."
    if machine.supply_kpa is None or machine.supply_l_min is None or machine.jacket_inlet_mm is None:
        text += " The water asked for is assumed to arrive."
    return [Finding(kind=Kind.MACHINE_LACKS, text=text, own_source=f"machine {machine.name}")]


def fit_findings(design: Design, machine: Machine, shape: Shape) -> list[Finding]:
    found = [*_held_findings(design), *_lip_findings(machine, shape)]
    unsure = _unsure_seat(machine)
    if unsure:
        return [*found, *unsure]
    outer = _outer_points(shape.shell.outer)
    seat = np.array([[p.radius_mm, p.height_mm + shape.shell.underside] for p in machine.seat])
    gap = _signed_gap(outer, seat)
    found += _seat_findings(design, machine, outer, gap, float(seat[-1, 1]))
    return found or [_fits(machine, outer, gap)]


def _fits(machine: Machine, outer: FloatArray, gap: FloatArray) -> Finding:
    """The verdict one looks for: lip, height and jacket all as the machine wants them."""
    above = outer[:, 1] > 0.0
    outer, gap = outer[above], gap[above]
    worst = int(np.argmin(gap))
    least, at, wanted = float(gap[worst]), float(outer[worst, 1]), machine.jacket_gap_mm
    needed = "what is needed is not given" if wanted is None else f"{wanted:g} mm are needed"
    text = (
        f"The bowl fits {machine.name}: lip radius and height match, and the water jacket is nowhere narrower than "
        f"{Against(least, wanted or 0.0):.1f} mm, at {at:.0f} mm; {needed}."
    )
    return Finding(
        kind=Kind.FITS, text=text, value=least, limit=wanted, unit="mm", from_mm=at, to_mm=at,
        own_source=f"machine {machine.name}",
    )  # fmt: skip


def _held_findings(design: Design) -> list[Finding]:
    """Both radii are held, but the curve between them does not join them."""
    off = mismatch_mm(design)
    if abs(off) <= SAME_MM:
        return []
    remedy = None
    with suppress(CannotJoin):
        turned = joined(design)
        remedy = Remedy(f"Turn the unlocked knots by {turned.turned_deg:+.2f}°", turned.design)
    text = (
        f"Lip and floor radius are both held, but the curve misses the floor radius by {Against(abs(off), 0.0):.2f} mm."
    )
    return [
        Finding(
            kind=Kind.ENDS_NOT_JOINED, text=text, value=off, limit=SAME_MM, unit="mm", from_mm=0.0, to_mm=0.0,
            remedy=remedy,
        )
    ]  # fmt: skip


def _lip_findings(machine: Machine, shape: Shape) -> list[Finding]:
    found = []
    off = shape.lip_radius - machine.lip_radius_mm
    source, z = f"machine {machine.name}", shape.height
    if abs(off) > SAME_MM:
        side = "outside" if off > 0 else "inside"
        wanted = machine.lip_radius_mm
        told, by = Against(shape.lip_radius, wanted), Against(abs(off), 0.0)
        text = f"The lip radius is {told:.2f} mm, {by:.2f} mm {side} the machine's {wanted:g} mm."
        found.append(
            Finding(
                kind=Kind.LIP_RADIUS, text=text, value=shape.lip_radius, limit=wanted, unit="mm", from_mm=z, to_mm=z,
                own_source=source,
            )
        )  # fmt: skip
    tall = shape.height - machine.height_mm
    if abs(tall) > SAME_MM:
        word = "taller" if tall > 0 else "shorter"
        wanted = machine.height_mm
        text = f"The bowl is {shape.height:g} mm high, {abs(tall):g} mm {word} than the machine's {wanted:g} mm."
        found.append(
            Finding(
                kind=Kind.BOWL_HEIGHT, text=text, value=z, limit=wanted, unit="mm", from_mm=z, to_mm=z,
                own_source=source,
            )
        )  # fmt: skip
    return found


def _unsure_seat(machine: Machine) -> list[Finding]:
    """Why nothing can be said of the seat, if nothing can."""
    if len(machine.seat) < 2:
        text = "The machine has no seat profile: the outside of the bowl is not checked."
        return [Finding(kind=Kind.NO_SEAT, text=text)]
    heights = np.array([p.height_mm for p in machine.seat])
    if not np.all(np.diff(heights) > 0):
        text = "The seat's heights must increase from its floor up."
        return [Finding(kind=Kind.SEAT_ORDER, text=text, own_source=f"machine {machine.name}")]
    return []


def _seat_findings(
    design: Design, machine: Machine, outer: FloatArray, gap: FloatArray, rim_mm: float
) -> list[Finding]:
    """The bowl's outer wall against the seat, from above the floor plate's seal to under the lip flange's.

    Nothing is said of heights above the seat's rim: there is nothing to cut.
    """
    beside = outer[:, 1] <= rim_mm + 1e-6
    outer, gap = outer[beside], gap[beside]
    above_plate = outer[:, 1] > 0.0
    worst = int(np.argmin(gap))
    source = f"machine {machine.name}"
    if gap[worst] < -1e-6:
        text = f"The bowl cuts {Against(-gap[worst], 0.0):.1f} mm into the seat at {outer[worst, 1]:.0f} mm."
        low, high = _span(outer, gap < 0)
        return [
            Finding(
                kind=Kind.SEAT_CLASH, text=text, value=float(gap[worst]), limit=0.0, unit="mm",
                from_mm=low, to_mm=high, at_mm=float(outer[worst, 1]), own_source=source,
            )
        ]  # fmt: skip
    wanted = machine.jacket_gap_mm
    tight = above_plate & (gap < (-np.inf if wanted is None else wanted) - 1e-6)
    if tight.any():
        narrowest = int(np.argmin(np.where(tight, gap, np.inf)))
        least, at = float(gap[narrowest]), float(outer[narrowest, 1])
        low, high = _span(outer, tight)
        where = f"at {low:.0f} mm" if high - low < 1.0 else f"between {low:.0f} and {high:.0f} mm"
        told = Against(least, wanted or 0.0)
        text = f"The water jacket narrows to {told:.1f} mm {where}; the machine needs {wanted:g} mm."
        remedy = None if design.body.fill_seat else Remedy("Fill the seat", BODY_FILL.set(design, True))
        return [
            Finding(
                kind=Kind.JACKET_NARROW, text=text, value=least, limit=wanted, unit="mm", from_mm=low, to_mm=high,
                at_mm=at, remedy=remedy, own_source=source,
            )
        ]  # fmt: skip
    return []


@lru_cache(maxsize=4)  # along a seat it stays while the wall is shaped
def _outer_points(outer: Wall) -> FloatArray:
    points = pairs(outer.radius, outer.height)
    bulges = np.append(outer.bulge(outer.height[:-1], outer.height[1:]), 0.0)
    return sampled(Chain(points, bulges, closed=False), 0.02)


def _signed_gap(points: FloatArray, seat: FloatArray) -> FloatArray:
    """Least distance of each point from the seat's polyline; negative outside it."""
    away = distances(points, seat)
    inside = points[:, 0] <= np.interp(points[:, 1], seat[:, 1], seat[:, 0])
    return np.asarray(np.where(inside, away, -away))


def _span(points: FloatArray, which: np.ndarray[tuple[int], np.dtype[np.bool_]]) -> tuple[float, float]:
    heights = points[which, 1]
    return float(heights.min()), float(heights.max())
