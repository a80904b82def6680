"""A look at wear as blocks: the answer first, then what it rests on, the bowl new beside worn, lands that hold beds."""

from math import isfinite

from profiler.assess import Evaluation
from profiler.assess.cautions import Caution
from profiler.assess.worn.laid_over import LaidOver
from profiler.assess.worn.wear import PROMISE
from profiler.explore.beside_new import BesideNew
from profiler.explore.worn_look import WornAsked, WornLook, worn_look
from profiler.numbers import as_printed, fixed
from profiler.output.blocks.blocks import DASH, Block, Grid, Heading, Paragraph
from profiler.study import Study

MOST_IN_REPORT = 3  # profiles, the latest
LARGEST = 5  # deviations listed
LANDS = 3


def study_blocks(study: Study, e: Evaluation) -> list[Block]:
    """The latest profiles of the evaluated design, each against the one of its casting before it; nothing without."""
    own = [p for p in study.profiles if p.design.name == e.design.name]
    blocks: list[Block] = []
    for profile in own[-MOST_IN_REPORT:]:
        before = [
            p for p in own if p.serial == profile.serial and p.hours < profile.hours and p.design == profile.design
        ]
        against = max(before, key=lambda p: p.hours).name if before else ""
        measured = f", measured {profile.date}" if profile.date else ""
        blocks.append(Heading(f"{profile.name}{measured}", 2))
        try:
            blocks += worn_blocks(worn_look(study, e.design, e.duty, WornAsked(profile.name, against)))
        except ValueError as reason:
            blocks.append(Paragraph(str(reason)))
    return [Heading("Measured and worn profiles"), *blocks] if blocks else []


def worn_blocks(look: WornLook) -> list[Block]:
    """The answer in one sentence stands above any table."""
    blocks: list[Block] = [Paragraph(look.answer, strong=True)]
    if look.over is not None:
        if look.beside is not None:
            blocks.append(Paragraph(look.over.sentence))
        if look.acceptance is not None:
            blocks.append(Paragraph(look.acceptance.sentence))
    if look.rate is not None:
        blocks.append(Paragraph(f"Rate: {look.rate.words}."))
    blocks += [Paragraph(words) for words in (look.until,) if words]
    blocks.append(Paragraph(as_printed(f"{PROMISE} {Caution.WORN.words}")))
    if look.beside is not None:
        blocks += _beside(look.beside)
    if look.over is not None:
        blocks += _largest(look.over)
    if look.lands:
        blocks.append(Heading("Without the land that holds it", 2))
        blocks += [Paragraph(land.sentence) for land in look.lands[:LANDS]]
    return blocks


def _beside(beside: BesideNew) -> list[Block]:
    rows = [
        (r.quantity.label, r.quantity.unit, _text(r.new, r.quantity.decimals), _text(r.worn, r.quantity.decimals))
        for r in beside.rows
        if isfinite(r.new) or isfinite(r.worn)
    ]
    new, worn = (_text(v, 2) for v in beside.least_water)
    rows.append(("Poorest groove's water over what lifts its bed", "", new, worn))
    blocks: list[Block] = [
        Heading("New beside worn", 2),
        Grid(("Under the duty, at middle friction", "", "new", "worn"), tuple(rows), (3.2, 0.8, 1.0, 1.0)),
    ]
    blocks += [Paragraph(words) for words in beside.bowl.remarks]
    if beside.added:
        blocks.append(Paragraph("Found of the worn bowl and not of the new one:"))
        blocks += [Paragraph(f"– {text}") for text in beside.added]
    return blocks


def _largest(over: LaidOver) -> list[Block]:
    order = abs(over.deviation).argsort()[::-1][:LARGEST]
    rows = tuple(
        (fixed(float(over.place[i, 1]), 1), fixed(float(over.deviation[i]), 3), over.where(int(i)).partition(", ")[2])
        for i in order
    )
    heads = ("height mm", "deviation mm, outward positive", "where")
    return [Heading("Largest deviations, square to the drawing", 2), Grid(heads, rows, (1.0, 1.6, 3.0))]


def _text(value: float, decimals: int) -> str:
    return fixed(value, decimals) if isfinite(value) else DASH
