"""What each finding is about, so that a long list of them can be read in parts. Nothing is found here."""

from collections.abc import Iterable
from enum import StrEnum

from profiler.assess.findings.finding import Finding

BOUNDS = "out_of_bounds_"


class Topic(StrEnum):
    """In the order of a list; the value is its heading."""

    SAFETY = "Spinning and safety"
    FIT = "Wall and fit"
    SLURRY = "Slurry"
    GROOVES = "Grooves"
    WATER = "Water"
    MAKING = "Making"


_CODES = {
    Topic.FIT: (
        "angle_unusual angles_from_horizontal bowl_height brim_dam deflector_clash ends_not_joined "
        "feed_pipe_clash fits flange_inside_lip floor_inside_hub jacket_narrow knot_order lip_radius "
        "no_radius no_seat seat_clash seat_order wall_at_axis wall_start"
    ),
    Topic.SLURRY: (
        "bed_packed entry film_fast film_lag film_laminar film_thin film_unsteady friction_former_law "
        "friction_order friction_unusual "
        "low_acceleration much_fines not_carried nothing_exposed reynolds_floor roughness_cap shallower "
        "size_classes slurry_on_deflector slurry_on_feed_pipe slurry_over_hub steeper thick_slurry thin_slurry "
        "top_size"
    ),
    Topic.GROOVES: (
        "full_early groove_buried groove_wide keeps_at_rest land_narrow matched mouth_near_end mouth_outside "
        "mouths_overlap no_grooves sheltered target_doubtful target_flushed target_not_kept"
    ),
    Topic.WATER: (
        "backflow hole_ligament hole_no_jacket hole_short hole_spacing hole_strainer hole_wide "
        "jacket_part_full no_water off_backflow ring_dry ring_without_holes supply_unknown supply_weak "
        "water_even water_high water_low water_unsettled"
    ),
    Topic.SAFETY: (
        "bowl_backed bowl_factor bowl_folds bowl_leans bowl_material_unknown bowl_overspeed drive_feed "
        "drive_spin_up drive_unknown flange_hold_unknown flange_thrust shell_factor shell_overspeed shell_unknown "
        "speed_range spin_energy spinning_caution strength_unknown unbalance_bed"
    ),
    Topic.MAKING: (
        "draft edge_over_corner edges_meet flank_short flanks_cross inside_corner inside_radius "
        "outline_crosses segment_short undercut wall_inside_out wall_thickness wall_thin"
    ),
}
TOPICS: dict[str, Topic] = {code: topic for topic, codes in _CODES.items() for code in codes.split()}


def topic_of(finding: Finding) -> Topic:
    """A number outside its bounds stands with wall and fit, wherever it was typed."""
    return TOPICS.get(finding.code, Topic.FIT)


def by_topic(findings: Iterable[Finding]) -> list[tuple[Topic, tuple[Finding, ...]]]:
    """The findings of each topic that has any, in the order of the topics and as they were found."""
    found = tuple(findings)
    parts = ((topic, tuple(f for f in found if topic_of(f) is topic)) for topic in Topic)
    return [(topic, part) for topic, part in parts if part]
