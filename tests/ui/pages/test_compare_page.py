"""The comparison page: it asks when it is seen, shows every design, and writes what it shows."""

import pytest
from msgspec.structs import replace

from profiler.explore.compare import ROWS
from profiler.study.edits import list_edits
from profiler.study.edits.list_edits import Listed
from profiler.study.files.examples import read
from profiler.ui.compare import compare as page_module
from profiler.ui.compare.compare import ComparePage
from profiler.ui.document.document import Document
from profiler.ui.widgets.theme import DARK
from profiler.ui.work.jobs import Jobs


def windowed():
    study = read("graded")
    return replace(study, duties=tuple(replace(d, in_window=True) for d in study.duties))


@pytest.fixture
def jobs(qapp):
    made = Jobs()
    yield made
    made.close()


@pytest.fixture
def page(qtbot, jobs):
    made = ComparePage(Document(windowed()), jobs, lambda: None)
    qtbot.addWidget(made)
    made.resize(1280, 660)
    made.show()
    qtbot.waitExposed(made)
    made.activated()
    qtbot.waitUntil(lambda: made.comparison is not None)
    return made


def texts(page, head):
    rows = {page.table.item(r, 0).text(): r for r in range(page.table.rowCount())}
    return [page.table.item(rows[head], c).text() for c in range(1, page.table.columnCount())]


def test_every_design_has_a_column_and_the_top_says_what_is_the_same(page):
    heads = [page.table.horizontalHeaderItem(c).text() for c in range(1, page.table.columnCount())]
    assert heads == ["Graded, first try\n(reference)", "Plain cone", "Cone under an upright top"]
    assert "580 rpm" in page.heading.text() and "Pilot rotor" in page.heading.text()
    assert texts(page, "Grooves, strong overturn") == ["2", "0", "0"]  # groove 1 lies below the entry height


def test_the_top_follows_the_view(page):
    for index in range(page.view.count()):
        page.view.setCurrentIndex(index)
        page._show()
        assert page.heading.text() == "\n".join(page.comparison.conditions(page.view.itemData(index)))


def test_the_better_mass_is_marked_and_no_state_is(page):
    marked = [t for t in texts(page, "Body mass") if "◂" in t]
    mass = next(row for row in ROWS if row.key == "mass_kg")
    least = min(mass.get(s.shown) for s in page.comparison.results)
    assert marked == [f"{least:.2f} kg ◂"]
    assert not any("◂" in t for t in texts(page, "Share of wall height, sheltered"))


def test_the_view_shows_a_duty_or_the_window(page):
    assert [page.view.itemText(i) for i in range(page.view.count())][-1] == "Ore window, lowest to highest"
    page.view.setCurrentIndex(page.view.count() - 1)
    page.view.activated.emit(page.view.count() - 1)
    assert texts(page, "Grooves, strong overturn")[0] == "0 to 4"


def test_an_edit_is_compared_anew_and_the_chosen_view_stays(page, qtbot):
    page.view.setCurrentIndex(2)
    before = page.comparison
    page.document.edit(list_edits.duplicate(page.document.study, Listed.DESIGN), "Duplicate a design")
    qtbot.waitUntil(lambda: page.comparison is not before)
    assert page.table.columnCount() == 5 and page.view.currentIndex() == 2


def test_nothing_is_asked_while_it_is_not_seen(qtbot, jobs):
    hidden = ComparePage(Document(windowed()), jobs, lambda: None)
    qtbot.addWidget(hidden)
    hidden.document.flush()
    assert hidden.comparison is None and not jobs.busy


def test_one_design_only_is_said(page, qtbot):
    study = page.document.study
    page.document.edit(replace(study, designs=study.designs[:1]), "One only")
    qtbot.waitUntil(lambda: len(page.comparison.results) == 1)
    assert "one design only" in page.remarks.text()


def test_csv_and_pdf_are_written_where_asked(page, monkeypatch, tmp_path):
    monkeypatch.setattr(page_module, "ask_file", lambda parent, title, name, suffix: tmp_path / f"c.{suffix}")
    said = []
    page.document.announced.connect(said.append)
    page.save_csv()
    page.save_pdf()
    assert said == ["c.csv written.", "c.pdf written."]
    assert (tmp_path / "c.csv").read_text(encoding="utf-8").startswith("design,reference,duty")
    assert (tmp_path / "c.pdf").read_bytes().startswith(b"%PDF-")


def test_a_cancelled_question_and_an_unwritable_folder_change_nothing(page, monkeypatch, tmp_path):
    said = []
    page.document.announced.connect(said.append)
    monkeypatch.setattr(page_module, "ask_file", lambda *_: None)
    page.save_csv()
    assert said == []
    monkeypatch.setattr(page_module, "ask_file", lambda *_: tmp_path / "nowhere" / "c.csv")
    page.save_csv()
    assert "cannot be written" in said[0]


def test_it_repaints_in_dark_without_a_failure(page):
    page.show_theme(DARK)
    page.grab()
    assert not any(c.failure for c in (page.walls, page.power, page.shares))
