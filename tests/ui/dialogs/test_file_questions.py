"""Which file: the dialogs themselves, typed into and given up; the suffix is added where it is missing."""

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDialog, QFileDialog, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from profiler.ui.dialogs import dialogs
from profiler.ui.dialogs.ask_file import ask_file
from profiler.ui.dialogs.export_dialog import ExportChoice, ExportDialog
from tests.ui.dialogs.test_boxes import button, meet

pytestmark = [
    pytest.mark.usefixtures("real_questions"),
    pytest.mark.qt_log_ignore("This plugin does not support"),  # raising a window without a screen
]

Ask = Callable[[QWidget, Path], Path | None]
# question, what is typed, and the path that comes of it
TYPED: dict[str, tuple[Ask, str, str]] = {
    "open": (dialogs.ask_open, "there.bowl", "there.bowl"),
    "table": (lambda w, folder: dialogs.ask_table(w), "there.csv", "there.csv"),
    "save": (lambda w, folder: dialogs.ask_save(w, folder / "untitled.bowl"), "new", "new.bowl"),
    "file": (lambda w, folder: ask_file(w, "Save", str(folder / "c.csv"), "csv"), "mine.csv", "mine.csv"),
    "output, its own type": (
        lambda w, folder: dialogs.ask_output(w, "Write", folder / "d.pdf", (".pdf", ".svg")), "mine", "mine.pdf",
    ),
    "output, another type": (
        lambda w, folder: dialogs.ask_output(w, "Write", folder / "d.pdf", (".pdf", ".svg")), "mine.svg", "mine.svg",
    ),
    "folder": (lambda w, folder: dialogs.ask_folder(w, "Into", folder), "sub", "sub"),
}  # fmt: skip


@pytest.fixture
def parent(qtbot: QtBot) -> QWidget:
    widget = QWidget()
    qtbot.addWidget(widget)
    widget.show()
    return widget


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name in ("there.bowl", "there.csv"):
        (tmp_path / name).write_text("-", encoding="utf-8")
    (tmp_path / "sub").mkdir()
    return tmp_path


@pytest.mark.parametrize("name", TYPED)
def test_what_is_typed_is_where_it_goes(parent: QWidget, folder: Path, name: str) -> None:
    ask, typed, wanted = TYPED[name]

    def type_it(dialog: QDialog) -> None:
        assert isinstance(dialog, QFileDialog)
        box = dialog.findChild(QLineEdit, "fileNameEdit")
        box.setText(str(folder / typed))
        QTest.keyClick(box, Qt.Key.Key_Return)

    wrong = meet(type_it)
    assert ask(parent, folder) == folder / wanted and wrong == []


@pytest.mark.parametrize("name", TYPED)
def test_given_up_there_is_no_path(parent: QWidget, folder: Path, name: str) -> None:
    wrong = meet(lambda dialog: QTest.keyClick(dialog, Qt.Key.Key_Escape))
    assert TYPED[name][0](parent, folder) is None and wrong == []


def test_the_export_asks_for_output_path_and_what_that_output_wants_at_once(parent: QWidget, folder: Path) -> None:
    def fill(dialog: QDialog) -> None:
        assert isinstance(dialog, ExportDialog)
        full = dialog.options["full"]
        assert full.isVisible()
        QTest.keyClick(full, Qt.Key.Key_Down)
        dialog.path.setText(str(folder / "section"))
        QTest.mouseClick(button(dialog, "Export anyway"), Qt.MouseButton.LeftButton)

    wrong = meet(fill)
    chosen = dialogs.ask_export(parent, ExportChoice(folder / "a.dxf"), stops=2)
    assert wrong == [] and chosen is not None
    assert (chosen.path, chosen.kind, chosen.values["full"]) == (folder / "section.dxf", "profile", "full")
    wrong = meet(lambda dialog: QTest.keyClick(dialog, Qt.Key.Key_Escape))
    assert dialogs.ask_export(parent, ExportChoice(folder / "a.dxf")) is None and wrong == []


def test_the_export_follows_the_output_that_is_chosen(parent: QWidget, folder: Path) -> None:
    def another(dialog: QDialog) -> None:
        assert isinstance(dialog, ExportDialog)
        QTest.keyClick(dialog.kind, Qt.Key.Key_End)
        assert dialog.output.key == dialog.kind.currentData() != "profile"
        assert not any(box.isVisible() for box in dialog.options.values()) or dialog.output.at_once
        QTest.mouseClick(button(dialog, "Export"), Qt.MouseButton.LeftButton)

    wrong = meet(another)
    chosen = dialogs.ask_export(parent, ExportChoice(folder / "a.dxf"))
    assert wrong == [] and chosen is not None and chosen.kind != "profile"
