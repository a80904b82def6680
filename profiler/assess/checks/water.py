"""Checks of the water's way into the grooves: the supply, the jacket, the holes themselves."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from profiler.assess.findings.finding import Finding, Severity, named, runs
from profiler.assess.flow.solve import Flow
from profiler.assess.shape.build import Shape
from profiler.assess.shape.rings import HoleRings
from profiler.geometry.wall import FloatArray
from profiler.physics.water import holes
from profiler.study import Duty, Machine
from profiler.units import DEGREE, KILOPASCAL, LITRE_PER_MINUTE, MM

NETWORK = "balance of the jacket in the rotating frame"
TRADE = "common practice, no source"
SETTLED_DEG = 0.05  # what the last pass may still move the repose angle by
MOUTHS_PER_SPACING = 4.0  # holes farther apart leave dead sectors between them
LIGAMENT = 2.0  # least wall between holes, in diameters
STRAINERS = 3.0  # a hole is at least so many strainer openings wide


def water_findings(machine: Machine, duty: Duty, shape: Shape, flow: Flow) -> list[Finding]:
    found = []
    moved = float(flow.water.last_change[0]) / DEGREE
    if moved > SETTLED_DEG:
        text = f"Water and surface have not settled: the last pass still moved the repose angle by {moved:.2f}°."
        found.append(Finding("water_unsettled", Severity.CHECK, text, moved, SETTLED_DEG, "°", NETWORK))
    if len(shape.mouths) and duty.water_l_min <= 0.0:
        text = "There is no fluidising water: the grooves pack hard."
        found.append(Finding("no_water", Severity.CHECK, text, 0.0, 0.0, "L/min", TRADE))
    if not len(shape.mouths):
        return found
    if shape.holes is None:
        text = "No hole plan is given: the water is taken as spread evenly over the grooves."
        return [*found, Finding("water_even", Severity.NOTE, text)]
    return [*found, *_supply_findings(machine, duty, flow), *_jacket_findings(shape, shape.holes, flow)]


def hole_findings(machine: Machine, shape: Shape) -> list[Finding]:
    """The holes of the plan as they are drilled; nothing of the flow."""
    if shape.holes is None:
        return []
    found = []
    ringed = shape.holes.rings.count > 0.0
    for rule in _DRILLED:
        value, limit = rule.value(shape, shape.holes), rule.limit(machine, shape, shape.holes)
        broken = ringed & ((value > limit) if rule.above else (value < limit))
        found += _per_run(shape, rule, broken, value, limit)
    return found


def _supply_findings(machine: Machine, duty: Duty, flow: Flow) -> list[Finding]:
    jacket = flow.water.jacket
    assert jacket is not None
    given = float(flow.water.total[0]) / LITRE_PER_MINUTE
    if given >= duty.water_l_min * (1.0 - 1e-9) or not np.isfinite(jacket.inlet_pressure[0]):
        return []
    against = float(jacket.inlet_pressure[0]) / KILOPASCAL
    how = f"against {against:.0f} kPa" if against > 0.0 else "with no pressure against it"
    text = f"The supply gives {given:.1f} L/min {how}; {duty.water_l_min:g} L/min are asked for."
    source = f"supply of machine {machine.name}"
    return [Finding("supply_weak", Severity.CHECK, text, given, duty.water_l_min, "L/min", source)]


def _jacket_findings(shape: Shape, drilled: HoleRings, flow: Flow) -> list[Finding]:
    jacket = flow.water.jacket
    assert jacket is not None
    found = []
    level = float(jacket.free_surface[0]) / MM
    dry = jacket.dry[0]
    if np.isfinite(level):
        text = f"The jacket runs part full: its water stands at R {level:.0f} mm."
        found.append(Finding("jacket_part_full", Severity.NOTE, text, level, unit="mm", source=NETWORK))
    short = (jacket.back_pressure[0] - jacket.pressure[0]) / KILOPASCAL
    table = (
        ("ring_dry", Severity.STOP, dry, drilled.rings.radius / MM, level, "mm",
         "{who}: the jacket's water, at R {limit:.0f} mm, does not reach the holes; slurry runs out through them."),
        ("backflow", Severity.STOP, jacket.backflow[0] & ~dry, short, 0.0, "kPa",
         "{who}: slurry presses up to {value:.1f} kPa more than the jacket and runs back through the holes."),
        ("ring_without_holes", Severity.CHECK, drilled.rings.count <= 0.0, drilled.rings.count, 1.0, "",
         "{who}: no holes, so no water."),
    )  # fmt: skip
    for code, severity, broken, value, limit, unit, words in table:
        for run in runs((np.flatnonzero(broken) + 1).tolist()):
            at = np.array(run) - 1
            worst = float(np.max(value[at]))
            text = words.format(who=named(run).capitalize(), value=worst, limit=limit)
            low, high = float(shape.mouths.lower[at[0]]), float(shape.mouths.upper[at[-1]])
            found.append(Finding(code, severity, text, worst, limit, unit, NETWORK, low, high, run))
    return found


@dataclass(frozen=True, slots=True)
class _Drilled:
    """A rule for holes: broken where value is above (or below) the limit; mm unless it says otherwise."""

    code: str
    severity: Severity
    above: bool
    value: Callable[[Shape, HoleRings], FloatArray]
    limit: Callable[[Machine, Shape, HoleRings], FloatArray]
    unit: str
    text: str
    source: str = TRADE


def _diameter(shape: Shape, drilled: HoleRings) -> FloatArray:
    return drilled.rings.diameter / MM


def _spacing(shape: Shape, drilled: HoleRings) -> FloatArray:
    return np.asarray(holes.spacing(drilled.rings.radius, drilled.rings.count) / MM)


def _floor_width(shape: Shape) -> FloatArray:
    corners = shape.contours.corners
    return np.asarray(np.hypot(*(corners[:, 2] - corners[:, 1]).T))


def _each(shape: Shape, value: float) -> FloatArray:
    return np.full(len(shape.mouths), value)


_DRILLED = (
    _Drilled("hole_no_jacket", Severity.STOP, False, lambda s, h: h.in_jacket.astype(float),
             lambda m, s, h: _each(s, 0.5), "",
             "{who}: no jacket lies behind the holes.", "geometry"),
    _Drilled("hole_wide", Severity.STOP, True, _diameter, lambda m, s, h: _floor_width(s), "mm",
             "{who}: a hole of {value:.1f} mm is wider than the groove floor, {limit:.1f} mm.", "geometry"),
    _Drilled("hole_ligament", Severity.CHECK, False, lambda s, h: np.asarray(_spacing(s, h) - _diameter(s, h)),
             lambda m, s, h: np.asarray(LIGAMENT * _diameter(s, h)), "mm",
             "{who}: only {value:.1f} mm of wall between holes; two diameters, {limit:.1f} mm, are wanted."),
    _Drilled("hole_spacing", Severity.CHECK, True, _spacing, lambda m, s, h: MOUTHS_PER_SPACING * s.cut.mouth, "mm",
             "{who}: holes {value:.0f} mm apart, over four mouth widths ({limit:.0f} mm): dead sectors between them."),
    _Drilled("hole_strainer", Severity.CHECK, False, _diameter,
             lambda m, s, h: _each(s, STRAINERS * m.strainer_um * MM), "mm",
             "{who}: a hole of {value:.2f} mm is under three strainer openings, {limit:.2f} mm: it can clog."),
    _Drilled("hole_short", Severity.CHECK, False, lambda s, h: h.rings.length / h.rings.diameter,
             lambda m, s, h: _each(s, holes.SHORTEST), "",
             "{who}: holes only {value:.1f} diameters long; below {limit:g} their flow jumps.",
             "Lichtarowicz et al. (1965) J. Mech. Eng. Sci. 7, 210"),
)  # fmt: skip


def _per_run(
    shape: Shape, rule: _Drilled, broken: NDArray[np.bool_], value: FloatArray, limit: FloatArray
) -> list[Finding]:
    found = []
    for run in runs((np.flatnonzero(broken) + 1).tolist()):
        at = np.array(run) - 1
        worst = at[int(np.argmax(np.abs(value[at] - limit[at])))]
        text = rule.text.format(who=named(run).capitalize(), value=float(value[worst]), limit=float(limit[worst]))
        low, high = float(shape.mouths.lower[at[0]]), float(shape.mouths.upper[at[-1]])
        numbers = (float(value[worst]), float(limit[worst]))
        found.append(Finding(rule.code, rule.severity, text, *numbers, rule.unit, rule.source, low, high, run))
    return found
