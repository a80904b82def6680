"""The notes of a drawing: datum, tolerances, what the section is made of, what was not checked, and the caution."""

from profiler.assess import Evaluation
from profiler.assess.evidence.words import UNCALIBRATED_SHORT
from profiler.assess.findings.finding import not_checked_words, stops
from profiler.assess.shape.shape_stage import EASED_TOLERANCE_MM, Shape
from profiler.pictures.sheet.dimensions import number
from profiler.pictures.sheet.lettering import wrapped

UNITS = "ALL DIMENSIONS IN mm"
CAUTION = (
    "CAUTION: SPINNING BOWLS AND PRESSURISED WATER CAN KILL. This drawing is for screening: stress, overspeed, "
    "guarding, balance and pressure belong to a licensed engineer under local codes (ISO 12100, EN 12547, ISO 14120, "
    "ISO 21940-11 are pointers)."
)
# +- mm by nominal size (over, up to and including), ISO 2768-1:1989, table 1, class m
TOLERANCES_M = ((0.5, 6.0, 0.1), (6.0, 30.0, 0.2), (30.0, 120.0, 0.3), (120.0, 400.0, 0.5), (400.0, 1000.0, 0.8),
                (1000.0, 2000.0, 1.2), (2000.0, 4000.0, 2.0))  # fmt: skip


def calibration_text(e: Evaluation) -> str:
    """How the slurry model stands to measurements."""
    return f"Slurry model {UNCALIBRATED_SHORT}."


def not_checked(e: Evaluation) -> str:
    """The statement that a drawing made in spite of `stop` findings carries; empty where there are none."""
    return not_checked_words(stops(e.findings))


def notes_of(e: Evaluation, shape: Shape, width: float, height: float = 2.5) -> list[str]:
    """Numbered notes, wrapped to a width in mm."""
    tall = number(shape.height - shape.shell.underside)
    notes = [
        f"{UNITS}; heights from the inner floor, angles from the spin axis (0 is upright).",
        f"Check dimension: overall height {tall} mm.",
        f"{_wall(e)} Grooves are closed rings, numbered from the floor; their edges behind the section are not drawn.",
        _outside(e),
        _holes(e),
        _tolerances(shape),
        f"{calibration_text(e)} Duty: {e.duty.name}, {e.duty.speed_rpm:g} rpm.",
        CAUTION,
    ]
    if e.design.note:
        notes.insert(7, f"Design: {e.design.note}")
    lines: list[str] = []
    for k, note in enumerate(notes, 1):
        parts = wrapped(note, height, width - 6.0)
        if note.startswith("Design:") and len(parts) > 3:
            parts = [*parts[:2], parts[2] + " .."]
        lines += [f"{k}  {parts[0]}", *(f"    {p}" for p in parts[1:])]
    return lines


def _wall(e: Evaluation) -> str:
    if any(k.eased for k in e.design.wall.knots):
        return f"Wall: tangent arcs and lines, eased spans fitted within {EASED_TOLERANCE_MM:g} mm."
    return "Wall: arcs and straight lines, exact."


def _outside(e: Evaluation) -> str:
    body = e.design.body
    wall = "fills the rotor's seat" if body.fill_seat else f"{body.wall_mm:g} mm from the wall line, square to it"
    return f"Outside: {wall}; floor plate {body.floor_plate_mm:g} mm, lip flange {body.flange_mm:g} mm."


def _holes(e: Evaluation) -> str:
    mass = f"mass without them, at {e.design.body.density_kg_m3:g} kg/m³"
    if not e.design.holes.is_given:
        return f"No water holes planned; {mass}."
    return ("Water holes by the table: through the groove floor's middle, square to the axis, evenly spread, the angle "
            f"off the radius. Not drawn; {mass}.")  # fmt: skip


def _tolerances(shape: Shape) -> str:
    largest = 2.0 * float(shape.outline.points[:, 0].max())
    used = [row for row in TOLERANCES_M if row[0] < largest]
    listed = ", ".join(f"{low:g} to {high:g} ±{value:g}" for low, high, value in used)
    return (f"General tolerances ISO 2768-1 m, mm: {listed}; angles ±1° up to 10 mm of the shorter leg, ±30' to 50, "
            "±20' to 120, ±10' to 400. Moulded elastomer: class of ISO 3302-1 by agreement.")  # fmt: skip
