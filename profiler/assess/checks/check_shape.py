"""Checks of a shape by itself: angles that look mismeasured, lands and walls too thin, no grooves."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from profiler.assess.findings.by_groove import per_run
from profiler.assess.findings.finding import Finding, Remedy
from profiler.assess.findings.kinds import Kind, Severity
from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.chain import crossing
from profiler.geometry.wall import FloatArray
from profiler.numbers import Against
from profiler.study import Design, GrooveRule
from profiler.study.edits.design_edits import turned_over

ODD_ANGLE_DEG = 45.0
HORIZONTAL_ANGLE_DEG = 60.0
CROSSING_SAG_MM = 0.001


def angle_findings(design: Design) -> list[Finding]:
    """Knots so far from the axis that they look as if they were measured from the horizontal."""
    knots = design.wall.knots
    angles = [a for k in knots for a in (k.angle_deg, k.leaving)]
    odd = [k for k in knots if max(k.angle_deg, k.leaving) > ODD_ANGLE_DEG]
    if not odd:
        return []
    low, high = odd[0].height_mm, odd[-1].height_mm
    worst = max(angles)
    if min(angles) > HORIZONTAL_ANGLE_DEG:
        text = "All wall angles are above 60°: these look as if measured from the horizontal. Turn them over?"
        remedy = Remedy("Turn them over (90° less each)", turned_over(design))
        return [
            Finding(
                kind=Kind.ANGLES_FROM_HORIZONTAL, text=text, value=worst, limit=HORIZONTAL_ANGLE_DEG, unit="°",
                from_mm=low, to_mm=high, remedy=remedy,
            )
        ]  # fmt: skip
    many = "s" if len(odd) > 1 else ""
    text = f"{len(odd)} knot{many} above 45° from the axis, up to {worst:g}°: is the angle measured from the axis?"
    return [
        Finding(kind=Kind.ANGLE_UNUSUAL, text=text, value=worst, limit=ODD_ANGLE_DEG, unit="°", from_mm=low, to_mm=high)
    ]


@dataclass(frozen=True, slots=True)
class _Thin:
    kind: Kind
    limit: Callable[[GrooveRule], float]
    value: Callable[[Shape], FloatArray]  # (g,) of each groove, inf where it does not apply
    text: str
    gone: str = ""  # where nothing is left: a stop


_THIN = (
    _Thin(Kind.LAND_NARROW, lambda r: r.least_land_mm, lambda s: _lands(s),
          "{who}: the land above is {value:.1f} mm wide, less than the {limit:g} mm asked."),
    _Thin(Kind.WALL_THIN, lambda r: r.least_wall_mm, lambda s: s.wall_behind,
          "{who}: the wall behind is {value:.1f} mm thick, less than the {limit:g} mm asked.",
          "{who}: cut through the outside of the wall by {below:.1f} mm; {limit:g} mm of wall are asked."),
    _Thin(Kind.MOUTH_NEAR_END, lambda r: 0.5 * r.least_land_mm, lambda s: _end_lands(s),
          "{who}: only {value:.1f} mm of wall between the mouth and the end; {limit:g} mm asked."),
)  # fmt: skip


def shape_findings(design: Design, shape: Shape) -> list[Finding]:
    found = _flange_findings(shape)
    if not len(shape.mouths):
        text = "The wall has no grooves: it retains nothing."
        return [*found, Finding(kind=Kind.NO_GROOVES, text=text, value=0.0, limit=1.0)]
    for rule in _THIN:
        limit, value = rule.limit(design.grooves), rule.value(shape)
        broken, gone = value < limit - 1e-9, value <= 0.0 if rule.gone else np.zeros(len(value), dtype=bool)
        for which, text, severity in ((broken & gone, rule.gone, Severity.STOP), (broken & ~gone, rule.text, None)):
            found += per_run(rule.kind, shape.mouths, which, value, limit, "mm", text, above=False, severity=severity)
    return found


def _flange_findings(shape: Shape) -> list[Finding]:
    flange, lip = shape.shell.flange_radius, shape.lip_radius
    if flange <= lip:
        ends, lies = Against(flange, lip), Against(lip, flange)
        text = f"The lip flange ends at a radius of {ends:.1f} mm, inside the lip's {lies:.1f} mm: widen or thin it."
        z = shape.height
        return [Finding(kind=Kind.FLANGE_INSIDE_LIP, text=text, value=flange, limit=lip, unit="mm", from_mm=z, to_mm=z)]
    return []


def clash_findings(shape: Shape) -> list[Finding]:
    """A section that crosses itself: grooves that meet in the body or break through it, say."""
    if shape.shell.flange_radius <= shape.lip_radius:
        return []  # said already
    place = crossing(shape.outline, CROSSING_SAG_MM)
    if place is None:
        return []
    radius, height = place
    text = f"The section crosses itself at a radius of {radius:.1f} mm, {height:.1f} mm high: it cannot be made so."
    return [Finding(kind=Kind.OUTLINE_CROSSES, text=text, from_mm=height, to_mm=height)]


def _lands(shape: Shape) -> FloatArray:
    return np.append(shape.mouths.lands, np.inf)


def _end_lands(shape: Shape) -> FloatArray:
    """Wall left below the lowest and above the topmost mouth."""
    left = np.full(len(shape.mouths), np.inf)
    left[0] = shape.mouths.lower_length[0]
    left[-1] = min(left[-1], float(shape.wall.length[-1] - shape.mouths.upper_length[-1]))
    return left
