"""Checks of the water's way into the grooves: the supply, the jacket, the holes themselves."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from profiler.assess.findings.by_groove import per_run
from profiler.assess.findings.finding import Finding
from profiler.assess.findings.kinds import Kind
from profiler.assess.flow.flow_stage import SETTLED, SETTLED_ANGLE, Flow
from profiler.assess.shape.rings import HoleRings
from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.wall import FloatArray
from profiler.numbers import Against
from profiler.physics.water import hole_flow
from profiler.physics.water.jacket import Jacket
from profiler.study import Duty, Machine
from profiler.units import DEGREE, KILOPASCAL, LITRE_PER_MINUTE, MM

MOUTHS_PER_SPACING = 4.0  # holes farther apart leave dead sectors between them
LIGAMENT = 2.0  # least wall between holes, in diameters
STRAINERS = 3.0  # a hole is at least so many strainer openings wide


def water_findings(machine: Machine, duty: Duty, shape: Shape, flow: Flow) -> list[Finding]:
    found = []
    rest = float(flow.water.unsettled[0])
    if rest > SETTLED:
        text = f"Water and surface have not settled: the rings' flows would still move by {100.0 * rest:.2g} %."
        found.append(Finding(kind=Kind.WATER_UNSETTLED, text=text, value=100.0 * rest, limit=100.0 * SETTLED, unit="%"))
    turn, least = (float(angle) / DEGREE for angle in (flow.water.angle_unsettled[0], SETTLED_ANGLE))
    if turn > least:
        text = f"Film and surface have not settled: the repose angle would still move by {turn:.2g}°."
        found.append(Finding(kind=Kind.SURFACE_UNSETTLED, text=text, value=turn, limit=least, unit="°"))
    if len(shape.mouths) and duty.water_l_min <= 0.0:
        text = "There is no fluidising water: the grooves pack hard."
        found.append(Finding(kind=Kind.NO_WATER, text=text, value=0.0, limit=0.0, unit="L/min"))
    if not len(shape.mouths):
        return found
    jacket = flow.water.jacket
    if shape.holes is None or jacket is None:
        text = "No hole plan is given: the water is taken as spread evenly over the grooves."
        return [*found, Finding(kind=Kind.WATER_EVEN, text=text)]
    supply = _supply_findings(machine, duty, float(flow.water.total[0]) / LITRE_PER_MINUTE, jacket)
    return [*found, *supply, *_jacket_findings(shape, shape.holes, jacket)]


def hole_findings(machine: Machine, shape: Shape) -> list[Finding]:
    """The holes of the plan as they are drilled; nothing of the flow."""
    if shape.holes is None:
        return []
    found = []
    ringed = shape.holes.rings.count > 0.0
    for rule in _DRILLED:
        value, limit = rule.value(shape, shape.holes), rule.limit(machine, shape, shape.holes)
        broken = ringed & ((value > limit) if rule.above else (value < limit))
        gone = broken & (value < 0.0) if rule.gone else np.zeros(len(value), dtype=bool)
        for which, text in ((gone, rule.gone), (broken & ~gone, rule.text)):
            found += per_run(rule.kind, shape.mouths, which, value, limit, rule.unit, text, rule.above)
    return found


def _supply_findings(machine: Machine, duty: Duty, given: float, jacket: Jacket) -> list[Finding]:
    """`given` L/min by the supply."""
    if given >= duty.water_l_min * (1.0 - 1e-9) or not np.isfinite(jacket.inlet_pressure[0]):
        return []
    against = float(jacket.inlet_pressure[0]) / KILOPASCAL
    how = f"against {against:.0f} kPa" if against > 0.0 else "with no pressure against it"
    told = Against(given, duty.water_l_min)
    text = f"The supply gives {told:.1f} L/min {how}; {duty.water_l_min:g} L/min are asked for."
    return [
        Finding(
            kind=Kind.SUPPLY_WEAK, text=text, value=given, limit=duty.water_l_min, unit="L/min",
            own_source=f"supply of machine {machine.name}",
        )
    ]  # fmt: skip


def _jacket_findings(shape: Shape, drilled: HoleRings, jacket: Jacket) -> list[Finding]:
    found = []
    level = float(jacket.free_surface[0]) / MM
    dry = jacket.dry[0]
    if np.isfinite(level):
        text = f"The jacket runs part full: its water stands at R {level:.0f} mm."
        found.append(Finding(kind=Kind.JACKET_PART_FULL, text=text, value=level, unit="mm"))
    short = (jacket.back_pressure[0] - jacket.pressure[0]) / KILOPASCAL
    table = (
        (Kind.RING_DRY, dry, drilled.rings.radius / MM, level, "mm",
         "{who}: the jacket's water, at R {limit:.0f} mm, does not reach the holes; slurry runs out through them."),
        (Kind.BACKFLOW, jacket.backflow[0] & ~dry, short, 0.0, "kPa",
         "{who}: slurry presses up to {value:.1f} kPa more than the jacket and runs back through the holes."),
        (Kind.RING_WITHOUT_HOLES, drilled.rings.count <= 0.0, drilled.rings.count, 1.0, "",
         "{who}: no holes, so no water."),
    )  # fmt: skip
    for kind, broken, value, limit, unit, words in table:
        found += per_run(kind, shape.mouths, broken, value, limit, unit, words)
    return found


@dataclass(frozen=True, slots=True)
class _Drilled:
    """A rule for holes: broken where value is above (or below) the limit; mm unless it says otherwise."""

    kind: Kind
    above: bool
    value: Callable[[Shape, HoleRings], FloatArray]
    limit: Callable[[Machine, Shape, HoleRings], FloatArray]
    unit: str
    text: str
    gone: str = ""  # where the value lies below nought


def _diameter(shape: Shape, drilled: HoleRings) -> FloatArray:
    return drilled.rings.diameter / MM


def _spacing(shape: Shape, drilled: HoleRings) -> FloatArray:
    return np.asarray(hole_flow.spacing(drilled.rings.radius, drilled.rings.count) / MM)


def _floor_width(shape: Shape) -> FloatArray:
    corners = shape.contours.corners
    return np.asarray(np.hypot(*(corners[:, 2] - corners[:, 1]).T))


def _each(shape: Shape, value: float) -> FloatArray:
    return np.full(len(shape.mouths), value)


_DRILLED = (
    _Drilled(Kind.HOLE_NO_JACKET, False, lambda s, h: h.in_jacket.astype(float),
             lambda m, s, h: _each(s, 0.5), "",
             "{who}: no jacket lies behind the holes."),
    _Drilled(Kind.HOLE_WIDE, True, _diameter, lambda m, s, h: _floor_width(s), "mm",
             "{who}: a hole of {value:.1f} mm is wider than the groove floor, {limit:.1f} mm."),
    _Drilled(Kind.HOLE_LIGAMENT, False, lambda s, h: np.asarray(_spacing(s, h) - _diameter(s, h)),
             lambda m, s, h: np.asarray(LIGAMENT * _diameter(s, h)), "mm",
             "{who}: only {value:.1f} mm of wall between holes; two diameters, {limit:.1f} mm, are wanted.",
             "{who}: holes overlap by {below:.1f} mm; two diameters, {limit:.1f} mm, of wall are wanted."),
    _Drilled(Kind.HOLE_SPACING, True, _spacing, lambda m, s, h: MOUTHS_PER_SPACING * s.cut.mouth, "mm",
             "{who}: holes {value:.0f} mm apart, over four mouth widths ({limit:.0f} mm): dead sectors between them."),
    _Drilled(Kind.HOLE_STRAINER, False, _diameter,
             lambda m, s, h: _each(s, STRAINERS * (m.strainer_um or 0.0) * MM), "mm",
             "{who}: a hole of {value:.2f} mm is under three strainer openings, {limit:.2f} mm: it can clog."),
    _Drilled(Kind.HOLE_DEEP, True, lambda s, h: h.rings.length / h.rings.diameter,
             lambda m, s, h: _each(s, np.inf if h.making is None else h.making.deepest), "",
             "{who}: holes {value:.1f} diameters deep; as they are made {limit:g} can be reached."),
    _Drilled(Kind.HOLE_SMALL, False, _diameter,
             lambda m, s, h: _each(s, 0.0 if h.making is None else h.making.least_mm), "mm",
             "{who}: a hole of {value:.2f} mm is under {limit:g} mm, the smallest that is sensible as they are made."),
    _Drilled(Kind.HOLE_SHORT, False, lambda s, h: h.rings.length / h.rings.diameter,
             lambda m, s, h: _each(s, hole_flow.SHORTEST), "",
             "{who}: holes only {value:.1f} diameters long; below {limit:g} their flow jumps."),
)  # fmt: skip
