"""A groove's card: every figure with its equation, the numbers that went in, its source and how far it holds.

Nothing is computed here but units: numbers come from the evaluation's own stages, most through the table of quantities.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar

import numpy as np

from profiler.assess.catch.catch_stage import Catch
from profiler.assess.evaluate.evaluation import Evaluation
from profiler.assess.flow.flow_stage import MIDDLE, Flow, at_grooves, cover_of
from profiler.assess.flow.sizes import size_words
from profiler.assess.flow.water_network import MOMENTS, Moments
from profiler.assess.quantities.quantity import Quantity
from profiler.assess.quantities.table import STATE_WORDS, quantity
from profiler.assess.shape.rings import HoleRings
from profiler.assess.shape.shape_stage import Shape
from profiler.physics.slurry.overturn import State
from profiler.physics.water.jacket import Jacket
from profiler.study import Duty
from profiler.units import DEGREE, GRAVITY, KILOPASCAL, LITRE, LITRE_PER_MINUTE, MM


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
    groove = _Groove(e.duty, e.shape, e.flow, number - 1)
    sections = [CardSection("Overturn", (_state(groove), *_rows(e, groove, _OVERTURN)))]
    if e.shape.holes is None or e.flow.water.jacket is None:
        sections.append(CardSection("Water in", _rows(e, groove, _SPREAD), EVEN))
    else:
        drilled = _Drilled(e.duty, e.shape, e.flow, number - 1, e.shape.holes, e.flow.water.jacket)
        sections.append(CardSection("Water in", _rows(e, drilled, _DRILLED_LINES)))
    if e.catch is not None:
        caught = _Caught(e.duty, e.shape, e.flow, number - 1, e.catch)
        sections += [
            CardSection("Water against need", _rows(e, caught, _NEED)),
            *([] if e.catch.moments is None else [_cycle(e.catch.moments, number - 1)]),
            CardSection("Grains", _rows(e, caught, _GRAINS), SCREENING),
            CardSection("Contents", _rows(e, caught, _CONTENTS)),
        ]
    return tuple(s for s in sections if s.rows)


@dataclass(frozen=True, slots=True)
class _Groove:
    """What is known of every groove of a bowl with a flow."""

    duty: Duty
    shape: Shape
    flow: Flow
    i: int  # from 0


@dataclass(frozen=True, slots=True)
class _Drilled(_Groove):
    """Of one that holes bring its water to."""

    holes: HoleRings
    jacket: Jacket


@dataclass(frozen=True, slots=True)
class _Caught(_Groove):
    """Of one whose water and grains were worked out."""

    catch: Catch


At = TypeVar("At", bound=_Groove, contravariant=True)


@dataclass(frozen=True, slots=True)
class _Line(Generic[At]):
    """A figure, the numbers that went in, and the ends of its band where it has one."""

    key: str
    inputs: Callable[[At], str]
    ends: tuple[str, str] | None = None


def _rows(e: Evaluation, groove: At, lines: tuple[_Line[At], ...]) -> tuple[CardRow, ...]:
    found, i = [], groove.i
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
        found.append(CardRow(q.label, text, q.equation, line.inputs(groove), q.source, _limits(q)))
    return tuple(found)


def _limits(q: Quantity) -> str:
    limits = "; ".join(part for part in q.limits.split("; ") if not part.startswith("none "))  # it exists, as one sees
    if q.good is None:
        return limits
    low, high = q.good
    good = f"good from {low:g}" if np.isinf(high) else f"good from {low:g} to {high:g}"
    return good if not limits or limits.startswith("good") else f"{good}; {limits}"


def _cycle(moments: Moments, i: int) -> CardSection:
    rows = []
    for k, words in enumerate(MOMENTS):
        flow = float(moments.flow[0, k, i]) / LITRE_PER_MINUTE
        inlet, level = float(moments.inlet_pressure[0, k]) / KILOPASCAL, float(moments.free_surface[0, k]) / MM
        jacket = "jacket full" if np.isnan(level) else f"jacket part full, water at R {level:.0f} mm"
        dry = "; this ring dry" if moments.dry[0, k, i] else ""
        text = f"{flow:.2f} L/min".replace("-", "−")
        rows.append(CardRow(words.capitalize(), text, "", f"p_s {inlet:.1f} kPa, {jacket}{dry}".replace("-", "−")))
    return CardSection("Over a cycle", tuple(rows), "Negative: slurry runs back through the holes.")


def _state(at: _Groove) -> CardRow:
    return CardRow(
        "State",
        STATE_WORDS[State(int(at.flow.groove_state[0, at.i]))],
        "overturns where σ > 0 even at high friction, strong from E = 2; matched, sheltered by σ at low friction",
        f"{_overfall(at)}, E {at.flow.groove_ratio[0, at.i]:.2f}".replace("-", "−"),
        "derived; the 2 is this program's own choice",
    )


def _overfall(at: _Groove) -> str:
    low, _, high = at.flow.groove_overfall[0, :, at.i] / MM
    return f"at low friction {low:.2f} mm, at high {high:.2f} mm".replace("-", "−")


def _power(at: _Groove) -> str:
    feed = at.flow.feed
    mass = float(feed.mass_flow[0] + feed.water_density[0] * at.flow.water.added_below[0, at.i])
    radius = float(at.shape.wall.radius_at(at.shape.mouths.middle[at.i])) * MM
    field = float(feed.angular_speed[0]) ** 2 * radius
    fall = float(at.flow.groove_overfall[0, MIDDLE, at.i]) / MM
    return f"q_m {mass:.3f} kg/s of slurry and water below, a {field:.0f} m/s², σ {fall:.2f} mm".replace("-", "−")


def _buried(at: _Groove) -> str:
    wall = float(at.shape.wall.radius_at(at.shape.mouths.lower[at.i]))
    held = float(at.flow.groove_held_at[0, at.i]) / MM
    text = f"r_w {wall:.1f} mm, r_s {wall - float(at.flow.groove_buried[0, at.i]) / MM:.1f} mm"
    return f"{text}, held at {held:.0f} mm" if at.flow.groove_buried[0, at.i] > 0.0 else text


def _ratio(at: _Groove) -> str:
    fall = float(at.flow.groove_overfall[0, MIDDLE, at.i]) / MM
    slope = float(at_grooves(at.shape, at.flow.film.slope[:, MIDDLE])[0, at.i]) / DEGREE
    mouth = float(at.shape.stations.edges.mouth[at.i]) / MM
    return f"σ {fall:.2f} mm, m {mouth:.2f} mm, θ_f − δ {slope:.2f}°".replace("-", "−")


def _shared(at: _Groove) -> str:
    return f"{len(at.shape.mouths)} grooves share {at.duty.water_l_min:g} L/min"


def _hole(at: _Drilled) -> str:
    rings, jacket = at.holes.rings, at.jacket
    drive = float(jacket.pressure[0, at.i] - jacket.back_pressure[0, at.i]) / KILOPASCAL
    return (
        f"n {rings.count[at.i]:.0f}, d {rings.diameter[at.i] / MM:g} mm, Cd {jacket.coefficient[0, at.i]:.3f}, "
        f"p_j − p_b {drive:.1f} kPa, ρ {at.flow.feed.water_density[0]:.1f} kg/m³"
    ).replace("-", "−")


def _jacket(at: _Drilled) -> str:
    h, inlet = at.holes, float(at.jacket.inlet_pressure[0]) / KILOPASCAL
    return (
        f"p_s {inlet:.1f} kPa, ω {at.flow.feed.angular_speed[0]:.2f} rad/s, r_i {h.rings.radius[at.i] / MM:.1f} mm, "
        f"r_in {h.inlet_radius / MM:.0f} mm, z_i − z_in {(h.rings.height[at.i] - h.inlet_height) / MM:.0f} mm"
    ).replace("-", "−")


def _back(at: _Drilled) -> str:
    cover = cover_of(at.shape, at.flow.film, at.flow.bed)
    return (
        f"r_s {cover.surface_radius[0, at.i] / MM:.1f} mm, h {cover.film_depth[0, at.i] / MM:.2f} mm, "
        f"r_i {at.holes.rings.radius[at.i] / MM:.1f} mm, C of the film {cover.solids_fraction[0, at.i]:.3f}"
    )


def _discharge(at: _Drilled) -> str:
    rings = at.holes.rings
    return f"Re {at.jacket.reynolds[0, at.i]:.0f}, L/d {rings.length[at.i] / rings.diameter[at.i]:.1f}"


def _length(at: _Drilled) -> str:
    h = at.holes
    inner, outer = h.rings.radius[at.i] / MM, h.outer_radius[at.i] / MM
    return f"r_i {inner:.1f} mm, r_o {outer:.1f} mm, β {h.skew[at.i] / DEGREE:g}°"


def _mouth(at: _Groove) -> str:
    radius = float(at.shape.wall.radius_at(at.shape.mouths.middle[at.i]))
    ring = float(at.flow.water.ring[0, at.i]) / LITRE_PER_MINUTE
    return f"Q {ring:.2f} L/min, r {radius:.1f} mm, m {at.shape.cut.mouth[at.i]:g} mm".replace("-", "−")


def _floor(at: _Groove) -> str:
    inner, outer = at.shape.contours.corners[at.i, 1:3]
    ring = float(at.flow.water.ring[0, at.i]) / LITRE_PER_MINUTE
    radius, width = 0.5 * (inner[0] + outer[0]), float(np.hypot(*(outer - inner)))
    return f"Q {ring:.2f} L/min, r_i {radius:.1f} mm, w {width:.1f} mm".replace("-", "−")


def _against(at: _Caught) -> str:
    low, middle, high = at.catch.water.least[0, :, at.i] / MM
    water = float(at.catch.water.mouth_velocity[0, at.i]) / MM
    text = f"mouth velocity {water:.2f} mm/s; lifting {low:.2f}, {middle:.2f}, {high:.2f} mm/s"
    return f"{text} (least, median, greatest)".replace("-", "−")


def _at_floor(at: _Caught) -> str:
    return f"floor velocity {at.catch.water.floor_velocity[0, at.i] / MM:.2f} mm/s, gangue d50".replace("-", "−")


def _dense(at: _Caught) -> str:
    water = float(at.catch.water.mouth_velocity[0, at.i]) / MM
    heavy = at.duty.heavy_density_kg_m3
    return f"mouth velocity {water:.2f} mm/s, ρ_heavy {heavy:g} kg/m³, gangue d50".replace("-", "−")


def _lifting(at: _Caught) -> str:
    low, _, high = at.catch.water.least[0, :, at.i] / MM
    radius = float(at.shape.wall.radius_at(at.shape.mouths.middle[at.i])) * MM
    field = float(at.flow.feed.angular_speed[0]) ** 2 * radius / GRAVITY
    grain = f"{size_words(at.duty)}, ρ_s {at.duty.solids_density_kg_m3:g} kg/m³, {field:.0f} g"
    return f"{grain}; six correlations give {low:.2f} to {high:.2f} mm/s"


def _target(at: _Caught) -> str:
    d = at.duty
    shape = d.target_shape.value + (f", flatness {d.target_flatness:g}" if d.target_shape.value == "flake" else "")
    return (
        f"{shape}, {d.target_um:g} µm, {d.target_density_kg_m3:g} kg/m³, "
        f"{at.catch.field[0, at.i] / GRAVITY:.0f} g, C {at.catch.solids_fraction[0, at.i]:.3f}"
    )


def _flushing(at: _Caught) -> str:
    water, target = (float(a[0, at.i]) / MM for a in (at.catch.water.mouth_velocity, at.catch.target_velocity))
    return f"mouth velocity {water:.2f} mm/s, target {target:.0f} mm/s".replace("-", "−")


def _stream(at: _Groove) -> str:
    film = at.flow.film
    along, lag = (at_grooves(at.shape, a[:, MIDDLE])[0, at.i] for a in (film.velocity, film.lag_angle))
    return f"V {along:.2f} m/s along the wall, b {lag / DEGREE:.1f}°"


def _reach(at: _Caught) -> str:
    reach = at.catch.arrival
    return f"Q {reach.passing[0, at.i] / LITRE_PER_MINUTE:.1f} L/min, A {reach.wetted[0, at.i]:.4f} m²"


def _reaching(at: _Caught) -> str:
    return f"v_h {at.catch.target_velocity[0, at.i] / MM:.0f} mm/s, {_reach(at)}"


def _passing(at: _Caught) -> str:
    return f"v_h {at.catch.target_velocity[0, at.i] / MM:.0f} mm/s, U {at.catch.stream[0, at.i]:.2f} m/s"


def _stopping(at: _Caught) -> str:
    """The velocity of a grain alone is not kept; the number itself tells it."""
    stream, field, mouth = at.catch.stream[0, at.i], at.catch.field[0, at.i], at.shape.cut.mouth[at.i]
    alone = float(at.catch.stokes[0, at.i] * field * mouth * MM / stream) / MM
    return f"v {alone:.0f} mm/s alone, a {field:.0f} m/s², U {stream:.2f} m/s, m {mouth:g} mm"


def _shields(at: _Caught) -> str:
    c, d = at.catch, at.duty
    return (
        f"U {c.stream[0, at.i]:.2f} m/s, ρ_s {d.target_density_kg_m3:g} kg/m³, a {c.field[0, at.i]:.0f} m/s², "
        f"d {d.target_um:g} µm: {c.shields[0, at.i]:.4f} over θ_c {c.shields_critical[0, at.i]:.4f}"
    )


def _cut(at: _Groove) -> str:
    return f"m {at.shape.cut.mouth[at.i]:g} mm, depth {at.shape.cut.depth[at.i]:g} mm"


def _own_bed(at: _Groove) -> str:
    return f"{_cut(at)}, {_fall(at)}"


def _fall(at: _Groove) -> str:
    return f"its bed lies σ {at.flow.groove_overfall[0, MIDDLE, at.i] / MM:.2f} mm under the lower edge".replace(
        "-", "−"
    )


def _needed(at: _Caught) -> str:
    stream, water = float(at.catch.stream[0, at.i]), float(at.catch.water.mouth_velocity[0, at.i])
    return f"U {stream:.2f} m/s, mouth velocity {water / MM:.2f} mm/s".replace("-", "−")


def _capacity(at: _Caught) -> str:
    low, _, high = at.catch.contents.capacity[0, :, at.i]
    size = float(at.catch.contents.volume[0, at.i]) / LITRE
    return f"ρ_heavy {at.duty.heavy_density_kg_m3:g} kg/m³, V {size:.3f} L; loose to dense {low:.3f} to {high:.3f} kg"


_OVERTURN: tuple[_Line[_Groove], ...] = (
    _Line("groove_overfall_mm", _overfall),
    _Line("groove_ratio", _ratio),
    _Line("groove_power_w", _power),
    _Line("groove_buried_mm", _buried),
)
_SPREAD = (_Line("groove_water_l_min", _shared),)
_DRILLED_LINES: tuple[_Line[_Drilled], ...] = (
    _Line("groove_water_l_min", _hole),
    _Line("hole_length_mm", _length),
    _Line("jacket_kpa", _jacket),
    _Line("back_kpa", _back),
    _Line("discharge", _discharge),
)
_NEED: tuple[_Line[_Caught], ...] = (
    _Line("mouth_mm_s", _mouth),
    _Line("floor_mm_s", _floor),
    _Line("lifting_mm_s", _lifting),
    _Line("velocity_ratio", _against, ("velocity_ratio_low", "velocity_ratio_high")),
    _Line("floor_ratio", _at_floor, ("floor_ratio_low", "floor_ratio_high")),
    _Line("dense_ratio", _dense, ("dense_ratio_low", "dense_ratio_high")),
    _Line("flush_ratio", _flushing),
)
_GRAINS: tuple[_Line[_Caught], ...] = (
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
_CONTENTS: tuple[_Line[_Caught], ...] = (_Line("volume_l", _own_bed), _Line("capacity_kg", _capacity))
