"""A groove's card: every figure with its equation, the numbers that went in, its source and how far it holds.

Nothing is computed here but units: numbers come from the evaluation's own stages, most through the table of quantities.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from ..physics.overturn import State
from ..units import DEGREE, GRAVITY, KILOPASCAL, LITRE_PER_MINUTE, MICRON, MM
from .evaluation import Evaluation
from .flow import MIDDLE, at_grooves, cover_of
from .quantities import STATE_WORDS, quantity
from .quantity import Quantity
from .water import MOMENTS


@dataclass(frozen=True, slots=True)
class CardRow:
    label: str
    value: str
    equation: str = ""
    inputs: str = ""
    source: str = ""
    limits: str = ""


@dataclass(frozen=True, slots=True)
class CardSection:
    title: str
    rows: tuple[CardRow, ...]
    remark: str = ""


SCREENING = (
    "Screening figures from groups published for cavities and river bays: they order grooves and duties. "
    "No recovery follows from them."
)
EVEN = "No hole plan is given: the water is taken as spread evenly over the grooves."


def groove_card(e: Evaluation, number: int) -> tuple[CardSection, ...]:
    """The card of a groove (from 1) under the first duty; empty where there is no such groove or no flow."""
    if e.shape is None or e.flow is None or not 1 <= number <= len(e.shape.mouths):
        return ()
    i = number - 1
    state = CardRow(
        "State", STATE_WORDS[State(int(e.flow.groove_state[0, i]))], "by overfall at low, middle, high repose"
    )
    sections = [
        CardSection("Overturn", (state, *_rows(e, i, _OVERTURN))),
        CardSection("Water in", _rows(e, i, _WATER), "" if e.shape.holes is not None else EVEN),
    ]
    if e.catch is not None:
        sections += [
            CardSection("Water against need", _rows(e, i, _NEED)),
            *_cycle(e, i),
            CardSection("Grains", _rows(e, i, _GRAINS), SCREENING),
            CardSection("Contents", _rows(e, i, _CONTENTS)),
        ]
    return tuple(s for s in sections if s.rows)


Inputs = Callable[[Evaluation, int], str]


@dataclass(frozen=True, slots=True)
class _Line:
    """A figure, the ends of its band where it has one, and the numbers that went in."""

    key: str
    inputs: Inputs = lambda e, i: ""
    ends: tuple[str, str] | None = None


def _rows(e: Evaluation, i: int, lines: tuple[_Line, ...]) -> tuple[CardRow, ...]:
    found = []
    for line in lines:
        q = quantity(line.key)
        values = q.get(e)
        value = float(values[i]) if i < len(values) else float("nan")
        if not np.isfinite(value):
            continue
        text = q.text(value)
        if line.ends is not None:
            low, high = (quantity(k).get(e)[i] for k in line.ends)
            text += f"  ({low:.{q.decimals}f} to {high:.{q.decimals}f})".replace("-", "−")
        found.append(CardRow(q.label, text, q.equation, line.inputs(e, i), q.source, _limits(q)))
    return tuple(found)


def _limits(q: Quantity) -> str:
    limits = "; ".join(part for part in q.limits.split("; ") if not part.startswith("none "))  # it exists, as one sees
    if q.good is None:
        return limits
    low, high = q.good
    good = f"good from {low:g}" if np.isinf(high) else f"good from {low:g} to {high:g}"
    return good if not limits or limits.startswith("good") else f"{good}; {limits}"


def _cycle(e: Evaluation, i: int) -> list[CardSection]:
    assert e.catch is not None
    moments = e.catch.moments
    if moments is None:
        return []
    rows = []
    for k, words in enumerate(MOMENTS):
        flow = float(moments.flow[0, k, i]) / LITRE_PER_MINUTE
        inlet, level = float(moments.inlet_pressure[0, k]) / KILOPASCAL, float(moments.free_surface[0, k]) / MM
        jacket = "jacket full" if np.isnan(level) else f"jacket part full, water at R {level:.0f} mm"
        dry = "; this ring dry" if moments.dry[0, k, i] else ""
        text = f"{flow:.2f} L/min".replace("-", "−")
        rows.append(CardRow(words.capitalize(), text, "", f"p_s {inlet:.1f} kPa, {jacket}{dry}".replace("-", "−")))
    return [CardSection("Over a cycle", tuple(rows), "Negative: slurry runs back through the holes.")]


def _overfall(e: Evaluation, i: int) -> str:
    assert e.flow is not None
    low, _, high = e.flow.groove_overfall[0, :, i] / MM
    return f"at low friction {low:.2f} mm, at high {high:.2f} mm".replace("-", "−")


def _ratio(e: Evaluation, i: int) -> str:
    assert e.flow is not None and e.shape is not None
    fall = float(e.flow.groove_overfall[0, MIDDLE, i]) / MM
    slope = float(at_grooves(e.shape, e.flow.film.slope[:, MIDDLE])[0, i]) / DEGREE
    mouth = float(e.shape.stations.edges.mouth[i]) / MM
    return f"σ {fall:.2f} mm, m {mouth:.2f} mm, θ_f − δ {slope:.2f}°".replace("-", "−")


def _hole(e: Evaluation, i: int) -> str:
    assert e.shape is not None
    if e.shape.holes is None:
        return f"{len(e.shape.mouths)} grooves share {e.duty.water_l_min:g} L/min"
    assert e.flow is not None and e.flow.water.jacket is not None
    rings, jacket = e.shape.holes.rings, e.flow.water.jacket
    drive = float(jacket.pressure[0, i] - jacket.back_pressure[0, i]) / KILOPASCAL
    return (
        f"n {rings.count[i]:.0f}, d {rings.diameter[i] / MM:g} mm, Cd {jacket.coefficient[0, i]:.3f}, "
        f"p_j − p_b {drive:.1f} kPa, ρ {e.flow.feed.water_density[0]:.1f} kg/m³"
    ).replace("-", "−")


def _jacket(e: Evaluation, i: int) -> str:
    assert e.shape is not None and e.shape.holes is not None and e.flow is not None and e.flow.water.jacket is not None
    h, inlet = e.shape.holes, float(e.flow.water.jacket.inlet_pressure[0]) / KILOPASCAL
    return (
        f"p_s {inlet:.1f} kPa, ω {e.flow.feed.angular_speed[0]:.2f} rad/s, r_i {h.rings.radius[i] / MM:.1f} mm, "
        f"r_in {h.inlet_radius / MM:.0f} mm, z_i − z_in {(h.rings.height[i] - h.inlet_height) / MM:.0f} mm"
    ).replace("-", "−")


def _back(e: Evaluation, i: int) -> str:
    assert e.shape is not None and e.shape.holes is not None and e.flow is not None
    cover = cover_of(e.shape, e.flow.film, e.flow.bed)
    return (
        f"r_s {cover.surface_radius[0, i] / MM:.1f} mm, h {cover.film_depth[0, i] / MM:.2f} mm, "
        f"r_i {e.shape.holes.rings.radius[i] / MM:.1f} mm, C of the film {cover.solids_fraction[0, i]:.3f}"
    )


def _discharge(e: Evaluation, i: int) -> str:
    assert e.shape is not None and e.shape.holes is not None and e.flow is not None and e.flow.water.jacket is not None
    rings = e.shape.holes.rings
    return f"Re {e.flow.water.jacket.reynolds[0, i]:.0f}, L/d {rings.length[i] / rings.diameter[i]:.1f}"


def _length(e: Evaluation, i: int) -> str:
    assert e.shape is not None and e.shape.holes is not None
    h = e.shape.holes
    inner, outer = h.rings.radius[i] / MM, h.outer_radius[i] / MM
    return f"r_i {inner:.1f} mm, r_o {outer:.1f} mm, β {h.skew[i] / DEGREE:g}°"


def _mouth(e: Evaluation, i: int) -> str:
    assert e.shape is not None and e.flow is not None
    radius = float(e.shape.wall.radius_at(e.shape.mouths.middle[i]))
    ring = float(e.flow.water.ring[0, i]) / LITRE_PER_MINUTE
    return f"Q {ring:.2f} L/min, r {radius:.1f} mm, m {e.shape.cut.mouth[i]:g} mm".replace("-", "−")


def _lifting(e: Evaluation, i: int) -> str:
    assert e.catch is not None and e.shape is not None and e.flow is not None
    low, _, high = e.catch.water.least[0, :, i] / MM
    radius = float(e.shape.wall.radius_at(e.shape.mouths.middle[i])) * MM
    field = float(e.flow.feed.angular_speed[0]) ** 2 * radius / GRAVITY
    grain = f"d {e.duty.d50_um:g} µm, ρ_s {e.duty.solids_density_kg_m3:g} kg/m³, {field:.0f} g"
    return f"{grain}; six correlations give {low:.2f} to {high:.2f} mm/s"


def _target(e: Evaluation, i: int) -> str:
    assert e.catch is not None
    d = e.duty
    shape = d.target_shape.value + (f", flatness {d.target_flatness:g}" if d.target_shape.value == "flake" else "")
    return (
        f"{shape}, {d.target_um:g} µm, {d.target_density_kg_m3:g} kg/m³, "
        f"{e.catch.field[0, i] / GRAVITY:.0f} g, C {e.catch.solids_fraction[0, i]:.3f}"
    )


def _needed(e: Evaluation, i: int) -> str:
    assert e.catch is not None
    stream, water = float(e.catch.stream[0, i]), float(e.catch.water.mouth_velocity[0, i])
    return f"U {stream:.2f} m/s, mouth velocity {water / MM:.2f} mm/s".replace("-", "−")


def _capacity(e: Evaluation, i: int) -> str:
    assert e.catch is not None
    low, _, high = e.catch.hold.capacity[0, :, i]
    size = float(e.catch.hold.volume[0, i]) / MICRON
    return f"ρ_heavy {e.duty.heavy_density_kg_m3:g} kg/m³, V {size:.1f} ml; loose to dense {low:.3f} to {high:.3f} kg"


_OVERTURN = (
    _Line("groove_overfall_mm", _overfall),
    _Line("groove_ratio", _ratio),
    _Line("groove_power_w"),
    _Line("groove_buried_mm"),
)
_WATER = (
    _Line("groove_water_l_min", _hole),
    _Line("hole_length_mm", _length),
    _Line("jacket_kpa", _jacket),
    _Line("back_kpa", _back),
    _Line("discharge", _discharge),
)
_NEED = (
    _Line("mouth_mm_s", _mouth),
    _Line("floor_mm_s"),
    _Line("lifting_mm_s", _lifting),
    _Line("velocity_ratio", ends=("velocity_ratio_low", "velocity_ratio_high")),
    _Line("floor_ratio"),
    _Line("dense_ratio"),
    _Line("flush_ratio", _needed),
)
_GRAINS = (
    _Line("stream_m_s"),
    _Line("target_mm_s", _target),
    _Line("arrival_um"),
    _Line("kept_um", _needed, ("kept_um_low", "kept_um_high")),
    _Line("washed_um", _needed, ("washed_um_low", "washed_um_high")),
    _Line("exchange_ratio", _needed),
    _Line("rouse"),
    _Line("stokes"),
    _Line("shields_ratio"),
    _Line("width_over_depth"),
)
_CONTENTS = (_Line("volume_ml"), _Line("capacity_kg", _capacity))
