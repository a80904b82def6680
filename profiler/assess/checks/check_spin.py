"""Checks of the spinning body: every limit of strength, pressure, drive and balance, with the number against it."""

import numpy as np

from profiler.assess.findings.finding import Finding
from profiler.assess.findings.kinds import Kind, Severity
from profiler.assess.shape.shape_stage import Shape
from profiler.assess.spin.loads import leans
from profiler.assess.spin.parts import has_shell, lacks_supply
from profiler.assess.spin.spin_stage import Spin
from profiler.numbers import Against, fixed, significant
from profiler.physics.rotor.body import EN_12547_ENERGY
from profiler.study import Body, Duty, Machine
from profiler.units import DEGREE, KILOPASCAL, MM

LEAST_PRESSED_KPA = 0.5  # less is told as none


def spin_findings(machine: Machine, body: Body, duty: Duty, shape: Shape, spin: Spin) -> list[Finding]:
    return [
        *_factor_findings(machine, body, spin),
        *_pressing_findings(machine, body, duty, shape, spin),
        *_thrust_findings(machine, duty, spin),
        *_drive_findings(machine, duty, spin),
        *_unknown_findings(machine, body, duty, spin.inlet.told),
        _energy_finding(machine, spin),
        *_balance_findings(machine, spin),
    ]


def _factor_findings(machine: Machine, body: Body, spin: Spin) -> list[Finding]:
    """Strength over hoop stress against the factor asked: below it a check, below 1 nothing that may run."""
    shell, asked = spin.shell, machine.least_factor
    z = None if shell is None else float(shell.at_worst(shell.height)[0]) / MM
    over, off = f"at {machine.overspeed_factor:g} times the speed", "with the water off"
    table = (
        (Kind.SHELL_FACTOR, "The shell", machine.shell_material, spin.factor, "at speed", z),
        (Kind.SHELL_OVERSPEED, "The shell", machine.shell_material, spin.factor_overspeed, over, z),
        (Kind.BOWL_FACTOR, "The bowl", body.material, spin.insert_factor, off, None),
        (Kind.BOWL_OVERSPEED, "The bowl", body.material, spin.insert_factor_overspeed, f"{off}, {over}", None),
    )
    found = []
    for kind, who, material, factors, when, at in table:
        factor = float(factors[0])
        if material is not None and factor < asked:
            told = Against(factor, asked)
            text = f"{who}'s strength is {told:.2f} times its hoop stress {when}; {asked:g} is asked."
            found.append(
                Finding(
                    kind=kind, text=text, value=factor, limit=asked, from_mm=at, to_mm=at,
                    own_severity=Severity.STOP if factor < 1.0 else None,
                    own_source=f"{kind.source}; {material.name}: {material.strength_source}",
                )
            )  # fmt: skip
    return found


def _pressing_findings(machine: Machine, body: Body, duty: Duty, shape: Shape, spin: Spin) -> list[Finding]:
    """What presses inward on the bowl."""
    if leans(machine, body):
        text = "The bowl rests on the shell without a jacket: the shell carries slurry and bowl, and no water passes."
        return [Finding(kind=Kind.BOWL_LEANS, text=text)]
    if not spin.inlet.told:
        return []  # said with what is not given
    pressed, least = (float(a[0]) / KILOPASCAL for a in (spin.insert.inward_bare, spin.insert.folds_low))
    top, how = shape.height, "At least" if lacks_supply(machine, duty) else "Up to"
    if body.backed:
        if pressed < LEAST_PRESSED_KPA:
            return []
        text = f"{how} {pressed:.0f} kPa press inward on the bowl: its backing has to carry them."
        return [Finding(kind=Kind.BOWL_BACKED, text=text, value=pressed, unit="kPa", from_mm=0.0, to_mm=top)]
    if not pressed > least:
        return []
    high = float(spin.insert.folds_high[0]) / KILOPASCAL
    text = (
        f"{how} {Against(pressed, least):.0f} kPa press inward, water on and no slurry; a bare bowl can buckle from "
        f"{least:.1f} to "
        f"{high:.1f} kPa: back it, or make it stiffer."
    )
    return [Finding(kind=Kind.BOWL_FOLDS, text=text, value=pressed, limit=least, unit="kPa", from_mm=0.0, to_mm=top)]


def _thrust_findings(machine: Machine, duty: Duty, spin: Spin) -> list[Finding]:
    force, limit, source = float(spin.thrust.whole[0]) / 1e3, machine.flange_hold_kn, f"machine {machine.name}"
    least = "at least " if lacks_supply(machine, duty) else ""
    if not spin.inlet.told:
        return []
    if limit is None:
        text = f"The capacity of the flange bolts is not given: the thrust of {least}{force:.1f} kN is not checked."
        return [Finding(kind=Kind.FLANGE_CAPACITY_UNKNOWN, text=text, value=force, unit="kN", own_source=source)]
    if force <= limit:
        return []
    told = Against(force, limit)
    text = f"Jacket pressure parts bowl and rotor with {least}{told:.1f} kN; the flange bolts carry {limit:g} kN."
    return [Finding(kind=Kind.FLANGE_THRUST, text=text, value=force, limit=limit, unit="kN", own_source=source)]


def _drive_findings(machine: Machine, duty: Duty, spin: Spin) -> list[Finding]:
    source, limit = f"machine {machine.name}", machine.drive_kw
    feed, peak = (float(a[0]) / 1e3 for a in (spin.feed_power, spin.spin_up.peak_power))
    if limit is None:
        need = float(np.nanmax((feed, peak)))
        text = f"The drive's power is not given: at least {need:.1f} kW that feed or spin-up take are not checked."
        return [Finding(kind=Kind.DRIVE_UNKNOWN, text=text, value=need, unit="kW", own_source=source)]
    found = []
    if feed > limit:
        text = f"The feed alone takes {Against(feed, limit):.1f} kW from the shaft; the drive gives {limit:g} kW."
        found.append(Finding(kind=Kind.DRIVE_FEED, text=text, value=feed, limit=limit, unit="kW", own_source=source))
    if peak > limit:
        told = f"{'' if _is_whole(machine) else 'at least '}{Against(peak, limit):.1f} kW"
        text = f"Spinning up in {machine.spin_up_s:g} s takes {told} at the end; the drive gives {limit:g} kW."
        found.append(Finding(kind=Kind.DRIVE_SPIN_UP, text=text, value=peak, limit=limit, unit="kW", own_source=source))
    return found


def _unknown_findings(machine: Machine, body: Body, duty: Duty, told: bool) -> list[Finding]:
    """What could not be worked out, and what was left out of it. `told`: whether the jacket's pressure is."""
    found = []
    if not has_shell(machine):
        text = "The machine has no shell thickness and material, or no seat: its shell's stress is not worked out."
        found.append(Finding(kind=Kind.SHELL_UNKNOWN, text=text))
    if lacks_supply(machine, duty) and (has_shell(machine) or not told):
        found.append(Finding(kind=Kind.SUPPLY_UNKNOWN, text=_supply_words(machine, told)))
    if body.material is None:
        text = "The bowl's material is not given: its hoop stress, and what buckles it, are not worked out."
        found.append(Finding(kind=Kind.BOWL_MATERIAL_UNKNOWN, text=text))
    for who, material in (("shell", machine.shell_material), ("bowl", body.material)):
        if material is not None and material.strength_mpa is None:
            text = f"The {who}'s material, {material.name}, has no strength given: there is no factor against it."
            found.append(Finding(kind=Kind.STRENGTH_UNKNOWN, text=text))
    return found


def _supply_words(machine: Machine, told: bool) -> str:
    inlet = machine.jacket_inlet_mm is None
    what = "The radius at which water enters the jacket" if inlet else "The supply's pressure"
    if told:
        return (
            f"{what} is not given: pressure, stress and thrust are at least what is shown, the shell's strength "
            "factors at most."
        )
    return (
        f"{what} is not given: what presses on bowl and shell, and the thrust on the flange bolts, are not worked out "
        "and not checked; the shell's strength factors are at most what is shown."
    )


def _is_whole(machine: Machine) -> bool:
    """Whether all that turns beside the bowl is given."""
    return has_shell(machine) and machine.shell_floor_mm is not None and machine.further_inertia_kg_m2 is not None


def _energy_finding(machine: Machine, spin: Spin) -> Finding:
    """Below the scope of one standard is not without danger: that is said too."""
    energy, whole = float(spin.energy[0]), _is_whole(machine)
    inside = energy >= EN_12547_ENERGY
    word = "so EN 12547 applies" if inside else "so EN 12547 does not apply; other rules do, and it can still kill"
    if not whole and not inside:
        word = "but parts of it are not given, so whether EN 12547 applies is open"
    amount = f"{'' if whole else 'at least '}{f'{energy / 1e3:.2f} kJ' if inside else f'{energy:.0f} J'}"
    side = "above" if inside else "below"
    text = f"The rotating assembly holds {amount}, {side} the {EN_12547_ENERGY:.0f} J of EN 12547's scope, {word}."
    return Finding(kind=Kind.SPIN_ENERGY, text=text, value=energy, limit=EN_12547_ENERGY, unit="J")


def _balance_findings(machine: Machine, spin: Spin) -> list[Finding]:
    b = spin.balance
    if b.groove is None:
        return []
    grams, arc = float(b.missing_mass[0]) * 1e3, float(b.missing_arc[0]) / DEGREE
    told = fixed(grams, 0) if grams > 9.5 else significant(grams, 2)  # a small bowl's is below 1 g
    what = f"{told} g of bed gone from one place of groove {b.groove + 1}"
    if np.isfinite(arc):
        what += f", {arc:.0f}° of it,"
    permitted = float(b.unbalance[0]) * 1e6
    text = f"{what[0].upper()}{what[1:]} equals all the unbalance G {machine.balance_grade_mm_s:g} permits"
    given = has_shell(machine) and None not in (machine.shell_floor_mm, machine.further_mass_kg)
    text += "." if given else " for what is given of the rotor; what is not given adds to both."
    return [Finding(kind=Kind.UNBALANCE_BED, text=text, value=permitted, unit="g mm", grooves=(b.groove + 1,))]
