"""What an older file needs to be read today: one pure step for each older schema, and what to tell whoever opens it."""

from collections.abc import Callable
from typing import NamedTuple

from profiler.study.records.duty import FRICTIONS, FrictionBasis

Raw = dict[str, object]

FORMER_FRICTION = (0.32, 0.45, 0.63)  # defaults of schema 1: low, middle, high
FRICTION_BASIS = "friction_basis"
NAMED = 3  # duties called by their names in a note; of more than these only how many


class Upgraded(NamedTuple):
    """The decoded object of the next schema, and a sentence on each thing its reader should know."""

    raw: Raw
    notes: tuple[str, ...] = ()


def friction_in_place(raw: Raw) -> Upgraded:
    """Schema 1 to 2: the balance weighs the grains in place, no longer those delivered.

    A friction band that stands at the former defaults was not chosen: it gives way to the present ones. Low, middle and
    high are one statement, so a band of which any part was typed stays whole, marked as typed for the former law: half
    of it at the new defaults would cross itself. A duty that says for which law its band was typed is believed, though
    no program wrote that into a file of schema 1.
    """
    duties = raw.get("duties")
    if not isinstance(duties, list):
        return Upgraded(raw)  # the decoder says what is wrong with it
    renewed: list[object] = []
    changed: list[str] = []
    kept: list[str] = []
    for duty in duties:
        if not isinstance(duty, dict) or FRICTION_BASIS in duty:
            renewed.append(duty)
            continue
        band = tuple(duty.get(name, former) for name, former in zip(FRICTIONS, FORMER_FRICTION, strict=True))
        rest = {name: value for name, value in duty.items() if name not in FRICTIONS}
        if band == FORMER_FRICTION:
            renewed.append(rest)
            changed.append(str(duty.get("name")))
        else:
            marked = {**dict(zip(FRICTIONS, band, strict=True)), FRICTION_BASIS: FrictionBasis.DELIVERED.value}
            renewed.append(rest | marked)
            kept.append(str(duty.get("name")))
    return Upgraded({**raw, "duties": renewed}, _friction_note(changed, kept))


def _friction_note(changed: list[str], kept: list[str]) -> tuple[str, ...]:
    """One note, whichever of the two it speaks of."""
    if not changed and not kept:
        return ()
    parts = ["The slurry model now weighs the grains in place, and its friction reads differently."]
    if changed:
        parts.append(f"The former default friction of {_named(changed)} became the present default.")
    if kept:
        parts.append(f"The friction of {_named(kept)} was typed for the former law and stays: look at it again.")
    return (" ".join(parts),)


def _named(duties: list[str]) -> str:
    if len(duties) > NAMED:
        return f"{len(duties)} duties"
    return ("duty " if len(duties) == 1 else "duties ") + ", ".join(f'"{name}"' for name in duties)


# Of schema 2: numbers of a machine that said "not known" by being 0, and what others were taken to be where left out.
NOT_KNOWN_AT_ZERO = (
    "supply_kpa", "supply_l_min", "shell_mm", "shell_floor_mm", "drive_kw", "flange_hold_kn", "further_mass_kg",
    "further_inertia_kg_m2",
)  # fmt: skip
FORMER_MACHINE = {
    "jacket_gap_mm": 6.0, "speed_low_rpm": 300.0, "speed_high_rpm": 800.0, "feed_pipe_mm": 0.0, "feed_pipe_end_mm": 0.0,
    "deflector_mm": 0.0, "deflector_height_mm": 0.0, "jacket_inlet_mm": 60.0, "strainer_um": 200.0, "spin_up_s": 60.0,
}  # fmt: skip


def not_given_as_null(raw: Raw) -> Upgraded:
    """Schema 2 to 3: a number of the machine that is not given is null, no longer 0.

    So is the height of a measurement without an angle. Nothing else moves: a 0 that says "there is none" (feed pipe,
    deflector, strainer, extra cost) stays, and what a file left out has the value it had by that.
    """
    changed = dict(raw)
    machine, trials, measured = (raw.get(name) for name in ("machine", "trials", "measurements"))
    if isinstance(machine, dict):  # of all else the decoder says what is wrong with it
        unknown = {name: None for name in NOT_KNOWN_AT_ZERO if _is_zero(machine.get(name))}
        changed["machine"] = {**FORMER_MACHINE, **machine, **unknown}
    if isinstance(trials, list):
        changed["trials"] = [_with_former_cost(trial) for trial in trials]
    if isinstance(measured, list):
        changed["measurements"] = [_with_height_of_an_angle(each) for each in measured]
    return Upgraded(changed)


def _with_former_cost(trial: object) -> object:
    if not isinstance(trial, dict) or not isinstance(trial.get("worth", {}), dict):
        return trial
    return {**trial, "worth": {"other_cost_a_year": 0.0, **trial.get("worth", {})}}


def _with_height_of_an_angle(measurement: object) -> object:
    if not isinstance(measurement, dict):
        return measurement
    former = {"height_mm": 0.0, **measurement}
    return (
        {**former, "height_mm": None} if former.get("angle_deg") is None and _is_zero(former["height_mm"]) else former
    )


def _is_zero(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and value == 0


# The decoded object of schema n in, that of schema n + 1 out.
UPGRADES: dict[int, Callable[[Raw], Upgraded]] = {1: friction_in_place, 2: not_given_as_null}
