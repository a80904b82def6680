"""The ore map page: asked beside the window, newest wins, hovering reads what the window would read there."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from profiler.assess import evaluate
from profiler.assess.quantities.table import quantity
from profiler.pictures.charts.map_picture import duty_reading, frame_of
from profiler.study.files.examples import read
from profiler.ui.document.document import Document
from profiler.ui.ore.ore_map import OreMapPanel
from profiler.ui.work.jobs import Jobs


@pytest.fixture
def jobs(qapp):
    made = Jobs()
    yield made
    made.close()


@pytest.fixture
def page(qtbot, jobs):
    made = OreMapPanel(Document(read("graded")), jobs)
    made.lines = 14
    qtbot.addWidget(made)
    made.resize(1280, 660)
    made.show()
    qtbot.waitExposed(made)
    made.activated()
    answered(made, qtbot)
    return made


def answered(page, qtbot):
    qtbot.waitUntil(lambda: page.map is not None and page.canvas.isEnabled() and not page.jobs.busy, timeout=20000)


def at(page, row, column):
    frame = frame_of(page.map, float(page.canvas.width()), float(page.canvas.height()))
    return QPoint(round(frame.x.px(page.map.x[column])), round(frame.y.px(page.map.y[row])))


def test_the_map_holds_what_the_window_shows_at_the_present_point(page):
    row, column = page.map.at(*page.map.present)
    assert page.map.values.shape == (14, 14)
    assert page.map.values[row, column] == float(quantity("share_sheltered_pct").get(page.document.evaluation)[0])


def test_hovering_reads_all_that_evaluate_says_there(page):
    QTest.mouseMove(page.canvas, at(page, 10, 3))
    e = evaluate(page.document.design, page.document.study.machine, page.map.duty_at(10, 3))
    assert duty_reading(e) in page.reading.text()
    assert f"{page.map.values[10, 3]:.1f} %" in page.reading.text()
    assert "solids" in page.reading.text() and "µm" in page.reading.text()


def test_a_double_click_takes_the_point_as_the_duty_in_one_undo_step(page, qtbot):
    wanted = page.map.snapped_duty_at(7, 9)
    QTest.mouseDClick(page.canvas, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, at(page, 7, 9))
    assert page.document.duty == wanted and page.document.undo_stack.count() == 1
    page.document.flush()
    answered(page, qtbot)
    assert page.map.present == (wanted.solids_pct, wanted.d50_um)


def test_many_edits_at_once_end_in_the_map_of_the_last(page, qtbot):
    for solids in (30.0, 35.0, 47.5):
        page.document.edit_duty(replace(page.document.duty, solids_pct=solids), "Change solids")
        page.document.flush()
    answered(page, qtbot)
    qtbot.waitUntil(lambda: page.map.present[0] == 47.5)


def test_a_map_has_forty_lines_each_way(qtbot, jobs):
    made = OreMapPanel(Document(read("graded")), jobs)
    qtbot.addWidget(made)
    assert made.lines == 40


def test_nothing_is_worked_out_during_a_gesture(page, qtbot):
    document, before = page.document, page.map
    document.begin("Scrub")
    document.edit_duty(replace(document.duty, solids_pct=50.0), "x")
    document.flush()
    qtbot.wait(50)
    assert page.map is before and not page.jobs.busy
    document.commit()
    document.flush()
    answered(page, qtbot)
    qtbot.waitUntil(lambda: page.map.present[0] == 50.0)


def test_the_range_follows_the_duty_until_one_is_typed_and_the_other_stays_free(page, qtbot):
    def shown():
        return [float(box.text()) for r in (page.across_range, page.upward_range) for box in (r.low, r.high)]

    first, (x, y) = shown(), page.map.present
    assert first[0] < x < first[1] and first[2] < y < first[3]
    page.across_range.low.setText("31")
    page.across_range.low.editingFinished.emit()
    answered(page, qtbot)
    qtbot.waitUntil(lambda: page.map.asked.x.low == 31.0)
    page.document.edit_duty(replace(page.document.duty, d50_um=300.0), "Coarser")
    page.document.flush()
    answered(page, qtbot)
    qtbot.waitUntil(lambda: page.map.present[1] == 300.0)
    assert shown()[:2] == [31.0, first[1]] and shown()[2] < 300.0 < shown()[3]


@pytest.mark.parametrize(("low", "high", "words"), [("60", "20", "is empty"), ("0", "20", "must lie between")])
def test_a_range_that_is_none_is_told_in_a_sentence_and_greys_the_map(page, low, high, words):
    page.across_range.low.setText(low)
    page.across_range.high.setText(high)
    page.across_range.high.editingFinished.emit()
    assert words in page.reading.text() and not page.canvas.isEnabled()


def test_nonsense_in_a_range_is_refused_and_the_range_stays(page):
    said, before = [], page.upward_range.low.text()
    page.document.announced.connect(said.append)
    page.upward_range.low.setText("fine")
    page.upward_range.low.editingFinished.emit()
    assert "not a number" in said[0] and page.upward_range.low.text() == before and page.canvas.isEnabled()


def test_the_same_axis_twice_is_told(page):
    page.upward.setCurrentIndex(0)
    page.upward.activated.emit(0)
    assert "two different" in page.reading.text()


def test_a_groove_quantity_asks_for_its_groove(page, qtbot):
    assert not page.groove.isVisible()
    page.quantity.setCurrentIndex(page.quantity.findData("groove_ratio"))
    page.quantity.activated.emit(0)
    assert page.groove.isVisible()
    answered(page, qtbot)
    qtbot.waitUntil(lambda: page.map.asked.groove == 7)
    row, column = page.map.at(*page.map.present)
    assert page.map.values[row, column] == float(quantity("groove_ratio").get(page.document.evaluation)[6])


def test_a_design_that_cannot_be_drawn_is_told(page, qtbot):
    design = page.document.design
    page.document.edit_design(replace(design, grooves=replace(design.grooves, mouth_mm=60.0)), "Too wide")
    page.document.flush()
    qtbot.waitUntil(lambda: not page.canvas.isEnabled() and "cannot be mapped" in page.reading.text())


def test_the_progress_is_in_sight_only_while_the_map_is_worked_out(page, qtbot):
    page.activated()
    assert page.progress.isVisible() or not page.jobs.busy
    answered(page, qtbot)
    assert not page.progress.isVisible()
