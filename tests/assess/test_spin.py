"""What turns, in whole examples: parts that add up, loads reckoned again by hand, the jacket's network, bad input."""

import itertools
import json
from math import atan, cos, isfinite, pi

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import Severity, Stages, evaluate
from profiler.assess.quantities.spin_quantities import CAUTION, SPIN_QUANTITIES
from profiler.assess.quantities.table import quantity
from profiler.assess.spin.loads import inlet_of, shut_off
from profiler.assess.spin.parts import groove_contents
from profiler.geometry.chain import Chain, figures, sampled
from profiler.geometry.groove_capacity import turned_volume
from profiler.output.terminal.check_json import check_json
from profiler.output.terminal.check_text import check_text
from profiler.study import HolePlan, Knot, Material, SeatPoint, WallCurve
from profiler.study.files import examples
from profiler.units import GRAVITY, RPM

DEFAULT, WATERED = examples.read("graded"), examples.read("watered")
MACHINE, DUTY = DEFAULT.machine, DEFAULT.duty
DESIGN = replace(DEFAULT.design, holes=HolePlan())  # water spread evenly
WATER = 998.2041  # kg/m3 at 20 degrees


def run(design=DESIGN, machine=MACHINE, duty=DUTY):
    return evaluate(design, machine, duty)


def bodied(design=DESIGN, **members):
    return replace(design, body=replace(design.body, **members))


def value(e, key):
    return float(quantity(key).get(e)[0])


def codes(e, severity=None):
    return {f.code for f in e.findings if severity is None or f.severity is severity}


# what turns


def test_the_bowl_is_the_body_of_the_section():
    e = run()
    assert value(e, "liner_mass_kg") == pytest.approx(e.body.mass_kg, rel=1e-12)
    assert float(e.spin.parts.liner.polar[0]) == pytest.approx(e.body.inertia_kg_m2, rel=1e-12)
    assert float(e.spin.parts.liner.centre[0]) * 1e3 == pytest.approx(e.body.centre_height_mm, rel=1e-12)


@pytest.mark.parametrize("name", examples.names())
def test_parts_add_up_to_all_that_turns(name):
    study = examples.read(name)
    e = evaluate(study.design, study.machine, study.duty)
    keys = ("liner_mass_kg", "shell_mass_kg", "jacket_water_kg", "slurry_mass_kg", "concentrate_mass_kg")
    parts = sum(value(e, key) for key in keys) + study.machine.further_mass_kg
    assert value(e, "rotor_mass_kg") == pytest.approx(parts, rel=1e-12)
    energy = 0.5 * value(e, "rotor_inertia_kg_m2") * (study.duty.speed_rpm * RPM) ** 2
    assert value(e, "energy_kj") == pytest.approx(energy / 1e3, rel=1e-12)


def test_the_shell_weighs_what_its_frustums_and_floor_do():
    steel = MACHINE.shell_material.density_kg_m3
    points = [(p.height_mm * 1e-3, p.radius_mm * 1e-3) for p in MACHINE.seat]
    thickness, volume, first = MACHINE.shell_mm * 1e-3, 0.0, 0.0
    for (z0, r0), (z1, r1) in itertools.pairwise(points):
        wide = thickness / cos(atan((r1 - r0) / (z1 - z0)))
        first = first or wide
        outer, inner = (((a := r0 + w), (b := r1 + w)) and a * a + a * b + b * b for w in (wide, 0.0))
        volume += pi * (z1 - z0) / 3.0 * (outer - inner)  # frustum of any mechanics text
    volume += pi * (points[0][1] + first) ** 2 * MACHINE.shell_floor_mm * 1e-3
    assert value(run(), "shell_mass_kg") == pytest.approx(volume * steel, rel=1e-12)


def test_the_jacket_holds_what_lies_between_seat_and_bowl():
    e = run()
    outer, floor = e.shape.shell.outer, e.shape.shell.underside
    bulges = np.append(outer.bulge(outer.height[:-1], outer.height[1:]), 0.0)
    up = sampled(Chain(np.stack((outer.radius, outer.height), axis=1), bulges, closed=False), 1e-3)
    top = float(outer.height[-1])
    seat = np.array([(p.radius_mm, p.height_mm + floor) for p in MACHINE.seat])
    inside = np.append(seat[seat[:, 1] < top], [(np.interp(top, seat[:, 1], seat[:, 0]), top)], axis=0)
    ring = np.vstack((up, inside[::-1]))
    volume = figures(Chain(ring, np.zeros(len(ring)))).volume * 1e-9
    # the outer wall's arcs are sampled to a micron here and as 128 chords there, of at most 2 um sag in some 10 mm
    assert value(e, "jacket_water_kg") == pytest.approx(volume * WATER, rel=5e-4)


def test_grooves_hold_what_their_polygons_do_but_for_the_roundings():
    e = run()
    sharp = float(np.sum(turned_volume(e.shape.contours.corners)))
    held = float(groove_contents(e.shape).volume)
    assert held == pytest.approx(sharp, rel=0.03)
    assert held != sharp


def test_the_slurry_weighs_what_rings_of_film_and_bed_do():
    e = run()
    at, flow = e.shape.stations, e.flow
    z, wall = at.line.height, at.line.radius
    surface = np.minimum(flow.bed.radius[0, 1], wall)
    depth = np.interp(z, z[at.node], flow.film.depth[0, 1])
    share = np.interp(z, z[at.node], flow.in_place_fraction[0, 1])
    thin = WATER + share * (DUTY.solids_density_kg_m3 - WATER)
    bed = 0.58 * DUTY.solids_density_kg_m3 + 0.42 * WATER
    slices = pi * ((surface**2 - (surface - depth) ** 2) * thin + (wall**2 - surface**2) * bed)
    assert value(e, "slurry_mass_kg") == pytest.approx(float(np.trapezoid(slices, z)), rel=2e-3)  # trapezoids


# loads


def test_the_shells_stress_is_the_handbooks_at_its_worst_height():
    e = run(machine=replace(MACHINE, supply_kpa=150.0))
    shell, speed, steel = e.spin.shell, DUTY.speed_rpm * RPM, MACHINE.shell_material
    k = int(np.argmax(shell.thick[0]))
    r, z = float(shell.radius[0, k]), float(shell.height[0, k])
    lean = atan((252.0 - 250.0) / (332.0 - 240.0)) if z > 0.2241 else atan((250.0 - 186.0) / 240.0)
    head = 0.5 * WATER * speed**2 * (r**2 - 0.06**2) - WATER * GRAVITY * (z + 0.016)
    pressure = 150e3 + head
    assert float(shell.pressure[0, k]) == pytest.approx(pressure, rel=1e-6)
    out = r + 0.008 / cos(lean)
    own = steel.density_kg_m3 * speed**2 / 4.0 * (3.29 * out**2 + 0.71 * r**2)  # nu 0.29, at the bore
    thick = r + 0.008 * cos(lean)
    total = own + pressure * (thick**2 + r**2) / (thick**2 - r**2)
    assert value(e, "hoop_mpa") == pytest.approx(total / 1e6, rel=1e-6)
    assert value(e, "strength_factor") == pytest.approx(steel.strength_mpa * 1e6 / total, rel=1e-6)


def test_thin_and_thick_ring_agree_for_a_thin_shell():
    e = run(machine=replace(MACHINE, shell_mm=1.0))
    assert value(e, "hoop_thin_mpa") == pytest.approx(value(e, "hoop_mpa"), rel=0.01)  # t/r is 1/250


def test_the_jacket_presses_as_the_network_says():
    e = run(WATERED.design, WATERED.machine, WATERED.duty)
    rings, jacket = e.shape.holes.rings, e.flow.water.jacket
    assert jacket is not None
    inlet = inlet_of(WATERED.machine, e.shape, e.flow)
    assert inlet.at(rings.radius, rings.height, e.flow.feed.angular_speed) == pytest.approx(jacket.pressure, rel=1e-9)


def test_without_holes_the_supplys_pressure_counts():
    plain = value(run(machine=replace(MACHINE, supply_kpa=0.0)), "shell_pressure_kpa")
    for extra in (50.0, 180.0):
        assert value(run(machine=replace(MACHINE, supply_kpa=extra)), "shell_pressure_kpa") == pytest.approx(
            plain + extra
        )


def test_overspeed_meets_the_supplys_full_pressure():
    e = run(WATERED.design, WATERED.machine, WATERED.duty)
    running = inlet_of(WATERED.machine, e.shape, e.flow)
    assert float(running.pressure[0]) < 0.0  # the jacket runs part full
    assert float(shut_off(running, WATERED.machine).pressure[0]) == pytest.approx(WATERED.machine.supply_kpa * 1e3)
    assert value(e, "hoop_overspeed_mpa") > 1.2**2 * value(e, "hoop_mpa")


def test_a_thicker_shell_is_stressed_less_and_a_faster_one_more():
    hoops = [value(run(machine=replace(MACHINE, shell_mm=t)), "hoop_mpa") for t in (4.0, 6.0, 8.0, 12.0)]
    assert all(a > b for a, b in itertools.pairwise(hoops))
    speeds = [value(run(duty=replace(DUTY, speed_rpm=n)), "hoop_mpa") for n in (400.0, 500.0, 640.0, 800.0)]
    assert all(a < b for a, b in itertools.pairwise(speeds))


def test_slurry_relieves_the_bowl_and_the_supply_presses_it():
    e = run(machine=replace(MACHINE, supply_kpa=100.0))
    assert value(e, "inward_kpa") < value(e, "inward_bare_kpa")
    assert value(e, "inward_bare_kpa") > value(run(), "inward_bare_kpa")


def test_a_bowl_stiff_enough_needs_no_backing():
    soft, stiff = (bodied(backed=False, material=m) for m in (DESIGN.body.material, MACHINE.shell_material))
    assert "bowl_folds" in codes(run(soft), Severity.CHECK)
    assert "bowl_folds" not in codes(run(stiff))


def test_without_a_jacket_the_bowl_leans_on_the_shell():
    machine, body = replace(MACHINE, jacket_gap_mm=0.0), {"fill_seat": True}
    e = run(bodied(**body), machine)
    assert "bowl_leans" in codes(e) and value(e, "inward_bare_kpa") == 0.0
    heavier = run(bodied(**body, density_kg_m3=2000.0), machine)
    assert value(heavier, "shell_pressure_kpa") > value(e, "shell_pressure_kpa") > 0.0


# limits and findings


def strength(mpa):
    return replace(MACHINE, shell_material=replace(MACHINE.shell_material, strength_mpa=mpa))


def test_a_shell_weaker_than_its_stress_must_not_run():
    hoop, over = (value(run(), key) for key in ("hoop_mpa", "hoop_overspeed_mpa"))
    assert {"shell_factor", "shell_overspeed"} <= codes(run(machine=strength(0.9 * hoop)), Severity.STOP)
    assert codes(run(machine=strength(1.05 * hoop)), Severity.STOP) == {"shell_overspeed"}
    weak = run(machine=strength(1.5 * over))
    assert codes(weak, Severity.STOP) == set() and {"shell_factor", "shell_overspeed"} & codes(weak, Severity.CHECK)
    assert not {"shell_factor", "shell_overspeed"} & codes(run(machine=strength(2.01 * over)))


def test_energy_is_held_against_the_standards_two_hundred_joules():
    note = next(f for f in run().findings if f.code == "spin_energy")
    assert (note.limit, note.unit) == (200.0, "J") and "so EN 12547 applies" in note.text
    wall = WallCurve((Knot(0.0, 20.0), Knot(60.0, 20.0)), lip_radius_mm=100.0)
    small = replace(DESIGN, wall=wall, grooves=replace(DESIGN.grooves, count=0))
    seat = (SeatPoint(0.0, 110.0), SeatPoint(80.0, 135.0))
    given = replace(MACHINE, seat=seat, further_mass_kg=1.0, further_inertia_kg_m2=0.001)
    slow = run(design=small, duty=replace(DUTY, speed_rpm=350.0), machine=given)
    assert "does not apply" in next(f for f in slow.findings if f.code == "spin_energy").text


def test_the_default_example_shows_no_stop_and_at_most_two_checks():
    for duty in DEFAULT.duties:
        found = codes(run(duty=duty), Severity.CHECK)
        assert codes(run(duty=duty), Severity.STOP) == set() and len(found) <= 2


def test_the_figures_follow_after_the_gesture():
    quick = evaluate(DESIGN, MACHINE, DUTY, Stages.QUICK)
    assert quick.spin is None and all(np.isnan(q.get(quick)).all() for q in SPIN_QUANTITIES)


# what is printed


def test_the_json_holds_the_rotor_in_its_units():
    e = run()
    rotor = json.loads(check_json(e))["rotor"]
    keys = {"mass_kg": "rotor_mass_kg", "inertia_kg_m2": "rotor_inertia_kg_m2"}
    bounds = rotor.pop("bounds")
    assert set(bounds) <= set(rotor) and set(bounds.values()) <= {"at least", "at most"}
    assert list(rotor) == [
        "mass_kg", "inertia_kg_m2", "energy_kj", "hoop_mpa", "strength_factor", "rim_speed_m_s", "feed_power_kw",
        "unbalance_g_mm", "thrust_kn",
    ]  # fmt: skip
    for name, number in rotor.items():
        assert number == value(e, keys.get(name, name)), name
    flange = e.shape.shell.flange_radius * 1e-3  # reaches farther out than the shell
    assert rotor["rim_speed_m_s"] == pytest.approx(DUTY.speed_rpm * RPM * flange)


def test_the_text_puts_the_caution_beside_the_stress():
    text = " ".join(check_text(run()).split())
    assert text.index("hoop stress") < text.index(CAUTION) < text.index("hoop stress") + 80


def test_every_figure_says_equation_and_source():
    for q in SPIN_QUANTITIES:
        assert q.equation and q.source, q.key
        assert q.unit or "factor" in q.label.lower(), q.key


# bad input


@pytest.mark.parametrize(
    "machine",
    [
        replace(MACHINE, shell_mm=None),
        replace(MACHINE, shell_mm=0.0),
        replace(MACHINE, shell_material=None),
        replace(MACHINE, seat=()),
        replace(MACHINE, seat=MACHINE.seat[:1]),
        replace(MACHINE, seat=MACHINE.seat[::-1]),
    ],
    ids=["no thickness", "zero wall", "no material", "no seat", "one seat point", "seat upside down"],
)
def test_without_a_shell_to_reckon_with_the_rest_is_still_told(machine):
    e = run(machine=machine)
    rotor = json.loads(check_json(e))["rotor"]
    assert rotor["hoop_mpa"] is None and rotor["strength_factor"] is None
    assert all(number is not None for key, number in rotor.items() if key not in ("hoop_mpa", "strength_factor"))
    assert "shell_unknown" in codes(e)


def test_a_material_without_strength_gives_stress_but_no_factor():
    e = run(bodied(material=replace(DESIGN.body.material, strength_mpa=None)), strength(None))
    assert isfinite(value(e, "hoop_mpa")) and isfinite(value(e, "bowl_hoop_mpa"))
    assert np.isnan(value(e, "strength_factor")) and np.isnan(value(e, "bowl_factor"))
    assert sum(f.code == "strength_unknown" for f in e.findings) == 2


def test_a_number_out_of_bounds_gives_a_stop_and_no_figures():
    for machine in (replace(MACHINE, shell_mm=-3.0), replace(MACHINE, spin_up_s=0.0), strength(-1.0)):
        e = run(machine=machine)
        assert e.spin is None and e.flow is not None
        assert any(c.startswith("out_of_bounds_") for c in codes(e, Severity.STOP))


def test_water_off_or_a_bowl_without_grooves_is_still_reckoned():
    dry = run(duty=replace(DUTY, water_l_min=0.0), machine=replace(MACHINE, supply_kpa=200.0))
    assert float(dry.spin.inlet.pressure[0]) == 0.0  # nothing is asked of the supply
    smooth = run(replace(DESIGN, grooves=replace(DESIGN.grooves, count=0)))
    assert value(smooth, "concentrate_mass_kg") == pytest.approx(0.0, abs=1e-9)
    assert np.isnan(value(smooth, "unbalance_bed_g")) and isfinite(value(smooth, "unbalance_g_mm"))


def test_a_plan_without_a_single_hole_leaves_the_supplys_pressure():
    blocked = replace(WATERED.design, holes=replace(WATERED.design.holes, count=0, changes=()))
    e = run(blocked, WATERED.machine, WATERED.duty)
    assert float(e.spin.inlet.pressure[0]) == pytest.approx(WATERED.machine.supply_kpa * 1e3)


@pytest.mark.parametrize(
    "material", [None, Material("stiff", 8000.0, 5e5, 0.0, 3000.0), Material("slack", 200.0, 0.1, 0.4999)]
)
def test_any_material_within_its_bounds_can_be_reckoned_with(material):
    e = run(bodied(material=material), replace(MACHINE, shell_material=material))
    assert e.spin is not None and isfinite(value(e, "rotor_mass_kg"))
    json.loads(check_json(e))
