"""Asking backwards in the window: about a number, answered beside the window, set as one undo step."""

import pytest
from msgspec.structs import replace

from profiler.assess.quantities.table import quantity
from profiler.study.files.examples import read
from profiler.ui.document.document import Document
from profiler.ui.find.ask import AskPane
from profiler.ui.work.jobs import Jobs
from tests.ui.hands import Hands


@pytest.fixture
def jobs(qapp):
    made = Jobs()
    yield made
    made.close()


@pytest.fixture
def pane(qtbot, jobs):
    made = AskPane(Document(read("graded")), jobs)
    qtbot.addWidget(made)
    made.resize(256, 560)
    made.show()
    qtbot.waitExposed(made)
    return made


def asked(pane, qtbot, value, free="Solids"):
    pane.free.setCurrentIndex(pane.free.findText(free))
    pane.free.activated.emit(pane.free.currentIndex())
    pane.value.setText(value)
    pane.look.click()
    qtbot.waitUntil(lambda: pane.sentence.text() not in ("", "Looking…"), timeout=20000)
    return pane.sentence.text()


def test_asked_about_a_groove_it_shows_the_number_as_it_is(pane):
    pane.about("groove_overfall_mm", groove=9)
    now = float(quantity("groove_overfall_mm").get(pane.document.evaluation)[8])
    assert pane.groove.currentText() == "groove 9" and float(pane.value.text()) == pytest.approx(now, abs=0.005)
    assert not pane.at_height.isVisible()


def test_the_answer_is_a_sentence_and_setting_it_is_one_undo_step(pane, qtbot):
    pane.about("groove_overfall_mm", groove=9)
    assert asked(pane, qtbot, "0").startswith("Groove 9 is just buried at solids 37.0")
    pane.set_it.click()
    assert pane.document.undo_stack.count() == 1
    assert float(quantity("groove_overfall_mm").get(pane.document.evaluation)[8]) == pytest.approx(0.0, abs=1e-5)


def test_where_nothing_does_it_there_is_nothing_to_set(pane, qtbot):
    pane.about("groove_overfall_mm", groove=1)
    assert "does it" in asked(pane, qtbot, "0")
    assert pane.set_it.isHidden()


def test_a_number_at_a_height_asks_for_the_height(pane, qtbot):
    pane.about("repose_deg", height_mm=180.0)
    assert pane.at_height.isVisible() and pane.at_height.text() == "180.0"
    assert "repose angle at 180.0 mm is 5.00 °" in asked(pane, qtbot, "5", "Water").lower()


@pytest.mark.parametrize("text", ["", "soon"])
def test_nonsense_is_refused_in_a_sentence(pane, text):
    pane.about("mass_kg")
    pane.value.setText(text)
    pane.look.click()
    assert "not a number" in pane.sentence.text()


def test_a_crossed_range_is_refused_in_a_sentence(pane, qtbot):
    pane.about("mass_kg")
    pane.between.show_range(60.0, 20.0, "%")
    pane.value.setText("12")
    pane.look.click()
    qtbot.waitUntil(lambda: "is empty" in pane.sentence.text(), timeout=5000)


def test_it_asks_of_the_study_as_it_stands(pane, qtbot):
    pane.document.edit_duty(replace(pane.document.duty, d50_um=180.0), "Coarser")
    pane.document.flush()
    pane.about("groove_overfall_mm", groove=9)
    sentence = asked(pane, qtbot, "0")
    assert "just buried" in sentence and "56." not in sentence


def test_find_one_number_opens_on_the_page_find_about_what_is_looked_at(qtbot, tmp_path, monkeypatch):
    hands = Hands(qtbot, tmp_path, monkeypatch)
    hands.page.pointer.point(groove=9, quantity="groove_overfall_mm")
    hands.do("Find one number")
    page = hands.window.pages.shown
    assert hands.window.pages.title == "Find" and page.one.isVisible() and page.form.isVisible()
    assert page.one.groove.currentText() == "groove 9" and page.one.quantity.currentData() == "groove_overfall_mm"
