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
from profiler.numbers import Against, fixed, significant
from profiler.physics.slurry.overturn import STRONG_RATIO, State
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
    "Screening figures from dimensionless groups published for cavities and river bays: they rank grooves and duties. "
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
            CardSection("Film", (*_rows(e, caught, _FILM), *_residence(e))),
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
            text += f"  ({fixed(low, q.decimals)} to {fixed(high, q.decimals)})"
        found.append(CardRow(q.label, text, q.equation, line.inputs(groove), q.source, _limits(q, groove.duty)))
    return tuple(found)


def _limits(q: Quantity, duty: Duty) -> str:
    limits = "; ".join(part for part in q.limits_under(duty).split("; ") if not part.startswith("none "))
    if q.good is None:
        return limits
    low, high = q.good
    good = f"good from {significant(low)}" if np.isinf(high) else f"good from {significant(low)} to {significant(high)}"
    return good if not limits or limits.startswith("good") else f"{good}; {limits}"


def _cycle(moments: Moments, i: int) -> CardSection:
    rows = []
    for k, words in enumerate(MOMENTS):
        flow = float(moments.flow[0, k, i]) / LITRE_PER_MINUTE
        inlet, level = float(moments.inlet_pressure[0, k]) / KILOPASCAL, float(moments.free_surface[0, k]) / MM
        jacket = "jacket full" if np.isnan(level) else f"jacket part full, water at R {fixed(level, 0)} mm"
        dry = "; this ring dry" if moments.dry[0, k, i] else ""
        text = f"{fixed(flow, 2)} L/min"
        rows.append(CardRow(words.capitalize(), text, "", f"p_s {fixed(inlet, 1)} kPa, {jacket}{dry}"))
    return CardSection("Over a cycle", tuple(rows), "Negative: slurry runs back through the holes.")


def _state(at: _Groove) -> CardRow:
    return CardRow(
        "State",
        STATE_WORDS[State(int(at.flow.groove_state[0, at.i]))],
        "overturns where σ > 0 even at high friction, strong from E = 2; matched, sheltered by σ at low friction",
        f"{_overfall(at)}, E {fixed(Against(at.flow.groove_ratio[0, at.i], STRONG_RATIO, 0.0), 2)}",
        "derived; the 2 is this program's own choice",
    )


def _overfall(at: _Groove) -> str:
    low, _, high = (Against(mm, 0.0) for mm in at.flow.groove_overfall[0, :, at.i] / MM)
    return f"at low friction {fixed(low, 2)} mm, at high {fixed(high, 2)} mm"


def _power(at: _Groove) -> str:
    feed = at.flow.feed
    mass = float(feed.mass_flow[0] + feed.water_density[0] * at.flow.water.added_below[0, at.i])
    radius = float(at.shape.wall.radius_at(at.shape.mouths.middle[at.i])) * MM
    field = float(feed.angular_speed[0]) ** 2 * radius
    fall = float(at.flow.groove_overfall[0, MIDDLE, at.i]) / MM
    return f"q_m {fixed(mass, 3)} kg/s of slurry and water below, a {fixed(field, 0)} m/s², σ {fixed(fall, 2)} mm"


def _buried(at: _Groove) -> str:
    wall = float(at.shape.wall.radius_at(at.shape.mouths.lower[at.i]))
    held = float(at.flow.groove_held_at[0, at.i]) / MM
    text = f"r_w {fixed(wall, 1)} mm, r_s {fixed(wall - float(at.flow.groove_buried[0, at.i]) / MM, 1)} mm"
    return f"{text}, held at {fixed(held, 0)} mm" if at.flow.groove_buried[0, at.i] > 0.0 else text


def _ratio(at: _Groove) -> str:
    fall = float(at.flow.groove_overfall[0, MIDDLE, at.i]) / MM
    slope = float(at_grooves(at.shape, at.flow.film.slope[:, MIDDLE])[0, at.i]) / DEGREE
    mouth = float(at.shape.stations.edges.mouth[at.i]) / MM
    return f"σ {fixed(fall, 2)} mm, m {fixed(mouth, 2)} mm, θ_f − δ {fixed(slope, 2)}°"


def _shared(at: _Groove) -> str:
    return f"{len(at.shape.mouths)} grooves share {significant(at.duty.water_l_min)} L/min"


def _hole(at: _Drilled) -> str:
    rings, jacket = at.holes.rings, at.jacket
    drive = float(jacket.pressure[0, at.i] - jacket.back_pressure[0, at.i]) / KILOPASCAL
    return (
        f"n {fixed(rings.count[at.i], 0)}, d {significant(rings.diameter[at.i] / MM)} mm, "
        f"Cd {fixed(jacket.coefficient[0, at.i], 3)}, "
        f"p_j − p_b {fixed(drive, 1)} kPa, ρ {fixed(at.flow.feed.water_density[0], 1)} kg/m³"
    )


def _jacket(at: _Drilled) -> str:
    h, inlet = at.holes, float(at.holes.at_inlet(at.jacket.inlet_pressure)[0]) / KILOPASCAL
    return (
        f"p_s {fixed(inlet, 1)} kPa, ω {fixed(at.flow.feed.angular_speed[0], 2)} rad/s, "
        f"r_i {fixed(h.rings.radius[at.i] / MM, 1)} mm, r_in {fixed(h.inlet_mm, 0)} mm, "
        f"z_i − z_in {fixed((h.rings.height[at.i] - h.inlet_height) / MM, 0)} mm"
    )


def _back(at: _Drilled) -> str:
    cover = cover_of(at.shape, at.flow.film, at.flow.carrier, at.flow.bed)
    return (
        f"r_s {fixed(cover.surface_radius[0, at.i] / MM, 1)} mm, h {fixed(cover.film_depth[0, at.i] / MM, 2)} mm, "
        f"r_i {fixed(at.holes.rings.radius[at.i] / MM, 1)} mm, "
        f"C of the film, in place, {fixed(cover.in_place_fraction[0, at.i], 3)}"
    )


def _discharge(at: _Drilled) -> str:
    rings = at.holes.rings
    return f"Re {fixed(at.jacket.reynolds[0, at.i], 0)}, L/d {fixed(rings.length[at.i] / rings.diameter[at.i], 1)}"


def _length(at: _Drilled) -> str:
    h = at.holes
    inner, outer = h.rings.radius[at.i] / MM, h.outer_radius[at.i] / MM
    return f"r_i {fixed(inner, 1)} mm, r_o {fixed(outer, 1)} mm, β {significant(h.skew[at.i] / DEGREE)}°"


def _mouth(at: _Groove) -> str:
    radius = float(at.shape.wall.radius_at(at.shape.mouths.middle[at.i]))
    ring = float(at.flow.water.ring[0, at.i]) / LITRE_PER_MINUTE
    return f"Q {fixed(ring, 2)} L/min, r {fixed(radius, 1)} mm, m {significant(at.shape.cut.mouth[at.i])} mm"


def _floor(at: _Groove) -> str:
    inner, outer = at.shape.contours.corners[at.i, 1:3]
    ring = float(at.flow.water.ring[0, at.i]) / LITRE_PER_MINUTE
    radius, width = 0.5 * (inner[0] + outer[0]), float(np.hypot(*(outer - inner)))
    return f"Q {fixed(ring, 2)} L/min, r_i {fixed(radius, 1)} mm, w {fixed(width, 1)} mm"


def _against(at: _Caught) -> str:
    low, middle, high = at.catch.water.least[0, :, at.i] / MM
    water = float(at.catch.water.mouth_velocity[0, at.i]) / MM
    text = f"mouth velocity {fixed(water, 2)} mm/s; lifting {fixed(low, 2)}, {fixed(middle, 2)}, {fixed(high, 2)} mm/s"
    return f"{text} (least, median, greatest)"


def _at_floor(at: _Caught) -> str:
    return f"floor velocity {fixed(at.catch.water.floor_velocity[0, at.i] / MM, 2)} mm/s, gangue d50"


def _dense(at: _Caught) -> str:
    water = float(at.catch.water.mouth_velocity[0, at.i]) / MM
    heavy = at.duty.heavy_density_kg_m3
    return f"mouth velocity {fixed(water, 2)} mm/s, ρ_heavy {significant(heavy)} kg/m³, gangue d50"


def _lifting(at: _Caught) -> str:
    low, _, high = at.catch.water.least[0, :, at.i] / MM
    radius = float(at.shape.wall.radius_at(at.shape.mouths.middle[at.i])) * MM
    field = float(at.flow.feed.angular_speed[0]) ** 2 * radius / GRAVITY
    grain = f"{size_words(at.duty)}, ρ_s {significant(at.duty.solids_density_kg_m3)} kg/m³, {fixed(field, 0)} g"
    return f"{grain}; six correlations give {fixed(low, 2)} to {fixed(high, 2)} mm/s"


def _target(at: _Caught) -> str:
    d = at.duty
    flat = f", flatness {significant(d.target_flatness)}" if d.target_shape.value == "flake" else ""
    return (
        f"{d.target_shape.value}{flat}, {significant(d.target_um)} µm, {significant(d.target_density_kg_m3)} kg/m³, "
        f"{fixed(at.catch.field[0, at.i] / GRAVITY, 0)} g, C in place {fixed(at.catch.in_place_fraction[0, at.i], 3)}"
    )


def _flushing(at: _Caught) -> str:
    water, target = (float(a[0, at.i]) / MM for a in (at.catch.water.mouth_velocity, at.catch.target_velocity))
    return f"mouth velocity {fixed(water, 2)} mm/s, target {fixed(target, 0)} mm/s"


def _stream(at: _Caught) -> str:
    along, lag = (float(a[0, 1, at.i]) for a in (at.catch.film.velocity, at.catch.film.lag_speed))
    still = float(at.catch.film.repose_velocity[0, at.i])
    return f"V {fixed(along, 2)} m/s along the wall, W {fixed(lag, 2)} m/s behind it; V at repose {fixed(still, 2)} m/s"


def _crossing(at: _Caught) -> str:
    mouth, along = float(at.shape.cut.mouth[at.i]), float(at.catch.film.velocity[0, 1, at.i])
    return f"m {significant(mouth)} mm, V {fixed(along, 2)} m/s"


def _residence(e: Evaluation) -> tuple[CardRow, ...]:
    """Of the whole bowl: the same on every card."""
    slow, middle, fast = (quantity(f"residence_s{end}") for end in ("_long", "", "_short"))
    value, most, least = (float(q.get(e)[0]) for q in (middle, slow, fast))
    if not np.isfinite(value):
        return ()
    text = f"{middle.text(value)}  ({fixed(least, middle.decimals)} to {fixed(most, middle.decimals)})"
    return (CardRow(middle.label, text, middle.equation, "from floor to lip", middle.source, _limits(middle, e.duty)),)


def _reach(at: _Caught) -> str:
    reach = at.catch.arrival
    return f"Q {fixed(reach.passing[0, at.i] / LITRE_PER_MINUTE, 1)} L/min, A {fixed(reach.wetted[0, at.i], 4)} m²"


def _reaching(at: _Caught) -> str:
    return f"v_h {fixed(at.catch.target_velocity[0, at.i] / MM, 0)} mm/s, {_reach(at)}"


def _passing(at: _Caught) -> str:
    return f"v_h {fixed(at.catch.target_velocity[0, at.i] / MM, 0)} mm/s, U {fixed(at.catch.stream[0, at.i], 2)} m/s"


def _stopping(at: _Caught) -> str:
    """The velocity of a grain alone is not kept; the number itself tells it."""
    stream, field, mouth = at.catch.stream[0, at.i], at.catch.field[0, at.i], at.shape.cut.mouth[at.i]
    alone = float(at.catch.stokes[0, at.i] * field * mouth * MM / stream) / MM
    return (
        f"v {fixed(alone, 0)} mm/s alone, a {fixed(field, 0)} m/s², U {fixed(stream, 2)} m/s, m {significant(mouth)} mm"
    )


def _shields(at: _Caught) -> str:
    c, d = at.catch, at.duty
    return (
        f"U {fixed(c.stream[0, at.i], 2)} m/s, ρ_s {significant(d.target_density_kg_m3)} kg/m³, "
        f"a {fixed(c.field[0, at.i], 0)} m/s², d {significant(d.target_um)} µm: "
        f"{fixed(c.shields[0, at.i], 4)} over θ_c {fixed(c.shields_critical[0, at.i], 4)}"
    )


def _cut(at: _Groove) -> str:
    return f"m {significant(at.shape.cut.mouth[at.i])} mm, depth {significant(at.shape.cut.depth[at.i])} mm"


def _own_bed(at: _Groove) -> str:
    return f"{_cut(at)}, {_fall(at)}"


def _fall(at: _Groove) -> str:
    return f"its bed lies σ {fixed(at.flow.groove_overfall[0, MIDDLE, at.i] / MM, 2)} mm under the lower edge"


def _needed(at: _Caught) -> str:
    stream, water = float(at.catch.stream[0, at.i]), float(at.catch.water.mouth_velocity[0, at.i])
    return f"U {fixed(stream, 2)} m/s, mouth velocity {fixed(water / MM, 2)} mm/s"


def _capacity(at: _Caught) -> str:
    low, _, high = at.catch.contents.capacity[0, :, at.i]
    size = float(at.catch.contents.volume[0, at.i]) / LITRE
    given = f"ρ_heavy {significant(at.duty.heavy_density_kg_m3)} kg/m³, V {fixed(size, 3)} L"
    return f"{given}; loose to dense {fixed(low, 3)} to {fixed(high, 3)} kg"


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
_FILM: tuple[_Line[_Caught], ...] = (
    _Line("stream_m_s", _stream, ("stream_m_s_slow", "stream_m_s_fast")),
    _Line("film_over_repose", _stream, ("film_over_repose_slow", "film_over_repose_fast")),
    _Line("film_depth_mm", _stream, ("film_depth_mm_fast", "film_depth_mm_slow")),
    _Line("over_mouth_ms", _crossing),
)
_GRAINS: tuple[_Line[_Caught], ...] = (
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
