"""The page Eddy: a groove looked into, walls and duties on trial in a copy, one step into the study."""

import re
from dataclasses import replace as with_

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt

from profiler.assess import evaluate
from profiler.assess.eddy.answers import STANDING
from profiler.assess.flow.flow_stage import LOW
from profiler.explore.why_overturn import why
from profiler.numbers import fixed
from profiler.physics.slurry.overturn import State
from profiler.pictures.eddy.groove_picture import handle_at
from profiler.study.edits.design_edits import plain_cone
from profiler.study.files.examples import read
from profiler.study.records.design import KNOT_ANGLE
from profiler.study.records.duty import SOLIDS, SPEED
from profiler.ui.document.document import Document
from profiler.ui.eddy import eddy_page
from profiler.ui.eddy.eddy_layout import FILL
from profiler.ui.eddy.eddy_page import EddyPage
from profiler.ui.eddy.why_pane import words_of
from profiler.ui.widgets.theme import DARK
from profiler.ui.work.jobs import Jobs

STRONG, SHELTERED = 3, 13


@pytest.fixture
def page(qtbot):
    jobs = Jobs()
    made = EddyPage(Document(read("graded")), jobs, lambda: None)
    made.solving._rest.setInterval(10**6)  # the fine answer is asked for where a test needs it
    qtbot.addWidget(made)
    made.resize(1280, 640)
    made.show()
    qtbot.waitExposed(made)
    made.activated()
    yield made
    jobs.close()


def settled(qtbot, page):
    """Wait for the coarse answer to what is asked now."""
    qtbot.waitUntil(lambda: page.answer is not None and not page.parts.canvas.scene.waiting, timeout=60_000)
    return page.answer


def turn(page, angle):
    page.parts.canvas.turned.emit(angle)


def test_the_words_tell_state_ratio_and_repose_of_the_chosen_groove(page):
    page.show_groove(2)
    assert page.parts.groove.currentText() == "Groove 2"
    assert page.parts.words.text().startswith("Groove 2: strong overturn, ratio")
    page.show_groove(SHELTERED)
    assert "held higher up" in page.parts.words.text()
    assert page.parts.doubt.text() == STANDING


def test_turning_the_wall_leaves_the_study_alone_and_using_it_is_one_step(page):
    page.show_groove(STRONG)
    before = page.document.study
    turn(page, 22.0)
    assert page.document.study is before and page.document.undo_stack.count() == 0
    assert page.parts.boxes[KNOT_ANGLE].value == pytest.approx(22.0, abs=0.01)
    page.parts.use_angle.click()
    page.document.flush()
    assert page.document.undo_stack.count() == 1
    assert page.document.undo_stack.text(0) == f"Turn the wall at groove {STRONG}"
    assert not page.parts.use_angle.isEnabled()
    page.document.undo_stack.undo()
    assert page.document.study.designs == before.designs


@pytest.mark.parametrize(("field", "value"), [(SOLIDS, 50.0), (SPEED, 700.0)])
def test_a_number_of_the_duty_is_on_trial_until_it_is_used(page, field, value):
    page.show_groove(STRONG)
    words = page.parts.words.text()
    page.parts.boxes[field].proposed.emit(value)
    assert page.parts.words.text() != words
    assert field.get(page.document.study) != value and page.document.undo_stack.count() == 0
    turn(page, 24.0)
    page.parts.use_numbers.click()
    page.document.flush()
    assert field.get(page.document.study) == value and page.document.undo_stack.count() == 1
    assert page.trial.design is not None, "the wall stays on trial"
    page.parts.back.click()
    assert page.trial.design is None and not page.parts.back.isEnabled()


def test_the_handle_turns_the_wall_under_the_hand(qtbot, page):
    page.show_groove(STRONG)
    canvas = page.parts.canvas
    x, y = handle_at(canvas.scene, canvas.width(), canvas.height())
    at = canvas.rect().topLeft()
    start, old = at + at.__class__(round(x), round(y)), canvas.angle_deg
    qtbot.mousePress(canvas, Qt.MouseButton.LeftButton, pos=start)
    qtbot.mouseMove(canvas, start + at.__class__(25, 0))
    qtbot.mouseRelease(canvas, Qt.MouseButton.LeftButton, pos=start + at.__class__(25, 0))
    assert canvas.angle_deg < old - 1.0, "pushed toward the wall's foot, the wall stands steeper"
    assert page.document.undo_stack.count() == 0
    qtbot.keyClick(canvas, Qt.Key.Key_Right)
    assert page.trial.design is not None
    qtbot.keyClick(canvas, Qt.Key.Key_Escape)
    assert page.trial.design is None and canvas.angle_deg == pytest.approx(old)


def test_streamlines_are_those_of_the_solver_and_a_sheltered_groove_has_none(qtbot, page):
    page.show_groove(STRONG)
    found = settled(qtbot, page)
    assert found.case is not None and found.case.eddy.elements == (16, 16)
    assert page.parts.figures.table.rows[0][0] == "Reach"
    page.show_groove(SHELTERED)
    found = settled(qtbot, page)
    assert found.case is None and "No eddy is driven" in page.parts.left_out.text()
    assert {row[1] for row in page.parts.figures.table.rows} == {"–"}


def test_when_the_hand_rests_band_grains_and_curves_follow(qtbot, page, monkeypatch):
    monkeypatch.setattr(eddy_page, "ALONGS", tuple(with_(along, count=3) for along in eddy_page.ALONGS))
    page.show_groove(STRONG)
    settled(qtbot, page)
    page.solving._rest.stop()
    page.solving._refine()
    qtbot.waitUntil(lambda: page.parts.progress.isHidden(), timeout=120_000)
    assert page.answer.case.eddy.elements == (24, 24) and len(page.answer.corners) == 4
    rows = {row[0]: row[1] for row in page.parts.figures.table.rows}
    assert " to " in rows["Circulation"] and " to " in rows["Keeps gangue moving down to"]
    assert page._curves.groove == STRONG
    page.show_theme(DARK)
    page.grab()
    assert not any(c.failure for c in (page.parts.canvas, *page.parts.charts))


def test_what_the_wall_cannot_do_is_said_and_nothing_changes(qtbot, page):
    page.show_groove(STRONG)
    said = []
    page.document.announced.connect(said.append)
    turn(page, 89.0)
    assert page.trial.design is None and len(said) == 1


def test_a_bed_in_the_groove_is_on_trial_too(page):
    page.show_groove(STRONG)
    page.parts.boxes[FILL].proposed.emit(40.0)
    assert page.parts.back.isEnabled() and page.parts.boxes[FILL].value == pytest.approx(40.0)


def test_a_design_without_grooves_is_told_and_nothing_is_drawn(page):
    rule = page.document.design.grooves
    page.document.edit_design(replace(page.document.design, grooves=replace(rule, count=0)), "No grooves")
    page.document.flush()
    assert "has no groove" in page.parts.words.text()
    page.grab()


def test_what_is_left_out_is_one_click_away(page):
    assert page.parts.left_out.isHidden()
    page.parts.more.click()
    assert not page.parts.left_out.isHidden()


def test_why_it_overturns_paints_in_both_themes(page):
    page.parts.tabs.setCurrentIndex(2)
    page.grab()
    page.show_theme(DARK)
    page.grab()
    why = page.parts.why
    assert not any(c.failure for c in (why.ratio, why.power, why.stepped))


def test_the_sentence_says_below_which_angle_no_eddy_turns_and_the_flow_agrees():
    """What a student asks of one groove: why it overturns, when it stops, how sure that is."""
    study = read("graded")
    first = why(evaluate(study.design, study.machine, study.duty), 6)
    for below in (1.0, 2.0, 5.0):  # the repose of a cone there differs by some tenths
        angle = first.repose_deg[LOW] - below
        cone = plain_cone("cone", study.machine.height_mm, study.machine.lip_radius_mm, angle)
        found = why(evaluate(cone, study.machine, study.duty), 6)
        stops = float(re.search(r"; below (\S+)° none does", words_of(found))[1])
        assert angle < stops and found.grooves_ratio[5] < 0.0
        assert State(int(found.grooves_state[5])) is State.SHELTERED, "at low friction neither"
    assert f"below {fixed(first.repose_deg[LOW], 1)}° none does" in words_of(first)
