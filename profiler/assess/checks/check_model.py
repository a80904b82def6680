"""Where the slurry model is strained: every limit of validity it states, as a finding with the number against it."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from msgspec.structs import replace

from profiler.assess.findings.finding import Finding, Remedy
from profiler.assess.findings.kinds import Kind
from profiler.assess.flow.clay import clay_slope
from profiler.assess.flow.flow_stage import MIDDLE, Flow
from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.wall import FloatArray
from profiler.numbers import Against
from profiler.physics.slurry.carpet import BED_FRACTION, NO_BED_FRACTION, PACKED
from profiler.study import FRICTION_USUAL, FRICTIONS, Duty, FrictionBasis
from profiler.units import DEGREE, GRAVITY, MICRON, MM, PERCENT

FINE_UM = 50.0  # half of such a feed lies near the size that counts as liquid
CLAY_PA = 2.0  # yield stress from which the slope it holds is worth saying: this project's choice, no source
MUCH_FINES_PCT = 30.0  # counted as liquid: this project's choice, no source


@dataclass(frozen=True, slots=True)
class _Limit:
    """A limit along the wall: broken where value is above (or below) it."""

    kind: Kind
    limit: float
    above: bool
    unit: str
    value: Callable[[Shape, Flow], FloatArray]  # (m,) at the nodes
    text: str


def _middle(flow: Flow, name: str) -> FloatArray:
    return np.asarray(getattr(flow.film, name)[0, MIDDLE])


def _relaxation(shape: Shape, flow: Flow) -> FloatArray:
    """4h/f over a third of the wall's length: above 1 the film is not steady."""
    third = float(shape.wall.length[-1]) * MM / 3.0
    return np.asarray(4.0 * _middle(flow, "depth") / _middle(flow, "friction_factor") / third)


def _speed_share(shape: Shape, flow: Flow) -> FloatArray:
    radius = shape.stations.radius[shape.stations.node] * MM
    return np.asarray(_middle(flow, "velocity") / (flow.feed.angular_speed[0] * radius))


_ALONG_WALL = (
    _Limit(Kind.FILM_THIN, 3.0, False, "", lambda s, f: _middle(f, "depth") / f.feed.grain_size[0],
           "the film is only {value:.1f} grains deep; the model needs at least {limit:g}"),
    _Limit(Kind.FILM_UNSTEADY, 1.0, True, "", _relaxation,
           "the film needs {value:.1f} times a third of the wall to come up to speed: it is not steady"),
    _Limit(Kind.FILM_FAST, 0.3, True, "", _speed_share,
           "the film runs at {value:.2f} of the wall's own speed; above {limit:g} the model is strained"),
    _Limit(Kind.FILM_LAG, 0.15, True, "", lambda s, f: _middle(f, "lag"),
           "the film lags by up to {value:.2f} of the bowl's speed; above {limit:g} the model is strained"),
    _Limit(Kind.FILM_LAMINAR, 1500.0, False, "", lambda s, f: _middle(f, "reynolds"),
           "the film's Reynolds number falls to {value:.0f}; below {limit:g} it is not turbulent"),
    _Limit(Kind.ROUGHNESS_CAP, 0.5, True, "", lambda s, f: _middle(f, "roughness_capped") * 1.0,
           "the grains are so large against the film that its roughness is capped"),
    _Limit(Kind.REYNOLDS_FLOOR, 0.5, True, "", lambda s, f: _middle(f, "reynolds_floored") * 1.0,
           "the film's Reynolds number is below what its friction law admits"),
    _Limit(Kind.THIN_SLURRY, BED_FRACTION, False, "", lambda s, f: f.carrier.fraction[0, 0],
           "delivered solids fall to {value:.3f} by volume: below {limit:g} the bed fades, below "
           f"{NO_BED_FRACTION:g} there is none and no state is claimed"),
    _Limit(Kind.THICK_SLURRY, 0.45, True, "", lambda s, f: f.delivered_fraction[0, MIDDLE],
           "delivered solids reach {value:.2f} by volume; above {limit:g} the slurry hardly flows"),
    _Limit(Kind.BED_PACKED, 0.5, True, "", lambda s, f: _middle(f, "packed") * 1.0,
           f"the grains in place reach {PACKED:g} by volume, as dense as a bed packs: repose may not rise further"),
    _Limit(Kind.LOW_ACCELERATION, 20.0, False, "g", lambda s, f: f.acceleration[0, s.stations.node] / GRAVITY,
           "the acceleration is only {value:.0f} g; below {limit:g} g the model is not meant to be used"),
)  # fmt: skip


def model_findings(duty: Duty, shape: Shape, flow: Flow) -> list[Finding]:
    heights = shape.stations.height[shape.stations.node]
    found = []
    for rule in _ALONG_WALL:
        value = rule.value(shape, flow)
        broken = value > rule.limit if rule.above else value < rule.limit
        if broken.any():
            worst = float(np.max(value[broken]) if rule.above else np.min(value[broken]))
            low, high = float(heights[broken].min()), float(heights[broken].max())
            where = f"{low:.0f} to {high:.0f} mm" if high - low >= 1.0 else f"At {low:.0f} mm"
            text = f"{where}: {rule.text.format(value=Against(worst, rule.limit, 0.0), limit=rule.limit)}."
            found.append(
                Finding(
                    kind=rule.kind, text=text, value=worst, limit=rule.limit, unit=rule.unit, from_mm=low, to_mm=high
                )
            )
    return [*found, *_duty_findings(duty), *_size_findings(duty, flow), *_clay_findings(duty, flow)]


def _duty_findings(duty: Duty) -> list[Finding]:
    found = []
    least, most = FRICTION_USUAL
    for value in (getattr(duty, name) for name in FRICTIONS):
        if not least <= value <= most:
            limit = least if value < least else most
            text = f"A friction of {value:g} is outside {least:g} to {most:g}, where grains in place lie."
            found.append(Finding(kind=Kind.FRICTION_UNUSUAL, text=text, value=value, limit=limit))
            break
    if not duty.friction_low <= duty.friction <= duty.friction_high:
        text = "Friction low, middle and high must increase."
        found.append(Finding(kind=Kind.FRICTION_ORDER, text=text, value=duty.friction, limit=duty.friction_low))
    return [*found, *_former_friction(duty)]


def _former_friction(duty: Duty) -> list[Finding]:
    """A friction that came with an older file stays as it was typed until somebody has looked at it."""
    if duty.friction_basis is FrictionBasis.IN_PLACE:
        return []
    usual = Duty(duty.name)
    band = {name: getattr(usual, name) for name in FRICTIONS}
    typed = ", ".join(f"{getattr(duty, name):g}" for name in FRICTIONS)
    text = (
        f"The friction {typed} was typed for the former law, which weighed the delivered grains; of the grains in "
        "place the same slope asks less. Type it anew, or measure again."
    )
    remedy = Remedy(
        f"Take friction {', '.join(f'{v:g}' for v in band.values())}",
        replace(duty, **band, friction_basis=FrictionBasis.IN_PLACE),
    )
    return [Finding(kind=Kind.FRICTION_FORMER_LAW, text=text, value=duty.friction, remedy=remedy)]


def _clay_findings(duty: Duty, flow: Flow) -> list[Finding]:
    """Clay that holds up slope of its own: a first-order term that no measurement stands behind."""
    if duty.yield_stress_pa is None or duty.yield_stress_pa <= CLAY_PA:
        return []
    added = float(np.nanmax(clay_slope(flow)[0])) / DEGREE
    text = (
        f"A yield stress of {duty.yield_stress_pa:g} Pa holds up to {added:.1f}° of the repose angle; above "
        f"{CLAY_PA:g} Pa it counts. It is taken the same up the wall, though added water thins clay; how it slows film "
        "and grains is left out, and no measurement stands behind it."
    )
    return [Finding(kind=Kind.CLAY, text=text, value=duty.yield_stress_pa, limit=CLAY_PA, unit="Pa")]


def _size_findings(duty: Duty, flow: Flow) -> list[Finding]:
    """Much of the feed acts as liquid: known from the classes, or to be feared from the d50."""
    fine, limit = float(flow.carrier.fine[0]) / PERCENT, float(flow.carrier.limit[0]) / MICRON
    if duty.size_classes and fine > MUCH_FINES_PCT:
        text = f"{fine:.0f} % of the solids are finer than {limit:.0f} µm and count as liquid: the model is strained."
        return [Finding(kind=Kind.MUCH_FINES, text=text, value=fine, limit=MUCH_FINES_PCT, unit="%")]
    if not duty.size_classes and duty.d50_um < FINE_UM:
        text = f"With a d50 of {duty.d50_um:g} µm much of the feed is finer than 25 µm and acts as part of the liquid."
        return [Finding(kind=Kind.MUCH_FINES, text=text, value=duty.d50_um, limit=FINE_UM, unit="µm")]
    return []
