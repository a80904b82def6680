"""Fit the bowl to the machine, by menu, by the remedy of a finding, and what is shown where a limit binds."""

from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from profiler.assess.findings.finding import stops
from profiler.assess.fitting.fit import FIT_WORDS
from profiler.study import Machine
from profiler.study.files import examples
from profiler.ui.shape.fit_pane import STALE, FitPane
from tests.ui.hands import Hands

STUDY = examples.read(examples.DEFAULT)


def on(qtbot: QtBot, folder: Path, patch: pytest.MonkeyPatch, machine: Machine) -> Hands:
    return Hands(qtbot, folder, patch, replace(STUDY, machine=machine))


@pytest.fixture
def smaller(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return on(qtbot, tmp_path, monkeypatch, replace(STUDY.machine, lip_radius_mm=200.0, height_mm=280.0))


@pytest.fixture
def too_small(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return on(qtbot, tmp_path, monkeypatch, replace(STUDY.machine, lip_radius_mm=110.0, seat=()))


def pane(hands: Hands) -> FitPane:
    found = hands.page.side.currentWidget()
    assert isinstance(found, FitPane)
    return found


def test_the_menu_fits_the_bowl_in_one_undo_step_and_says_what_gave_way(smaller: Hands) -> None:
    before = smaller.study
    smaller.do("Fit the bowl to the machine")
    assert smaller.evaluation.shape.lip_radius == 200.0 and smaller.evaluation.shape.height == 280.0
    assert smaller.steps == 1 and smaller.document.undo_stack.undoText() == FIT_WORDS
    smaller.undo()
    assert smaller.study == before


def test_the_remedy_of_a_finding_is_the_same_command(smaller: Hands) -> None:
    smaller.rest()
    worst = smaller.evaluation.findings[0]
    assert worst.remedy.label == FIT_WORDS
    smaller.click(next(b for b in smaller.page.findings.findChildren(QPushButton) if b.text() == "Apply"))
    assert stops(smaller.evaluation.findings) == 0 and smaller.steps == 1


def test_where_the_hub_binds_nothing_changes_and_the_ways_that_remain_can_be_taken(too_small: Hands) -> None:
    too_small.do("Fit the bowl to the machine")
    assert too_small.study == replace(STUDY, machine=too_small.study.machine) and too_small.steps == 0
    shown = pane(too_small)
    assert "inside the hub hole" in shown.sentence.text() and shown.choices
    too_small.click(shown.choices[0])
    assert stops(too_small.evaluation.findings) == 0 and too_small.steps == 1
    assert too_small.page.side.currentWidget() is not shown
    too_small.undo()
    assert too_small.design == STUDY.design


def test_a_choice_of_an_older_study_is_not_taken(too_small: Hands) -> None:
    too_small.do("Fit the bowl to the machine")
    too_small.document.edit_machine(STUDY.machine, "Another machine")
    too_small.settle()
    assert pane(too_small).ask.text() == STALE and not any(b.isEnabled() for b in pane(too_small).choices)


def test_a_plain_cone_added_starts_fitted(smaller: Hands) -> None:
    menu = smaller.page.duty_bar.designs.made()
    menu.actions()[0].trigger()
    smaller.rest()
    assert smaller.design.body.fill_seat and smaller.evaluation.shape.height == 280.0
    assert not [f for f in smaller.evaluation.findings if f.severity.value == "stop"]
