"""The buttons beside design and duty: every edit one undo step, no dialog, refusals in a sentence."""

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtTest import QTest

from profiler.study.files.examples import read
from profiler.ui.document.document import Document
from profiler.ui.forms.list_menu import NameBox
from profiler.ui.shape.duty_bar import DutyBar


@pytest.fixture
def bar(qtbot):
    document = Document(read("graded"))
    made = DutyBar(document)
    qtbot.addWidget(made)
    made.resize(1280, 46)
    made.show()
    qtbot.waitExposed(made)
    made.show_study(document.study)
    return made


def choose(button, words):
    menu = button.made()
    entry = next(a for a in menu.actions() if a.text() == words)
    entry.trigger()
    button.parentWidget().parentWidget().show_study(button.document.study)
    menu.deleteLater()


def rename(button, name, end=Qt.Key.Key_Return):
    button.rename()
    (box,) = button.parentWidget().findChildren(NameBox)
    box.selectAll()
    QTest.keyClicks(box, name)
    QTest.keyClick(box, end)
    button.parentWidget().parentWidget().show_study(button.document.study)
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def names(bar, of):
    return [i.name for i in getattr(bar.document.study, of)]


def test_duplicate_rename_and_delete_are_one_undo_step_each(bar):
    choose(bar.designs, "Duplicate")
    assert bar.design.currentText() == "Graded, first try, copy"
    rename(bar.designs, "Second try")
    assert names(bar, "designs")[1] == "Second try" == bar.design.currentText()
    choose(bar.designs, "Delete")
    assert bar.document.undo_stack.count() == 3 and len(names(bar, "designs")) == 3
    for _ in range(3):
        bar.document.undo_stack.undo()
    assert bar.document.study == read("graded")


def test_escape_while_renaming_leaves_the_name(bar):
    rename(bar.duties, "Other", Qt.Key.Key_Escape)
    assert names(bar, "duties")[0] == "As designed" and bar.document.undo_stack.count() == 0


def test_a_taken_name_is_refused_with_a_sentence(bar):
    said = []
    bar.document.announced.connect(said.append)
    rename(bar.duties, "Thin and fine")
    assert "already" in said[0] and bar.document.undo_stack.count() == 0


def test_a_duty_goes_into_the_ore_window_and_out_again(bar):
    before = bar.document.duty.in_window
    choose(bar.duties, "In the ore window")
    assert bar.document.duty.in_window is not before
    choose(bar.duties, "In the ore window")
    assert bar.document.duty.in_window is before


def test_a_design_becomes_the_reference_and_moves_down(bar):
    choose(bar.designs, "Reference for differences")
    choose(bar.designs, "Move down")
    assert bar.document.study.reference == "Graded, first try" == names(bar, "designs")[1]


def test_any_design_may_be_wished_as_a_ghost(bar):
    wished = []
    bar.designs.ghost_wanted.connect(wished.append)
    menu = bar.designs.made()
    ghosts = next(a.menu() for a in menu.actions() if a.text() == "Show as a ghost")
    for action in ghosts.actions():
        if action.text():
            action.trigger()
    assert wished == [*bar.document.study.designs, None]
    menu.deleteLater()
