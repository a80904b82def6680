"""Lengths in inches are a choice of display: nothing held, saved or computed changes with it."""

import re
from collections.abc import Iterator
from itertools import chain
from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QStyledItemDelegate,
    QTableView,
    QTableWidget,
    QTextBrowser,
    QWidget,
)
from pytestqt.qtbot import QtBot

from profiler.explore.shop_steps import DIAMETER_STEP, Steps
from profiler.explore.worn_look import OFF_BY_MM
from profiler.pictures.basics.display import Label
from profiler.pictures.basics.lengths import INCHES, pictured
from profiler.study.edits.new_study import MACHINE_LIP
from profiler.study.files.file import encode_study
from profiler.study.records.duty import SPEED
from profiler.ui.dialogs.new_study import NewStudyDialog
from profiler.ui.document.document import Document
from profiler.ui.envelope.envelope_dialog import EnvelopeDialog
from profiler.ui.files.settings import Settings
from profiler.ui.forms.spin_group import FigureTable
from profiler.ui.help.help_window import HelpWindow
from profiler.ui.page_stack import COMPARE, SHAPE
from profiler.ui.shape.steps_pane import StepsPane
from profiler.ui.strips.base import Strip
from profiler.ui.widgets.canvas import Canvas
from profiler.ui.widgets.choice_box import ChoiceBox
from profiler.ui.widgets.labels import unit_of
from profiler.ui.widgets.length_line import LengthLine
from profiler.ui.widgets.number_box import NumberBox
from profiler.ui.widgets.theme import LIGHT
from profiler.ui.window import Window
from tests.ui.everywhere import dialogs, one_window, views
from tests.ui.hands import Hands


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def reading(hands: Hands) -> str:
    hands.hover(hands.page.section, QPoint(20, round(hands.page.pointer.now.axis.y(127.0))))
    return " | ".join(label.text() for label in hands.page.readout.findChildren(QLabel))


def test_inches_change_nothing_held(hands: Hands) -> None:
    hands.rest()  # else the stages out of sight may follow in between, which is another evaluation
    study, evaluation, data = hands.study, hands.evaluation, encode_study(hands.study)
    hands.do("Lengths in inches")
    assert hands.study is study and hands.evaluation is evaluation and encode_study(hands.study) == data
    assert hands.steps == 0 and not hands.document.modified


def test_inches_show_in_the_read_out_and_go_again(hands: Hands) -> None:
    before = reading(hands)
    hands.do("Lengths in inches")
    assert " in" in reading(hands) and " mm" not in reading(hands)
    hands.do("Lengths in inches")
    assert reading(hands) == before


def test_an_edit_made_while_inches_are_shown_is_the_same_edit(hands: Hands) -> None:
    end = hands.place(140.0, 20.0)
    hands.drag_knot(1, end)
    in_mm = hands.design
    hands.undo()
    hands.do("Lengths in inches")
    hands.drag_knot(1, end)
    assert hands.design == in_mm


def test_the_choice_is_remembered(hands: Hands, qtbot: QtBot) -> None:
    hands.do("Lengths in inches")
    settings = Settings.in_file(hands.folder / "settings.ini")
    other = Window(Document(hands.study), settings)
    qtbot.addWidget(other)
    assert other.menus.actions["view.inches"].isChecked()


PAGES = ("Machine", "Ore", "Shape", "Eddy", "Find", "Compare", "Drawing", "Trials")


def bare(window: QWidget) -> list[str]:
    """Figures and scales in mm that a label, table or picture in sight shows."""
    scales: list[str] = []
    said = [label.text() for label in window.findChildren(QLabel) if label.isVisible()]
    said += [part.toPlainText() for part in window.findChildren(QPlainTextEdit) if part.isVisible()]
    said += [part.toPlainText() for part in window.findChildren(QTextBrowser) if part.isVisible()]
    for table in window.findChildren(QTableWidget):
        if table.isVisible():
            items = (table.item(r, c) for r in range(table.rowCount()) for c in range(table.columnCount()))
            said += [item.text() for item in items if item is not None]
    for strip in window.findChildren(Strip):
        if strip.isVisible() and strip.scene is not None:
            picture = pictured(strip.picture(strip.scene), strip.scene.lengths)
            said += [i.text for i in picture.items if isinstance(i, Label)]
    for canvas in window.findChildren(Canvas):
        if canvas.isVisible() and canvas._draw is not None:
            picture = pictured(canvas._draw(float(canvas.width()), float(canvas.height())), unit_of(canvas))
            said += [i.text for i in picture.items if isinstance(i, Label)]
            scales += [i.text for i in picture.items if isinstance(i, Label) and INCHES.heads(i.text)]
    return scales + [text for text in said if re.search(r"\d\s+mm\b(?![\u00b2\u00b3/])", text)]


def test_no_page_shows_a_figure_in_mm_once_inches_are_chosen(hands: Hands, qtbot: QtBot) -> None:
    """The law of `tests/output/test_inches_everywhere.py`, for what the window shows."""
    hands.page.pointer.point(groove=3)
    hands.page.findings.count.click()  # the list of all

    def seen() -> dict[str, list[str]]:
        found = {}
        for title in PAGES:
            hands.window.pages.open_titled(title)
            hands.settle()
            qtbot.waitUntil(lambda: not hands.window.jobs.busy, timeout=60000)
            found[title] = bare(hands.window)
            for button in getattr(hands.window.pages.shown, "turning", ()):  # views in place of the comparison
                button.click()
                hands.settle()
                found[f"{title}, {button.text()}"] = bare(hands.window)
                button.click()
        return found

    assert len([text for texts in seen().values() for text in texts]) > 15, "there was something to turn"
    hands.do("Lengths in inches")
    assert {title: texts for title, texts in seen().items() if texts} == {}


IN_MM = re.compile(r"(?<![\w²³/.])(?<!\bg )mm\b(?![²³/·])")  # not g mm, mm², nor a key that ends so


def said_of(part: QWidget) -> Iterator[str]:
    """Whatever says in which unit a box, its choices or its tip is, to eyes and to a screen reader."""
    yield from (part.toolTip(), part.accessibleName(), part.accessibleDescription())
    if isinstance(part, QLabel | QAbstractButton):
        yield part.text()
    if isinstance(part, QLineEdit):
        yield part.placeholderText()
    if isinstance(part, ChoiceBox):
        yield from (part.shown(part.itemText(row)) for row in range(part.count()))
    if isinstance(part, QTableView):
        model = part.model()
        for column in range(model.columnCount()):
            yield str(model.headerData(column, Qt.Orientation.Horizontal) or "")
            for row in range(model.rowCount()):
                yield str(model.index(row, column).data(Qt.ItemDataRole.ToolTipRole) or "")


def in_mm(root: QWidget) -> list[str]:
    """What names mm there; forms that are folded up too."""
    every = (root, *root.findChildren(QWidget))
    parts = [p for p in every if p.isVisible() or not isinstance(p.parentWidget(), FigureTable)]  # written when seen
    found = [f"{type(p).__name__}: {text}" for p in parts for text in said_of(p) if IN_MM.search(text)]
    return found + bare(root)


@pytest.mark.qt_log_ignore("This plugin does not support")
def test_no_box_scale_or_tip_of_any_page_pane_or_dialog_is_in_mm(qapp, tmp_path: Path) -> None:
    """But the help, which speaks of what is held and filed."""
    with one_window(tmp_path) as window:

        def walked() -> dict[str, list[str]]:
            every = chain(views(window), dialogs(window))
            return {name: in_mm(root) for name, root in every if not isinstance(root, HelpWindow)}

        before = walked()
        assert sum(map(len, before.values())) > 150, "there was something to turn"
        expected = ("Machine", "Shape", "Eddy", "Find", "Shape, show_steps", "Ore, show_measured", "Compare, How sure",
                    "Compare, Worn", "New study", "Envelope from a drawing")  # fmt: skip
        assert [name for name in expected if not before[name]] == []
        window.toggle_inches()
        assert {name: texts for name, texts in walked().items() if texts} == {}
        window.toggle_inches()
        assert [name for name, texts in walked().items() if bool(texts) != bool(before[name])] == [], "and back again"


def test_a_line_holds_what_was_typed_in_mm_and_gives_it_back_as_it_was(hands: Hands) -> None:
    line = LengthLine("0.7", parent=hands.window)
    for _ in range(2):
        hands.do("Lengths in inches")
    assert (line.text(), line.held) == ("0.7", "0.7")
    hands.do("Lengths in inches")
    assert line.text() == "0.0276" and line.held == "0.7", "rounded to the eye alone"
    for typed, held in (
        ("1", "25.4"), ("0.01 to 0,02", "0.254 to 0.508"), ("2: 0.01, 10: 0.02", "50.8: 0.254, 254: 0.508"),
        ("exposed_height_mm >= 150", "exposed_height_mm >= 150"), ("soon", "soon"), ("", ""),
    ):  # fmt: skip
        line.setText(typed)
        assert line.held == held
    line.setText("1")
    hands.do("Lengths in inches")
    assert float(line.text()) == 25.4
    line.hold("8", "°")
    hands.do("Lengths in inches")
    assert line.text() == "8", "an angle is no length"


def test_every_pane_takes_inches_as_the_same_millimetres(hands: Hands, qtbot: QtBot) -> None:
    """25.4 mm to the inch: what is typed in the one is asked as in the other."""
    hands.do("Lengths in inches")
    shape = hands.window.pages.open(SHAPE)
    shape.show_steps()
    steps = shape.side.findChild(StepsPane)
    for field, box in steps.boxes.items():
        box.setText("0.5" if field is DIAMETER_STEP else "")
    assert steps._steps() == Steps(diameter_mm=12.7)
    compare = hands.window.pages.open(COMPARE)
    compare.show_sure(True)
    compare.sure.tolerances["lip_radius_mm"].setText("0.1")
    assert compare.sure.tolerances["lip_radius_mm"].held == "2.54"
    assert compare.sure.tolerances["angle_deg"].held == compare.sure.tolerances["angle_deg"].text() == "0.25"
    compare.show_worn(True)
    compare.worn.rate.setText("0.01 to 0.02")
    compare.worn.limit.setText("0.1")
    compare.worn.tolerance.setText("0.05")
    asked = compare.worn._asked()
    assert (asked.rate, float(asked.limit), asked.tolerance_mm) == ("0.254 to 0.508", 2.54, 1.27)
    assert asked.off_by_mm == OFF_BY_MM, "not typed, so as it was to the last digit"
    compare.worn.hours.setText("3000")
    compare.worn.ask()
    qtbot.waitUntil(lambda: not hands.window.jobs.busy and compare.worn.look is not None, timeout=30000)
    told = compare.worn.answer.text()
    assert re.search(r"[0-9.]+ in of the wall are exposed \(new: [0-9.]+ in\)", told), "each length has its unit"
    hands.window.pages.open_titled("Find")
    one = hands.window.pages.shown.one
    one.about("land_mm", groove=3)
    shown, held = float(one.value.text()), float(one.value.held)
    assert one.unit.text() == "in" and held == pytest.approx(25.4 * shown, abs=0.002)
    one.about("repose_deg", height_mm=127.0)
    assert one.at_height.text() == "5.000" and one._wanted(8.0).height_mm == 127.0 and one.unit.text() == "°"


def test_the_envelope_and_a_new_study_take_inches(hands: Hands) -> None:
    hands.do("Lengths in inches")
    dialog = EnvelopeDialog(hands.document, hands.window.jobs, LIGHT, lambda design: None, hands.window)
    new = NewStudyDialog(hands.window, hands.study.machine, (), lambda: None)
    for shown in (dialog, new):
        shown.show()
    hands.type_into(dialog.lip, "7.5")
    assert dialog._roles().lip_radius_mm == 190.5 and dialog._roles().height_mm is None
    hands.type_into(new.boxes[MACHINE_LIP], "7.5")
    hands.type_into(new.boxes[SPEED], "700")
    assert new.boxes[MACHINE_LIP].held == "190.5" and new.boxes[SPEED].held == "700"
    for shown in (dialog, new):
        shown.close()


def test_a_list_shows_its_lengths_in_inches_and_leaves_names_alone(hands: Hands, qtbot: QtBot) -> None:
    drills, names = ChoiceBox(hands.window, of_lengths=True), ChoiceBox(hands.window)
    before = {}
    for box in (drills, names):
        box.addItems(["drilled: 10 deep, 1 mm", "Cone 8 mm"])
        box.resize(220, 24)
        box.show()
        before[box] = box.grab().toImage()
    hands.do("Lengths in inches")
    assert drills.grab().toImage() != before[drills] and names.grab().toImage() == before[names]
    assert drills.shown(drills.currentText()) == "drilled: 10 deep, 0.039 in" and drills.findText("Cone 8 mm") == 1
    assert names.shown("Cone 8 mm") == "Cone 8 mm"
    delegate = drills.itemDelegate()
    assert isinstance(delegate, QStyledItemDelegate) and delegate.displayText("1 mm", drills.locale()) == "0.039 in"
    drills.narrow("0.039")
    assert drills.view().isRowHidden(1) and not drills.view().isRowHidden(0)


def test_what_is_said_and_exported_is_in_inches_too(hands: Hands) -> None:
    hands.do("Lengths in inches")
    hands.document.say("The jacket narrows to 4.0 mm.")
    assert hands.window.message.text.text() == "The jacket narrows to 0.157 in."
    assert hands.window.exporting.request().lengths is INCHES
    hands.document.edit_design(replace(hands.design, name="Other"), "Set angle of the knot at 115 mm as asked")
    hands.window.menus.refresh()
    assert hands.window.menus.actions["edit.undo"].text().endswith("Set angle of the knot at 4.528 in as asked")


def test_what_a_box_shows_typed_once_more_changes_nothing(hands: Hands) -> None:
    """8.5669 in is a lip radius of 217.6 mm rounded: it does not become one that no longer fits the machine."""
    study = hands.study
    hands.do("Lengths in inches")
    tried = 0
    for title in ("Machine", "Shape"):
        hands.window.pages.open_titled(title)
        hands.settle()
        for box in hands.window.pages.shown.findChildren(NumberBox):
            if box.field.unit == "mm" and box.isEnabled() and box.value is not None:
                hands.type_into(box, box.text())
                tried += 1
                assert hands.study is study, box.accessibleName()
    assert tried > 15
    hands.type_into(box, "8.5")
    assert hands.study is not study, "what differs is taken"
