"""The report's first page, which is signed: what for, what came out, what was chosen, what is open, who answers."""

from dataclasses import dataclass

import numpy as np

from profiler.assess import Evaluation, Severity
from profiler.assess.catch.groove_water import LOOSE as LOOSE_RATIO
from profiler.assess.checks.check_fit import SPINNING_CAUTION
from profiler.assess.evidence.words import standing_short
from profiler.assess.findings.finding import not_checked_words, stops
from profiler.assess.quantities.left_out import told
from profiler.assess.quantities.table import STATE_WORDS, quantity
from profiler.numbers import NOTHING, counted, fixed, significant
from profiler.output.blocks.blocks import Block, Grid, Heading, Paragraph
from profiler.physics.slurry.overturn import State
from profiler.study import NOT_GIVEN
from profiler.study.records.duty import CYCLE

OPEN_POINTS = 6  # on the first page; the rest stands among the findings
LONGEST = 150  # letters of an open point


@dataclass(frozen=True, slots=True)
class Signed:
    """What is said of the document; empty: not given."""

    number: str = ""
    revision: str = ""
    owner: str = ""
    purpose: str = ""
    created: str = ""
    checked: str = ""
    approved: str = ""
    date: str = ""
    file: str = ""


def front_blocks(e: Evaluation, signed: Signed) -> list[Block]:
    rows = (
        ("Number", signed.number, "Revision", signed.revision),
        ("Owner", signed.owner, "Date of issue", signed.date),
        ("Design", e.design.name, "Machine", e.machine.name),
        ("Duty", e.duty.name, "File", signed.file),
    )  # fmt: skip
    blocks: list[Block] = [Paragraph(not_checked_words(stops(e.findings)), strong=True)] if stops(e.findings) else []
    return [
        *blocks, Grid(("",) * 4, tuple(tuple(cell or NOT_GIVEN for cell in row) for row in rows), (0.8, 2.2, 0.9, 2.1)),
        Heading("Purpose", 2), Paragraph(signed.purpose or NOT_GIVEN),
        Heading("Conclusion", 2), *(Paragraph(f"{k}.  {line}") for k, line in enumerate(conclusion(e), 1)),
        Heading("Choices", 2), Grid(("", ""), choices(e), (1.0, 4.2)),
        Heading("Open points", 2), *(Paragraph(f"– {point}") for point in open_points(e)),
        Heading("Signatures", 2), _signatures(signed), Paragraph(SPINNING_CAUTION.text),
    ]  # fmt: skip


def conclusion(e: Evaluation) -> tuple[str, ...]:
    """Five lines: whether it may be made, what its grooves do, the bed, the water, what turns."""
    count = stops(e.findings)
    first = "No finding stands against building it; it must not spin before a licensed engineer has approved it."
    if count:
        first = f"It must not be made as it stands: {counted(count, 'finding')} of the kind stop."
    return first, _grooves(e), _bed(e), _water(e), _turning(e)


def _value(e: Evaluation, key: str) -> str:
    q = quantity(key)
    values = q.get(e)
    text = told(q, e) if len(values) else NOTHING
    return NOT_GIVEN if text == NOTHING else text


def _grooves(e: Evaluation) -> str:
    if e.flow is None or e.shape is None:
        return "Grooves: not given, since the slurry's flow could not be worked out."
    states = e.flow.groove_state[0]
    if not len(states):
        return "Grooves: it has none."
    shares = [f"{int(np.sum(states == s))} {STATE_WORDS[s]}" for s in State if np.any(states == s)]
    return f"Of {counted(len(states), 'groove')} under this duty: {', '.join(shares)}."


def _bed(e: Evaluation) -> str:
    if e.flow is None:
        return "Bed: not given, since the slurry's flow could not be worked out."
    return (
        f"The deepest bed over the lands is {_value(e, 'deepest_mm')} at middle friction; {_value(e, 'exposed_count')} "
        "grooves are exposed."
    )


def _water(e: Evaluation) -> str:
    ratio = quantity("velocity_ratio").get(e)
    ratio = ratio[np.isfinite(ratio)]
    if not len(ratio):
        return "Water against need: not given, since no groove has a figure."
    if e.duty.water_l_min <= 0.0:
        return "Water against need: there is no fluidising water."
    low, high = LOOSE_RATIO
    good = int(np.sum((ratio >= low) & (ratio <= high)))
    return (
        f"Water lifts the bed with {fixed(float(ratio.min()), 2)} to {fixed(float(ratio.max()), 2)} times the velocity "
        f"it takes; {good} of {len(ratio)} grooves lie from {low:g} to {high:g}."
    )


def _turning(e: Evaluation) -> str:
    if e.spin is None:
        return "What turns: not given, since the slurry's flow could not be worked out."
    return (
        f"It turns with {_value(e, 'lip_g')} at the lip; shell strength factor {_value(e, 'strength_factor')}; grooves "
        f"full after {_value(e, 'fill_min')} at the soonest, of a cycle of {CYCLE.with_unit(e.duty.cycle_min)}."
    )


def choices(e: Evaluation) -> tuple[tuple[str, str], ...]:
    """What the designer decided that a checker asks for first."""
    design, duty = e.design, e.duty
    ends = (("lip radius", design.wall.lip_radius_mm), ("floor radius", design.wall.floor_radius_mm))
    held = [f"{word} {significant(r)} mm" for word, r in ends if r is not None]
    rule, body = design.grooves, design.body
    outside = "fills the seat less the jacket gap" if body.fill_seat else f"wall {significant(body.wall_mm)} mm thick"
    made_of = NOT_GIVEN if body.material is None else body.material.name
    holes = "planned" if design.holes.is_given else "not given: water taken as spread evenly"
    friction = " / ".join(fixed(v, 2) for v in (duty.friction_low, duty.friction, duty.friction_high))
    return (
        ("Wall", f"{len(design.wall.knots)} knots; held: {' and '.join(held) or 'nothing'}"),
        ("Grooves", f"{rule.count}, {rule.placing.value}; mouth {significant(rule.mouth_mm)} mm, depth "
         f"{significant(rule.depth_mm)} mm, flank {significant(rule.flank_deg)}°"),
        ("Water holes", holes), ("Body", f"{outside}; material: {made_of}"),
        ("Friction", f"{friction} low, middle, high, of grains in place"),
    )  # fmt: skip


def open_points(e: Evaluation) -> tuple[str, ...]:
    """The findings that stop it or speak against its purpose, the worst first."""
    against = [f for f in e.findings if f.severity is not Severity.NOTE and f.kind is not SPINNING_CAUTION.kind]
    shown = [f"{f.severity.value}: {_cut(f.text)}" for f in against[:OPEN_POINTS]]
    if len(against) > OPEN_POINTS:
        shown.append(f"and {len(against) - OPEN_POINTS} more, see Findings")
    model = f"the slurry model is {standing_short(e.duty)}"
    return (*shown, model, "what this report does not check stands in its last sections")


def _cut(text: str) -> str:
    return text if len(text) <= LONGEST else f"{text[:LONGEST].rsplit(' ', 1)[0]} .."


def _signatures(signed: Signed) -> Grid:
    names = (("created", signed.created), ("checked", signed.checked), ("approved", signed.approved))
    rows = tuple((word, name or NOT_GIVEN, "", "") for word, name in names)
    return Grid(("", "name", "date", "signature"), rows, (0.8, 2.0, 1.0, 2.2), by_hand=True)
