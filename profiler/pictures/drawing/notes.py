"""The notes of a drawing: datum, tolerances, what the section is made of, what was not checked, and the caution."""

from collections.abc import Sequence

from profiler.assess import Evaluation
from profiler.assess.evidence.words import standing_short
from profiler.assess.findings.finding import not_checked_words, stops
from profiler.assess.quantities.left_out import missing, told
from profiler.assess.quantities.table import quantity
from profiler.assess.shape.bore_rings import rings_of
from profiler.assess.shape.shape_stage import EASED_TOLERANCE_MM, Shape
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.pictures.drawing.digits import digits_of, fixed
from profiler.pictures.drawing.tolerances import Tolerances, general_words
from profiler.pictures.drawing.water_holes import holes_note
from profiler.pictures.sheet.lettering import wrapped
from profiler.study.records.machine import Turning

NOT_GIVEN = "NOT GIVEN"
UNITS = "ALL DIMENSIONS IN mm"
CAUTION = (
    "CAUTION: SPINNING BOWLS AND PRESSURISED WATER CAN KILL. This drawing is for screening: stress, overspeed, "
    "guarding, balance and pressure belong to a licensed engineer under local codes (ISO 12100, EN 12547, ISO 14120, "
    "ISO 21940-11 are pointers)."
)


def units_words(lengths: LengthUnit) -> str:
    """Which unit the measures of a drawing are in."""
    return UNITS if lengths.is_mm else f"DIMENSIONS IN {lengths.plural.upper()} [mm IN BRACKETS], TABLES IN BOTH"


def calibration_text(e: Evaluation) -> str:
    """How the slurry model stands to measurements."""
    return f"Slurry model {standing_short(e.duty)}."


def not_checked(e: Evaluation) -> str:
    """The statement that a drawing made in spite of `stop` findings carries; empty where there are none."""
    return not_checked_words(stops(e.findings))


def notes_of(
    e: Evaluation,
    shape: Shape,
    tolerances: Tolerances,
    asked: Sequence[str],
    width: float,
    height: float = 2.5,
    lengths: LengthUnit = MILLIMETRES,
) -> list[str]:
    """Numbered notes, wrapped to a width in mm; those `asked` for stand as they were entered."""
    tall = fixed(shape.height - shape.shell.underside, digits_of(shape).height)
    notes = [
        f"{units_words(lengths)}; heights from the inner floor, angles from the spin axis (0 is upright).",
        f"Check dimension: overall height {tall} mm.",
        f"{_wall(e)} Grooves are closed rings, numbered from the floor; their edges behind the section are not drawn.",
        _outside(e),
        _holes(e, shape, tolerances.holes),
        _sense(e),
        general_words(tolerances.general, 2.0 * float(shape.outline.points[:, 0].max())),
        f"{calibration_text(e)} Duty: {e.duty.name}, {e.duty.speed_rpm:g} rpm.",
        CAUTION,
    ]
    unit = lengths.keeping(e.design.name, e.machine.name, e.duty.name)
    notes[1:6] = map(unit.told_both, notes[1:6])  # the standards' words on tolerances keep theirs
    notes[-2:-2] = [f"{note}." if note[-1] != "." else note for note in asked]
    if e.design.note:
        notes.insert(len(notes) - 1, f"Design: {e.design.note}")
    lines: list[str] = []
    for k, note in enumerate(notes, 1):
        parts = wrapped(note, height, width - 6.0, in_any_font=True)
        if note.startswith("Design:") and len(parts) > 3:
            parts = [*parts[:2], parts[2] + " .."]
        lines += [f"{k}  {parts[0]}", *(f"    {p}" for p in parts[1:])]
    return lines


def balance_note(e: Evaluation) -> str:
    """What the study's balance grade permits the rotor with this bowl, for whoever chose to have it on the drawing."""
    unbalance, mass = (quantity(key) for key in ("unbalance_g_mm", "dry_mass_kg"))
    if e.spin is None:
        return f"Balancing: {NOT_GIVEN}, the study has no masses and speeds that could be worked out."
    grade = f"G {e.machine.balance_grade_mm_s:g} at {e.duty.speed_rpm:g} rpm"
    note = (
        f"Balancing, by the study: ISO 21940-11 {grade}, rigid rotor. The dry rotor with this bowl, {told(mass, e)}, "
        f"is permitted {told(unbalance, e)}; two symmetrical planes take half each."
    )
    return f"{note} {missing(unbalance, e)} Confirm with whoever is responsible for the rotor.".replace("  ", " ")


def _wall(e: Evaluation) -> str:
    if any(k.eased for k in e.design.wall.knots):
        return f"Wall: tangent arcs and lines, eased spans fitted within {EASED_TOLERANCE_MM:g} mm."
    return "Wall: arcs and straight lines, exact."


def _outside(e: Evaluation) -> str:
    body = e.design.body
    wall = "fills the rotor's seat" if body.fill_seat else f"{body.wall_mm:g} mm from the wall line, square to it"
    return f"Outside: {wall}, by its table; floor plate {body.floor_plate_mm:g} mm, lip flange {body.flange_mm:g} mm."


def _holes(e: Evaluation, shape: Shape, grade: str) -> str:
    mass = f"ass without them, at {e.design.body.density_kg_m3:g} kg/m³"
    if not e.design.holes.is_given:
        return f"No water holes planned; m{mass}."
    return f"{holes_note(rings_of(shape.holes), e.machine.turning, grade)} M{mass}."


def _sense(e: Evaluation) -> str:
    """Which way the rotor turns: whoever drills skewed holes or fits the bowl has to know."""
    turning = e.machine.turning
    if turning is Turning.UNKNOWN:
        return f"Sense of rotation: {NOT_GIVEN}; ask before drilling skewed holes."
    return f"Sense of rotation: {turning.value} as seen from the lip."
