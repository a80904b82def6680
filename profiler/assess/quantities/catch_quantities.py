"""The quantities of water, catch and contents: a part of the table in `quantities`."""

from collections.abc import Callable
from functools import partial

import numpy as np

from profiler.assess import unchecked
from profiler.assess.catch.catch_stage import Catch
from profiler.assess.catch.contents import MINUTE
from profiler.assess.catch.exposed_film import ExposedFilm
from profiler.assess.catch.groove_water import LOOSE, GrooveWater
from profiler.assess.evaluate.evaluation import Evaluation
from profiler.assess.quantities.quantity import Quantity, Scope
from profiler.assess.shape.rings import HoleRings
from profiler.geometry.wall import FloatArray
from profiler.physics.grains import capture
from profiler.physics.slurry.wall_film import LANDING_LOSS
from profiler.physics.water.jacket import Jacket
from profiler.units import DEGREE, GRAVITY, KILOPASCAL, LITRE, LITRE_PER_MINUTE, MICRON, MILLISECOND, MM, PERCENT

_JACKET = "balance of the jacket in the rotating frame"
_LIFT = "Wen & Yu (1966) and five more correlations; the band spans them, a factor of two"
_GROUPS = "screening group from cavity and embayment work; no recovery follows"
_SETTLING = (
    "by shape Haider & Levenspiel (1989) or Ferguson & Church (2004), Richardson & Zaki (1954); "
    f"flakes {unchecked.FLAKES.cited}"
)
_PAPPUS = "Pappus; roundings left out"
_PACKING = f"settled bed, solids 0.58 by volume; {unchecked.PACKING.words}"
_COVERED = "none where a calm bed covers the groove"
_MARCH = "the film marched from land to land, middle friction; slurry model"
_LANDING = "the share of a fall lost in landing is assumed, 0.2 to 1"
_PLAN = "none without a hole plan"
_ARRIVED = "share of the target grains that reach the wall below the groove; reaching it is not being kept"


def _none(e: Evaluation) -> FloatArray:
    """A dash for every groove where what is asked for was not worked out."""
    return np.full(0 if e.shape is None else len(e.shape.mouths), np.nan)


def _of_catch(get: Callable[[Catch], FloatArray], factor: float, e: Evaluation) -> FloatArray:
    return _none(e) if e.catch is None else np.asarray(get(e.catch) / factor)


def _of_holes(get: Callable[[HoleRings], FloatArray], factor: float, e: Evaluation) -> FloatArray:
    if e.shape is None or e.shape.holes is None:
        return _none(e)
    return np.asarray(get(e.shape.holes) / factor)


def _of_jacket(get: Callable[[Jacket], FloatArray], factor: float, e: Evaluation) -> FloatArray:
    if e.flow is None or e.flow.water.jacket is None:
        return _none(e)
    return np.asarray(get(e.flow.water.jacket) / factor)


def _groove(
    key: str,
    label: str,
    unit: str,
    decimals: int,
    get: Callable[[Evaluation], FloatArray],
    equation: str,
    source: str,
    limits: str = "",
    good: tuple[float, float] | None = None,
) -> Quantity:
    return Quantity(key, label, unit, decimals, Scope.GROOVE, get, equation, source, limits, good)


def _catch(get: Callable[[Catch], FloatArray], factor: float = 1.0) -> Callable[[Evaluation], FloatArray]:
    return partial(_of_catch, get, factor)


def _holes(get: Callable[[HoleRings], FloatArray], factor: float = 1.0) -> Callable[[Evaluation], FloatArray]:
    return partial(_of_holes, get, factor)


def _jacket(get: Callable[[Jacket], FloatArray], factor: float = 1.0) -> Callable[[Evaluation], FloatArray]:
    return partial(_of_jacket, get, factor)


def _one(e: Evaluation, value: FloatArray | None) -> FloatArray:
    return np.array([np.nan if value is None else float(value[0])])


def _bowl(
    key: str,
    label: str,
    unit: str,
    decimals: int,
    get: Callable[[Catch], FloatArray],
    equation: str,
    source: str,
    limits: str = "",
) -> Quantity:
    return Quantity(
        key, label, unit, decimals, Scope.BOWL, lambda e: _one(e, None if e.catch is None else get(e.catch)),
        equation, source, limits,
    )  # fmt: skip


def _band(key: str, label: str, get: Callable[[GrooveWater], FloatArray], equation: str) -> tuple[Quantity, ...]:
    """A velocity ratio and the ends of its band over the correlations."""

    def row(end: str, word: str, place: int, which: str) -> Quantity:
        return _groove(
            f"{key}{end}", f"{label}{word}", "", 2, _catch(lambda c: get(c.water)[0, place]), equation.format(which),
            _LIFT, "", LOOSE,
        )  # fmt: skip

    return (
        row("_low", ", low", 0, "greatest"),
        row("", "", 1, "median"),
        row("_high", ", high", 2, "least"),
    )


_ABOVE_ONE = (1.0, float("inf"))

_WATER: tuple[Quantity, ...] = (
    _groove("hole_count", "Holes", "", 0, _holes(lambda h: h.rings.count), "as planned", "hole plan", _PLAN),
    _groove("hole_mm", "Hole diameter", "mm", 2, _holes(lambda h: h.rings.diameter, MM), "as planned", "hole plan",
            _PLAN),
    _groove("hole_length_mm", "Hole length", "mm", 1, _holes(lambda h: h.rings.length, MM),
            "√(r_o² − r_i² sin²β) − r_i cos β, β the skew", "from the outline", _PLAN),
    _groove("jacket_kpa", "Jacket pressure", "kPa", 1, _jacket(lambda j: j.pressure[0], KILOPASCAL),
            "p_s + ½ρω²(r_i² − r_in²) − ρg(z_i − z_in)", _JACKET, _PLAN),
    _groove("back_kpa", "Back pressure", "kPa", 1, _jacket(lambda j: j.back_pressure[0], KILOPASCAL),
            "½ρ_mω²(r_s² − (r_s − h)²) + ½ρ_bω²(r_i² − r_s²), ρ_m of the film in place", _JACKET, _PLAN),
    _groove("discharge", "Discharge coefficient", "", 3, _jacket(lambda j: j.coefficient[0]), "Cd(Re, L/d)",
            "Lichtarowicz, Duggins & Markland (1965); Idelchik below L/d 1.5; pipe friction from L/d 10", _PLAN),
    _groove("hole_reynolds", "Reynolds number in a hole", "", 0, _jacket(lambda j: j.reynolds[0]), "v d/ν", _JACKET,
            _PLAN),
    _groove("mouth_mm_s", "Water velocity, mouth", "mm/s", 2, _catch(lambda c: c.water.mouth_velocity[0], MM),
            "Q/(2π r m)", "superficial"),
    _groove("floor_mm_s", "Water velocity, floor", "mm/s", 2, _catch(lambda c: c.water.floor_velocity[0], MM),
            "Q/(2π r_i w)", "superficial"),
    _groove("lifting_mm_s", "Minimum fluidising velocity", "mm/s", 2, _catch(lambda c: c.water.least[0, 1], MM),
            "Re = √(C1² + C2 Ar) − C1 at the mouth, gangue d50", _LIFT),
    _groove("velocity_ratio_low", "Velocity ratio, low", "", 2, _catch(lambda c: c.water.ratio[0, 0]),
            "mouth velocity / greatest lifting velocity", _LIFT, "", LOOSE),
    _groove("velocity_ratio", "Velocity ratio", "", 2, _catch(lambda c: c.water.ratio[0, 1]),
            "mouth velocity / median lifting velocity", _LIFT, "good from 0.5 to 1.5: common practice, no source",
            LOOSE),
    _groove("velocity_ratio_high", "Velocity ratio, high", "", 2, _catch(lambda c: c.water.ratio[0, 2]),
            "mouth velocity / least lifting velocity", _LIFT, "", LOOSE),
    *_band("floor_ratio", "Velocity ratio at the floor", lambda w: w.floor_ratio,
           "floor velocity / {} lifting velocity there"),
    *_band("dense_ratio", "Velocity ratio, dense-filled", lambda w: w.dense_ratio,
           "mouth velocity / {} lifting velocity of heavy minerals"),
    _groove("flush_ratio", "Flush-out of the target", "", 3, _catch(lambda c: c.flush_ratio[0]),
            "mouth velocity / target velocity", _SETTLING, "from 1 the target is carried out", (0.0, 1.0)),
)  # fmt: skip


def _landing(
    key: str, label: str, unit: str, decimals: int, get: Callable[[ExposedFilm], FloatArray], equation: str
) -> tuple[Quantity, ...]:
    """A figure of the film at every lower edge and its ends over the share of a fall that a landing loses."""

    def row(end: str, word: str, place: int) -> Quantity:
        limits = f"{_LANDING}: this one {LANDING_LOSS[::-1][place]:g}"
        value = _catch(lambda c: get(c.film)[0, place])
        return _groove(f"{key}{end}", f"{label}{word}", unit, decimals, value, equation, _MARCH, limits)

    return (row("_slow", ", slow", 0), row("", "", 1), row("_fast", ", fast", 2))


def _over_mouth(e: Evaluation) -> FloatArray:
    if e.catch is None or e.shape is None:
        return _none(e)
    return np.asarray(e.shape.cut.mouth * MM / e.catch.film.velocity[0, 1] / MILLISECOND)


_GRAINS: tuple[Quantity, ...] = (
    *_landing("stream_m_s", "Stream at the lower edge", "m/s", 2, lambda f: f.speed, "√(V² + W²), marched"),
    *_landing("film_over_repose", "Stream speed over that at repose", "", 3,
              lambda f: f.velocity / f.repose_velocity[:, None], "V / V at repose, marched"),
    *_landing("film_depth_mm", "Film's depth at the lower edge", "mm", 2, lambda f: f.depth / MM, "q / V"),
    _groove("over_mouth_ms", "Time over the mouth", "ms", 1, _over_mouth, "m / V, middle", _MARCH, _LANDING),
    _groove("field_g", "Acceleration of the film", "g", 1, _catch(lambda c: c.field[0], GRAVITY), "ω² r (1 − L)²/g",
            "slurry model"),
    _groove("target_mm_s", "Target grain's velocity", "mm/s", 0, _catch(lambda c: c.target_velocity[0], MM),
            "v (1 − Ci)^n at the film's field, Ci the grains in place", _SETTLING),
    _groove("arrival_um", "Smallest grain reaching the wall", "µm", 1, _catch(lambda c: c.arrival.size[0], MICRON),
            "v_h(d) = Q/A, A wetted below the groove", "Hazen (1904), no mixing"),
    _groove("arrived_mixed", "Share of target reaching the wall, not kept", "", 3,
            _catch(lambda c: c.arrival.mixed[0]),
            "1 − exp(−v_h A/Q)", "Hazen (1904), film fully mixed", _ARRIVED),
    _groove("arrived", "Share reaching the wall, not kept, no mixing", "", 3,
            _catch(lambda c: c.arrival.unmixed[0]),
            "min(1, v_h A/Q)", "Hazen (1904), no mixing", _ARRIVED),
    _groove("kept_um_low", "Target kept above, low", "µm", 1, _catch(lambda c: c.kept[0, 0], MICRON),
            "v_h(d) = max(0.01 U, mouth velocity)", _GROUPS, _COVERED),
    _groove("kept_um", "Target kept above", "µm", 1, _catch(lambda c: c.kept[0, 1], MICRON),
            "v_h(d) = max(0.02 U, mouth velocity)", _GROUPS, _COVERED),
    _groove("kept_um_high", "Target kept above, high", "µm", 1, _catch(lambda c: c.kept[0, 2], MICRON),
            "v_h(d) = max(0.04 U, mouth velocity)", _GROUPS, _COVERED),
    _groove("washed_um_low", "Gangue washed out below, low", "µm", 1, _catch(lambda c: c.washed[0, 0], MICRON),
            "v_h(d) = max(0.01 U, mouth velocity)", _GROUPS, _COVERED),
    _groove("washed_um", "Gangue washed out below", "µm", 1, _catch(lambda c: c.washed[0, 1], MICRON),
            "v_h(d) = max(0.02 U, mouth velocity)", _GROUPS, _COVERED),
    _groove("washed_um_high", "Gangue washed out below, high", "µm", 1, _catch(lambda c: c.washed[0, 2], MICRON),
            "v_h(d) = max(0.04 U, mouth velocity)", _GROUPS, _COVERED),
    _groove("exchange_ratio", "Target against exchange", "", 1, _catch(lambda c: c.exchange_ratio[0, 1]),
            "v_h/(k U), k = 0.02 (0.01 to 0.04)", unchecked.EXCHANGE.words, "retained above 1", _ABOVE_ONE),
    _groove("rouse", "Rouse number in the groove", "", 2, _catch(lambda c: c.rouse[0]), "v_h/(0.4 · 0.1 U)",
            "common practice, no source", "retained above 2.5", (capture.ROUSE_TRAP, float("inf"))),
    _groove("stokes", "Stokes number", "", 2, _catch(lambda c: c.stokes[0]), "(v/a) U/m", _GROUPS,
            "flung to the floor above 0.1 to 1", (capture.STOKES_TRAP, float("inf"))),
    _groove("shields_ratio", "Shields at the floor over critical", "", 2,
            _catch(lambda c: c.shields[0] / c.shields_critical[0]), "ρ(0.1 U)²/((ρ_s − ρ) a d θ_c)",
            f"{unchecked.THRESHOLD.cited}: half as high a threshold doubles the ratio", "at rest below 1", (0.0, 1.0)),
    _groove("width_over_depth", "Mouth over depth", "", 2, _catch(lambda c: c.width_over_depth[0]), "m/depth",
            unchecked.CAPTIVE_WIDTH.words, "one captive eddy below 4", (0.0, capture.CAPTIVE_WIDTH)),
    _groove("volume_l", "Capacity", "L", 3, _catch(lambda c: c.contents.volume[0], LITRE),
            "below the mouth line and its own bed: 2π ∫ r dA", _PAPPUS, "the calm bed above a groove is not counted"),
    _groove("capacity_kg", "Capacity, dry", "kg", 3, _catch(lambda c: c.contents.capacity[0, 1]), "0.58 ρ_heavy V",
            _PACKING),
)  # fmt: skip


def _free_surface(e: Evaluation) -> FloatArray:
    jacket = None if e.flow is None else e.flow.water.jacket
    return np.array([np.nan]) if jacket is None else jacket.free_surface[:1] / MM


def _inlet(e: Evaluation) -> FloatArray:
    jacket, holes = (None, None) if e.flow is None or e.shape is None else (e.flow.water.jacket, e.shape.holes)
    return (
        np.array([np.nan])
        if jacket is None or holes is None
        else (holes.at_inlet(jacket.inlet_pressure[:1]) / KILOPASCAL)
    )


def _dry(e: Evaluation) -> FloatArray:
    jacket = None if e.flow is None else e.flow.water.jacket
    return np.array([np.nan if jacket is None else float(np.sum(jacket.dry[0]))])


def _last_change(e: Evaluation) -> FloatArray:
    return np.array([np.nan]) if e.flow is None else e.flow.water.last_change[:1] / DEGREE


def _unsettled(e: Evaluation) -> FloatArray:
    return np.array([np.nan]) if e.flow is None else e.flow.water.unsettled[:1] / PERCENT


def _total(e: Evaluation) -> FloatArray:
    return np.array([np.nan]) if e.flow is None else e.flow.water.total[:1] / LITRE_PER_MINUTE


def _residence(place: int, c: Catch) -> FloatArray:
    return np.asarray(c.film.residence[:, place])


_BOWL: tuple[Quantity, ...] = (
    Quantity("water_total_l_min", "Water supplied", "L/min", 1, Scope.BOWL, _total,
            "what the supply gives of what is asked",
             _JACKET),
    Quantity("inlet_kpa", "Pressure at the jacket inlet", "kPa", 1, Scope.BOWL, _inlet, "p_s", _JACKET,
             f"{_PLAN}, nor where the inlet's radius is not given; negative: the jacket runs part full"),
    Quantity("free_surface_mm", "Jacket's free surface", "mm", 1, Scope.BOWL, _free_surface,
            "r_0 = √(r_in² − 2 p_s/(ρω²))",
             _JACKET, "none where the jacket is full"),
    Quantity("last_change_deg", "Last change of repose", "°", 4, Scope.BOWL, _last_change,
             "what the last pass of water, dilution, repose, surface and back pressure still moved the repose angle by",
             _JACKET),
    Quantity("water_unsettled_pct", "Ring flows still to settle", "% of mean", 3, Scope.BOWL, _unsettled,
             "last shift · q/(1 − q), q its share of the one before", _JACKET, "settled up to 0.1 %"),
    Quantity("dry_rings", "Dry rings", "", 0, Scope.BOWL, _dry, "rings nearer to the axis than the free surface",
            _JACKET,
             _PLAN),
    *(_bowl(f"residence_s{end}", f"Residence time of the film{word}", "s", 3, partial(_residence, place),
            "Σ ds / V along the surface, floor to lip", _MARCH, _LANDING)
      for end, word, place in (("_short", ", short", 2), ("", "", 1), ("_long", ", long", 0))),
    _bowl("volume_total_l", "Volume of all grooves", "L", 3,
          lambda c: np.sum(c.contents.volume, axis=1) / LITRE, "Σ V", _PAPPUS),
    _bowl("capacity_total_kg", "Dry contents of all grooves", "kg", 2,
          lambda c: np.sum(c.contents.capacity[:, 1], axis=1), "Σ 0.58 ρ_heavy V", _PACKING),
    _bowl("fill_min", "Grooves full after", "min", 1, lambda c: c.contents.fill_time / MINUTE,
          "capacity / heavy minerals fed", "the soonest: as if every heavy grain stayed"),
    _bowl("mass_pull_pct", "Mass pull", "% of feed", 3, lambda c: c.contents.mass_pull / PERCENT,
            "capacity / dry feed in a cycle",
          "grooves full at every rinse"),
    _bowl("concentrate_kg_day", "Concentrate a day", "kg", 0, lambda c: c.contents.concentrate_per_day,
          "capacity · day/(cycle + rinse)", "grooves full at every rinse"),
    _bowl("rinse_l", "Rinse water", "L", 0, lambda c: c.contents.rinse_water / LITRE, "water · rinse time", "as typed"),
    _bowl("stays_behind_l", "Stays behind at rest", "L", 3, lambda c: c.contents.stays_behind / LITRE,
          "groove contours below their lower edges", "from the outline"),
)  # fmt: skip

CATCH_QUANTITIES = (*_WATER, *_GRAINS, *_BOWL)
