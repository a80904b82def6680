"""What a figure of the turning body leaves out because it is not given, and which way that moves it.

A figure that lacks something is marked where it stands: "at least", where what is missing would add to it, "at most",
where it would take from it. Nothing given (None) and nothing there (0) are not the same.
"""

from enum import StrEnum

from profiler.assess.evaluate.evaluation import Evaluation
from profiler.assess.quantities.quantity import Quantity
from profiler.assess.spin.parts import has_shell, lacks_supply
from profiler.study import Machine
from profiler.study.records.machine import JACKET_INLET, OTHER_INERTIA, OTHER_MASS, SUPPLY_PRESSURE


class Bound(StrEnum):
    LEAST = "at least"
    MOST = "at most"


_BY_PRESSURE = {
    **dict.fromkeys(
        ("shell_pressure_kpa", "hoop_thin_mpa", "hoop_mpa", "hoop_overspeed_mpa", "thrust_kn", "thrust_floor_kn",
         "thrust_flange_kn", "inward_bare_kpa", "inward_kpa"), Bound.LEAST),
    **dict.fromkeys(("strength_factor", "overspeed_strength_factor"), Bound.MOST),
}  # fmt: skip
_BY_MASS = ("dry_mass_kg", "rotor_mass_kg", "unbalance_g_mm", "unbalance_n", "unbalance_bed_g", "unbalance_bed_arc_deg")
_BY_FLOOR = ("shell_mass_kg", "rotor_transverse_kg_m2", *_BY_MASS)
_BY_SHELL = ("rim_speed_m_s", "rotor_transverse_kg_m2", *_BY_MASS)  # and what goes by inertia
_BY_INERTIA = ("rotor_inertia_kg_m2", "rotor_transverse_kg_m2", "energy_kj", "spin_up_nm", "spin_up_kw")


def bound_of(q: Quantity, e: Evaluation) -> Bound | None:
    """Which way what is not given would move the figure; None where nothing is missing of it."""
    if q.key in _BY_PRESSURE and lacks_supply(e.machine, e.duty):
        return _BY_PRESSURE[q.key]
    return Bound.LEAST if _lacking(q, e.machine) else None


def told(q: Quantity, e: Evaluation) -> str:
    """The figure as it is shown: with its unit, and with "at least" or "at most" where something is left out of it."""
    value = float(q.get(e)[0])
    bound = bound_of(q, e)
    return q.text(value) if bound is None or value != value else f"{bound.value} {q.text(value)}"


def missing(q: Quantity, e: Evaluation) -> str:
    """What is not given, as a sentence; empty where nothing is missing."""
    if bound_of(q, e) is None:
        return ""
    if q.key in _BY_PRESSURE:
        field = JACKET_INLET if e.machine.jacket_inlet_mm is None else SUPPLY_PRESSURE
        return f"Left out: {field.label.lower()}, which is not given."
    return f"Left out: {' and '.join(_lacking(q, e.machine))}, not given."


def _lacking(q: Quantity, machine: Machine) -> list[str]:
    """What of the rotating assembly is not given, though the figure goes by it."""
    found = []
    if q.key in (*_BY_SHELL, *_BY_INERTIA) and not has_shell(machine):
        found.append("the shell")
    if q.key in (*_BY_FLOOR, *_BY_INERTIA) and has_shell(machine) and machine.shell_floor_mm is None:
        found.append("the shell's floor")
    for field, keys in ((OTHER_MASS, (*_BY_MASS, "rotor_transverse_kg_m2")), (OTHER_INERTIA, _BY_INERTIA)):
        if q.key in keys and field.get(machine) is None:
            found.append(f"{field.label.lower()} (hub, shaft, pulley)")
    return found
