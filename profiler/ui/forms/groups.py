"""The groups of the forms pane that shape a bowl and its duty: wall curve, grooves, body, slurry and duty."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from profiler.assess.flow.sizes import d50_um
from profiler.assess.shape.held_ends import CannotJoin, joined
from profiler.study import (
    Body,
    Duty,
    FrictionBasis,
    GrooveChange,
    GrooveRule,
    Hold,
    Knot,
    Placing,
    SquareTo,
    Study,
    WallCurve,
    fields_of,
)
from profiler.study.edits import design_edits as edits
from profiler.ui.document.document import Document
from profiler.ui.forms.knot_table import KnotTable
from profiler.ui.forms.record_form import RecordForm
from profiler.ui.widgets.number import parse_number
from profiler.ui.widgets.pointer import Pointer


class Group(QWidget):
    """A part of the study as a form. `show_study` fills it; what is typed becomes an edit of the document."""

    title = ""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self.document = document
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(8, 4, 8, 10)
        self.column.setSpacing(6)

    def show_study(self, study: Study) -> None:
        raise NotImplementedError

    def adopt(self, form: RecordForm, undo_words: Callable[[str], str] | None = None) -> RecordForm:
        """Wire a form's gestures and complaints, and put it into the column; an undo step is named by the label."""
        words = undo_words or (lambda label: f"Change {label.lower()}")
        form.began.connect(lambda label: self.document.begin(words(label)))
        form.ended.connect(self.document.commit)
        form.refused.connect(self.document.say)
        self.column.addWidget(form)
        return form

    def choice(self, label: str, options: Sequence[tuple[str, object]], chosen: Callable[..., object]) -> QComboBox:
        row, box = QHBoxLayout(), QComboBox()
        caption = QLabel(label)
        caption.setBuddy(box)
        box.setAccessibleName(label)
        box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        box.setMinimumContentsLength(8)
        for text, data in options:
            box.addItem(text, data)
        row.addWidget(caption)
        row.addWidget(box, 1)
        self.column.addLayout(row)
        # not itemData: Qt hands a StrEnum back as a plain string
        box.activated.connect(lambda index: chosen(options[index][1]))
        return box


class WallGroup(Group):
    title = "Wall curve"

    def __init__(self, document: Document, pointer: Pointer) -> None:
        super().__init__(document)
        self.pointer = pointer
        self.hold = self.choice(
            "Held end", [("Lip", Hold.LIP), ("Floor", Hold.FLOOR), ("Lip and floor", Hold.BOTH)], self._hold
        )
        self.radii = self.adopt(RecordForm(WallCurve))
        self.radii.proposed.connect(self._radius)
        self.table = KnotTable()
        self.table.proposed.connect(self._knot)
        self.table.refused.connect(document.say)
        self.table.chosen.connect(lambda index, leaving: pointer.point(knot=index, leaving=leaving))
        self.column.addWidget(self.table)
        buttons = QHBoxLayout()
        self.corner = _button("Corner", "Give the chosen knot a second, leaving angle, or take it away", buttons)
        self.delete = _button("Delete knot", "Delete the chosen knot", buttons)
        self.column.addLayout(buttons)
        self.eased = self.tick(
            "Ease the span above",
            "eased",
            "A smooth cubic instead of one arc; fitted with arcs to 0.01 mm",
        )
        self.locked = self.tick("Lock this knot", "locked", "It does not turn when both ends are held")
        hint = QLabel("Double-click the curve to add a knot.")
        hint.setObjectName("muted")
        hint.setWordWrap(True)
        self.column.addWidget(hint)

    def show_study(self, study: Study) -> None:
        wall = study.design.wall
        self.hold.setCurrentIndex(max(self.hold.findData(wall.hold), 0))
        free = "floor_radius_mm" if wall.hold is Hold.LIP else "lip_radius_mm"
        self.radii.show_record(wall, locked=(free,) if wall.hold is not Hold.BOTH else ())
        shape = self.document.evaluation.shape
        if shape is not None and wall.hold is not Hold.BOTH:
            self.radii.boxes[free].show_value(
                round(shape.floor_radius if wall.hold is Hold.LIP else shape.lip_radius, 2)
            )
        self.show_chosen()

    def show_chosen(self) -> None:
        now, knots = self.pointer.now, self.document.design.wall.knots
        self.table.show_knots(knots, now.knot, now.leaving)
        inner = now.knot is not None and 0 < now.knot < len(knots) - 1
        self.corner.setEnabled(inner)
        self.delete.setEnabled(inner)
        knot = knots[now.knot] if now.knot is not None and now.knot < len(knots) else None
        self.eased.setEnabled(knot is not None and now.knot != len(knots) - 1)
        self.locked.setEnabled(knot is not None)
        self.eased.setChecked(knot is not None and knot.eased)
        self.locked.setChecked(knot is not None and knot.locked)

    def tick(self, words: str, member: str, tip: str) -> QCheckBox:
        box = QCheckBox(words)
        box.setToolTip(tip)
        box.clicked.connect(lambda on: self._member(member, on, words))
        self.column.addWidget(box)
        return box

    def _member(self, member: str, on: bool, words: str) -> None:
        index = self.pointer.now.knot
        if index is not None:
            self.document.edit_design(edits.set_knot(self.document.design, index, member, on), words)

    def _hold(self, hold: Hold) -> None:
        shape = self.document.evaluation.shape
        if shape is None:
            self.document.say("The wall cannot be drawn as it stands, so its other end has no radius to hold.")
            self.show_study(self.document.study)
        elif hold is not self.document.design.wall.hold:
            changed = edits.held(self.document.design, hold, shape.lip_radius, shape.floor_radius)
            self.document.edit_design(changed, f"Hold the {hold.value}")

    def _radius(self, name: str, value: float) -> None:
        wall = edits.with_value(self.document.design.wall, name, value)
        label = fields_of(WallCurve)[name].label.lower()
        self.document.edit_design(edits.with_wall(self.document.design, wall), f"Change {label}")

    def _knot(self, index: int, name: str, value: float | None) -> None:
        design = self.document.design
        try:
            if name == "height_mm" and value is not None:
                changed = edits.set_knot_height(design, index, value)
            elif name == "angle_deg" and value is not None:
                changed = edits.move_knot(design, index, None, value, edits.Angles(leaving=False))
            elif value is None:
                changed = edits.make_smooth(design, index)
            else:
                changed = edits.make_corner(design, index, value)
        except ValueError as refusal:
            self.document.say(str(refusal))
            self.show_chosen()
            return
        try:
            changed = joined(changed, index).design
        except CannotJoin as refusal:
            self.document.say(str(refusal))
            self.show_chosen()
            return
        self.document.edit_design(changed, f"Change a knot's {fields_of(Knot)[name].label.lower()}")


class GrooveGroup(Group):
    title = "Grooves"
    _RULED = ("count", "from_mm", "to_mm")

    def __init__(self, document: Document, pointer: Pointer) -> None:
        super().__init__(document)
        self.pointer = pointer
        self.placing = self.choice("Placing", [(p.value.capitalize(), p) for p in Placing], self._placing)
        self.heights = QLineEdit()
        self.heights.setPlaceholderText("mid-mouth heights in mm: 20; 45; 70")
        self.heights.setAccessibleName("Mid-mouth heights of the grooves, in mm, separated by semicolons or spaces")
        self.heights.editingFinished.connect(self._heights)
        self.column.addWidget(self.heights)
        self.form = self.adopt(RecordForm(GrooveRule), groove_words)
        self.form.proposed.connect(self._number)
        self.ends = QLabel()
        self.ends.setObjectName("muted")
        self.ends.setWordWrap(True)
        self.column.addWidget(self.ends)
        square = [("The wall", SquareTo.WALL), ("The axis", SquareTo.AXIS)]
        self.square = self.choice("Square to", square, lambda to: self._change("square_to", to, "Turn the grooves"))
        self.one = QLabel()
        self.one.setWordWrap(True)
        self.single = self.adopt(RecordForm(GrooveChange, optional=("mouth_mm", "depth_mm")), one_groove_words)
        self.single.proposed.connect(self._one_number)
        self.off = QCheckBox("Leave this groove out")
        self.off.clicked.connect(lambda on: self._one("off", on, "Leave a groove out"))
        self.back = QPushButton("Bring back grooves left out")
        self.back.setObjectName("plain")
        self.back.clicked.connect(self._bring_back)
        self.column.insertWidget(self.column.indexOf(self.single), self.one)
        self.column.addWidget(self.off)
        self.column.addWidget(self.back)

    def show_study(self, study: Study) -> None:
        rule = study.design.grooves
        self.placing.setCurrentIndex(self.placing.findData(rule.placing))
        self.square.setCurrentIndex(self.square.findData(rule.square_to))
        listed = rule.placing is Placing.LISTED
        self.heights.setVisible(listed)
        if not (self.heights.hasFocus() and self.heights.isModified()):
            self.heights.setText("; ".join(f"{h:g}" for h in rule.heights_mm))
        self.form.show_record(rule)
        self.form.show_rows([n for n in self.form.boxes if not (listed and n in self._RULED)])
        self.ends.setVisible(not listed)
        self._show_ends(rule.placing)
        self.back.setVisible(any(c.off for c in rule.changes))
        self.show_chosen()

    def show_chosen(self) -> None:
        place = self._place()
        for part in (self.one, self.single, self.off):
            part.setVisible(place is not None)
        if place is not None:
            changes = self.document.design.grooves.changes
            change = next((c for c in changes if c.place == place), GrooveChange(place))
            self.one.setText(f"<b>Groove {self.pointer.now.groove}</b>, where it departs from the rule:")
            self.single.show_record(change)
            self.off.setChecked(change.off)

    def _place(self) -> int | None:
        shape, number = self.document.evaluation.shape, self.pointer.now.groove
        return int(shape.place[number - 1]) if shape is not None and number and number <= len(shape.place) else None

    def _one_number(self, name: str, value: float | None) -> None:
        self._one(name, value, one_groove_words(self.single.boxes[name].field.label))

    def _one(self, name: str, value: object, words: str) -> None:
        place = self._place()
        if place is not None:
            self.document.edit_design(edits.change_groove(self.document.design, place, name, value), words)

    def _bring_back(self) -> None:
        design = self.document.design
        for change in design.grooves.changes:
            design = edits.change_groove(design, change.place, "off", False)
        self.document.edit_design(design, "Bring back grooves")

    def _placing(self, placing: Placing) -> None:
        rule = edits.with_value(self.document.design.grooves, "placing", placing)
        shape = self.document.evaluation.shape
        if placing is Placing.LISTED and not rule.heights_mm and shape is not None:
            rule = edits.with_value(rule, "heights_mm", tuple(round(float(h), 1) for h in shape.mouths.middle))
        self.document.edit_design(edits.with_grooves(self.document.design, rule), "Place the grooves differently")

    def _heights(self) -> None:
        if not self.heights.isModified():
            return
        self.heights.setModified(False)
        parts = self.heights.text().replace(";", " ").split()
        numbers = [parse_number(p) for p in parts]
        if any(n is None or n < 0.0 for n in numbers):
            wrong = next(p for p, n in zip(parts, numbers, strict=True) if n is None or n < 0.0)
            self.document.say(f"Groove heights: “{wrong}” is not a height in mm; nothing was changed.")
            self.show_study(self.document.study)
            return
        heights = tuple(sorted(float(n) for n in numbers if n is not None))
        self._change("heights_mm", heights, "Change the groove heights")

    def _number(self, name: str, value: float) -> None:
        words = groove_words(self.form.boxes[name].field.label)
        self._change(name, round(value) if name == "count" else value, words)

    def _show_ends(self, placing: Placing) -> None:
        """What the first and last edge are measured along: the wall is longer than the bowl is high."""
        along = placing is Placing.ALONG_WALL
        for name, word in (("from_mm", "From"), ("to_mm", "To")):
            self.form.show_label(name, f"{word}, along wall" if along else f"{word}, in height")
        shape = self.document.evaluation.shape
        if shape is not None:
            length, shown = float(shape.wall.length_at(shape.height)), self.pointer.now.lengths
            self.ends.setText(f"The wall is {shown.text(length, 1)} long and {shown.text(shape.height, 1)} high.")

    def _change(self, name: str, value: object, words: str) -> None:
        rule = edits.with_value(self.document.design.grooves, name, value)
        self.document.edit_design(edits.with_grooves(self.document.design, rule), words)


def groove_words(label: str) -> str:
    """How an undo step of the grooves' rule is called."""
    if label in ("Grooves from", "Grooves to"):
        return f"Change where the grooves {'start' if label.endswith('from') else 'end'}"
    return f"Change the {label.lower()}" if label == "Groove count" else f"Change the grooves' {label.lower()}"


def one_groove_words(label: str) -> str:
    return "Move one groove" if label == "Moved by" else f"Change one groove's {label.lower()}"


class BodyGroup(Group):
    title = "Body"

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self.fill = QCheckBox("Fill the seat, but for the jacket gap")
        self.fill.setToolTip("The outside follows the machine's seat instead of the wall")
        self.fill.clicked.connect(self._fill)
        self.column.addWidget(self.fill)
        self.form = self.adopt(RecordForm(Body))
        self.form.proposed.connect(self._number)
        self.figures = QLabel()
        self.figures.setObjectName("muted")
        self.figures.setWordWrap(True)
        self.column.addWidget(self.figures)

    def show_study(self, study: Study) -> None:
        filling = study.design.body.fill_seat
        self.fill.setChecked(filling)
        self.form.show_record(study.design.body)
        self.form.show_rows([n for n in self.form.boxes if not (filling and n == "wall_mm")])
        evaluation = self.document.evaluation
        body = evaluation.body
        if evaluation.shape is None:
            self.figures.setText("Mass –, inertia –")
        elif body is not None:
            self.figures.setText(
                f"Mass {body.mass_kg:.2f} kg, polar inertia {body.inertia_kg_m2:.3f} kg m², volume "
                f"{body.volume_mm3 * 1e-6:.3f} litres, grooves cut, water holes left out."
            )

    def _fill(self, on: bool) -> None:
        body = edits.with_value(self.document.design.body, "fill_seat", on)
        self.document.edit_design(edits.with_body(self.document.design, body), "Fill the seat")

    def _number(self, name: str, value: float) -> None:
        body = edits.with_value(self.document.design.body, name, value)
        label = self.form.boxes[name].field.label.lower()
        self.document.edit_design(edits.with_body(self.document.design, body), f"Change {label}")


_OF_THE_CATCH = ("target_", "heavy_", "cycle_", "rinse_")  # shown with the water holes


class DutyGroup(Group):
    title = "Slurry and duty"
    sizes_wanted = Signal()

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        names = tuple(n for n in fields_of(Duty) if not n.startswith(_OF_THE_CATCH))
        self.form = self.adopt(RecordForm(Duty, names))
        self.form.proposed.connect(self._number)
        row = QHBoxLayout()
        self.sizes = _button("Size classes…", "The feed by sieve, in place of one d50", row)
        self.sizes.clicked.connect(self.sizes_wanted)
        self.column.addLayout(row)
        self.former = QLabel("This friction was typed for the former law: type it anew.")
        self.former.setWordWrap(True)
        self.column.addWidget(self.former)

    def show_study(self, study: Study) -> None:
        duty, count = study.duty, len(study.duty.size_classes)
        self.form.show_record(duty, locked=("d50_um",) if count else ())
        if count:
            self.form.boxes["d50_um"].show_value(round(d50_um(duty), 1))
        self.sizes.setText(f"Size classes… ({count})" if count else "Size classes…")
        self.former.setVisible(duty.friction_basis is FrictionBasis.DELIVERED)

    def _number(self, name: str, value: float) -> None:
        label = self.form.boxes[name].field.label.lower()
        self.document.edit_duty(edits.with_value(self.document.duty, name, value), f"Change {label}")


def _button(text: str, tip: str, row: QHBoxLayout) -> QPushButton:
    button = QPushButton(text)
    button.setObjectName("plain")
    button.setToolTip(tip)
    row.addWidget(button)
    return button
