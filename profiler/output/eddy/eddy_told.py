"""One groove's eddy as the terminal's JSON, as CSV and as blocks: page of the report and text of the terminal alike.

The keys of the JSON are a promise: more may come, none is renamed. What no solve has settled is null.
"""

import json

import msgspec

from profiler.assess import Evaluation
from profiler.assess.eddy.answers import STANDING, Answer, Case
from profiler.assess.eddy.eddy_figures import EddyFigure, eddy_figures
from profiler.assess.eddy.grains_moved import LIFT_EXPLAINED, Lifted, Moving
from profiler.numbers import NOTHING, fixed
from profiler.output.blocks.blocks import Block, Figure, Grid, Heading, Paragraph
from profiler.pictures.eddy.groove_picture import GrooveScene, groove_picture
from profiler.study.files.csv_text import Cell, csv_text
from profiler.units import DEGREE, MM

SIZE_PX = (640.0, 560.0)
ROUNDING = 12  # decimals beyond which a drop of the lid is rounding
CAPTION = (
    "The groove at true proportion. Lines: streamlines of the computed flow, at equal shares of it; tint: its speed, "
    "from 5 % of the film's; broken: water on its way up and what turns the other way; dotted: the reach; dashed: the "
    "bed held from above at low and at high friction."
)


class EddyRow(msgspec.Struct, frozen=True):
    """The terminal's JSON object. Lengths in mouths count in the mouth's frame: x along it, y toward the axis."""

    groove: int
    driven: bool
    converged: bool
    elements: tuple[int, int] | None
    reynolds: float
    rotation: float | None
    lid_speed_m_s: float | None
    lid_lag: float | None  # -w on the lid over its speed: positive, the film stays behind the bowl
    mouth_mm: float
    depth_ratio: float
    drop_ratio: float | None  # how far the lid's upper end lies below its lower, along y
    fill: float
    through_flow: float | None
    wall_angle_deg: float
    psi_min: float | None
    centre_x: float | None
    centre_y: float | None
    reach: float | None
    reach_low: float | None
    reach_high: float | None
    circulation_m2_s: float | None
    turnover_s: float | None
    moving_depth_mm_low: float | None  # of gangue of the duty's d50
    moving_depth_mm_high: float | None
    left_out: tuple[str, ...]


def eddy_json(e: Evaluation, found: Answer, moved: Moving) -> str:
    return json.dumps(msgspec.to_builtins(eddy_row(e, found, moved)), allow_nan=False)


def eddy_row(e: Evaluation, found: Answer, moved: Moving) -> EddyRow:
    case, lid = found.case, found.lid
    centre = None if case is None else case.measures.centre
    band = found.band(lambda c: c.measures.reach)
    drive = None if lid is None else lid.drive(found.setting.reynolds)
    why = (found.reason,) if found.reason else ()
    return EddyRow(
        groove=found.groove,
        driven=lid is not None,
        converged=case is not None,
        elements=None if case is None else case.eddy.elements,
        reynolds=found.setting.reynolds,
        rotation=None if drive is None else drive.rotation,
        lid_speed_m_s=None if lid is None else lid.speed,
        lid_lag=None if drive is None else drive.lid_lag,
        mouth_mm=found.section.mouth / MM,
        depth_ratio=found.section.groove.depth,
        drop_ratio=None if case is None else _drop(case),
        fill=found.setting.fill,
        through_flow=None if drive is None else drive.through_flow,
        wall_angle_deg=found.section.wall_angle / DEGREE,
        psi_min=None if case is None else case.measures.psi_min,
        centre_x=None if centre is None else centre[0],
        centre_y=None if centre is None else centre[1],
        reach=None if case is None else case.measures.reach,
        reach_low=None if band is None else band.low,
        reach_high=None if band is None else band.high,
        circulation_m2_s=None if case is None else case.circulation,
        turnover_s=None if case is None else case.turnover,
        moving_depth_mm_low=None if moved.gangue is None else moved.gangue.low / MM,
        moving_depth_mm_high=None if moved.gangue is None else moved.gangue.high / MM,
        left_out=(*why, *found.left_out),
    )


def eddy_csv(found: Answer, moved: Moving, lifted: Lifted | None) -> str:
    """A line a figure, in full precision; empty where there is none."""
    fill = 100.0 * found.setting.fill
    rows: list[tuple[Cell, ...]] = [("figure", "unit", "low", "middle", "high"), ("Bed", "% full", fill, fill, fill)]
    for f in eddy_figures(found, moved, lifted):
        low, high = (None, None) if f.band is None else (f.band.low, f.band.high)
        rows.append((f.label, f.unit, low, f.middle, high))
    return csv_text(rows)


def eddy_blocks(e: Evaluation, found: Answer, moved: Moving, lifted: Lifted | None, drawn: bool = True) -> list[Block]:
    """Picture, standing sentence, figures, and what is left out."""
    bed = f", {fixed(100.0 * found.setting.fill, 0)} % full of a bed" if found.setting.fill else ""
    blocks: list[Block] = [Heading(f"The eddy in groove {found.groove}{bed}")]
    if drawn:
        scene = GrooveScene(e, found.groove, found)
        blocks.append(Figure((groove_picture(scene, *SIZE_PX),), CAPTION))
    blocks.append(Paragraph(STANDING, strong=True))
    if found.reason:
        blocks.append(Paragraph(found.reason, strong=True))
    for silent in (found.unsettled and found.unsettled.reason, moved.reason if found.case is not None else ""):
        if silent:
            blocks.append(Paragraph(f"No band: {silent}"))
    if found.case is not None:
        shown = eddy_figures(found, moved, lifted)
        blocks.append(Grid(("Figure", "", "What it says"), tuple(map(_row, shown)), (2.4, 2.0, 4.0)))
        blocks.append(Paragraph(LIFT_EXPLAINED))
    return [*blocks, Heading("What is left out", 2), *(Paragraph(f"– {said}") for said in found.left_out)]


def _row(f: EddyFigure) -> tuple[str, str, str]:
    return f.label, f.text or NOTHING, f.help


def _drop(case: Case) -> float:
    lid = case.eddy.block.nodes[-1]
    return round(float(lid[0].imag - lid[-1].imag), ROUNDING) + 0.0
