"""The page that shows why a groove overturns: it moves with solids, speed and mouth, each one undo step."""

import pytest
from msgspec.structs import replace

from profiler.study.files.examples import read
from profiler.study.records.design import GROOVE_MOUTH
from profiler.study.records.duty import SOLIDS, SPEED
from profiler.ui.document.document import Document
from profiler.ui.eddy.overturn import OverturnPage
from profiler.ui.widgets.theme import DARK


@pytest.fixture
def page(qtbot):
    made = OverturnPage(Document(read("graded")))
    qtbot.addWidget(made)
    made.resize(1280, 660)
    made.show()
    qtbot.waitExposed(made)
    made.activated()
    return made


def test_the_words_tell_state_ratio_and_repose_of_the_chosen_groove(page):
    page.show_groove(2)
    assert page.groove.currentText() == "Groove 2"
    assert page.words.text().startswith("Groove 2: strong overturn, ratio 2.37")
    page.show_groove(13)
    assert "held higher up" in page.words.text()


@pytest.mark.parametrize(("field", "value"), [(SOLIDS, 50.0), (SPEED, 700.0), (GROOVE_MOUTH, 16.0)])
def test_a_number_turned_here_is_an_edit_of_the_study(page, field, value):
    page.show_groove(5)
    before = page.words.text()
    page.boxes[field].proposed.emit(value)
    page.document.flush()
    assert field.get(page.document.study) == value and page.document.undo_stack.count() == 1
    assert page.words.text() != before


def test_a_design_without_grooves_is_told_and_nothing_is_drawn(page):
    rule = page.document.design.grooves
    page.document.edit_design(replace(page.document.design, grooves=replace(rule, count=0)), "No grooves")
    page.document.flush()
    assert "has no groove" in page.words.text()
    page.grab()


def test_it_paints_in_both_themes(page):
    page.grab()
    page.show_theme(DARK)
    page.grab()
    assert not any(c.failure for c in (page.ratio, page.power, page.stepped))
