"""A groove's card: every figure with its equation, the numbers that went in, its source and how far it holds.

Nothing is computed here but units: numbers come from the evaluation's own stages, most through the table of quantities.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from profiler.assess.evaluate.evaluation import Evaluation
from profiler.assess.flow.sizes import size_words
from profiler.assess.flow.solve import MIDDLE, at_grooves, cover_of
from profiler.assess.flow.water import MOMENTS
from profiler.assess.quantities.quantity import Quantity
from profiler.assess.quantities.table import STATE_WORDS, quantity
from profiler.physics.slurry.overturn import State
from profiler.units import DEGREE, GRAVITY, KILOPASCAL, LITRE_PER_MINUTE, MICRON, MM


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
        "State",
        STATE_WORDS[State(int(e.flow.groove_state[0, i]))],
        "overturns where σ > 0 even at high friction, strong from E = 2; matched, sheltered by σ at low friction",
        f"{_overfall(e, i)}, E {e.flow.groove_ratio[0, i]:.2f}".replace("-", "−"),
        "derived; the 2 is this program's own choice",
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


def _power(e: Evaluation, i: int) -> str:
    assert e.flow is not None and e.shape is not None
    feed = e.flow.feed
    mass = float(feed.mass_flow[0] + feed.water_density[0] * e.flow.water.added_below[0, i])
    radius = float(e.shape.wall.radius_at(e.shape.mouths.middle[i])) * MM
    field = float(feed.angular_speed[0]) ** 2 * radius
    fall = float(e.flow.groove_overfall[0, MIDDLE, i]) / MM
    return f"m {mass:.3f} kg/s of slurry and water below, a {field:.0f} m/s², σ {fall:.2f} mm".replace("-", "−")


def _buried(e: Evaluation, i: int) -> str:
    assert e.flow is not None and e.shape is not None
    wall = float(e.shape.wall.radius_at(e.shape.mouths.lower[i]))
    held = float(e.flow.groove_held_at[0, i]) / MM
    text = f"r_w {wall:.1f} mm, r_s {wall - float(e.flow.groove_buried[0, i]) / MM:.1f} mm"
    return f"{text}, held at {held:.0f} mm" if e.flow.groove_buried[0, i] > 0.0 else text


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
    cover = cover_of(e.shape, e.flow.film, e.flow.carrier, e.flow.bed)
    return (
        f"r_s {cover.surface_radius[0, i] / MM:.1f} mm, h {cover.film_depth[0, i] / MM:.2f} mm, "
        f"r_i {e.shape.holes.rings.radius[i] / MM:.1f} mm, C of the film, in place, {cover.in_place_fraction[0, i]:.3f}"
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


def _floor(e: Evaluation, i: int) -> str:
    assert e.shape is not None and e.flow is not None
    inner, outer = e.shape.contours.corners[i, 1:3]
    ring = float(e.flow.water.ring[0, i]) / LITRE_PER_MINUTE
    radius, width = 0.5 * (inner[0] + outer[0]), float(np.hypot(*(outer - inner)))
    return f"Q {ring:.2f} L/min, r_i {radius:.1f} mm, w {width:.1f} mm".replace("-", "−")


def _against(e: Evaluation, i: int) -> str:
    assert e.catch is not None
    low, middle, high = e.catch.water.least[0, :, i] / MM
    water = float(e.catch.water.mouth_velocity[0, i]) / MM
    text = f"mouth velocity {water:.2f} mm/s; lifting {low:.2f}, {middle:.2f}, {high:.2f} mm/s"
    return f"{text} (least, median, greatest)".replace("-", "−")


def _at_floor(e: Evaluation, i: int) -> str:
    assert e.catch is not None
    return f"floor velocity {e.catch.water.floor_velocity[0, i] / MM:.2f} mm/s, gangue d50".replace("-", "−")


def _dense(e: Evaluation, i: int) -> str:
    assert e.catch is not None
    water = float(e.catch.water.mouth_velocity[0, i]) / MM
    heavy = e.duty.heavy_density_kg_m3
    return f"mouth velocity {water:.2f} mm/s, ρ_heavy {heavy:g} kg/m³, gangue d50".replace("-", "−")


def _lifting(e: Evaluation, i: int) -> str:
    assert e.catch is not None and e.shape is not None and e.flow is not None
    low, _, high = e.catch.water.least[0, :, i] / MM
    radius = float(e.shape.wall.radius_at(e.shape.mouths.middle[i])) * MM
    field = float(e.flow.feed.angular_speed[0]) ** 2 * radius / GRAVITY
    grain = f"{size_words(e.duty)}, ρ_s {e.duty.solids_density_kg_m3:g} kg/m³, {field:.0f} g"
    return f"{grain}; six correlations give {low:.2f} to {high:.2f} mm/s"


def _target(e: Evaluation, i: int) -> str:
    assert e.catch is not None
    d = e.duty
    shape = d.target_shape.value + (f", flatness {d.target_flatness:g}" if d.target_shape.value == "flake" else "")
    return (
        f"{shape}, {d.target_um:g} µm, {d.target_density_kg_m3:g} kg/m³, "
        f"{e.catch.field[0, i] / GRAVITY:.0f} g, C in place {e.catch.in_place_fraction[0, i]:.3f}"
    )


def _flushing(e: Evaluation, i: int) -> str:
    assert e.catch is not None
    water, target = (float(a[0, i]) / MM for a in (e.catch.water.mouth_velocity, e.catch.target_velocity))
    return f"mouth velocity {water:.2f} mm/s, target {target:.0f} mm/s".replace("-", "−")


def _stream(e: Evaluation, i: int) -> str:
    assert e.shape is not None and e.flow is not None
    film = e.flow.film
    along, lag = (at_grooves(e.shape, a[:, MIDDLE])[0, i] for a in (film.velocity, film.lag_angle))
    return f"V {along:.2f} m/s along the wall, b {lag / DEGREE:.1f}°"


def _reach(e: Evaluation, i: int) -> str:
    assert e.catch is not None
    reach = e.catch.arrival
    return f"Q {reach.passing[0, i] / LITRE_PER_MINUTE:.1f} L/min, A {reach.wetted[0, i]:.4f} m²"


def _reaching(e: Evaluation, i: int) -> str:
    assert e.catch is not None
    return f"v_h {e.catch.target_velocity[0, i] / MM:.0f} mm/s, {_reach(e, i)}"


def _passing(e: Evaluation, i: int) -> str:
    assert e.catch is not None
    return f"v_h {e.catch.target_velocity[0, i] / MM:.0f} mm/s, U {e.catch.stream[0, i]:.2f} m/s"


def _stopping(e: Evaluation, i: int) -> str:
    """The velocity of a grain alone is not kept; the number itself tells it."""
    assert e.catch is not None and e.shape is not None
    stream, field, mouth = e.catch.stream[0, i], e.catch.field[0, i], e.shape.cut.mouth[i]
    alone = float(e.catch.stokes[0, i] * field * mouth * MM / stream) / MM
    return f"v {alone:.0f} mm/s alone, a {field:.0f} m/s², U {stream:.2f} m/s, m {mouth:g} mm"


def _shields(e: Evaluation, i: int) -> str:
    assert e.catch is not None
    c, d = e.catch, e.duty
    return (
        f"U {c.stream[0, i]:.2f} m/s, ρ_s {d.target_density_kg_m3:g} kg/m³, a {c.field[0, i]:.0f} m/s², "
        f"d {d.target_um:g} µm: {c.shields[0, i]:.4f} over θ_c {c.shields_critical[0, i]:.4f}"
    )


def _cut(e: Evaluation, i: int) -> str:
    assert e.shape is not None
    return f"m {e.shape.cut.mouth[i]:g} mm, depth {e.shape.cut.depth[i]:g} mm"


def _own_bed(e: Evaluation, i: int) -> str:
    return f"{_cut(e, i)}, {_fall(e, i)}"


def _fall(e: Evaluation, i: int) -> str:
    assert e.flow is not None
    return f"its bed lies σ {e.flow.groove_overfall[0, MIDDLE, i] / MM:.2f} mm under the lower edge".replace("-", "−")


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
    _Line("groove_power_w", _power),
    _Line("groove_buried_mm", _buried),
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
    _Line("floor_mm_s", _floor),
    _Line("lifting_mm_s", _lifting),
    _Line("velocity_ratio", _against, ("velocity_ratio_low", "velocity_ratio_high")),
    _Line("floor_ratio", _at_floor, ("floor_ratio_low", "floor_ratio_high")),
    _Line("dense_ratio", _dense, ("dense_ratio_low", "dense_ratio_high")),
    _Line("flush_ratio", _flushing),
)
_GRAINS = (
    _Line("stream_m_s", _stream),
    _Line("target_mm_s", _target),
    _Line("arrival_um", _reach),
    _Line("arrived_mixed", _reaching),
    _Line("arrived", _reaching),
    _Line("kept_um", _needed, ("kept_um_low", "kept_um_high")),
    _Line("washed_um", _needed, ("washed_um_low", "washed_um_high")),
    _Line("exchange_ratio", _passing),
    _Line("rouse", _passing),
    _Line("stokes", _stopping),
    _Line("shields_ratio", _shields),
    _Line("width_over_depth", _cut),
)
_CONTENTS = (_Line("volume_ml", _own_bed), _Line("capacity_kg", _capacity))
