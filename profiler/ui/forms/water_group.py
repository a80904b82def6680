"""The group of water holes, targets and cycle: the hole plan, one ring, a proposal, and what the water does."""

from pathlib import Path

from msgspec.structs import replace
from PySide6.QtWidgets import QComboBox, QLabel, QPushButton

from profiler.assess import Evaluation
from profiler.assess.flow.water_network import MOMENTS, Moments
from profiler.assess.quantities.table import quantity
from profiler.explore.hole_plan import propose
from profiler.numbers import fixed, significant
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.study import Duty, GrainShape, HoleChange, HolePlan, Study
from profiler.study.edits import design_edits as edits
from profiler.study.files.drills import read_drills
from profiler.study.records.holes import change_ring
from profiler.ui.document.document import Document
from profiler.ui.files.folders import lists
from profiler.ui.forms.groups import Group
from profiler.ui.forms.record_form import RecordForm
from profiler.ui.widgets.pointer import Pointer
from profiler.units import KILOPASCAL, LITRE_PER_MINUTE, MM

CATCH_FIELDS = (
    "target_density_kg_m3", "target_um", "target_flatness", "heavy_density_kg_m3", "heavy_pct", "cycle_min",
    "rinse_min",
)  # fmt: skip
LEGEND = (
    "Inlet: pressure where water enters the jacket. Level: radius of its free surface; full where there is none.\n"
    "Least and most: water of the rings; negative where slurry runs back. Run-up is without slurry, the end of a\n"
    "cycle with grooves full of heavy minerals."
)
RESTS_ON = "Screening figures: they order grooves and duties; no recovery follows from them."

CONTENTS = {
    "volume_total_l": "All grooves together hold {} of settled bed,",
    "capacity_total_kg": "{} when dry.",
    "fill_min": "If every heavy grain stayed they would be full after {}.",
    "mass_pull_pct": "Emptied full at every rinse they pull {},",
    "concentrate_kg_day": "{} of concentrate a day;",
    "rinse_l": "a rinse takes {} of water,",
    "stays_behind_l": "and {} stay behind at rest.",
}


class WaterGroup(Group):
    title = "Water holes and catch"

    def __init__(self, document: Document, pointer: Pointer, drills: Path | None = None) -> None:
        super().__init__(document)
        self.pointer = pointer
        self.drills = read_drills(drills or lists() / "drills.json")
        self.plan = self.adopt(RecordForm(HolePlan))
        self.plan.proposed.connect(self._plan)
        self.drill = self.choice("Drill", [(f"{significant(d)} mm", d) for d in self.drills.diameters_mm], self._drill)
        self.propose = QPushButton("Propose holes for this duty")
        self.propose.setObjectName("plain")
        self.propose.setToolTip(
            "Whole numbers of holes, with listed drills, that bring every groove's water into its window"
        )
        self.propose.clicked.connect(self._propose)
        self.column.addWidget(self.propose)
        self.one = self._words()
        self.single = self.adopt(RecordForm(HoleChange, optional=("count", "diameter_mm", "skew_deg")))
        self.single.proposed.connect(self._ring)
        self.figures = self._words()
        self.figures.setToolTip(LEGEND)
        self.catch = self.adopt(RecordForm(Duty, CATCH_FIELDS))
        self.catch.proposed.connect(self._duty)
        shapes = [(s.value.capitalize(), s) for s in GrainShape]
        self.shape: QComboBox = self.choice("Target shape", shapes, lambda s: self._duty("target_shape", s))
        self.contents = self._words()
        if self.drills.trouble:
            document.say(self.drills.trouble)

    def show_study(self, study: Study) -> None:
        plan = study.design.holes
        self.plan.show_record(plan)
        self.drill.setCurrentIndex(self.drill.findData(plan.diameter_mm))
        self.catch.show_record(study.duty)
        self.catch.show_rows(
            [n for n in CATCH_FIELDS if n != "target_flatness" or study.duty.target_shape is GrainShape.FLAKE]
        )
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
            changes = self.document.design.holes.changes
            self.one.setText(f"<b>Ring of groove {self.pointer.now.groove}</b>, where it departs from the plan:")
            self.single.show_record(next((c for c in changes if c.place == place), HoleChange(place)))

    def _words(self) -> QLabel:
        label = QLabel()
        label.setObjectName("muted")
        label.setWordWrap(True)
        self.column.addWidget(label)
        return label

    def _place(self) -> int | None:
        shape, number = self.document.evaluation.shape, self.pointer.now.groove
        return int(shape.place[number - 1]) if shape is not None and number and number <= len(shape.place) else None

    def _plan(self, name: str, value: float) -> None:
        changed = edits.with_value(self.document.design.holes, name, round(value) if name == "count" else value)
        self._take(changed, f"Change {self.plan.boxes[name].field.label.lower()}")

    def _drill(self, diameter_mm: float) -> None:
        self._take(replace(self.document.design.holes, diameter_mm=diameter_mm), "Take another drill")

    def _ring(self, name: str, value: float | None) -> None:
        place = self._place()
        if place is not None:
            whole = round(value) if name == "count" and value is not None else value
            changed = change_ring(self.document.design.holes, place, name, whole)
            self._take(changed, f"Change one ring's {self.single.boxes[name].field.label.lower()}")

    def _take(self, plan: HolePlan, words: str) -> None:
        self.document.edit_design(replace(self.document.design, holes=plan), words)

    def _duty(self, name: str, value: object) -> None:
        label = name.split("_")[0] if name not in self.catch.boxes else self.catch.boxes[name].field.label.lower()
        self.document.edit_duty(edits.with_value(self.document.duty, name, value), f"Change {label}")

    def _propose(self) -> None:
        try:
            answer = propose(self.document.evaluation, self.drills.diameters_mm)
        except ValueError as refusal:
            self.document.say(str(refusal))
            return
        self._take(answer.design.holes, "Take the proposed holes")
        self.document.say(answer.sentence)


def water_words(e: Evaluation, lengths: LengthUnit = MILLIMETRES) -> str:
    """What the jacket does, now and over a cycle."""
    if e.flow is None:
        return ""
    total = quantity("water_total_l_min")
    words = f"Water supplied: {total.text(float(total.get(e)[0]))}."
    if e.flow.water.jacket is None:
        return f"{words} No holes: it is taken as spread evenly over the grooves."
    if e.catch is None or e.catch.moments is None:
        return words
    passes = quantity("last_change_deg")
    settled = f"The last pass moved the repose angle by {passes.text(float(passes.get(e)[0]))}."
    return f"{words}{_moments_table(e.catch.moments, lengths)}{settled}"


def _moments_table(m: Moments, lengths: LengthUnit) -> str:
    """Run-up, running, end of cycle, water off: inlet, where the jacket's water stands, rings, and how many are dry."""
    times = range(len(MOMENTS))
    heads = [moment.split(",")[0].capitalize().replace(" ", "<br>", 1) for moment in MOMENTS]
    level = [float(r) / MM for r in m.free_surface[0]]
    rows = (
        ("", *heads),
        ("inlet<br>kPa", *(fixed(p / KILOPASCAL, 1) for p in m.inlet_pressure[0].tolist())),
        (f"level<br>R, {lengths.name}", *("full" if r != r else lengths.number(r, 0) for r in level)),
        ("least<br>L/min", *(fixed(m.flow[0, k].min() / LITRE_PER_MINUTE, 2) for k in times)),
        ("most<br>L/min", *(fixed(m.flow[0, k].max() / LITRE_PER_MINUTE, 2) for k in times)),
        ("dry<br>rings", *(f"{int(m.dry[0, k].sum())}" for k in times)),
    )
    style = "style='font-size:8pt'"
    cells = (
        "".join(f"<td align='{'right' if n else 'left'}' {style}>{c}</td>" for n, c in enumerate(row)) for row in rows
    )
    table = "".join(f"<tr>{row}</tr>" for row in cells)
    return f"<table cellpadding='1' cellspacing='2'>{table}</table>"


def contents_words(e: Evaluation) -> str:
    """What the grooves hold and how long they take, and what that rests on."""
    if e.catch is None or e.shape is None or not len(e.shape.mouths):
        return RESTS_ON
    numbers = {q.key: q.text(float(q.get(e)[0])) for q in map(quantity, CONTENTS)}
    return f"{' '.join(words.format(numbers[key]) for key, words in CONTENTS.items())} {RESTS_ON}"
