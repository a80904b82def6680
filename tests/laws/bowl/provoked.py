"""For every kind of finding, by its code, a study that provokes it: the default example with something changed.

What is changed for all of them: wider and deeper grooves, whose water is spread evenly, and more heavy minerals.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from msgspec.structs import replace

from profiler.assess import Finding, Stages, evaluate
from profiler.assess.checks.check_making import draft_findings, letter_findings, segment_findings, tool_findings
from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.chain import Chain
from profiler.study import (
    Body,
    Design,
    Duty,
    FrictionBasis,
    GrooveRule,
    HoleChange,
    HolePlan,
    Knot,
    Machine,
    Material,
    Placing,
    SeatPoint,
    SizeClass,
    WallCurve,
)
from profiler.study.files import examples
from profiler.study.records.holes import HoleMaking

DEFAULT = examples.read(examples.DEFAULT)
MACHINE, DUTY = DEFAULT.machine, replace(DEFAULT.duty, heavy_pct=1.0, cycle_min=60.0)
WIDE = GrooveRule(count=16, from_mm=8.0, to_mm=336.0, mouth_mm=13.0, depth_mm=12.0)
DESIGN = replace(DEFAULT.design, grooves=WIDE, holes=HolePlan())


@dataclass(frozen=True, slots=True)
class Case:
    """What to evaluate; what is left out is the default example's."""

    design: Design = DESIGN
    machine: Machine = MACHINE
    duty: Duty = DUTY


def walled(*knots: tuple[float, ...], lip: float | None = 217.6, floor: float | None = None) -> Design:
    return replace(DESIGN, wall=WallCurve(tuple(Knot(*k) for k in knots), lip, floor))


def grooved(design: Design = DESIGN, **members: object) -> Design:
    return replace(design, grooves=replace(design.grooves, **members))


def bodied(design: Design = DESIGN, **members: object) -> Design:
    return replace(design, body=replace(design.body, **members))


def machined(**members: object) -> Case:
    return Case(machine=replace(MACHINE, **members))


def run(**members: object) -> Case:
    return Case(duty=replace(DUTY, **members))


def seat(*points: tuple[float, float]) -> tuple[SeatPoint, ...]:
    return tuple(SeatPoint(z, r) for z, r in points)


def drilled(count: int, diameter_mm: float, *changes: HoleChange, machine: Machine = MACHINE, **duty: object) -> Case:
    return Case(replace(DESIGN, holes=HolePlan(count, diameter_mm, 0.0, changes)), machine, replace(DUTY, **duty))


WAISTED = walled((0.0, -55.0), (200.0, 0.0), (330.0, 55.0), lip=60.0)
UPRIGHT = grooved(walled((0.0, 0.0), (330.0, 0.0)), to_mm=326.0)
ROOFED = walled((0.0, 30.0), (165.0, 30.0, -30.0), (330.0, -30.0))
LOW_CORNER = walled((0.0, 20.0), (30.3, 20.0, 10.0), (330.0, 3.0))
WIDE_CONE = walled((0.0, 40.0), (330.0, 40.0), lip=500.0)
LOW_PAN = Design(
    "low pan",
    WallCurve((Knot(0.0, 25.0), Knot(40.0, 25.0)), 90.0),
    GrooveRule(count=2, from_mm=4.0, to_mm=36.0, mouth_mm=8.0, depth_mm=6.0),
    Body(wall_mm=10.0, floor_plate_mm=8.0, hub_hole_mm=10.0),
)

# what keeps a bowl from being built, or a number from being used
IMPOSSIBLE: dict[str, Case] = {
    "out_of_bounds": Case(grooved(mouth_mm=-1.0)),
    "wall_start": Case(walled((5.0, 20.0), (330.0, 5.0))),
    "knot_order": Case(walled((0.0, 20.0), (120.0, 10.0), (120.0, 5.0), (330.0, 5.0))),
    "no_radius": Case(walled((0.0, 20.0), (330.0, 5.0), lip=None)),
    "floor_inside_hub": Case(bodied(hub_hole_mm=300.0)),
    "wall_at_axis": Case(bodied(grooved(WAISTED, count=0), hub_hole_mm=2.0)),
    "mouth_outside": Case(grooved(to_mm=355.0)),
    "mouths_overlap": Case(grooved(count=40)),
    "flanks_cross": Case(grooved(flank_deg=45.0)),
    "flank_short": Case(grooved(depth_mm=2.0, mouth_mm=14.0, floor_radius_mm=3.0)),
    "edges_meet": Case(grooved(edge_radius_mm=5.5, depth_mm=14.0)),
    "edge_over_corner": Case(grooved(LOW_CORNER, count=1, from_mm=19.0, to_mm=32.0, edge_radius_mm=2.0)),
    "wall_thickness": Case(bodied(fill_seat=True), machine=replace(MACHINE, seat=())),
    "wall_inside_out": Case(bodied(fill_seat=True), machine=replace(MACHINE, seat=seat((0.0, 120.0), (332.0, 130.0)))),
}  # fmt: skip

# what does not fit, must not run, or is worth a word about the shape
OF_SHAPE_AND_MACHINE: dict[str, Case] = {
    "angle_unusual": Case(walled((0.0, 50.0), (60.0, 20.0), (330.0, 0.5))),
    "angles_from_horizontal": Case(
        walled((0.0, 64.0), (330.0, 82.0), lip=1800.0), duty=replace(DUTY, dry_feed_t_h=30.0, speed_rpm=300.0)
    ),
    "land_narrow": Case(grooved(least_land_mm=20.0)),
    "wall_thin": Case(grooved(least_wall_mm=20.0)),
    "mouth_near_end": Case(grooved(from_mm=0.8)),
    "no_grooves": Case(grooved(count=0)),
    "flange_inside_lip": Case(bodied(WIDE_CONE, wall_mm=8.0, flange_mm=40.0, flange_width_mm=2.0)),
    "outline_crosses": Case(
        grooved(ROOFED, placing=Placing.LISTED, heights_mm=(153.0, 177.0), depth_mm=40.0, edge_radius_mm=0.2)
    ),
    "seat_clash": Case(bodied(wall_mm=60.0)),
    "no_seat": machined(seat=()),
    "seat_order": machined(seat=seat((0.0, 186.0), (0.0, 250.0))),
    "jacket_narrow": Case(bodied(wall_mm=31.0)),
    "ends_not_joined": Case(walled((0.0, 20.0), (330.0, 5.0), floor=120.0)),
    "lip_radius": Case(walled((0.0, 20.0), (330.0, 5.0), lip=219.0)),
    "bowl_height": Case(grooved(walled((0.0, 20.0), (320.0, 5.0)), to_mm=320.0)),
    "speed_range": run(speed_rpm=900.0),
    "spinning_caution": Case(),
    "deflector_clash": machined(deflector_mm=400.0, deflector_height_mm=20.0),
    "feed_pipe_clash": machined(feed_pipe_mm=500.0, feed_pipe_end_mm=100.0),
    "undercut": Case(),
    "keeps_at_rest": Case(),
    "overhang": Case(grooved(walled((0.0, 20.0), (120.0, -4.0), (220.0, 9.0), (330.0, 0.5)), to_mm=325.0)),
    "brim_dam": Case(walled((0.0, 20.0), (300.0, 10.0, -10.0), (330.0, -10.0))),
}  # fmt: skip

# what the slurry does
OF_FLOW: dict[str, Case] = {
    "nothing_exposed": Case(UPRIGHT),
    "groove_buried": Case(UPRIGHT),
    "sheltered": Case(),
    "matched": Case(),
    "shallower": Case(),
    "steeper": Case(),
    "entry": Case(),
    "slurry_over_hub": Case(bodied(UPRIGHT, hub_hole_mm=338.0)),
    "slurry_on_deflector": machined(deflector_mm=274.0, deflector_height_mm=5.0),
    "slurry_on_feed_pipe": machined(feed_pipe_mm=274.0, feed_pipe_end_mm=5.0),
    "top_size": run(top_size_um=5000.0),
}

# where the model itself is strained
OF_THE_MODEL: dict[str, Case] = {
    "film_thin": run(d50_um=250.0),
    "film_unsteady": Case(LOW_PAN),
    "film_fast": run(dry_feed_t_h=60.0),
    "film_lag": run(dry_feed_t_h=60.0),
    "not_carried": run(dry_feed_t_h=150.0),
    "bed_closes": run(speed_rpm=90.0),
    "film_below_grain": run(d50_um=1000.0),
    "surface_unsettled": run(speed_rpm=203.0),
    "high_friction_lost": Case(bodied(UPRIGHT, hub_hole_mm=330.0)),
    "film_laminar": run(dry_feed_t_h=0.3, water_l_min=0.0),
    "roughness_cap": run(d50_um=300.0),
    "reynolds_floor": run(dry_feed_t_h=0.02, water_l_min=0.0, d50_um=40.0),
    "thin_slurry": run(solids_pct=4.0),
    "thick_slurry": run(solids_pct=74.0),
    "low_acceleration": run(speed_rpm=300.0),
    "friction_unusual": run(friction_high=0.95),
    "friction_order": run(friction_low=0.7),
    "friction_former_law": run(friction_basis=FrictionBasis.DELIVERED),
    "bed_packed": run(solids_pct=73.0, d50_um=200.0, water_l_min=1.0),
    "much_fines": run(d50_um=30.0),
    "clay": run(yield_stress_pa=5.0),
}

# what the water does, and what grooves keep and hold
OF_WATER: dict[str, Case] = {
    "no_water": run(water_l_min=0.0),
    "water_even": Case(),
    "supply_weak": drilled(24, 1.0, machine=replace(MACHINE, supply_kpa=20.0, supply_l_min=60.0), water_l_min=400.0),
    "jacket_part_full": drilled(40, 2.5),
    "ring_dry": drilled(40, 2.5),
    "backflow": drilled(40, 2.5),
    "ring_without_holes": drilled(24, 1.0, HoleChange(3, 0)),
    "hole_no_jacket": Case(replace(grooved(to_mm=346.0), holes=HolePlan(24, 1.0))),
    "hole_wide": drilled(4, 14.0),
    "hole_ligament": drilled(900, 1.5),
    "hole_spacing": drilled(4, 2.0),
    "hole_strainer": drilled(60, 0.4),
    "hole_short": drilled(4, 12.0),
    "water_unsettled": drilled(
        16, 3.0, solids_pct=70.0, friction=1.2, friction_high=1.4, water_l_min=200.0, speed_rpm=300.0
    ),
    "hole_deep": Case(replace(DESIGN, holes=HolePlan(40, 0.7, 0.0, making=HoleMaking("drilled", 10.0, 0.3)))),
    "hole_small": Case(replace(DESIGN, holes=HolePlan(40, 0.7, 0.0, making=HoleMaking("pins", 90.0, 1.5)))),
    "water_low": Case(),
    "water_high": run(water_l_min=500.0),
    "target_flushed": run(water_l_min=1000.0, target_um=5.0),
    "target_not_kept": run(target_um=5.0),
    "target_doubtful": run(target_um=20.0),
    "groove_wide": Case(grooved(depth_mm=3.0)),
    "off_backflow": drilled(24, 1.0, water_l_min=170.0),
    "full_early": Case(),
}

SOFT = Material("soft, for a test", 1150.0, 1.0, 0.49, 0.2)
NAMELESS_STRENGTH = Material("of no known strength", 7900.0, 193000.0, 0.29)

# what turning asks of shell, bowl, drive and balance
OF_SPIN: dict[str, Case] = {
    "shell_factor": machined(shell_material=SOFT),
    "shell_overspeed": machined(shell_material=SOFT),
    "bowl_factor": Case(bodied(material=SOFT)),
    "bowl_overspeed": Case(bodied(material=SOFT)),
    "bowl_folds": Case(bodied(backed=False)),
    "bowl_backed": Case(bodied(backed=True)),
    "bowl_leans": Case(bodied(fill_seat=True), machine=replace(MACHINE, jacket_gap_mm=0.0)),
    "bowl_material_unknown": Case(bodied(material=None)),
    "shell_unknown": machined(shell_mm=None),
    "supply_unknown": machined(supply_kpa=None),
    "strength_unknown": machined(shell_material=NAMELESS_STRENGTH),
    "flange_thrust": machined(flange_hold_kn=2.0),
    "flange_capacity_unknown": machined(flange_hold_kn=None),
    "drive_unknown": machined(drive_kw=None),
    "drive_feed": machined(drive_kw=0.1),
    "drive_spin_up": machined(drive_kw=0.1),
    "spin_energy": Case(),
    "fits": Case(),
    "machine_lacks": Case(),
    "speed_unknown": machined(speed_high_rpm=None),
    "unbalance_bed": Case(),
}

# what keeps a slurry from being worked with, though the bowl can be drawn
OF_THE_FEED: dict[str, Case] = {
    "size_classes": run(size_classes=(SizeClass(200.0, 60.0), SizeClass(100.0, 30.0))),
}

PROVOKED: dict[str, Case] = (
    OF_SPIN | IMPOSSIBLE | OF_SHAPE_AND_MACHINE | OF_FLOW | OF_WATER | OF_THE_MODEL | OF_THE_FEED
)


def _made(design: Design = DESIGN) -> Shape:
    shape = evaluate(design, MACHINE, DUTY, Stages(0)).shape
    assert shape is not None
    return shape


# what is asked where a part is written
AT_EXPORT: dict[str, Callable[[], list[Finding]]] = {
    "inside_radius": lambda: tool_findings(_made().outline, 2.1),
    "inside_corner": lambda: tool_findings(_made().outline, 0.4),
    "draft": lambda: draft_findings(_made(), 7.0),
    "letters": lambda: letter_findings("Жあ"),
    "segment_short": lambda: segment_findings(Chain(np.array([[1.0, 0], [2, 0], [2, 0.04], [1, 1]]), np.zeros(4))),
}
