"""Worn, a view of Compare: a profile read, asked about, kept; the answer above what it rests on; one view at a time."""

import pytest
from PySide6.QtWidgets import QCheckBox, QComboBox, QDialog, QLineEdit

from profiler.assess.shape.shape_stage import shape_of
from profiler.assess.worn.wear import PROMISE
from profiler.explore.worn_look import WornAsked, worn_look
from profiler.pictures.basics.display import Label
from profiler.pictures.charts.worn_picture import worn_picture
from profiler.study.edits.profile_edits import with_profile
from profiler.study.files.examples import read
from profiler.ui.compare.compare import ComparePage
from profiler.ui.compare.profile_dialog import ProfileDialog
from profiler.ui.dialogs import dialogs
from profiler.ui.document.document import Document
from profiler.ui.work.jobs import Jobs

STUDY = read("graded")
SHAPE = shape_of(STUDY.design, STUDY.machine)[0]
LANDS = [0.5 * (low + high) for low, high in zip(SHAPE.mouths.upper[:-1], SHAPE.mouths.lower[1:], strict=True)]
ROWS = [(float(SHAPE.wall.radius_at(z)) + 0.9, z) for z in LANDS]
POINTS = "r mm,z mm\n" + "".join(f"{r:.3f},{z:.3f}\n" for r, z in ROWS)


@pytest.fixture
def page(qtbot):
    jobs = Jobs()
    made = ComparePage(Document(STUDY), jobs, lambda: None)
    qtbot.addWidget(made)
    made.resize(1280, 660)
    made.show()
    qtbot.waitExposed(made)
    made.worn_button.click()
    yield made
    jobs.close()


def looked(page, qtbot):
    page.worn.ask_button.click()
    qtbot.waitUntil(lambda: not page.jobs.busy and "Working" not in page.worn.answer.text(), timeout=30000)


def test_a_typed_rate_shows_the_bowl_worn_and_is_kept_as_a_design_in_one_step(page, qtbot):
    page.worn.rate.setText("0.3 to 0.5")
    page.worn.hours.setText("3000")
    page.worn.limit.setText("4")
    looked(page, qtbot)
    assert "With 1.20 ± 0.30 mm gone after 3000 h" in page.worn.answer.text()
    assert "8000 h to 13" in page.worn.told.toPlainText() and "New beside worn" in page.worn.told.toPlainText()
    said = [label.text() for label in page.worn.findChildren(type(page.worn.answer))]
    assert any(PROMISE in text for text in said)
    page.worn.keep.click()
    assert page.document.study.design.name == "Graded, first try, 3000 h"
    assert page.document.undo_stack.count() == 1


def test_a_profile_is_read_and_kept_and_asked_for_its_unit(page, qtbot, monkeypatch, tmp_path):
    path = tmp_path / "points.csv"
    path.write_text(POINTS)
    monkeypatch.setattr(dialogs, "ask_profile", lambda parent: path)

    def by_hand(dialog):
        dialog.serial.setText("A1")
        dialog.hours.setText("1500")
        dialog.take()
        return QDialog.DialogCode.Accepted

    monkeypatch.setattr(ProfileDialog, "exec", by_hand)
    page.worn.read_button.click()
    qtbot.waitUntil(lambda: not page.jobs.busy and page.worn.look is not None, timeout=30000)
    assert page.document.study.profiles[0].name == "A1, 1500 h" == page.worn.profile.currentText()
    assert page.worn.look.over is not None and "mm in 1,000 h" in page.worn.told.toPlainText()
    assert not page.worn.canvas.grab().isNull() and page.worn.canvas.failure == ""
    page.worn.forget.click()
    assert page.document.study.profiles == () and page.worn.profile.currentIndex() == 0


def test_what_points_leave_in_doubt_is_asked_in_the_dialog(qtbot):
    for text, say, word in (
        ("r,z\n4.7,0\n6.3,6\n8.56,12.99\n", lambda d: d.unit.setCurrentIndex(3), "inch"),
        ("r mm,z\n217,0\n200,100\n160,250\n120,330\n", lambda d: d.way.setCurrentIndex(2), "upside down"),
    ):
        dialog = ProfileDialog(STUDY, None, points=text)
        qtbot.addWidget(dialog)
        dialog.take()
        assert dialog.made is None and word in dialog.sentence.text()
        say(dialog)
        dialog.take()
        assert len(dialog.made.profiles) == 1
    empty = ProfileDialog(STUDY, None, points="")
    qtbot.addWidget(empty)
    empty.take()
    assert empty.made is None and "nothing" in empty.sentence.text()


def test_one_view_at_a_time(page):
    page.sure_button.click()
    assert not page.worn_button.isChecked() and page.middle.currentWidget() is page.sure
    page.worn_button.click()
    assert not page.sure_button.isChecked() and page.middle.currentWidget() is page.worn
    page.worn_button.click()
    assert page.middle.currentIndex() == 0 and page.view.isEnabled()


@pytest.mark.parametrize(("box", "text", "words"), [("rate", "fast", "not a number"), ("hours", "9", "need a rate")])
def test_what_cannot_be_used_is_one_sentence(page, qtbot, box, text, words):
    getattr(page.worn, box).setText(text)
    looked(page, qtbot)
    assert words in page.worn.answer.text() and page.worn.look is None


def test_at_most_eight_inputs(page):
    kinds = (QComboBox, QLineEdit, QCheckBox)
    inputs = [box for kind in kinds for box in page.worn.findChildren(kind) if box.parent() is page.worn]
    assert 0 < len(inputs) <= 8


def test_the_picture_names_the_largest_deviation():
    study = with_profile(STUDY, STUDY.design, ROWS, "A1", "", 1500.0)
    look = worn_look(study, study.design, study.duty, WornAsked("A1, 1500 h"))
    words = [item.text for item in worn_picture(look, 0.5, 500.0, 400.0).items if isinstance(item, Label)]
    assert "A1, 1500 h" in words and f"{look.over.deviation[look.over.worst]:.2f} mm" in words
