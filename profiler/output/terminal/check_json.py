"""One evaluation as the records of `check --json`. Keys are a promise: more may come, none is renamed.

Nothing is computed here: numbers come from the evaluation, those with a quantity of the same key through its table.
What does not exist (no flow, no bed, nothing that is a number) is null.
"""

import json
from dataclasses import dataclass
from math import isfinite

import msgspec
import numpy as np

from profiler.assess import Evaluation, Finding
from profiler.assess.evidence.words import standing
from profiler.assess.flow.flow_stage import HIGH, LOW, MIDDLE, Flow, least_band
from profiler.assess.flow.sizes import d50_um, finer_um, usable
from profiler.assess.quantities.left_out import bound_of
from profiler.assess.quantities.table import STATE_KEYS, quantity
from profiler.assess.shape.shape_stage import Shape
from profiler.assess.shape.slopes import SLOPE_WORDS, slopes_of
from profiler.geometry.wall import FloatArray
from profiler.physics.slurry.overturn import State
from profiler.units import DEGREE, LITRE, MM

SCHEMA = 2  # of this answer; a study file counts its own


class FindingRow(msgspec.Struct, frozen=True):
    code: str
    severity: str
    text: str
    value: float | None
    limit: float | None
    unit: str
    source: str
    from_mm: float | None
    to_mm: float | None
    groove: int | None
    grooves: tuple[int, ...]
    remedy: str | None


class WallRow(msgspec.Struct, frozen=True):
    """At one of 401 equal heights, or at a corner, whose height comes twice. Without flow most of it is None."""

    height_mm: float
    wall_angle_deg: float
    radius_mm: float
    acceleration_g: float | None
    film_g: float | None
    repose_low_deg: float | None
    repose_deg: float | None
    repose_high_deg: float | None
    margin_deg: float | None
    slope: str | None
    surface_radius_mm: float | None
    buried_mm: float | None
    held_at_mm: float | None  # None where the wall is exposed
    state: str | None


class GrooveRow(msgspec.Struct, frozen=True):
    number: int  # from 1 at the floor
    height_mm: float
    radius_mm: float
    mouth_mm: float
    depth_mm: float
    state: str | None
    buried_mm: float | None
    overfall_mm: float | None
    overturn_ratio: float | None
    overturn_power_w: float | None
    water_l_min: float | None  # negative: slurry runs back through the holes
    hole_count: int | None  # None, with the diameter, without a hole plan
    hole_mm: float | None
    velocity_ratio_low: float | None
    velocity_ratio: float | None
    velocity_ratio_high: float | None
    kept_um_low: float | None  # the four sizes are None where a calm bed covers the groove
    kept_um_high: float | None
    washed_um_low: float | None
    washed_um_high: float | None
    volume_l: float | None
    capacity_kg: float | None


class WaterRow(msgspec.Struct, frozen=True):
    """All but the total are None without a hole plan."""

    total_l_min: float | None  # what the supply gives
    jacket_kpa: float | None  # at the jacket's inlet; negative where the jacket runs part full
    free_surface_mm: float | None  # radius of the water's surface in a jacket part full
    dry_rings: int | None


class BodyRow(msgspec.Struct, frozen=True):
    section_area_mm2: float
    section_length_mm: float
    volume_l: float
    mass_kg: float
    inertia_kg_m2: float
    centre_height_mm: float


class RotorRow(msgspec.Struct, frozen=True):
    """Screening figures: strength, overspeed, balance and pressure belong to a licensed engineer."""

    bounds: dict[str, str]  # of figures that leave out what is not given: "at least" or "at most", by their names here
    mass_kg: float | None  # of the rotating assembly, grooves full
    inertia_kg_m2: float | None  # of the same
    energy_kj: float | None
    hoop_mpa: float | None  # the shell's largest, as a thick ring; None, with its factor, without a shell
    strength_factor: float | None  # strength over it, at the duty's speed
    rim_speed_m_s: float | None
    feed_power_kw: float | None
    unbalance_g_mm: float | None  # permitted, of the dry rotor
    thrust_kn: float | None


class SizeRow(msgspec.Struct, frozen=True):
    size_um: float  # of the sieve
    retained_pct: float  # on it, past the one above


class FeedRow(msgspec.Struct, frozen=True):
    """The feed by size."""

    d50_um: float  # of the classes, where there are any
    d80_um: float | None  # None, with the per cent, where the feed is given by one d50
    size_classes: tuple[SizeRow, ...]
    liquid_um: float | None  # what is finer counts as liquid, where classes are given
    fine_pct: float | None
    yield_stress_pa: float | None  # of the carrier; None: not given, and left out of the slope


class CalibrationRow(msgspec.Struct, frozen=True):
    """What the duty's friction was measured at, and the least half width its repose band keeps in this bowl."""

    friction: float
    friction_low: float
    friction_high: float
    solids_pct: float
    d50_um: float
    lip_radius_mm: float
    rests_on: str
    least_band_deg: float | None  # None without flow


class Check(msgspec.Struct, frozen=True):
    """The whole answer. Where the geometry is impossible wall, grooves and body are None and a `stop` says why."""

    schema: int
    design: str
    duty: str
    machine: str
    findings: tuple[FindingRow, ...]
    wall: tuple[WallRow, ...] | None
    grooves: tuple[GrooveRow, ...] | None
    body: BodyRow | None
    water: WaterRow | None
    rotor: RotorRow | None
    feed: FeedRow
    slurry_model: str  # how it stands to measurements
    calibration: CalibrationRow | None  # None where the friction is a guess


def check_of(e: Evaluation) -> Check:
    """The records of an evaluation's first duty."""
    wall = grooves = body = None
    if e.shape is not None:
        wall, grooves = _wall_rows(e, e.shape), _groove_rows(e, e.shape)
    if e.body is not None:
        of_body = {name: getattr(e.body, name) for name in BodyRow.__struct_fields__ if name != "volume_l"}
        body = BodyRow(volume_l=e.body.volume_mm3 * MM**3 / LITRE, **of_body)
    findings = tuple(_finding_row(f) for f in e.findings)
    names = (e.design.name, e.duty.name, e.machine.name)
    return Check(
        SCHEMA, *names, findings, wall, grooves, body, _water_row(e), _rotor_row(e), _feed_row(e), standing(e.duty),
        _calibration_row(e),
    )  # fmt: skip


def check_json(e: Evaluation) -> str:
    """One JSON object in ASCII, so that every terminal and pipe carries it."""
    return json.dumps(msgspec.to_builtins(check_of(e)), allow_nan=False)


def _calibration_row(e: Evaluation) -> CalibrationRow | None:
    measured, duty = e.duty.calibrated, e.duty
    if measured is None:
        return None
    least = None
    if e.shape is not None and e.flow is not None:
        least = float(least_band(e.flow.feed, e.shape.lip_radius)[0]) / DEGREE
    frictions = (duty.friction, duty.friction_low, duty.friction_high)
    at = (measured.solids_pct, measured.d50_um, measured.lip_radius_mm)
    return CalibrationRow(*frictions, *at, measured.rests_on, least)


_WALL_QUANTITIES = (
    "height_mm", "wall_angle_deg", "radius_mm", "acceleration_g", "film_g", "repose_low_deg", "repose_deg",
    "repose_high_deg", "margin_deg", "surface_radius_mm", "buried_mm",
)  # fmt: skip
_GROOVE_QUANTITIES = {
    "height_mm": "groove_height_mm", "radius_mm": "groove_radius_mm", "buried_mm": "groove_buried_mm",
    "overfall_mm": "groove_overfall_mm", "overturn_ratio": "groove_ratio", "overturn_power_w": "groove_power_w",
    "water_l_min": "groove_water_l_min", "hole_mm": "hole_mm", "velocity_ratio_low": "velocity_ratio_low",
    "velocity_ratio": "velocity_ratio", "velocity_ratio_high": "velocity_ratio_high", "kept_um_low": "kept_um_low",
    "kept_um_high": "kept_um_high", "washed_um_low": "washed_um_low", "washed_um_high": "washed_um_high",
    "volume_l": "volume_l", "capacity_kg": "capacity_kg",
}  # fmt: skip


_ROTOR_QUANTITIES = (
    "rotor_mass_kg", "rotor_inertia_kg_m2", "energy_kj", "hoop_mpa", "strength_factor", "rim_speed_m_s",
    "feed_power_kw", "unbalance_g_mm", "thrust_kn",
)  # fmt: skip


def _wall_rows(e: Evaluation, shape: Shape) -> tuple[WallRow, ...]:
    columns = {key: quantity(key).get(e) for key in _WALL_QUANTITIES}
    rows = []
    for i in np.flatnonzero(shape.stations.tabulated).tolist():
        numbers = {key: _number(values, i) for key, values in columns.items()}
        buried = (numbers["buried_mm"] or 0.0) > 0.0
        words = _Words() if e.flow is None else _words_at(shape, e.flow, i, buried)
        row = WallRow(slope=words.slope, held_at_mm=words.held_at_mm, state=words.state, **numbers)  # type: ignore[arg-type]
        rows.append(row)
    return tuple(rows)


@dataclass(frozen=True, slots=True)
class _Words:
    slope: str | None = None
    state: str | None = None
    held_at_mm: float | None = None


def _words_at(shape: Shape, flow: Flow, i: int, buried: bool) -> _Words:
    slope = int(slopes_of(shape.stations.angle[i], flow.angle[0, LOW, i], flow.angle[0, HIGH, i]))
    held_at = _finite(float(flow.bed.held_at[0, MIDDLE, i] / MM)) if buried else None
    return _Words(SLOPE_WORDS[slope], _state(flow.state[0, i]), held_at)


def _state(value: int) -> str | None:
    """None where no state is claimed."""
    return None if value == State.NONE else STATE_KEYS[State(value)]


def _groove_rows(e: Evaluation, shape: Shape) -> tuple[GrooveRow, ...]:
    columns = {key: quantity(name).get(e) for key, name in _GROOVE_QUANTITIES.items()}
    holes = quantity("hole_count").get(e)
    mouth, depth = shape.cut.mouth, shape.cut.depth
    rows = []
    for i in range(len(shape.mouths)):
        numbers = {key: _number(values, i) for key, values in columns.items()}
        state = None if e.flow is None else _state(e.flow.groove_state[0, i])
        row = GrooveRow(
            number=i + 1, mouth_mm=float(mouth[i]), depth_mm=float(depth[i]), state=state,
            hole_count=_whole(_number(holes, i)), **numbers,  # type: ignore[arg-type]
        )  # fmt: skip
        rows.append(row)
    return tuple(rows)


def _water_row(e: Evaluation) -> WaterRow | None:
    if e.flow is None:
        return None
    total, inlet, level, dry = (
        _number(quantity(key).get(e), 0) for key in ("water_total_l_min", "inlet_kpa", "free_surface_mm", "dry_rings")
    )
    return WaterRow(total, inlet, level, _whole(dry))


def _rotor_row(e: Evaluation) -> RotorRow | None:
    if e.spin is None:
        return None
    bounds = {
        name: bound.value
        for name, key in zip(RotorRow.__struct_fields__[1:], _ROTOR_QUANTITIES, strict=True)
        if (bound := bound_of(quantity(key), e)) is not None
    }
    return RotorRow(bounds, *(_number(quantity(key).get(e), 0) for key in _ROTOR_QUANTITIES))


def _feed_row(e: Evaluation) -> FeedRow:
    duty, sound = e.duty, bool(e.duty.size_classes) and usable(e.duty)
    rows = tuple(SizeRow(c.size_um, c.retained_pct) for c in duty.size_classes)
    d80 = finer_um(duty.size_classes, 0.8) if sound else None
    limit, fine = (_number(quantity(key).get(e), 0) for key in ("liquid_um", "fine_pct"))
    return FeedRow(d50_um(duty), d80, rows, limit, fine, duty.yield_stress_pa)


def _whole(value: float | None) -> int | None:
    return None if value is None else round(value)


def _finding_row(f: Finding) -> FindingRow:
    return FindingRow(
        code=f.code,
        severity=f.severity.value,
        text=f.text,
        value=_finite(f.value),
        limit=_finite(f.limit),
        unit=f.unit,
        source=f.source,
        from_mm=_finite(f.from_mm),
        to_mm=_finite(f.to_mm),
        groove=f.groove,
        grooves=f.grooves,
        remedy=None if f.remedy is None else f.remedy.label,
    )


def _number(values: FloatArray, i: int) -> float | None:
    """The value at a place; None where the quantity does not exist."""
    return _finite(float(values[i])) if len(values) else None


def _finite(value: float | None) -> float | None:
    return None if value is None or not isfinite(value) else float(value)
