"""From nothing to a fitted, graded, exported bowl, by hand: every action counted, and nothing of an example in it.

A click, an entry of a menu, a number typed into a box are one action each; a file chosen in the system's own dialog is
two, its name and the button that takes it; an entry of a list is two, opening it and choosing.
"""

from pathlib import Path

import ezdxf
import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from profiler.assess import Severity
from profiler.output.report.content import Job, report_of
from profiler.study import NOT_GIVEN, Body, Duty, Machine, Study, fields_of, not_given
from profiler.study.edits.new_study import MACHINE_HEIGHT, MACHINE_LIP
from profiler.study.files import examples
from profiler.study.records.design import GROOVE_COUNT
from profiler.study.records.duty import D50, DRY_FEED, SOLIDS, SPEED, WATER
from profiler.study.records.machine import JACKET_GAP
from profiler.ui.dialogs import dialogs
from profiler.ui.dialogs.export_dialog import ExportChoice
from profiler.ui.dialogs.new_study import DRAWING, NewStudyDialog
from profiler.ui.envelope.envelope_dialog import EnvelopeDialog
from profiler.ui.shape.start_pane import StartPane
from tests.assess.drawn.written import SEAT, draw_rotor, saved
from tests.ui.hands import Hands

MOST_ACTIONS = 30
TYPED = {
    MACHINE_LIP: "190", MACHINE_HEIGHT: "260", SPEED: "701", SOLIDS: "31", D50: "93", DRY_FEED: "1.23", WATER: "57",
}  # fmt: skip
FEED_PIPE = [fields_of(Machine)[name] for name in ("feed_pipe_mm", "feed_pipe_end_mm")]  # drawn too
EXAMPLE = examples.read(examples.DEFAULT)


class Counted:
    """Hands that count what they do."""

    def __init__(self, hands: Hands, patch: pytest.MonkeyPatch) -> None:
        self.hands = hands
        self.done: list[str] = []
        self._patch = patch

    def click(self, widget: QWidget, words: str) -> None:
        assert widget.isVisible() and widget.isEnabled(), words
        self.done.append(f"click {words}")
        self.hands.click(widget)

    def menu(self, words: str) -> None:
        self.done.append(f"menu {words}")
        self.hands.do(words)

    def type(self, box: QLineEdit, text: str, then: Qt.Key | None = Qt.Key.Key_Return) -> None:
        assert box.isVisible() and box.isEnabled(), box.accessibleName()
        self.done.append(f"type {text} into {box.accessibleName()}")
        self.hands.type_into(box, text, then)

    def choose(self, box: QComboBox, words: str) -> None:
        assert box.isVisible() and box.isEnabled()
        self.done += [f"open the list {box.accessibleName()}", f"choose {words}"]
        box.setCurrentIndex(box.findText(words))
        box.activated.emit(box.currentIndex())
        self.hands.settle()

    def file(self, question: str, answer: object) -> None:
        """What the system's dialog will be answered with, when it comes."""

        def answered(*_: object) -> object:
            self.done += [f"{question}: name the file", f"{question}: take it"]
            return answer

        self._patch.setattr(dialogs, question, answered)


def new_study(counted: Counted, patch: pytest.MonkeyPatch) -> None:
    """The dialog is filled by hand where the program would wait for it."""

    def asked(parent: QWidget, present: Machine, listed: tuple[Machine, ...], _: Path) -> object:
        dialog = NewStudyDialog(parent, present, listed, lambda: None)
        dialog.show()
        counted.choose(dialog.machine, DRAWING)
        for field, text in TYPED.items():
            counted.type(dialog.boxes[field], text, then=None)
        counted.click(dialog.start, "Start")
        return dialog.made

    patch.setattr(dialogs, "ask_new_study", asked)
    counted.menu("New study…")


def envelope(counted: Counted) -> None:
    hands = counted.hands
    dialog = hands.window.findChild(EnvelopeDialog)
    counted.file("ask_drawing", saved(hands.folder / "rotor.dxf", draw_rotor))
    counted.click(dialog.open_button, "Open a drawing")
    hands.qtbot.waitUntil(lambda: not hands.window.jobs.busy, timeout=20000)
    hands.settle()
    counted.click(dialog.take, "Take the envelope")
    counted.done.append("close the dialog")
    dialog.close()
    hands.settle()


def graded_bowl(counted: Counted) -> None:
    """On the pages Machine and Shape: the jacket, a graded curve, fourteen grooves, all fitted."""
    hands = counted.hands
    counted.type(hands.window.pages.shown.machine.form.boxes[JACKET_GAP], "5.5")
    counted.menu("Start a curve")
    pane = hands.page.side.findChild(StartPane)
    counted.choose(pane.kind, "Graded by a power law")
    counted.click(pane.back, "Back to the forms")
    forms = hands.page.forms
    counted.click(next(b for b in forms.heads.buttons() if b.text() == "Grooves"), "Grooves")
    counted.type(forms.grooves.form.boxes[GROOVE_COUNT], "14")
    counted.menu("Fit the bowl to the machine")


def export(counted: Counted) -> Path:
    hands, path = counted.hands, counted.hands.folder / "mine.dxf"
    counted.file("ask_export", ExportChoice(path, "profile", {"full": "half"}))
    counted.click(hands.window.export_button, "Export section")
    hands.qtbot.waitUntil(lambda: not hands.window.exporting.busy, timeout=20000)
    return path


def test_thirty_actions_make_a_bowl_for_a_machine_and_nothing_of_an_example_comes_along(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands = Hands(qtbot, tmp_path, monkeypatch)
    counted = Counted(hands, monkeypatch)
    new_study(counted, monkeypatch)
    envelope(counted)
    graded_bowl(counted)
    path = export(counted)
    assert len(counted.done) <= MOST_ACTIONS, "\n".join(counted.done)

    hands.rest()
    study, e = hands.study, hands.evaluation
    assert (study.machine.lip_radius_mm, study.machine.height_mm) == (190.0, 260.0)
    assert [(p.height_mm, p.radius_mm) for p in study.machine.seat] == list(SEAT)
    assert e.shape is not None and len(e.shape.mouths) == study.design.grooves.count == 14
    angles = [knot.angle_deg for knot in study.design.wall.knots]
    assert len(angles) > 2 and angles == sorted(angles, reverse=True) and angles[0] > angles[-1]
    assert study.design.body.fill_seat
    assert not [f for f in e.findings if f.severity is Severity.STOP], "fitted, and it can be built"
    assert len(ezdxf.readfile(path).modelspace().query("LINE ARC")) > 14
    nothing_of_an_example(study, [text(b) for b in report_of(e, Job("", "", "")).blocks])


def nothing_of_an_example(study: Study, told: list[str]) -> None:
    """Each number was typed, drawn, fitted, or is the program's usual one, which the report marks; the rest is None."""
    machine, duty = study.machine, study.duty
    known = {MACHINE_LIP, MACHINE_HEIGHT, JACKET_GAP, *FEED_PIPE}
    assert {f for f in fields_of(Machine).values() if f.get(machine) is not None and f.empty == NOT_GIVEN} <= known
    assert len(not_given(machine)) >= 15 and machine.shell_material is None and not machine.note
    for record, usual in ((duty, Duty(duty.name)), (study.design.body, Body(fill_seat=True))):
        for field in fields_of(type(record)).values():
            assert field in TYPED or field.get(record) == field.get(usual), field.label
    for field, typed in TYPED.items():
        assert field.get(machine if field in (MACHINE_LIP, MACHINE_HEIGHT) else duty) == float(typed)
    assert [study.trials, study.measurements, len(study.duties), len(study.designs)] == [(), (), 1, 1]
    whole = " ".join(told)
    theirs = (
        EXAMPLE.machine.name,
        EXAMPLE.machine.note,
        EXAMPLE.design.name,
        EXAMPLE.duty.name,
        EXAMPLE.title,
        "217.6",
    )
    assert not [words for words in theirs if words and words in whole]
    rows = [line for line in told if "Supply pressure" in line or "Drive power" in line]
    assert rows and all(NOT_GIVEN in line for line in rows)


def text(block: object) -> str:
    rows = getattr(block, "rows", ())
    return " ".join([getattr(block, "text", ""), *(cell for row in rows for cell in row)])
