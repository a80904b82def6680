"""The group of water holes, targets and cycle: the hole plan, one ring, a proposal, and what the water does."""

from pathlib import Path

from msgspec.structs import replace
from PySide6.QtWidgets import QPushButton

from profiler.assess import Evaluation
from profiler.assess.flow.water_network import MOMENTS, Moments
from profiler.assess.quantities.table import quantity
from profiler.explore.hole_plan import propose
from profiler.numbers import fixed, significant
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.study import GrainShape, HoleChange, HolePlan, Study, fields_of
from profiler.study.files.drills import read_drills
from profiler.study.files.hole_makings import NAME as MAKINGS
from profiler.study.files.hole_makings import read_makings
from profiler.study.records.duty import FLATNESS, OF_THE_CATCH, TARGET_SHAPE
from profiler.study.records.holes import HOLE_DIAMETER, HOLE_MAKING, HoleMaking
from profiler.ui.document.document import Document
from profiler.ui.files.folders import lists
from profiler.ui.forms.group import Group, place_chosen
from profiler.ui.widgets.pointer import Pointer
from profiler.units import KILOPASCAL, LITRE_PER_MINUTE, MM

LEGEND = (
    "Inlet: pressure where water enters the jacket. Level: radius of its free surface; full where there is none.\n"
    "Least and most: water of the rings; negative where slurry runs back. Run-up is without slurry, the end of a\n"
    "cycle with grooves full of heavy minerals."
)
RESTS_ON = "Screening figures: they rank grooves and duties; no recovery follows from them."

CONTENTS = {
    "volume_total_l": "All grooves together hold {} of settled bed,",
    "capacity_total_kg": "{} when dry.",
    "fill_min": "If every heavy grain stayed they would be full after {}.",
    "mass_pull_pct": "If full at every rinse, their mass pull is {},",
    "concentrate_kg_day": "{} of concentrate a day;",
    "rinse_l": "a rinse takes {} of water,",
    "stays_behind_l": "and {} stay behind at rest.",
}


class WaterGroup(Group):
    title = "Water holes and catch"

    def __init__(
        self, document: Document, pointer: Pointer, drills: Path | None = None, makings: Path | None = None
    ) -> None:
        super().__init__(document)
        self.pointer = pointer
        self.drills = read_drills(drills or lists() / "drills.json")
        self.plan = self.numbers(tuple(fields_of(HolePlan).values()))
        wide = [(f"{significant(d)} mm", d) for d in self.drills.diameters_mm]
        self.drill = self.choice("Drill", wide, lambda d: document.change(HOLE_DIAMETER, d, "Take another drill"))
        self.makings = read_makings(makings or lists() / MAKINGS)
        ways: list[tuple[str, HoleMaking | None]] = [("not stated", None)]
        ways += [(f"{m.name}: from {m.least_mm:g} mm, to {m.deepest:g} diameters", m) for m in self.makings.ways]
        self.making = self.choice(
            "Made by", ways, lambda way: document.change(HOLE_MAKING, way, "Change how holes are made")
        )
        self.making.setToolTip("Depth over diameter and the smallest sensible hole: common practice, no source")
        self.propose = QPushButton("Propose holes for this duty")
        self.propose.setObjectName("plain")
        self.propose.setToolTip(
            "Whole numbers of holes, with listed drills, that bring every groove's water into its window"
        )
        self.propose.clicked.connect(self._propose)
        self.column.addWidget(self.propose)
        self.one = self.muted(rich=True)
        self.single = self.numbers(tuple(fields_of(HoleChange).values()), self._place)
        self.figures = self.muted(rich=True)
        self.figures.setToolTip(LEGEND)
        self.catch = self.numbers(OF_THE_CATCH)
        self.shape = self.options(TARGET_SHAPE)
        self.contents = self.muted()
        for trouble in (self.drills.trouble, self.makings.trouble):
            if trouble:
                document.say(trouble)

    def show_study(self, study: Study) -> None:
        plan = study.design.holes
        self.plan.show_record(plan)
        names = [m.name for m in self.makings.ways]
        known = plan.making is not None and plan.making.name in names
        self.making.setCurrentIndex(names.index(plan.making.name) + 1 if known and plan.making else 0)
        self.drill.setCurrentIndex(self.drill.findData(plan.diameter_mm))
        self.catch.show_record(study.duty)
        self.catch.hide_rows(() if study.duty.target_shape is GrainShape.FLAKE else (FLATNESS,))
        self.shape.setCurrentIndex(self.shape.findData(study.duty.target_shape))
        e = self.document.evaluation
        self.figures.setText(water_words(e, self.pointer.now.lengths))
        self.contents.setText(contents_words(e))
        self.show_chosen()

    def show_chosen(self) -> None:
        """The ring of the chosen groove."""
        place = self._place()
        for part in (self.one, self.single):
            part.setVisible(place is not None)
        if place is not None:
            self.one.setText(f"<b>Ring of groove {self.pointer.now.groove}</b>, where it departs from the plan:")
            self.single.show_record(self.document.design.holes.row("changes", place))

    def _place(self) -> int | None:
        return place_chosen(self.document, self.pointer)

    def _propose(self) -> None:
        try:
            answer = propose(self.document.evaluation, self.drills.diameters_mm)
        except ValueError as refusal:
            self.document.say(str(refusal))
            return
        self.document.edit_design(replace(self.document.design, holes=answer.design.holes), "Take the proposed holes")
        self.document.say(answer.sentence)


def water_words(e: Evaluation, lengths: LengthUnit = MILLIMETRES) -> str:
    """What the jacket does, now and over a cycle."""
    if e.flow is None:
        return f"No answer: {e.no_answer}." if e.no_answer else ""
    total = quantity("water_total_l_min")
    words = f"Water supplied: {total.text(float(total.get(e)[0]))}."
    if e.flow.water.jacket is None:
        return f"{words} No holes: it is taken as spread evenly over the grooves."
    if e.catch is None or e.catch.moments is None:
        return words
    rest = quantity("water_unsettled_pct")
    settled = f"The ring flows are settled to {rest.text(float(rest.get(e)[0]))}."
    return f"{words}{_moments_table(e.catch.moments, lengths)}{settled}"


def _moments_table(m: Moments, lengths: LengthUnit) -> str:
    """Run-up, running, end of cycle, water off, a line each: inlet, where the jacket's water stands, rings, dry ones.

    Units stand under what they belong to, in the heads, where the lines have no room for them.
    """
    times = range(len(MOMENTS))
    level = [float(r) / MM for r in m.free_surface[0]]
    columns = (
        ("", *(moment.split(",")[0].capitalize() for moment in MOMENTS)),
        ("inlet<br>kPa", *(fixed(p / KILOPASCAL, 1) for p in m.inlet_pressure[0].tolist())),
        (f"level<br>R, {lengths.name}", *("full" if r != r else lengths.number(r, 0) for r in level)),
        ("least<br>L/min", *(fixed(m.flow[0, k].min() / LITRE_PER_MINUTE, 2) for k in times)),
        ("most<br>L/min", *(fixed(m.flow[0, k].max() / LITRE_PER_MINUTE, 2) for k in times)),
        ("dry<br>rings", *(f"{int(m.dry[0, k].sum())}" for k in times)),
    )
    rows = zip(*columns, strict=True)
    plain, whole = "font-size:8pt", "font-size:8pt; white-space:nowrap"  # names of moments fold, units never
    cells = (
        "".join(
            f"<td align='{'right' if n else 'left'}' style='{whole if n else plain}'>{c}</td>"
            for n, c in enumerate(row)
        )
        for row in rows
    )
    table = "".join(f"<tr>{row}</tr>" for row in cells)
    return f"<table cellpadding='1' cellspacing='1'>{table}</table>"


def contents_words(e: Evaluation) -> str:
    """What the grooves hold and how long they take, and what that rests on."""
    if e.catch is None or e.shape is None or not len(e.shape.mouths):
        return RESTS_ON
    numbers = {q.key: q.text(float(q.get(e)[0])) for q in map(quantity, CONTENTS)}
    return f"{' '.join(words.format(numbers[key]) for key, words in CONTENTS.items())} {RESTS_ON}"
