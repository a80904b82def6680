"""What the moulder is told, as blocks: how the former parts, what is poured, and how large the former is made.

Waste and shrinkage are the designer's or the moulder's own numbers: what was not said stands as "not given", and the
former is then of the bowl's own size.
"""

from dataclasses import dataclass

import numpy as np

from profiler.assess import Evaluation
from profiler.assess.cautions import of_output
from profiler.assess.findings.finding import not_checked_words, stops
from profiler.assess.shape.former_parting import Parting, parting_of
from profiler.assess.shape.shape_stage import Shape
from profiler.numbers import NOTHING, Against, counted, fixed, significant
from profiler.output.blocks.blocks import Block, Figure, Grid, Heading, Paragraph
from profiler.pictures.basics.display import Picture
from profiler.pictures.charts.parting_picture import former_picture, segments_picture
from profiler.study import NOT_GIVEN

HEIGHT_PX, SECTION_PX, PLAN_PX = 300.0, 380.0, 260.0
REST = (
    "The proposal is plane geometry: vents, feed, release, draft on the segments and the rest are the moulder's trade."
)


@dataclass(frozen=True, slots=True)
class Moulding:
    """What was said of the casting, per cent; None: not given."""

    waste_pct: float | None = None
    across_pct: float | None = None
    along_pct: float | None = None

    @property
    def across(self) -> float:
        return 1.0 + (self.across_pct or 0.0) / 100.0

    @property
    def along(self) -> float:
        return 1.0 + (self.along_pct or 0.0) / 100.0


def moulder_blocks(e: Evaluation, said: Moulding) -> list[Block]:
    """Nothing without a shape."""
    if e.shape is None:
        return []
    parting = parting_of(e.shape)
    return [
        *([Paragraph(not_checked_words(stops(e.findings)), strong=True)] if stops(e.findings) else []),
        *(Paragraph(caution.words) for caution in of_output("profile", "former")),
        Heading("How the former comes out", 2), *(Paragraph(words) for words in _words(parting)),
        Figure(_pictures(e.shape, parting), _caption(parting)),
        Heading("What is poured", 2), _pour(e, said),
        Heading("How large the former is made", 2), _sizes(e.shape, said),
        *_ribs(e.shape, parting, said), Paragraph(REST),
    ]  # fmt: skip


def _words(parting: Parting) -> list[str]:
    if parting.split_height is None:
        return ["Nothing is undercut: the former is drawn out whole, upward along the axis."]
    count = int(np.sum(parting.caught > 0.0))
    words = []
    if count:
        caught, wider = Against(parting.caught.max(), 0.0), Against(100.0 * parting.stretch.max(), 0.0)
        words.append(
            f"Drawn upward, {counted(count, 'rib')} of {len(parting.caught)} would be caught, by up to "
            f"{fixed(caught, 1)} mm, and a casting that lets go by stretching would widen by {fixed(wider, 1)} % "
            "there: whether it bears that is for its maker to say."
        )
    if parting.wall_caught > 0.0:
        words.append(f"The wall itself leans in and is caught by {fixed(parting.wall_caught, 1)} mm.")
    split = f"Proposed: a split line at {fixed(parting.split_height, 1)} mm, above which it is drawn whole"
    made = parting.segments
    if made is None:
        lost = "the core is too slender for segments that draw in, so it has to melt, dissolve or be broken out"
        return [*words, f"{split}; below, {lost}."]
    keys = made.count // 2
    middle, key, travel = (fixed(x, 1) for x in (2.0 * made.middle_radius, made.key_width, made.travel))
    order = (
        f"first a middle of at least Ø{middle} mm is drawn out (1), then {keys} keys with parallel flanks, at least "
        f"{key} mm wide, go in and up (2), then {keys} wide ones draw in by {travel} mm and go up (3)"
    )
    return [*words, f"{split}; below, {made.count} segments: {order}."]


def _caption(parting: Parting) -> str:
    plan = "" if parting.segments is None else " Right: seen from the lip; keys are drawn wider than they have to be."
    return f"Left: half section of the former; ribs that are caught are filled.{plan}"


def _pictures(shape: Shape, parting: Parting) -> tuple[Picture, ...]:
    section = former_picture(shape, parting, SECTION_PX, HEIGHT_PX)
    if parting.segments is None:
        return (section,)
    return (section, segments_picture(parting.segments, float(shape.edge.points[:, 0].max()), PLAN_PX, HEIGHT_PX))


def _pour(e: Evaluation, said: Moulding) -> Grid:
    body = e.body
    volume = NOTHING if body is None else f"{fixed(body.volume_mm3 * 1e-6, 3)} L"
    mass = NOTHING if body is None else f"{fixed(body.mass_kg, 2)} kg"
    waste = NOT_GIVEN if said.waste_pct is None else f"{significant(said.waste_pct)} % of the bowl's mass"
    pour = f"{mass}, at least: no waste is given"
    if body is not None and said.waste_pct is not None:
        pour = f"{fixed(body.mass_kg * (1.0 + said.waste_pct / 100.0), 2)} kg"
    at = f"{mass} at {significant(e.design.body.density_kg_m3)} kg/m³, water holes not taken off"
    rows = (("Volume of the bowl", volume), ("Mass of the bowl", at),
            ("Waste: feed, vents, what stays in the vessel", waste), ("To be weighed out", pour))  # fmt: skip
    return Grid(("", ""), rows, (1.4, 2.6))


def _sizes(shape: Shape, said: Moulding) -> Grid:
    """The former's own sizes beside the bowl's."""
    across, along = said.across, said.along
    measures = (
        ("Ø at the lip", 2.0 * shape.lip_radius, across), ("Ø at the floor", 2.0 * shape.floor_radius, across),
        ("Ø of the hub", 2.0 * shape.shell.hub_radius, across), ("Floor to lip", shape.height, along),
    )  # fmt: skip
    rows = tuple((word, fixed(size, 2), fixed(size * factor, 2)) for word, size, factor in measures)
    told = [
        NOT_GIVEN if pct is None else f"{significant(pct, signed=True)} %" for pct in (said.across_pct, said.along_pct)
    ]
    rows += (("Shrinkage added across", NOTHING, told[0]), ("Shrinkage added along the axis", NOTHING, told[1]))
    return Grid(("", "bowl, mm", "former, mm"), rows, (2.0, 1.0, 1.0), share=0.7)


def _ribs(shape: Shape, parting: Parting, said: Moulding) -> list[Block]:
    if not len(parting.caught):
        return []
    rows = tuple(
        (str(k), fixed(z * said.along, 2), fixed(2.0 * r * said.across, 2), fixed(c, 1), fixed(100.0 * s, 1))
        for k, (z, r, c, s) in enumerate(
            zip(shape.mouths.middle, parting.rib_radius, parting.caught, parting.stretch, strict=True), 1
        )
    )
    heads = ("Rib", "height, mm", "Ø over it, mm", "caught by, mm", "stretch, %")
    words = "Ribs, from the floor up; heights and diameters are the former's own."
    return [Paragraph(words), Grid(heads, rows, (0.5, 1.0, 1.0, 1.0, 1.0), share=0.8)]
