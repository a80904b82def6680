"""What the report says: job, inputs, pictures, findings, tables, models, what was not checked, cautions.

Every number comes from the evaluation or from the study as typed, through the tables of fields and of quantities.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from profiler.assess import Evaluation
from profiler.assess.cautions import Caution
from profiler.assess.checks.check_fit import SPINNING_CAUTION
from profiler.assess.evidence.words import standing
from profiler.assess.findings.finding import severity_counts, stops
from profiler.assess.quantities.catch_quantities import CATCH_QUANTITIES
from profiler.assess.quantities.left_out import missing, told
from profiler.assess.quantities.quantity import Quantity
from profiler.assess.quantities.reading import DATUM
from profiler.assess.quantities.spin_quantities import SPIN_QUANTITIES
from profiler.assess.quantities.table import STATE_WORDS, Scope, of_scope, quantity
from profiler.assess.trials.verdicts import TrialEvaluation
from profiler.explore.lineages import Told
from profiler.explore.what_changed import Changes
from profiler.numbers import fixed, significant
from profiler.output.blocks.blocks import DASH, Block, Figure, Grid, Heading, Paragraph, Report
from profiler.output.moulder.moulder_blocks import Moulding, moulder_blocks
from profiler.output.report.changed import changed_blocks
from profiler.output.report.figures import strips, table_strips
from profiler.output.report.front import Signed, front_blocks
from profiler.output.report.inputs import input_blocks
from profiler.output.report.lineage_blocks import lineage_blocks
from profiler.output.report.models import model_blocks
from profiler.output.report.record import record_blocks
from profiler.output.terminal.check_json import WallRow, check_of
from profiler.output.trials.trial_blocks import report_blocks
from profiler.physics.slurry.overturn import State
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.pictures.drawing.notes import not_checked
from profiler.study import NOT_GIVEN

NOTHING_SAID = Moulding()
HEIGHTS = 20  # the wall table shows the ends of so many equal parts


@dataclass(frozen=True, slots=True)
class Job:
    """What the report is called by on every page."""

    file: str
    date: str
    version: str
    author: str = ""


GROOVE_TABLES: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("Shape and overturn", ("groove_height_mm", "groove_radius_mm", "land_mm", "wall_behind_mm", "groove_overfall_mm",
                            "groove_buried_mm", "groove_ratio", "groove_power_w")),
    ("Water", ("groove_water_l_min", "mouth_mm_s", "lifting_mm_s", "velocity_ratio_low", "velocity_ratio",
               "velocity_ratio_high", "flush_ratio", "jacket_kpa", "back_kpa")),
    ("Grains and contents", ("arrival_um", "kept_um_low", "kept_um", "kept_um_high", "washed_um_low", "washed_um",
                             "washed_um_high", "volume_l", "capacity_kg")),
)  # fmt: skip


def report_of(
    e: Evaluation,
    job: Job,
    trials: Sequence[TrialEvaluation] = (),
    eddy: tuple[Block, ...] = (),
    said: Moulding = NOTHING_SAID,
    signed: Signed | None = None,
    changes: Changes | None = None,
    worn: Sequence[Block] = (),
    lineage: Told | None = None,
    lengths: LengthUnit = MILLIMETRES,
) -> Report:
    """The report on an evaluation and the study's trials; without a shape it has what can be said.

    `eddy` are the blocks on one groove's computed flow, where they are wanted; `said` is what was said of the casting,
    `signed` what stands on the first page, which is left out where it is None,
    `changes` what differs from an earlier revision, `worn` the blocks on measured profiles, `lineage` where the design
    comes from, `lengths` the unit of the scales in its pictures; sentences and tables are turned afterwards (in_unit).
    """
    marks = (job.date, job.file, f"Bowl Profiler {job.version}")
    parts = (_job(e, job), lineage_blocks(lineage), changed_blocks(changes), input_blocks(e), _pictures(e, lengths),
             _findings(e), _wall(e), _grooves(e), eddy, _bowl(e), _moulder(e, said), worn, *map(report_blocks, trials),
             model_blocks(e), record_blocks(e), _not_checked(e), _cautions())  # fmt: skip
    title = f"Calculation report: {e.design.name}"
    front = () if signed is None else tuple(front_blocks(e, signed))
    return Report(title, tuple(m for m in marks if m), tuple(block for part in parts for block in part), front)


def _job(e: Evaluation, job: Job) -> list[Block]:
    rows = [("Design", e.design.name), ("Machine", e.machine.name), ("Duty", e.duty.name),
            ("File", job.file or NOT_GIVEN), ("Date", job.date or NOT_GIVEN),
            ("Program", f"Bowl Profiler {job.version}"), ("By", job.author or NOT_GIVEN),
            ("Slurry model", standing(e.duty))]  # fmt: skip
    if e.design.note:
        rows.append(("Note", e.design.note))
    blocks: list[Block] = [Heading("Job")]
    if stops(e.findings):
        blocks.append(Paragraph(not_checked(e), strong=True))
    blocks.append(Grid(("", ""), tuple(rows), (1.0, 4.0)))
    found = severity_counts(f.severity for f in e.findings)
    return [*blocks, Paragraph(DATUM), Paragraph(f"Findings: {found}. {SPINNING_CAUTION.text}")]


def _pictures(e: Evaluation, lengths: LengthUnit) -> list[Block]:
    if e.shape is None:
        return []
    caption = (
        "Wall angle with the repose band, states along the wall, and the half section with the predicted slurry "
        "surface; heights in mm from the inner floor."
    )
    first = Figure(strips(e, e.shape, lengths), caption)
    blocks: list[Block] = [Heading("Pictures"), first]
    if len(e.shape.mouths) and e.flow is not None:
        keys = tuple(k for k in ("groove_ratio", "velocity_ratio", "capacity_kg") if _has_values(e, quantity(k)))
        words = ", ".join(quantity(k).label.lower() for k in keys)
        blocks.append(
            Figure(table_strips(e, e.shape, keys, lengths), f"The grooves at their heights: state, and {words}.")
        )
    return blocks


def _findings(e: Evaluation) -> list[Block]:
    rows = []
    for f in e.findings:
        against = DASH if f.value is None else significant(f.value, 4)
        if f.limit is not None and f.value is not None:
            against += f" / {significant(f.limit, 4)}"
        unit = f" {f.unit}" if f.unit and f.value is not None else ""
        rows.append((f.severity.value, f.text, against + unit, f.source or DASH))
    heads = ("", "What was found", "value / limit", "Source of the limit")
    return [Heading("Findings, worst first"), Grid(heads, tuple(rows), (0.55, 4.0, 1.25, 1.9))]


def _wall(e: Evaluation) -> list[Block]:
    check = check_of(e)
    if not check.wall:
        return []
    heights = [w.height_mm for w in check.wall]
    twice = {low for low, high in pairwise(heights) if low == high}  # corners, shown from both sides
    steps = [HEIGHTS * z / heights[-1] for z in heights]
    shown = [w for w, s in zip(check.wall, steps, strict=True) if abs(s - round(s)) < 1e-6 or w.height_mm in twice]
    heads = ("height mm", "radius mm", "wall °", "accel. g", "repose ° (low to high)", "margin °", "slope", "buried mm",
             "held at mm", "state")  # fmt: skip
    rows = tuple(_wall_row(w) for w in shown)
    return [Heading("Wall"), Grid(heads, rows, (1.0, 1.0, 0.8, 0.8, 1.9, 0.9, 1.1, 0.9, 0.9, 1.1))]


def _wall_row(w: WallRow) -> tuple[str, ...]:
    def text(value: float | None, decimals: int) -> str:
        return DASH if value is None else fixed(value, decimals)

    band = f"{text(w.repose_deg, 1)} ({text(w.repose_low_deg, 1)} to {text(w.repose_high_deg, 1)})"
    place = (text(w.height_mm, 1), text(w.radius_mm, 2), text(w.wall_angle_deg, 1), text(w.acceleration_g, 0))
    bed = (w.slope or DASH, text(w.buried_mm, 2), text(w.held_at_mm, 1), w.state or DASH)
    return (*place, band, text(w.margin_deg, 1), *bed)


def _grooves(e: Evaluation) -> list[Block]:
    if e.shape is None or not len(e.shape.mouths):
        return []
    blocks: list[Block] = [Heading("Grooves")]
    states = None if e.flow is None else [STATE_WORDS[State(s)] for s in e.flow.groove_state[0]]
    for title, keys in GROOVE_TABLES:
        shown = [q for q in map(quantity, keys) if _has_values(e, q)]
        if not shown:
            continue
        columns = [[q.number(v) for v in q.get(e)] for q in shown]
        heads = ["No.", *(f"{q.label} {q.unit}".strip() for q in shown)]
        if states is not None and title == GROOVE_TABLES[0][0]:
            columns.append(states)
            heads.append("state")
        rows = tuple((str(k), *cells) for k, cells in enumerate(zip(*columns, strict=True), 1))
        blocks += [Heading(title, 2), Grid(tuple(heads), rows)]
    return blocks


def _bowl(e: Evaluation) -> list[Block]:
    """Every figure of the whole bowl: body and states, water and contents, rotor."""
    of_bowl = of_scope(Scope.BOWL)
    rest = [q for q in of_bowl if q not in CATCH_QUANTITIES and q not in SPIN_QUANTITIES]
    parts = (("Body and states", rest), ("Water, catch and capacity", [q for q in of_bowl if q in CATCH_QUANTITIES]),
             ("Rotor", [q for q in of_bowl if q in SPIN_QUANTITIES]))  # fmt: skip
    blocks: list[Block] = []
    for title, quantities in parts:
        shown = [q for q in quantities if _has_values(e, q)]
        if shown:
            blocks += [Heading(title, 2), *_figures(shown, e)]
    words = "Screening figures. Those of stress, pressure, drive and balance are for a licensed engineer to check."
    return [Heading("Body, water and rotor"), Paragraph(words), *blocks] if blocks else []


def _figures(shown: Sequence[Quantity], e: Evaluation) -> list[Block]:
    """Figures with their values; what several of them leave out or hold for is numbered and told once, below."""
    notes = {q.key: " ".join((missing(q, e), q.limits_under(e.duty))).strip() for q in shown}
    numbers = {text: k for k, text in enumerate(dict.fromkeys(text for text in notes.values() if text), 1)}
    rows = tuple((q.label, told(q, e), f"({numbers[notes[q.key]]})" if notes[q.key] else "") for q in shown)
    below = [Paragraph(f"({k})  {text}.") for text, k in numbers.items()]
    return [Grid(("Figure", "Value", "Valid for"), rows, (2.6, 2.0, 0.8), share=0.8), *below]


def _moulder(e: Evaluation, said: Moulding) -> list[Block]:
    blocks = moulder_blocks(e, said)
    return [Heading("For the moulder"), *blocks] if blocks else []


def _not_checked(e: Evaluation) -> list[Block]:
    open_points = [
        "Recovery: none is predicted.",
        "Wear, fatigue, creep and temperature of the elastomer; bond of liner and shell.",
        "Stress at holes, corners, keyways and welds; bolts, shaft, bearings, critical speeds, vibration.",
        "Guarding, interlocks, overspeed trip, electrical equipment, pressure equipment.",
        "Blockage of water holes, quality of the water.",
    ]
    if not e.design.holes.is_given:
        open_points.append("Water holes: no plan is given, water is taken as spread evenly over the grooves.")
    if len(e.machine.seat) < 2:
        open_points.append("Fit into the rotor: the machine has no seat profile.")
    if e.spin is None:
        open_points.append("What turning asks of shell, drive and balance: it could not be worked out.")
    if e.flow is None:
        why = f"no answer: {e.no_answer}" if e.no_answer else "it could not be worked out"
        open_points.append(f"What the slurry does: {why}.")
    return [Heading("What was not checked"), *(Paragraph(f"– {point}") for point in open_points)]


def _cautions() -> list[Block]:
    first = (SPINNING_CAUTION.text, f"Standards: {SPINNING_CAUTION.source}.")
    return [Heading("Cautions"), *(Paragraph(words) for words in (*first, *(c.words for c in Caution)))]


def _has_values(e: Evaluation, q: Quantity) -> bool:
    values = q.get(e)
    return bool(len(values)) and bool(np.any(np.isfinite(values)))
