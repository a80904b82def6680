"""Every number of duty, wall, grooves, holes and body over its whole allowed range, dry, with water and through holes.

What the table of fields allows may still be a bowl that cannot be built: then there is no flow, and nothing to say.
"""

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import Evaluation, Stages, evaluate
from profiler.assess.findings.kinds import Kind
from profiler.assess.quantities.table import QUANTITIES
from profiler.study import Body, GrooveRule, HolePlan, WallCurve
from profiler.study.records.duty import Duty
from profiler.study.records.fields import Field, Record, fields_of
from tests.laws.bowl.sweeps import DESIGN, DRY, DUTY, EVEN, MACHINE, Case, sound

FEW, MANY = 6, 300
NEVER_BELOW_ZERO = ("mass", "volume", "radius", "depth", "content", "residence", "power_kw", "pressure", "energy")
START = (Case(EVEN, MACHINE, DRY), Case(EVEN, MACHINE, DUTY), Case(DESIGN, MACHINE, DUTY))
NUMBERS = [
    (kind, field)
    for kind in (Duty, WallCurve, GrooveRule, HolePlan, Body)
    for field in fields_of(kind).values()
    if field.kind in (int, float)
]


def values(field: Field[float], count: int) -> list[float]:
    """From the lowest to the highest, even in ratio where it may be a thousand times the other, the ends among them."""
    low, high = field.low, field.high
    if low >= 0.0 and high > 100.0 * max(low, 1e-3):
        spread = np.geomspace(max(low, high * 1e-5), high, count - 1)
        found = [low, *spread.tolist()]
    else:
        found = np.linspace(low, high, count).tolist()
    return sorted({round(x) for x in found}) if field.kind is int else sorted(set(found))


def changed(case: Case, kind: type[Record], field: Field[float], value: float) -> Case:
    if kind is Duty:
        return Case(case.design, case.machine, field.set(case.duty, value))
    member = {WallCurve: "wall", GrooveRule: "grooves", HolePlan: "holes", Body: "body"}[kind]
    part = field.set(getattr(case.design, member), value)
    return Case(replace(case.design, **{member: part}), case.machine, case.duty)


def told_whole(value: float, e: Evaluation) -> None:
    sound(value, e)
    if e.spin is not None or e.body is not None:  # a section that bounds no body has neither mass nor energy
        assert not {f.kind for f in e.findings} & {Kind.OUTLINE_CROSSES, Kind.FLANGE_INSIDE_LIP}, value
    for quantity in QUANTITIES:
        found = np.asarray(quantity.get(e), dtype=float)
        assert not np.isinf(found).any(), (quantity.key, value)
        if any(word in quantity.key for word in NEVER_BELOW_ZERO):
            assert not (found < -1e-9).any(), (quantity.key, value, found.min())
        if quantity.unit == "°":
            assert not (np.abs(found) > (360.0 if "arc" in quantity.key else 90.0)).any(), (quantity.key, value)


def swept(kind: type[Record], field: Field[float], count: int, starts: tuple[Case, ...] = START) -> None:
    answered = 0
    for start in starts:
        for value in values(field, count):
            case = changed(start, kind, field, value)
            e = evaluate(case.design, case.machine, case.duty, want=Stages.ALL)
            told_whole(value, e)
            answered += e.flow is not None
    assert answered >= len(starts)


@pytest.mark.no_cover
@pytest.mark.parametrize(("kind", "field"), NUMBERS, ids=[f"{k.__name__}.{f.name}" for k, f in NUMBERS])
def test_over_its_whole_range_every_figure_is_a_number_or_no_answer(kind: type[Record], field: Field[float]) -> None:
    swept(kind, field, FEW, START[1:])  # with water, as nearly every bowl runs


@pytest.mark.long
@pytest.mark.parametrize(("kind", "field"), NUMBERS, ids=[f"{k.__name__}.{f.name}" for k, f in NUMBERS])
def test_the_same_in_many_steps(kind: type[Record], field: Field[float]) -> None:
    swept(kind, field, MANY)


@pytest.mark.parametrize("place", range(len(DESIGN.wall.knots)))
def test_any_angle_of_a_knot_gives_numbers_or_no_answer(place: int) -> None:
    for start in START:
        for angle in np.linspace(-60.0, 85.0, 11).tolist():
            knots = list(start.design.wall.knots)
            knots[place] = replace(knots[place], angle_deg=angle)
            design = replace(start.design, wall=replace(start.design.wall, knots=tuple(knots)))
            told_whole(angle, evaluate(design, start.machine, start.duty, want=Stages.ALL))
