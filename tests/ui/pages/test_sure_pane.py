"""How sure, a view of Compare: one sentence with its bowls, costs, and inputs that are not given are not ranked."""

import pytest

from profiler.explore.sure.castings import CAUTION, as_cast
from profiler.pictures.basics.display import Label
from profiler.pictures.charts.castings_picture import castings_picture
from profiler.study.files.examples import read
from profiler.ui.compare.compare import ComparePage
from profiler.ui.document.document import Document
from profiler.ui.work.jobs import Jobs


@pytest.fixture
def page(qtbot):
    jobs = Jobs()
    made = ComparePage(Document(read("graded")), jobs, lambda: None)
    qtbot.addWidget(made)
    made.resize(1200, 700)
    made.show()
    qtbot.waitExposed(made)
    made.sure_button.click()
    made.sure.bowls = 4
    yield made
    jobs.close()


def simulated(page, qtbot):
    page.sure.look.click()
    qtbot.waitUntil(lambda: page.sure.cast is not None and not page.jobs.busy, timeout=30000)


def test_the_answer_is_one_sentence_with_its_bowls_above_the_table(page, qtbot):
    page.sure.plus_minus.setText("solids=2, water=5")
    simulated(page, qtbot)
    assert "In 4 simulated bowls" in page.sure.sentence.text() and "As designed" in page.sure.sentence.text()
    assert CAUTION in [label.text() for label in page.sure.findChildren(type(page.sure.sentence))]
    said = page.sure.matters.text()
    assert "Solids" in said and "Not given, so not ranked: speed" in said and "angle" in page.sure.costs.text()
    page.sure_button.click()
    assert page.middle.currentIndex() == 0 and page.view.isEnabled()


@pytest.mark.parametrize(
    ("box", "text", "words"), [("angle", "wide", "not a number"), ("duty", "solids", "write it as")]
)
def test_what_cannot_be_read_is_one_sentence(page, box, text, words):
    (page.sure.plus_minus if box == "duty" else page.sure.tolerances["angle_deg"]).setText(text)
    page.sure.look.click()
    assert words in page.sure.sentence.text() and page.sure.cast is None


def test_the_picture_counts_its_bowls():
    study = read("graded")
    cast = as_cast(study.design, study.machine, study.duty, bowls=3)
    words = [item.text for item in castings_picture(cast, 600.0, 300.0).items if isinstance(item, Label)]
    assert any("of 3 simulated bowls" in w for w in words) and "friction 0.6, middle" in words
