"""Export of the section from the window, and its question."""

from pathlib import Path

import ezdxf
import pytest
from msgspec.structs import replace
from PySide6.QtCore import QTimer
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QApplication, QDialogButtonBox, QLabel, QPushButton
from pytestqt.qtbot import QtBot

from profiler.output import outputs
from profiler.study.files import examples
from profiler.study.records.duty import SPEED
from profiler.ui.dialogs import dialogs
from profiler.ui.dialogs.export_dialog import ExportChoice, ExportDialog
from profiler.ui.help.help_window import FILES, pages
from profiler.ui.page_stack import DRAWING
from tests.output.test_outputs import CARD
from tests.ui.hands import Hands

Buttons = QDialogButtonBox.StandardButton
ask_export = dialogs.ask_export  # the real one: tests replace it


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


@pytest.fixture
def opened(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The folders the system was asked to show."""
    shown: list[str] = []
    monkeypatch.setattr(QDesktopServices, "openUrl", lambda url: shown.append(url.toLocalFile()))
    return shown


FULL = {"full": "full"}


def exported(hands: Hands, name: str = "bowl.dxf", full: bool = False, kind: str = "profile") -> Path:
    path = hands.folder / name
    values = {"full": "full" if full else "half"} if kind == "profile" else {}
    hands.answers.answer("ask_export", ExportChoice(path, kind, values))
    hands.click(hands.window.export_button)
    ended(hands)
    return path


def ended(hands: Hands) -> None:
    hands.qtbot.waitUntil(lambda: not hands.window.exporting.busy, timeout=20000)


def kinds(path: Path) -> tuple[int, int]:
    space = ezdxf.readfile(path).modelspace()
    return len(space.query("LINE")), len(space.query("ARC"))


@pytest.mark.parametrize("full", [False, True])
def test_the_section_is_written_and_the_sentence_says_what_was_written(hands: Hands, full: bool) -> None:
    path = exported(hands, full=full)
    lines, arcs = kinds(path)
    assert lines > 10 and arcs > 10
    assert hands.said == f"bowl.dxf written: {lines + arcs} lines and arcs, closed."


def test_afterwards_the_folder_is_offered_and_shown(hands: Hands, opened: list[str]) -> None:
    exported(hands)
    button = next(b for b in hands.window.message.findChildren(QPushButton) if b.text() == "Show in folder")
    assert button.isVisible()
    hands.click(button)
    assert opened == [str(hands.folder)]
    hands.type_into(hands.page.duty_bar.boxes[SPEED], "650")
    assert not button.isVisible()  # the next thing is done


def test_the_export_changes_nothing_in_the_study(hands: Hands) -> None:
    before = hands.study
    exported(hands)
    assert hands.study is before and hands.steps == 0 and not hands.document.modified


def test_cancelling_writes_nothing(hands: Hands) -> None:
    hands.answers.answer("ask_export", None)
    hands.do("Export section…")
    assert not list(hands.folder.glob("*.dxf"))


def test_a_drawing_with_stops_says_so(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    hands = Hands(qtbot, tmp_path, monkeypatch, examples.read("faulty"))
    path = exported(hands)
    assert "NOT CHECKED" in hands.said and "NOT CHECKED" in path.read_text(errors="replace")


def test_a_design_that_cannot_be_drawn_is_not_exported_and_the_reason_is_told(hands: Hands) -> None:
    hands.document.edit_design(_with_mouth(hands, 60.0), "Too wide")
    hands.settle()
    hands.do("Export section…")
    assert not list(hands.folder.glob("*.dxf")) and not hands.answers.asked
    assert hands.page.scene().trouble in hands.answers.told[0]


def test_a_place_where_nothing_can_be_written_is_told(hands: Hands) -> None:
    (hands.folder / "plain").write_text("a file, not a folder")
    exported(hands, "plain/bowl.dxf")
    exported(hands, "no such folder/bowl.dxf")
    assert len(hands.answers.told) == 2 and all("bowl.dxf" in t for t in hands.answers.told)


def test_when_writing_fails_the_old_drawing_stays(hands: Hands, monkeypatch: pytest.MonkeyPatch) -> None:
    path = exported(hands)
    old = path.read_bytes()
    hands.document.edit_design(_with_mouth(hands, 12.0), "Narrower")
    hands.settle()

    def full_disk(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full_disk)
    hands.answers.answer("ask_replace", True)
    exported(hands)
    assert path.read_bytes() == old
    assert len(hands.answers.told) == 1 and "no space left" in hands.answers.told[0]
    assert [p.name for p in hands.folder.iterdir() if "bowl" in p.name] == ["bowl.dxf"]


def test_the_study_itself_is_not_overwritten_by_its_drawing(hands: Hands) -> None:
    hands.answers.answer("ask_save", hands.folder / "mine.bowl")
    hands.do("Save")
    old = (hands.folder / "mine.bowl").read_bytes()
    exported(hands, "mine.bowl")
    assert (hands.folder / "mine.bowl").read_bytes() == old
    assert "the study itself" in hands.answers.told[0]


def test_the_folder_and_the_kind_of_section_are_remembered(hands: Hands) -> None:
    (hands.folder / "shop").mkdir()
    exported(hands, "shop/bowl.dxf", full=True)
    proposed = []
    monkey = pytest.MonkeyPatch()
    monkey.setattr(dialogs, "ask_export", lambda parent, choice, stops: proposed.append(choice))
    hands.do("Export section…")
    monkey.undo()
    assert proposed == [ExportChoice(hands.folder / "shop" / "graded-first-try.dxf", "profile", FULL)]


def test_the_name_proposed_joins_study_and_design(hands: Hands, monkeypatch: pytest.MonkeyPatch) -> None:
    hands.answers.answer("ask_save", hands.folder / "Pilot plant.bowl")
    hands.do("Save")
    assert hands.window.exporting.suggestion(".dxf") == hands.folder / "pilot-plant-graded-first-try.dxf"


def test_the_quick_export_writes_the_drawing_too_and_remembers_that(hands: Hands) -> None:
    path = exported(hands, "sheet.dxf", kind="drawing")
    assert "drawing on 1 sheet" in hands.said
    texts = {t.dxf.text for t in ezdxf.readfile(path).modelspace().query("TEXT")}
    assert any("Graded, first try" in t for t in texts)  # the title block: a bare profile has none
    proposed = []
    monkey = pytest.MonkeyPatch()
    monkey.setattr(dialogs, "ask_export", lambda parent, choice, stops: proposed.append(choice))
    hands.do("Export section…")
    monkey.undo()
    assert proposed[0].kind == "drawing" and proposed[0].path.suffix == ".dxf"


# the question itself


def asked(hands: Hands, path: Path | None = None, full: bool | None = None, button=Buttons.Save):
    """Ask for real; a moment later the open dialog is filled in and a button of it pressed."""

    def fill_in() -> None:
        dialog = next(w for w in QApplication.topLevelWidgets() if isinstance(w, ExportDialog) and w.isVisible())
        if path is not None:
            dialog.path.setText(str(path))
        if full is not None:
            dialog.options["full"].setCurrentIndex(1 if full else 0)
        dialog.findChild(QDialogButtonBox).button(button).click()

    QTimer.singleShot(0, fill_in)
    return ask_export(hands.window, ExportChoice(hands.folder / "a.dxf"))


def test_the_question_proposes_a_path_and_gives_back_what_was_chosen(hands: Hands) -> None:
    assert asked(hands) == ExportChoice(hands.folder / "a.dxf", "profile", {"full": "half"})
    assert asked(hands, full=True) == ExportChoice(hands.folder / "a.dxf", "profile", FULL)


def test_the_suffix_is_added_where_it_was_left_out(hands: Hands) -> None:
    assert asked(hands, hands.folder / "outline.v2").path == hands.folder / "outline.v2.dxf"


def test_the_question_can_be_cancelled(hands: Hands) -> None:
    assert asked(hands, button=Buttons.Cancel) is None


def _with_mouth(hands: Hands, mouth_mm: float):
    from profiler.study.edits import design_edits as edits

    return edits.with_grooves(hands.design, replace(hands.design.grooves, mouth_mm=mouth_mm))


def test_a_drawing_that_is_there_already_is_replaced_only_when_wanted(hands: Hands) -> None:
    path = hands.folder / "bowl.dxf"
    path.write_text("the shop's")
    hands.answers.answer("ask_export", ExportChoice(path))
    hands.answers.answer("ask_replace", False)
    hands.do("Export section…")
    assert path.read_text() == "the shop's"
    hands.answers.answer("ask_replace", True)
    hands.do("Export section…")
    ended(hands)
    assert path.read_text() != "the shop's"


def test_a_design_that_must_not_be_built_is_told_so_before_it_is_exported(hands: Hands) -> None:
    dialog = ExportDialog(hands.window, ExportChoice(hands.folder / "a.dxf"), 2)
    words = " ".join(label.text() for label in dialog.findChildren(QLabel))
    assert "2 stop findings stand" in words
    assert any(b.text() == "Export anyway" for b in dialog.findChildren(QPushButton))


def test_each_output_is_asked_its_own_options_and_offers_its_own_types(hands: Hands) -> None:
    dialog = ExportDialog(hands.window, ExportChoice(hands.folder / "a.dxf", kind="drawing"))
    assert not dialog.form.isRowVisible(dialog.options["full"]) and "title block" in dialog.what.text()
    assert dialog.choice == ExportChoice(hands.folder / "a.dxf", "drawing")  # a drawing can be DXF too
    dialog.kind.setCurrentIndex(dialog.kind.findData("profile"))
    assert dialog.form.isRowVisible(dialog.options["full"]) and dialog.choice.values == {"full": "half"}
    dialog.kind.setCurrentIndex(dialog.kind.findData("report"))
    assert dialog.choice.path == hands.folder / "a.pdf"
    dialog.path.setText(str(hands.folder / "a.html"))
    assert dialog.choice.path == hands.folder / "a.html"


def test_an_output_added_to_the_table_is_on_the_page_and_in_the_dialog(hands: Hands, monkeypatch) -> None:
    monkeypatch.setattr(outputs, "OUTPUTS", (*outputs.OUTPUTS, CARD))
    assert "Weight card" in pages(())[FILES]
    dialog = ExportDialog(hands.window, ExportChoice(hands.folder / "a.dxf"))
    dialog.kind.setCurrentIndex(dialog.kind.findData("card"))
    assert dialog.choice == ExportChoice(hands.folder / "a.txt", "card") and "made up by a test" in dialog.what.text()
    page = hands.window.pages.open(DRAWING)
    page.open_kind("card")
    assert page.parts.kinds.currentItem().text() == "Weight card" and "card" in page.parts.write_all.toolTip()
    assert {"card_type", "card_unit", "copies", "signed"} == set(page.forms[-1].widgets)
    hands.qtbot.waitUntil(lambda: page.shown is not None and page.shown.question.kind == "card", timeout=10000)
    assert page.parts.table.table.rows[0][0].startswith("Graded, first try")
    exported(hands, "c.txt", kind="card")
    assert hands.said == "c.txt written: weight card."
