"""One table of all quantities: what each is called, its unit, where it comes from, what it rests on.

Menus, the groove strip, CSV, JSON, map axes, comparison rows and the help pages are filters of this table.
"""

from collections.abc import Callable
from functools import partial

import numpy as np

from profiler.assess.evaluate.evaluation import Evaluation
from profiler.assess.evidence.words import LEAST_BAND, UNCALIBRATED_SHORT
from profiler.assess.flow.flow_stage import HIGH, LOW, MIDDLE, Flow, at_stations
from profiler.assess.quantities import shares
from profiler.assess.quantities.catch_quantities import CATCH_QUANTITIES
from profiler.assess.quantities.course import COURSE_QUANTITIES
from profiler.assess.quantities.quantity import Quantity as Quantity
from profiler.assess.quantities.quantity import Scope as Scope
from profiler.assess.quantities.size_quantities import SIZE_QUANTITIES
from profiler.assess.quantities.spin_quantities import SPIN_QUANTITIES
from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.wall import FloatArray
from profiler.physics.slurry.carpet import PACKED, SLIP
from profiler.physics.slurry.overturn import STRONG_RATIO, State
from profiler.units import DEGREE, GRAVITY, LITRE, MM, PERCENT

STATE_WORDS = {
    State.STRONG: "strong overturn",
    State.WEAK: "weak overturn",
    State.MATCHED: "matched",
    State.SHELTERED: "sheltered",
    State.NONE: "not claimed",
}
STATE_KEYS = {
    State.STRONG: "strong",
    State.WEAK: "weak",
    State.MATCHED: "matched",
    State.SHELTERED: "sheltered",
    State.NONE: "unclaimed",
}


def _of_shape(get: Callable[[Shape], FloatArray]) -> Callable[[Evaluation], FloatArray]:
    return lambda e: np.full(0, np.nan) if e.shape is None else get(e.shape)


def _of_flow(get: Callable[[Shape, Flow], FloatArray]) -> Callable[[Evaluation], FloatArray]:
    return lambda e: np.full(0, np.nan) if e.shape is None or e.flow is None else get(e.shape, e.flow)


def _figure(name: str, factor: float = 1.0) -> Callable[[Evaluation], FloatArray]:
    return lambda e: np.array([np.nan if e.body is None else factor * getattr(e.body, name)])


_MODEL = "slurry model: Takahashi (1978) balance of the grains in place, slip, contact load and film lag; see help"
_DERIVED = "derived from the repose angle from the lip down"
_CLOSED = "closed form of the arc spans"
SLOPE_EQUATION = "tan α = cos b (Cc Δ μ + θc Δ d/h + τ_y/(ρ a′ h))/(1 + Ci Δ)"
_UNCALIBRATED = f"{UNCALIBRATED_SHORT}; {LEAST_BAND}"
_BOUNDARY = "boundary integrals over the outline (Green's theorem)"


def _in_state(get: Callable[[Shape, Flow, State], FloatArray], state: State, s: Shape, f: Flow) -> FloatArray:
    return get(s, f, state)


def _by_state(
    key: str, label: str, unit: str, decimals: int, get: Callable[[Shape, Flow, State], FloatArray], equation: str
) -> tuple[Quantity, ...]:
    """A row per state, strong first."""
    return tuple(
        Quantity(key.format(STATE_KEYS[state]), label.format(STATE_WORDS[state]), unit, decimals, Scope.BOWL,
                 _of_flow(partial(_in_state, get, state)), equation, _DERIVED, _UNCALIBRATED)
        for state in sorted(State, reverse=True)
    )  # fmt: skip


_SUMS: tuple[Quantity, ...] = (
    *_by_state("share_{}_pct", "Share of wall height, {}", "%", 1, shares.height_shares,
               "height in the state / height"),
    *_by_state("area_{}_pct", "Share of wall area, {}", "%", 1, shares.area_shares, "area swept in the state / area"),
    *_by_state("count_{}", "Grooves, {}", "", 0, lambda s, f, state: shares.state_count(f, state), "counted"),
    Quantity("matched_mm", "Height of the matched stretch", "mm", 1, Scope.BOWL,
             _of_flow(lambda s, f: shares.state_height_mm(s, f, State.MATCHED)), "height in the state", _DERIVED,
             _UNCALIBRATED),
    Quantity("exposed_count", "Exposed grooves", "", 0, Scope.BOWL, _of_flow(lambda s, f: shares.exposed_count(f)),
             "no bed over the lower edge at middle friction", _DERIVED, _UNCALIBRATED),
    Quantity("deep_count", "Grooves under a bed deeper than the groove", "", 0, Scope.BOWL, _of_flow(shares.deep_count),
             "(r_w − r_s) cos θ > depth", _DERIVED, _UNCALIBRATED),
    Quantity("deepest_mm", "Deepest bed", "mm", 1, Scope.BOWL, _of_flow(shares.deepest_mm), "max (r_w − r_s)", _DERIVED,
             _UNCALIBRATED),
    Quantity("power_w", "Overturn power, all grooves", "W", 1, Scope.BOWL,
             _of_flow(lambda s, f: shares.total_power_w(f)), "Σ q_m a σ", _DERIVED, _UNCALIBRATED),
)  # fmt: skip

_BODY: tuple[Quantity, ...] = (
    Quantity(
        "section_area_mm2",
        "Section area",
        "mm²",
        0,
        Scope.BOWL,
        _figure("section_area_mm2"),
        "½∮(x dy − y dx)",
        _BOUNDARY,
    ),
    Quantity(
        "section_length_mm", "Outline length", "mm", 1, Scope.BOWL, _figure("section_length_mm"), "∮ ds", _BOUNDARY
    ),
    Quantity(
        "body_volume_l",
        "Body volume",
        "L",
        3,
        Scope.BOWL,
        _figure("volume_mm3", MM**3 / LITRE),
        "π∮x² dy",
        _BOUNDARY,
        "water holes left out",
    ),
    Quantity("mass_kg", "Body mass", "kg", 2, Scope.BOWL, _figure("mass_kg"), "ρ V", _BOUNDARY, "water holes left out"),
    Quantity(
        "inertia_kg_m2",
        "Polar inertia",
        "kg m²",
        4,
        Scope.BOWL,
        _figure("inertia_kg_m2"),
        "ρ π/2 ∮x⁴ dy",
        _BOUNDARY,
        "water holes left out",
    ),
)

_ENERGY = Quantity("body_energy_j", "Energy of the turning body", "J", 0, Scope.BOWL, shares.body_energy_j, "½ I ω²",
                   "any mechanics text", "body alone: no slurry, no rotor")  # fmt: skip

BODY_QUANTITIES = (*_BODY, _ENERGY)  # of the bowl's body without its slurry

QUANTITIES: tuple[Quantity, ...] = (
    Quantity("height_mm", "Height", "mm", 1, Scope.WALL, _of_shape(lambda s: s.stations.height), "", "as typed"),
    Quantity(
        "radius_mm",
        "Radius",
        "mm",
        2,
        Scope.WALL,
        _of_shape(lambda s: s.stations.radius),
        "r = r1 + (z − z1) tan((θ + θ1)/2)",
        _CLOSED,
    ),
    Quantity(
        "wall_angle_deg",
        "Wall angle",
        "°",
        2,
        Scope.WALL,
        _of_shape(lambda s: s.stations.angle / DEGREE),
        "sin θ linear in height within a span",
        "as typed",
    ),
    Quantity(
        "acceleration_g",
        "Acceleration",
        "g",
        1,
        Scope.WALL,
        _of_flow(lambda s, f: f.acceleration[0] / GRAVITY),
        "ω² r / g",
        "any mechanics text",
    ),
    Quantity(
        "film_g",
        "Film acceleration",
        "g",
        1,
        Scope.WALL,
        _of_flow(lambda s, f: f.film_acceleration[0] / GRAVITY),
        "ω² r (1 − L)² / g, L the film lag",
        _MODEL,
    ),
    Quantity(
        "repose_deg",
        "Repose angle",
        "°",
        2,
        Scope.WALL,
        _of_flow(lambda s, f: f.angle[0, MIDDLE] / DEGREE),
        f"θ_f = α + atan(g/a′); {SLOPE_EQUATION}; Ci all grains in place by volume, Cc those in contact",
        _MODEL,
        _UNCALIBRATED,
    ),
    Quantity(
        "repose_low_deg",
        "Repose, low",
        "°",
        2,
        Scope.WALL,
        _of_flow(lambda s, f: f.angle[0, LOW] / DEGREE),
        "at low friction, at least 2° under the middle",
        _MODEL,
        _UNCALIBRATED,
    ),
    Quantity(
        "repose_high_deg",
        "Repose, high",
        "°",
        2,
        Scope.WALL,
        _of_flow(lambda s, f: f.angle[0, HIGH] / DEGREE),
        "at high friction, at least 2° over the middle",
        _MODEL,
        _UNCALIBRATED,
    ),
    Quantity(
        "delivered_pct",
        "Solids by volume, delivered",
        "%",
        2,
        Scope.WALL,
        _of_flow(lambda s, f: at_stations(s, f.delivered_fraction[0, MIDDLE]) / PERCENT),
        "C = solids / (slurry fed + water added below)",
        "mass balance",
        "fines that count as liquid included; this thickens the film and is carried to the lip",
    ),
    Quantity(
        "in_place_pct",
        "Solids by volume, in place",
        "%",
        2,
        Scope.WALL,
        _of_flow(lambda s, f: at_stations(s, f.in_place_fraction[0, MIDDLE]) / PERCENT),
        f"Ci = (C + G)/(1 + G), G = min(F C (1/s − 1), (P − C)/(1 − P)); slip s {SLIP:g}, packed P {PACKED:g}",
        "mass balance; slip s of the grains in contact after Abrahams (2003)",
        "this weighs, presses on the water below, and hinders settling",
    ),
    Quantity(
        "margin_deg",
        "Margin",
        "°",
        2,
        Scope.WALL,
        _of_flow(lambda s, f: (s.stations.angle - f.angle[0, MIDDLE]) / DEGREE),
        "wall angle − repose angle",
        _DERIVED,
    ),
    Quantity(
        "surface_radius_mm",
        "Surface radius",
        "mm",
        2,
        Scope.WALL,
        _of_flow(lambda s, f: f.bed.radius[0, MIDDLE] / MM),
        "r_s = B(z) + min over lands above (r_w − B), B = ∫ tan θ_f dz",
        _DERIVED,
        _UNCALIBRATED,
    ),
    Quantity(
        "buried_mm",
        "Buried",
        "mm",
        2,
        Scope.WALL,
        _of_flow(lambda s, f: f.bed.buried(s.stations.line)[0, MIDDLE] / MM),
        "r_w − r_s",
        _DERIVED,
        _UNCALIBRATED,
    ),
    Quantity(
        "overfall_mm",
        "Overfall",
        "mm",
        2,
        Scope.WALL,
        _of_flow(lambda s, f: f.overfall[0, MIDDLE] / MM),
        "of a mouth imagined round the height",
        _DERIVED,
        _UNCALIBRATED,
    ),
    Quantity(
        "groove_ratio",
        "Overturn ratio",
        "",
        2,
        Scope.GROOVE,
        _of_flow(lambda s, f: f.groove_ratio[0]),
        "E = σ / (m tan(θ_f − δ))",
        _DERIVED,
        "from 2 the overturn is called strong: this program's own choice",
        edges=(0.0, STRONG_RATIO),
    ),
    Quantity(
        "groove_overfall_mm",
        "Overfall",
        "mm",
        2,
        Scope.GROOVE,
        _of_flow(lambda s, f: f.groove_overfall[0, MIDDLE] / MM),
        "σ = [B(z_l) + min over lands above z_u (r_w − B)] − r_w(z_l)",
        _DERIVED,
        _UNCALIBRATED,
    ),
    Quantity(
        "groove_power_w",
        "Overturn power",
        "W",
        1,
        Scope.GROOVE,
        _of_flow(lambda s, f: f.groove_power[0]),
        "P = q_m a σ, q_m the mass flow; 0.2 to 1.0 of it is spent in the groove",
        _DERIVED,
        _UNCALIBRATED,
    ),
    Quantity(
        "groove_buried_mm",
        "Buried",
        "mm",
        2,
        Scope.GROOVE,
        _of_flow(lambda s, f: f.groove_buried[0] / MM),
        "r_w − r_s over the lower edge",
        _DERIVED,
        _UNCALIBRATED,
    ),
    Quantity(
        "groove_water_l_min",
        "Water",
        "L/min",
        2,
        Scope.GROOVE,
        _of_flow(lambda s, f: f.groove_water[0] * 6.0e4),
        "n Cd A √(2 (p_j − p_b)/ρ); without a hole plan the duty's water, spread evenly",
        "balance of the jacket",
        "negative: slurry runs back through the holes",
    ),
    Quantity(
        "groove_height_mm",
        "Height",
        "mm",
        1,
        Scope.GROOVE,
        _of_shape(lambda s: s.mouths.middle),
        "of mid-mouth",
        _CLOSED,
    ),
    Quantity(
        "groove_radius_mm",
        "Radius",
        "mm",
        1,
        Scope.GROOVE,
        _of_shape(lambda s: s.wall.radius_at(s.mouths.middle)),
        "of the wall line at mid-mouth",
        _CLOSED,
    ),
    Quantity(
        "land_mm", "Land above", "mm", 2, Scope.GROOVE, _of_shape(lambda s: land_above(s)), "along the wall", _CLOSED
    ),
    Quantity(
        "wall_behind_mm",
        "Wall behind",
        "mm",
        2,
        Scope.GROOVE,
        _of_shape(lambda s: s.wall_behind),
        "groove floor to outer wall, square to it",
        "from the outline",
    ),
    *_BODY,
    *_SUMS,
    _ENERGY,
    *COURSE_QUANTITIES,
    *SIZE_QUANTITIES,
    *CATCH_QUANTITIES,
    *SPIN_QUANTITIES,
)


def of_scope(scope: Scope) -> tuple[Quantity, ...]:
    return tuple(q for q in QUANTITIES if q.scope is scope)


def quantity(key: str) -> Quantity:
    """Raises KeyError for a key that is not in the table."""
    for entry in QUANTITIES:
        if entry.key == key:
            return entry
    raise KeyError(key)


def land_above(shape: Shape) -> FloatArray:
    """(g,) mm, land between each groove and the next; above the topmost, what is left of the wall."""
    if not len(shape.mouths):
        return np.zeros(0)
    return np.append(shape.mouths.lands, shape.wall.length[-1] - shape.mouths.upper_length[-1])
