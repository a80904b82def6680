"""The quantities of the spinning body: a part of the table in `quantities`.

The groups are what a form shows one under another; the caution stands beside the figures of strength.
"""

from collections.abc import Callable
from functools import partial

import numpy as np

from profiler.assess.evaluate.evaluation import Evaluation
from profiler.assess.quantities.quantity import Quantity, Scope
from profiler.assess.spin.loads import MEGAPASCAL, ShellStress
from profiler.assess.spin.parts import lacks_supply
from profiler.assess.spin.spin_stage import Spin
from profiler.geometry.wall import FloatArray
from profiler.units import DEGREE, GRAVITY, KILOPASCAL, MICRON, MM

CAUTION = (
    "Screening figures. Stress, overspeed, guarding, balance and pressure belong to a licensed engineer "
    "under local codes."
)

_MECHANICS = "any mechanics text"
_INTEGRALS = "boundary integrals of what turns (Green's theorem)"
_HANDBOOK = "disc: Shigley; Hearn vol. 2, ch. 4. Pressure: Lamé"
_RING = "any strength-of-materials text"
_LIQUID = "liquid turning with the bowl; any fluid-mechanics text"
_BRESSE = "long thin tube, two lobes (Bresse)"
_BALANCE = "ISO 21940-11"
_NO_BENDING = "each height a ring of its own: no bending at floor and rim, no holes, welds or fatigue"
_NO_SHELL = f"none without a shell's thickness, material and seat; {_NO_BENDING}"
_NO_STRENGTH = "none without a shell and its strength; yield or proof stress over hoop stress"
_NO_BOWL_STRENGTH = "none without the bowl's material and its strength"
_NO_MATERIAL = "none without the bowl's material"
_NO_TIME = "none without a spin-up time; rotating assembly, bearings and air left out"
_NO_PRESSURE = "none without holes where the jacket's inlet is not given"
_TURNING = "film and grooves taken as turning with the bowl; grooves full of heavy minerals"
_KILOWATT = 1e3


def _of_spin(get: Callable[[Spin], FloatArray], factor: float, e: Evaluation) -> FloatArray:
    return np.full(1, np.nan) if e.spin is None else np.asarray(get(e.spin)[:1] / factor, dtype=float)


def _of_shell(get: Callable[[ShellStress], FloatArray], factor: float, e: Evaluation) -> FloatArray:
    shell = None if e.spin is None else e.spin.shell
    return np.full(1, np.nan) if shell is None else np.asarray(get(shell)[:1] / factor)


def _bowl(
    key: str,
    label: str,
    unit: str,
    decimals: int,
    get: Callable[[Evaluation], FloatArray],
    equation: str,
    source: str,
    limits: str = "",
) -> Quantity:
    return Quantity(key, label, unit, decimals, Scope.BOWL, get, equation, source, limits)


def _spin(get: Callable[[Spin], FloatArray], factor: float = 1.0) -> Callable[[Evaluation], FloatArray]:
    return partial(_of_spin, get, factor)


def _shell(get: Callable[[ShellStress], FloatArray], factor: float) -> Callable[[Evaluation], FloatArray]:
    return partial(_of_shell, get, factor)


def _shell_pressure(e: Evaluation) -> FloatArray:
    if e.spin is not None and not e.spin.inlet.told:
        return np.full(1, np.nan)
    return _of_shell(lambda s: s.at_worst(s.pressure), KILOPASCAL, e)


def _where_most(e: Evaluation) -> FloatArray:
    """Nobody knows where it is while more may press than is known."""
    if lacks_supply(e.machine, e.duty):
        return np.full(1, np.nan)
    return _of_shell(lambda s: s.at_worst(s.height), MM, e)


def _shell_mass(s: Spin) -> FloatArray:
    """Of a shell that is given: what is not known does not weigh nothing."""
    mass = s.parts.shell.mass
    return np.asarray(np.where(mass > 0.0, mass, np.nan))


MOTION = (
    _bowl("lip_g", "Acceleration at the lip", "g", 1, _spin(lambda s: s.lip_acceleration, GRAVITY), "ω² r / g",
          _MECHANICS),
    _bowl("floor_g", "Acceleration at the floor", "g", 1, _spin(lambda s: s.floor_acceleration, GRAVITY), "ω² r / g",
          _MECHANICS),
    _bowl("lip_film_g", "Film's acceleration at the lip", "g", 1, _spin(lambda s: s.lip_film_acceleration, GRAVITY),
          "ω² r (1 − L)² / g", "slurry model; see help"),
    _bowl("rim_speed_m_s", "Rim speed", "m/s", 1, _spin(lambda s: s.rim_speed), "ω R, R the outermost that turns",
          _MECHANICS),
    _bowl("energy_kj", "Kinetic energy", "kJ", 2, _spin(lambda s: s.energy, 1e3), "½ I ω²", _MECHANICS,
          f"{_TURNING}; EN 12547 leaves out centrifuges under 0.2 kJ"),
)  # fmt: skip

MASSES = (
    _bowl("liner_mass_kg", "Mass, bowl", "kg", 2, _spin(lambda s: s.parts.liner.mass), "ρ V", _INTEGRALS,
          "water holes left out"),
    _bowl("shell_mass_kg", "Mass, shell", "kg", 2, _spin(_shell_mass), "ρ V", _INTEGRALS,
          "none where no shell is given; shell and floor without bosses or ribs"),
    _bowl("jacket_water_kg", "Mass, jacket water", "kg", 2, _spin(lambda s: s.parts.water.mass), "ρ V", _INTEGRALS),
    _bowl("slurry_mass_kg", "Mass, film and bed", "kg", 2, _spin(lambda s: s.parts.slurry.mass), "ρ V", _INTEGRALS,
          "over the wall line; middle friction"),
    _bowl("concentrate_mass_kg", "Mass, full grooves", "kg", 2, _spin(lambda s: s.parts.concentrate.mass),
          "settled bed of heavy minerals, 0.58 by volume, with its water", _INTEGRALS),
    _bowl("dry_mass_kg", "Mass, dry rotor", "kg", 2, _spin(lambda s: s.parts.dry.mass),
          "bowl, shell, hub and shaft", _INTEGRALS, "what is balanced in the shop"),
    _bowl("rotor_mass_kg", "Mass, rotating assembly", "kg", 2, _spin(lambda s: s.parts.whole.mass), "Σ m", _INTEGRALS,
          _TURNING),
    _bowl("rotor_centre_mm", "Centre of mass, rotating assembly", "mm", 1, _spin(lambda s: s.parts.whole.centre, MM),
          "Σ m z / Σ m, above the inner floor", _INTEGRALS, _TURNING),
    _bowl("rotor_inertia_kg_m2", "Polar inertia, rotating assembly", "kg m²", 4, _spin(lambda s: s.parts.whole.polar),
          "Σ ρ π/2 ∮x⁴ dy", _INTEGRALS, _TURNING),
    _bowl("rotor_transverse_kg_m2", "Transverse inertia, rotating assembly", "kg m²", 4,
          _spin(lambda s: s.parts.whole.transverse), "Σ (I_t + m (z − z_c)²), about the common centre", _INTEGRALS,
          f"{_TURNING}; hub and shaft count as a point at the seat's floor"),
)  # fmt: skip

POWER = (
    _bowl("feed_power_kw", "Power into the feed", "kW", 3, _spin(lambda s: s.feed_power, _KILOWATT),
          "(q_m slurry + q_m water) (ω r_lip)² (1 − L), q_m the mass flow", "momentum balance; derived",
          "about half is lost where the feed is caught, half leaves with it; bearings and air left out"),
    _bowl("spin_up_nm", "Torque to spin up", "N m", 2, _spin(lambda s: s.spin_up.torque), "I ω / t, constant",
          _MECHANICS, _NO_TIME),
    _bowl("spin_up_kw", "Power at the end of spin-up", "kW", 3, _spin(lambda s: s.spin_up.peak_power, _KILOWATT),
          "I ω² / t; the mean is half of it", _MECHANICS, _NO_TIME),
)  # fmt: skip

STRENGTH = (
    _bowl("shell_pressure_kpa", "Pressure on the shell", "kPa", 1,
          _shell_pressure, "p_s + ½ ρ ω² (r² − r_in²) − ρ g (z − z_in)", _LIQUID,
          _NO_SHELL),
    _bowl("hoop_own_mpa", "Shell stress, own rotation", "MPa", 2, _shell(lambda s: np.max(s.own, axis=1), MEGAPASCAL),
          "ρ ω²/4 ((3 + ν) r_o² + (1 − ν) r_i²)", _HANDBOOK, _NO_SHELL),
    _bowl("hoop_thin_mpa", "Shell stress, thin ring", "MPa", 2, _shell(lambda s: s.at_worst(s.thin), MEGAPASCAL),
          "ρ ω² r² + p r/(t cos lean)", _RING, _NO_SHELL),
    _bowl("hoop_mpa", "Shell stress, thick ring", "MPa", 2, _spin(lambda s: s.hoop, MEGAPASCAL),
          "own rotation + p (r_o² + r_i²)/(r_o² − r_i²)", _HANDBOOK, _NO_SHELL),
    _bowl("hoop_height_mm", "Shell stress, where most", "mm", 0, _where_most,
          "height above the inner floor", _HANDBOOK, f"{_NO_SHELL}; nor where the pressure on it is not given"),
    _bowl("hoop_overspeed_mpa", "Shell stress at overspeed", "MPa", 2, _spin(lambda s: s.hoop_overspeed, MEGAPASCAL),
          "the same, with the supply's full pressure", _HANDBOOK, _NO_SHELL),
    _bowl("strength_factor", "Shell strength factor", "", 2, _spin(lambda s: s.factor), "strength / hoop stress", _RING,
          _NO_STRENGTH),
    _bowl("overspeed_strength_factor", "Shell strength factor at overspeed", "", 2, _spin(lambda s: s.factor_overspeed),
          "strength / hoop stress at overspeed", _RING, _NO_STRENGTH),
    _bowl("bowl_hoop_mpa", "Bowl stress, water off", "MPa", 2, _spin(lambda s: s.insert.hoop, MEGAPASCAL),
          "own rotation + slurry inside, on the wall behind the grooves", _HANDBOOK, f"{_NO_MATERIAL}; {_NO_BENDING}"),
    _bowl("bowl_factor", "Bowl strength factor, water off", "", 2, _spin(lambda s: s.insert_factor),
          "strength / hoop stress", _RING, _NO_BOWL_STRENGTH),
    _bowl("bowl_overspeed_factor", "Bowl strength factor at overspeed", "", 2,
          _spin(lambda s: s.insert_factor_overspeed), "the same over the overspeed's square, water off", _RING,
          _NO_BOWL_STRENGTH),
    _bowl("thrust_kn", "End thrust", "kN", 2, _spin(lambda s: s.thrust.whole, 1e3),
          "π p (R² − a²) + π ρ ω²/4 ((R² − r_in²)² − (a² − r_in²)²)", _LIQUID,
          f"parts bowl and rotor, as if the floor's seal let water in to the hub, radius a; {_NO_PRESSURE}"),
    _bowl("thrust_floor_kn", "End thrust on the floor", "kN", 2, _spin(lambda s: s.thrust.floor, 1e3),
          "the same, from the hub to the floor plate's edge", _LIQUID,
          f"the floor's seal taken as letting water in; {_NO_PRESSURE}"),
    _bowl("thrust_flange_kn", "End thrust on wall and flange", "kN", 2, _spin(lambda s: s.thrust.flange, 1e3),
          "the same, from the floor plate's edge to the seat", _LIQUID,
          f"the wall as seen along the axis; {_NO_PRESSURE}"),
    _bowl("inward_bare_kpa", "Inward pressure on the bowl, no slurry", "kPa", 1,
          _spin(lambda s: s.insert.inward_bare, KILOPASCAL), "jacket − ½ ρ ω² (r_o² − r_i²)", _LIQUID, _NO_PRESSURE),
    _bowl("inward_kpa", "Net outside pressure on the bowl, running", "kPa", 1,
          _spin(lambda s: s.insert.inward, KILOPASCAL),
          "jacket − own rotation − slurry", _LIQUID, _NO_PRESSURE),
    _bowl("buckling_low_kpa", "Bare bowl buckles at, low", "kPa", 2, _spin(lambda s: s.insert.folds_low, KILOPASCAL),
          "E t³/(4 (1 − ν²) r³), t behind the grooves", _BRESSE, f"{_NO_MATERIAL}; floor and flange raise it"),
    _bowl("buckling_high_kpa", "Bare bowl buckles at, high", "kPa", 2, _spin(lambda s: s.insert.folds_high, KILOPASCAL),
          "the same, t with no groove cut", _BRESSE, f"{_NO_MATERIAL}; floor and flange raise it"),
)  # fmt: skip

BALANCE = (
    _bowl("eccentricity_um", "Permitted eccentricity", "µm", 1, _spin(lambda s: s.balance.eccentricity, MICRON),
          "G / ω", _BALANCE),
    _bowl("unbalance_g_mm", "Permitted unbalance", "g mm", 0, _spin(lambda s: s.balance.unbalance, 1e-6),
          "m G / ω, m the dry rotor; two symmetrical planes take half each", _BALANCE),
    _bowl("unbalance_n", "Force of permitted unbalance", "N", 1, _spin(lambda s: s.balance.force), "U ω²", _BALANCE),
    _bowl("unbalance_bed_g", "Bed lost at permitted unbalance", "g", 1,
          _spin(lambda s: s.balance.missing_mass, 1e-3),
          "U / r, r of the largest groove's contents", _MECHANICS, "none without grooves"),
    _bowl("unbalance_bed_arc_deg", "Arc lost at permitted unbalance", "°", 1,
          _spin(lambda s: s.balance.missing_arc, DEGREE),
          "U = m r sin(β/2)/π", _MECHANICS, "none without grooves, or where half of one does not"),
)  # fmt: skip

GROUPS: tuple[tuple[str, tuple[Quantity, ...]], ...] = (
    ("Motion", MOTION),
    ("Rotating assembly", MASSES),
    ("Drive", POWER),
    ("Strength and pressure", STRENGTH),
    ("Balance", BALANCE),
)
SPIN_QUANTITIES: tuple[Quantity, ...] = tuple(q for _, group in GROUPS for q in group)
