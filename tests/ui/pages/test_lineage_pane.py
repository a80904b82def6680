"""Lineage, a view of Compare: the shown design in a sentence, its why in a box as one undo step, all in a table."""

import pytest

from profiler.study.edits import list_edits
from profiler.study.edits.list_edits import Listed
from profiler.study.files.examples import read
from profiler.ui.compare.compare import ComparePage
from profiler.ui.document.document import Document
from profiler.ui.work.jobs import Jobs


@pytest.fixture
def page(qtbot):
    jobs, study = Jobs(), read("graded")
    made = ComparePage(Document(list_edits.duplicate(study, Listed.DESIGN)), jobs, lambda: None)
    qtbot.addWidget(made)
    made.resize(1200, 700)
    made.show()
    qtbot.waitExposed(made)
    made.activated()
    qtbot.waitUntil(lambda: made.comparison is not None and not jobs.busy)
    made.lineage_button.click()
    yield made
    jobs.close()


def test_it_tells_of_every_design_and_gives_the_comparison_back(page):
    table = page.lineage.table
    rows = {table.item(r, 0).text(): table.item(r, 1).text() for r in range(table.rowCount())}
    assert rows["Graded, first try, copy"] == "A copy of “Graded, first try”." and len(rows) == 4
    assert "A copy of" in page.lineage.sentence.text() and not page.view.isEnabled()
    page.sure_button.click()
    assert page.middle.currentWidget() is page.sure and not page.lineage_button.isChecked()
    page.sure_button.click()
    assert page.middle.currentIndex() == 0 and page.view.isEnabled()


def test_the_why_is_one_undo_step_and_shown_at_once(page, qtbot):
    document, box = page.document, page.lineage.why
    box.setFocus()
    qtbot.keyClicks(box, "steeper near the lip")
    qtbot.keyClick(box, "\r")
    assert document.design.lineage.why == "steeper near the lip"
    assert document.undo_stack.undoText() == "Say why a design was made"
    qtbot.waitUntil(lambda: "Why: steeper near the lip." in page.lineage.sentence.text(), timeout=20000)
    document.undo_stack.undo()
    assert document.design.lineage.why == "" and document.design.lineage.origin
