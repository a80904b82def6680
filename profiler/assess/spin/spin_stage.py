"""The spin stage: what turning asks of shell, shaft and drive, and what balance it needs. SI; d duties.

Screening figures. Stress, overspeed, guarding, balance and pressure belong to a licensed engineer under local codes.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from profiler.assess.flow.flow_stage import MIDDLE, Flow
from profiler.assess.shape.shape_stage import Shape
from profiler.assess.spin.loads import (
    MEGAPASCAL,
    Inlet,
    InsertLoad,
    ShellStress,
    Thrust,
    inlet_of,
    insert_load,
    shell_stress,
    thrust,
)
from profiler.assess.spin.parts import Parts, has_seat, parts_of, radial_thickness, seat_profile
from profiler.geometry.groove_capacity import rounded_section, turned_volume
from profiler.geometry.wall import FloatArray
from profiler.physics.grains import packing
from profiler.physics.rotor import balance
from profiler.physics.rotor import body as rotor
from profiler.study import Body, Duty, Machine
from profiler.units import MM


@dataclass(frozen=True, slots=True)
class Balance:
    """What the grade permits the dry rotor, and what bed makes as much, (d,)."""

    eccentricity: FloatArray  # m
    unbalance: FloatArray  # kg m
    force: FloatArray  # N, turning with the bowl
    groove: int | None  # index of the largest groove; None without grooves
    missing_mass: FloatArray  # kg of bed gone from one place of that groove
    missing_arc: FloatArray  # rad of it, cleared through its whole section; nan where all of it does not


@dataclass(frozen=True, slots=True)
class Spin:
    """Each array (d,) unless it says otherwise."""

    parts: Parts
    lip_acceleration: FloatArray  # m/s2
    floor_acceleration: FloatArray
    lip_film_acceleration: FloatArray  # of the film, which lags
    rim_speed: FloatArray  # m/s, of the outermost that turns
    energy: FloatArray  # J
    feed_power: FloatArray  # W
    spin_up: rotor.SpinUp  # nan without a time
    inlet: Inlet
    shell: ShellStress | None
    hoop: FloatArray  # Pa, the shell's largest; nan without a shell
    hoop_overspeed: FloatArray
    factor: FloatArray  # the shell's strength over it; nan without a strength
    factor_overspeed: FloatArray
    thrust: Thrust
    insert: InsertLoad
    insert_factor: FloatArray  # the bowl's strength over its hoop stress with the water off
    insert_factor_overspeed: FloatArray
    balance: Balance


def spin_of(shape: Shape, flow: Flow, machine: Machine, body: Body, duties: Sequence[Duty]) -> Spin:
    """Everything about turning a shape in a machine under duties whose flow is known."""
    parts, speed = parts_of(shape, flow, machine, body, duties), flow.feed.angular_speed
    inlet = inlet_of(machine, shape, flow)
    shell = shell_stress(shape, flow, machine, body, inlet)
    insert = insert_load(shape, flow, machine, body, inlet)
    none = np.full(len(speed), np.nan)
    hoop = none if shell is None else np.max(shell.thick, axis=1)
    over = none if shell is None else np.max(shell.overspeed, axis=1)
    steel, rubber = machine.shell_material, body.material
    strength = _strength(None if steel is None else steel.strength_mpa)
    stands = _strength(None if rubber is None else rubber.strength_mpa) / insert.hoop
    lag = np.where(flow.film.carried[:, MIDDLE, -1], flow.film.lag[:, MIDDLE, -1], 0.0)
    leaving = flow.feed.mass_flow + flow.water.total * flow.feed.water_density
    polar = parts.whole.polar
    return Spin(
        parts=parts,
        lip_acceleration=flow.acceleration[:, -1],
        floor_acceleration=flow.acceleration[:, 0],
        lip_film_acceleration=flow.film_acceleration[:, -1],
        rim_speed=rotor.rim_speed(speed, _rim(shape, machine)),
        energy=rotor.kinetic_energy(polar, speed),
        feed_power=rotor.feed_power(leaving, speed, shape.lip_radius * MM, lag),
        spin_up=rotor.spin_up(polar, speed, np.nan if machine.spin_up_s is None else machine.spin_up_s),
        inlet=inlet,
        shell=shell,
        hoop=hoop,
        hoop_overspeed=over,
        factor=strength / hoop,
        factor_overspeed=strength / over,
        thrust=thrust(shape, flow, machine, inlet),
        insert=insert,
        insert_factor=stands,
        insert_factor_overspeed=stands / machine.overspeed_factor**2,  # own rotation and slurry both grow with ω²
        balance=_balance(shape, flow, machine, parts, duties),
    )


def _strength(strength_mpa: float | None) -> float:
    return np.nan if strength_mpa is None else strength_mpa * MEGAPASCAL


def _rim(shape: Shape, machine: Machine) -> float:
    """m: the lip flange, or the shell's outside at the top of the seat."""
    out = max(shape.shell.flange_radius, float(np.max(shape.shell.outer.radius)))
    if has_seat(machine):
        radius, thick = seat_profile(machine)[1], radial_thickness(machine)
        out = max(out, float(np.max(radius[:-1] + thick)), float(np.max(radius[1:] + thick)))
    return out * MM


def _balance(shape: Shape, flow: Flow, machine: Machine, parts: Parts, duties: Sequence[Duty]) -> Balance:
    speed, grade = flow.feed.angular_speed, machine.balance_grade_mm_s * MM
    unbalance = balance.permissible_unbalance(grade, speed, parts.dry.mass)
    none = np.full(len(speed), np.nan)
    groove, mass, arc = None, none, none
    if len(shape.mouths):
        sections = rounded_section(shape.contours) * MM
        volumes = turned_volume(sections)
        groove = int(np.argmax(volumes))
        radius = volumes[groove] / (2.0 * np.pi * _area(sections[groove]))
        heavy = np.array([d.heavy_density_kg_m3 for d in duties])
        ring = volumes[groove] * packing.bulk_density(heavy, flow.feed.water_density)
        mass = balance.missing_mass(unbalance, radius)
        arc = balance.missing_arc(unbalance, ring, radius)
    return Balance(
        balance.permissible_eccentricity(grade, speed),
        unbalance,
        balance.unbalance_force(unbalance, speed),
        groove,
        mass,
        arc,
    )


def _area(polygon: FloatArray) -> float:
    x, y = polygon.T
    return float(0.5 * abs(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1))))
