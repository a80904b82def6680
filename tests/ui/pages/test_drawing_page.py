"""The drawing page: every kind is seen, written, printed and copied from it, and nothing of others is harmed."""

import csv
import os
import threading
from pathlib import Path
from types import SimpleNamespace

import ezdxf
import numpy as np
import pdfplumber
import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QImage, QPageLayout, QPageSize
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from profiler.output import outputs, writing
from profiler.output.drawings.profile_output import SHRINKAGE
from profiler.study import Study
from profiler.study.edits import design_edits as edits
from profiler.study.files import examples
from profiler.ui.dialogs import dialogs
from profiler.ui.document.document import Document
from profiler.ui.drawing import output_memory, printing
from profiler.ui.drawing.drawing import DrawingPage
from profiler.ui.drawing.exporting import Exporting
from profiler.ui.files.settings import OUTPUT, Settings
from profiler.ui.message_line import MessageLine
from profiler.ui.page_stack import DRAWING, SHAPE
from profiler.ui.widgets.theme import LIGHT, dress, rules
from profiler.ui.work.jobs import Jobs
from tests.tiers import kept
from tests.ui.hands import Answers, Hands
from tests.ui.window.test_layout import SIZES, outside, overlapping

KINDS = [o.key for o in outputs.OUTPUTS]
SHEETS = ("drawing", "profile", "gauge", "report", "setup", "moulder", "solid", "step")
FILES = [(o.key, suffix) for o in outputs.OUTPUTS for suffix in o.suffixes]
MM = 72.0 / 25.4  # points


class Desk(Hands):
    """The page alone, without the window round it, which takes longer to make than all the rest."""

    def __init__(self, qtbot: QtBot, folder: Path, patch: pytest.MonkeyPatch, study: Study | None = None) -> None:
        self.qtbot, self.folder, self.answers = qtbot, folder, Answers(patch)
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        dress(app, LIGHT)
        settings = Settings.in_file(folder / "settings.ini")
        self.document = Document(study or examples.read(examples.DEFAULT))
        holder = QWidget()
        qtbot.addWidget(holder, before_close_func=lambda _: jobs.close())
        jobs = Jobs(holder)
        writing = Exporting(self.document, settings, holder, jobs)
        page = DrawingPage(self.document, jobs, writing)
        message = MessageLine(self.document)
        holder.setStyleSheet(rules(LIGHT))
        writing.written.connect(lambda: message.offer("Show in folder", writing.show_in_folder))
        column = QVBoxLayout(holder)
        column.addWidget(page)
        column.addWidget(message)
        holder.resize(1280, 690)
        holder.show()
        qtbot.waitExposed(holder)
        holder.activateWindow()
        pages = SimpleNamespace(open=lambda _: page.activated() or page, currentWidget=lambda: page)
        self.window = SimpleNamespace(pages=pages, exporting=writing, settings=settings, message=message)


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return opened(Desk(qtbot, tmp_path, monkeypatch))


@pytest.fixture
def whole(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    """The page in its window."""
    return opened(Hands(qtbot, tmp_path, monkeypatch))


def opened(hands: Hands, kind: str = "drawing") -> Hands:
    page = hands.window.pages.open(DRAWING)
    page.open_kind(kind)
    seen(hands)
    return hands


def page_of(hands: Hands):
    return hands.window.pages.currentWidget()


def seen(hands: Hands):
    """Wait for the preview of what stands now."""
    page = page_of(hands)
    hands.rest()

    def there() -> bool:
        shown = page.shown
        return shown is not None and shown.question.same(page._question()) and not page.jobs.busy

    hands.qtbot.waitUntil(there, timeout=10000)
    return page.shown


def choose(hands: Hands, key: str, value: str | None) -> None:
    """Pick a value of an option, as a hand would."""
    combo = page_of(hands).forms[page_of(hands).parts.kinds.currentRow()].widgets[key]
    assert isinstance(combo, QComboBox)
    combo.setCurrentIndex(combo.findData(value))
    combo.activated.emit(combo.currentIndex())
    hands.settle()


def type_option(hands: Hands, key: str, text: str) -> None:
    line = page_of(hands).forms[page_of(hands).parts.kinds.currentRow()].widgets[key]
    assert isinstance(line, QLineEdit)
    hands.type_into(line, text)


def write(hands: Hands, path: Path) -> None:
    hands.answers.answer("ask_output", path)
    hands.click(page_of(hands).parts.write)
    hands.qtbot.waitUntil(lambda: not hands.window.exporting.busy, timeout=60000)


# seeing


def test_every_kind_is_shown_and_its_picture_is_not_empty(hands: Hands) -> None:
    page = page_of(hands)
    for kind in KINDS:
        page.open_kind(kind)
        shown = seen(hands)
        assert page.parts.heading.text().endswith("Graded, first try, As designed")
        if kind in SHEETS:
            assert shown.sheets and not page.parts.view.failure
            assert dark_points(page.parts.view) > 500, kind
        else:
            assert shown.table.rows and page.parts.table.model().rowCount() == len(shown.table.rows), kind


def dark_points(view) -> int:
    """How many of its points are ink."""
    image = view.grab().toImage().convertToFormat(QImage.Format.Format_Grayscale8)
    return int(np.count_nonzero(np.frombuffer(image.constBits(), np.uint8) < 90))


def test_every_example_is_shown(hands: Hands) -> None:
    for name in examples.names():
        hands.document.adopt(examples.read(name))
        shown = seen(hands)
        assert shown.sheets and shown.question.evaluation.design is hands.design, name


def test_the_preview_follows_an_edit_while_it_is_in_view_only(whole: Hands) -> None:
    hands = whole
    page = page_of(hands)
    before = page.shown
    hands.window.pages.open(SHAPE)
    hands.document.edit_design(_with_mouth(hands, 7.0), "Narrower")
    hands.rest()
    hands.qtbot.wait(300)
    assert page.shown is before and not page.jobs.busy
    hands.window.pages.open(DRAWING)
    assert seen(hands).question.evaluation.design.grooves.mouth_mm == 7.0
    hands.undo()
    hands.qtbot.waitUntil(lambda: page.shown.question.evaluation.design.grooves.mouth_mm == 8.0, timeout=10000)


def test_nothing_is_drawn_while_something_is_dragged(hands: Hands) -> None:
    page, before = page_of(hands), page_of(hands).shown
    hands.document.begin("Drag")
    hands.document.edit_design(_with_mouth(hands, 7.0), "Narrower")
    hands.rest()
    hands.qtbot.wait(300)
    assert page.shown is before and page._asked is before.question
    hands.document.commit()
    hands.qtbot.waitUntil(lambda: page.shown.question.evaluation.design.grooves.mouth_mm == 7.0, timeout=10000)


def test_the_page_takes_no_whole_evaluation_away_from_the_others(hands: Hands) -> None:
    """The stages out of sight are published to all, though the page asks for them first."""
    heard = []
    hands.document.evaluated.connect(heard.append)
    hands.document.edit_design(_with_mouth(hands, 7.0), "Narrower")
    hands.qtbot.wait(300)
    assert heard[-1].body is not None and heard[-1].design.grooves.mouth_mm == 7.0


def test_a_design_that_cannot_be_drawn_is_told_and_not_written(hands: Hands) -> None:
    page = page_of(hands)
    hands.document.edit_design(_with_mouth(hands, 60.0), "Too wide")
    hands.qtbot.waitUntil(lambda: "no section" in page.parts.view.words, timeout=10000)
    assert not page.parts.write.isEnabled() and not page.parts.print.isEnabled()
    page.open_kind("report")
    assert seen(hands).sheets and page.parts.write.isEnabled()  # it says what is wrong
    hands.document.undo_stack.undo()
    page.open_kind("drawing")
    assert seen(hands).sheets and page.parts.write.isEnabled()


def test_stop_findings_are_named_beside_the_preview_and_after_writing(qtbot, tmp_path, monkeypatch) -> None:
    hands = opened(Desk(qtbot, tmp_path, monkeypatch, examples.read("faulty")))
    assert page_of(hands).parts.warning.isVisible() and "3 stop" in page_of(hands).parts.warning.text()
    write(hands, tmp_path / "a.pdf")
    assert "NOT CHECKED: 3 stop findings" in hands.said
    with pdfplumber.open(tmp_path / "a.pdf") as pdf:
        assert "NOT CHECKED" in pdf.pages[0].extract_text()


def test_sheets_are_turned_by_button_and_key(hands: Hands) -> None:
    page = page_of(hands)
    page.open_kind("gauge")
    first = seen(hands).sheets[0]
    assert page.parts.number.text() == "page 1 of 2" and not page.parts.back.isEnabled()
    hands.click(page.parts.on)
    assert page.parts.view.sheet is page.shown.sheets[1] and not page.parts.on.isEnabled()
    hands.key(page.parts.view, Qt.Key.Key_PageUp)
    assert page.parts.view.sheet is first


def test_the_kinds_are_turned_with_the_arrow_keys(hands: Hands) -> None:
    page = page_of(hands)
    page.parts.kinds.setFocus()
    hands.key(page.parts.kinds, Qt.Key.Key_Down)
    assert seen(hands).question.kind == KINDS[1]


def test_the_view_enlarges_about_the_pointer_and_keeps_the_sheet_in_sight(hands: Hands) -> None:
    view = page_of(hands).parts.view
    at = QPoint(view.width() // 4, view.height() // 4)
    before = (at - view.corner().toPoint()) / view.px_per_mm
    view.zoom(1.5, at.toPointF())
    view.zoom(1.5, at.toPointF())
    after = (at - view.corner().toPoint()) / view.px_per_mm
    assert (before - after).manhattanLength() <= 2
    for _ in range(20):
        hands.key(view, Qt.Key.Key_Left)
    assert view.corner().x() <= view.width() / 2
    hands.key(view, Qt.Key.Key_0)
    assert view.zoomed == 1.0


def test_tool_and_draft_are_judged_beside_the_profile(hands: Hands) -> None:
    page = page_of(hands)
    page.open_kind("profile")
    assert not seen(hands).findings and not page.parts.found.isVisible()
    type_option(hands, "tool_radius", "2.5")
    type_option(hands, "least_draft", "8")
    seen(hands)
    assert "R2.5" in page.parts.found.text() and "8° asked" in page.parts.found.text()
    write(hands, hands.folder / "a.dxf")
    assert "R2.5" in hands.said


def test_a_table_is_shown_cell_for_cell_as_it_is_written(hands: Hands) -> None:
    page = page_of(hands)
    page.open_kind("table")
    choose(hands, "table", "grooves")
    choose(hands, "separator", ";")
    choose(hands, "decimal", ",")
    shown = seen(hands).table
    write(hands, hands.folder / "a.csv")
    text = (hands.folder / "a.csv").read_text("utf-8-sig")
    rows = list(csv.reader(text.splitlines()[4:], delimiter=";"))
    assert rows == [list(shown.heads), *map(list, shown.rows)]
    assert len(shown.rows) == 14 and "," in shown.rows[0][1]


def test_a_decimal_mark_that_is_the_separator_too_is_told(hands: Hands) -> None:
    page = page_of(hands)
    page.open_kind("table")
    choose(hands, "decimal", ",")
    hands.qtbot.waitUntil(lambda: "another than the separator" in page.parts.view.words, timeout=10000)
    assert not page.parts.write.isEnabled()
    choose(hands, "separator", ";")
    assert seen(hands).table.rows


def test_a_bowl_too_large_for_the_paper_is_told(hands: Hands) -> None:
    page = page_of(hands)
    choose(hands, "paper", "A4")
    choose(hands, "scale", "1:1")
    hands.qtbot.waitUntil(lambda: "cannot be drawn legibly on A4 at 1:1" in page.parts.view.words, timeout=10000)
    assert not page.parts.write.isEnabled()


# writing


ONE_OF_EACH_TYPE = tuple({suffix: (kind, suffix) for kind, suffix in FILES if kind != "report"}.values())


@pytest.mark.parametrize("files", kept([FILES, ONE_OF_EACH_TYPE], [ONE_OF_EACH_TYPE]), ids=["all", "one of each type"])
def test_every_kind_is_written_as_every_type_it_can_be_and_tells_its_progress_page_by_page(hands: Hands, files) -> None:
    shares: list[float] = []
    hands.window.exporting.progressed.connect(shares.append)
    for kind, suffix in files:
        page_of(hands).open_kind(kind)
        pages = len(seen(hands).sheets)
        shares.clear()
        path = hands.folder / f"{kind}{suffix}"
        write(hands, path)
        assert hands.said.startswith(f"{kind}{suffix} written: ") and not hands.answers.told
        assert path.read_bytes().startswith(STARTS[suffix])
        if (kind, suffix) == ("report", ".pdf"):
            assert len(set(shares)) >= pages > 6 and shares == sorted(shares)
    assert {suffix for _, suffix in FILES} == set(STARTS)
    assert {suffix for _, suffix in FILES} - {suffix for _, suffix in ONE_OF_EACH_TYPE} <= {".html"}


STARTS = {".dxf": b"  0\n", ".pdf": b"%PDF", ".svg": b"<?xml", ".png": b"\x89PNG", ".html": b"<!", ".csv": b"# ",
          ".stl": b"mm; never", ".3mf": b"PK", ".step": b"ISO-10303-21;",
          ".stp": b"ISO-10303-21;"}  # fmt: skip


def test_the_file_type_that_is_set_is_offered_and_the_name_joins_kind_and_design(hands: Hands, monkeypatch) -> None:
    asked = []
    monkeypatch.setattr(dialogs, "ask_output", lambda parent, title, path, suffixes: asked.append((path, suffixes)))
    choose(hands, "drawing_type", ".svg")
    hands.click(page_of(hands).parts.write)
    page_of(hands).open_kind("gauge")
    hands.click(page_of(hands).parts.write)
    assert [path.name for path, _ in asked] == ["graded-first-try.svg", "graded-first-try-gauge.pdf"]
    assert asked[1][1] == (".pdf", ".dxf")  # as on the page: PDF first


def test_what_is_set_is_what_the_drawing_says(hands: Hands) -> None:
    choose(hands, "paper", "A3")
    choose(hands, "projection", "third")
    type_option(hands, "number", "BP-17")
    type_option(hands, "owner", "An invented works")
    seen(hands)
    write(hands, hands.folder / "a.pdf")
    with pdfplumber.open(hands.folder / "a.pdf") as pdf:
        words = pdf.pages[0].extract_text()
        assert pdf.pages[0].width == pytest.approx(420.0 * MM, abs=0.5)
    assert "BP-17" in words and "An invented works" in words


def test_the_former_alone_takes_a_shrinkage(hands: Hands) -> None:
    page = page_of(hands)
    page.open_kind("profile")
    form = page.forms[1]
    assert not form.widgets["shrinkage"].isEnabled()
    choose(hands, "part", "former")
    assert form.widgets["shrinkage"].isEnabled()
    type_option(hands, "shrinkage", "1.5")
    seen(hands)
    write(hands, hands.folder / "former.dxf")
    drawn = ezdxf.readfile(hands.folder / "former.dxf").modelspace()
    highest = max(p.y for line in drawn.query('LINE[layer=="FORMER"]') for p in (line.dxf.start, line.dxf.end))
    assert highest == pytest.approx(1.015 * 330.0, abs=1e-3)
    choose(hands, "part", "liner")
    assert seen(hands).question.request[SHRINKAGE] == 0.0  # kept for the former, without effect here


def test_options_are_remembered_and_a_title_belongs_to_its_design(qtbot, tmp_path, monkeypatch) -> None:
    path = tmp_path / "mine.bowl"
    hands = Desk(qtbot, tmp_path, monkeypatch)
    hands.document.save(path)
    opened(hands)
    choose(hands, "paper", "A1")
    type_option(hands, "owner", "An invented works")
    type_option(hands, "number", "BP-17")
    page_of(hands).open_kind("profile")
    type_option(hands, "tool_radius", "1.2")
    type_option(hands, "tool_radius", "")
    type_option(hands, "least_draft", "3")
    memory = output_memory.OutputMemory(hands.document, hands.window.settings)  # as the next day reads it
    values = memory.values
    assert (values["paper"], values["owner"], values["number"]) == ("A1", "An invented works", "BP-17")
    assert (values["tool_radius"], values["least_draft"]) == (None, 3.0)
    hands.document.edit_design(replace(hands.design, name="Another"), "Rename")
    assert memory.values["number"] == "" and memory.values["owner"] == "An invented works"


def test_settings_that_make_no_sense_are_passed_over(hands: Hands) -> None:
    for key, value in (("paper", "A9"), ("dpi", "many"), ("shrinkage", "900")):
        hands.window.settings.put(OUTPUT.of(key), value)
    values = output_memory.OutputMemory(hands.document, hands.window.settings).values
    assert (values["paper"], values["dpi"], values["shrinkage"]) == ("", 150.0, 0.0)


def test_the_folder_of_the_last_file_is_proposed_next(hands: Hands) -> None:
    page_of(hands).open_kind("table")
    (hands.folder / "shop").mkdir()
    write(hands, hands.folder / "shop" / "a.csv")
    assert hands.window.exporting.suggestion(".pdf").parent == hands.folder / "shop"
    assert hands.window.message.offered.isVisible()


def test_the_study_is_never_written_over_by_any_name(hands: Hands) -> None:
    page_of(hands).open_kind("table")
    own = hands.folder / "mine.bowl"
    hands.document.save(own)
    old = own.read_bytes()
    os.link(own, hands.folder / "other.csv")
    (hands.folder / "link.csv").symlink_to(own)
    for name in ("other.csv", "link.csv"):
        write(hands, hands.folder / name)
    assert own.read_bytes() == old and len(hands.answers.told) == 2
    assert all("the study itself" in words for words in hands.answers.told)


def test_a_file_that_is_there_is_replaced_only_when_wanted_and_further_sheets_count(hands: Hands, monkeypatch) -> None:
    hands.document.edit_design(_with_count(hands, 40), "Many")
    choose(hands, "paper", "A3")
    choose(hands, "drawing_type", ".svg")
    assert len(seen(hands).sheets) > 1
    (hands.folder / "a-2.svg").write_text("mine")
    hands.answers.answer("ask_replace", False)
    write(hands, hands.folder / "a.svg")
    assert (hands.folder / "a-2.svg").read_text() == "mine" and not (hands.folder / "a.svg").exists()
    hands.answers.answer("ask_replace", True)
    write(hands, hands.folder / "a.svg")
    assert (hands.folder / "a-2.svg").read_text().startswith("<?xml")


def test_a_place_that_cannot_be_written_to_is_told(hands: Hands) -> None:
    page_of(hands).open_kind("table")
    (hands.folder / "plain").write_text("no folder")
    write(hands, hands.folder / "plain" / "a.csv")
    write(hands, hands.folder / "nowhere" / "a.csv")
    told = hands.answers.told
    assert len(told) == 2 and "not a directory" in told[0] and "no such file" in told[1]


def test_a_full_disk_and_a_protected_file_are_told_and_the_old_file_stays(hands: Hands, monkeypatch) -> None:
    page_of(hands).open_kind("table")
    path = hands.folder / "a.csv"
    path.write_bytes(b"the shop's")
    hands.answers.answer("ask_replace", True)

    def full_disk(_: int) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr("os.fsync", full_disk)
        write(hands, path)
    with monkeypatch.context() as patch:  # whoever runs the tests may be allowed everything
        patch.setattr("os.access", lambda *_: False)
        write(hands, path)
    assert path.read_bytes() == b"the shop's"
    assert "no space left" in hands.answers.told[0] and "write-protected" in hands.answers.told[1]
    assert all("stays as it was" in words for words in hands.answers.told)
    assert [p.name for p in hands.folder.iterdir() if "a.csv" in p.name] == ["a.csv"]


@pytest.mark.skipif(os.name != "posix" or os.geteuid() == 0, reason="whoever runs this may write everywhere")
def test_a_read_only_folder_is_told(hands: Hands) -> None:
    page_of(hands).open_kind("table")
    folder = hands.folder / "shut"
    folder.mkdir(mode=0o500)
    write(hands, folder / "a.csv")
    assert "permission denied" in hands.answers.told[0]


def test_long_writing_shows_how_far_it_is_and_can_be_given_up(hands: Hands, monkeypatch) -> None:
    page = page_of(hands)
    page.open_kind("report")
    seen(hands)
    path = hands.folder / "a.pdf"
    path.write_bytes(b"old")
    hands.answers.answer("ask_output", path)
    hands.answers.answer("ask_replace", True)
    going, real = threading.Event(), writing.export

    def slow(*given):
        going.wait(10.0)
        return real(*given)

    monkeypatch.setattr(writing, "export", slow)
    hands.click(page.parts.write)
    assert page.parts.progress.isVisible() and not page.parts.write.isEnabled()
    hands.click(page.parts.cancel)
    going.set()
    hands.qtbot.waitUntil(lambda: not hands.window.exporting.busy, timeout=10000)
    assert path.read_bytes() == b"old" and "Cancelled" in hands.said
    assert not page.parts.progress.isVisible() and page.parts.write.isEnabled()


@pytest.mark.long
def test_all_outputs_are_written_under_one_name_and_listed(hands: Hands) -> None:
    page = page_of(hands)
    hands.answers.answer("ask_folder", hands.folder / "all")
    (hands.folder / "all").mkdir()
    (hands.folder / "all" / "graded-first-try-gauge.pdf").mkdir()  # this one cannot be written
    hands.answers.answer("ask_replace", True)
    hands.click(page.parts.write_all)
    hands.qtbot.waitUntil(lambda: not hands.window.exporting.busy, timeout=90000)
    written = {p.name for p in (hands.folder / "all").iterdir() if p.is_file()}
    told = {f"{copy.word}{copy.suffix}" for o in outputs.OUTPUTS for copy in o.copies}
    assert told >= {"profile.dxf", "drawing.pdf", "outline.csv", "stations.csv", "grooves.csv", "findings.csv"}
    assert written == {f"graded-first-try-{name}" for name in told - {"gauge.pdf"}}
    listed = page.parts.table.table.rows
    assert {row[0] for row in listed} == written | {"graded-first-try-gauge.pdf"}
    assert [row[1] for row in listed].count("NOT WRITTEN") == 1 and f"{len(written)} files written" in hands.said
    assert len(hands.answers.told) == 1 and "gauge.pdf" in hands.answers.told[0]
    page.open_kind("profile")
    assert seen(hands).sheets  # another look is taken


def test_the_menu_opens_the_page(qtbot, tmp_path, monkeypatch) -> None:
    hands = Hands(qtbot, tmp_path, monkeypatch)
    hands.do("Drawings and tables…")
    assert type(page_of(hands)).__name__ == "DrawingPage"


# printing and copying


def to_pdf(monkeypatch: pytest.MonkeyPatch, path: Path, size: QPageSize.PageSizeId | None = None) -> None:
    """Answer the system's print dialog: print into a file, on this paper."""

    def chosen(parent, sheets, title) -> QPrinter:
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        printer.setOutputFileName(str(path))
        printer.setPageLayout(printing.layout_for(sheets[0]))
        if size is not None:
            printer.setPageSize(QPageSize(size))
            printer.setPageOrientation(QPageLayout.Orientation.Landscape)
        return printer

    monkeypatch.setattr(printing, "ask_printer", chosen)


def widths_mm(page) -> set[float]:
    strokes = [*page.lines, *page.curves, *page.rects]
    return {round(stroke["linewidth"] / MM, 2) for stroke in strokes if stroke["stroke"]}


def test_a_printed_gauge_has_the_true_page_length_and_line_widths(hands: Hands, monkeypatch) -> None:
    """Qt names PDF pages in whole points, so a page may be off by half a point; what is drawn on it is not."""
    page_of(hands).open_kind("gauge")
    seen(hands)
    to_pdf(monkeypatch, hands.folder / "p.pdf")
    hands.click(page_of(hands).parts.print)
    with pdfplumber.open(hands.folder / "p.pdf") as pdf:
        assert len(pdf.pages) == 2
        first = pdf.pages[0]
        assert (first.width, first.height) == pytest.approx((210.0 * MM, 297.0 * MM), abs=0.51)
        (check,) = [line for line in first.lines if line["linewidth"] == pytest.approx(0.35 * MM, abs=0.01)]
        assert (check["x1"] - check["x0"]) / MM == pytest.approx(100.0, abs=0.005)
        assert widths_mm(first) == {0.18, 0.25, 0.35, 0.5}
        assert "measure it" in first.extract_text()
    assert hands.said == "2 pages sent to the printer, at true scale."


def test_a_printed_drawing_lies_on_its_own_paper_with_its_true_frame(whole: Hands, monkeypatch) -> None:
    hands = whole
    to_pdf(monkeypatch, hands.folder / "p.pdf")
    hands.do("Print…")
    with pdfplumber.open(hands.folder / "p.pdf") as pdf:
        (page,) = pdf.pages
        assert (page.width / MM, page.height / MM) == pytest.approx((594.0, 420.0), abs=0.2)
        frame = next(r for r in [*page.rects, *page.curves] if r["linewidth"] == pytest.approx(0.7 * MM, abs=0.01))
        assert (frame["x1"] - frame["x0"]) / MM == pytest.approx(594.0 - 30.0, abs=0.01)  # ISO 5457: 20 + 10 mm
        assert frame["x0"] / MM == pytest.approx(20.0, abs=0.01)
        assert {0.18, 0.25, 0.5, 0.7} <= widths_mm(page)


def test_on_smaller_paper_a_drawing_says_it_has_no_scale_and_a_gauge_is_not_printed(hands: Hands, monkeypatch) -> None:
    to_pdf(monkeypatch, hands.folder / "p.pdf", QPageSize.PageSizeId.A4)
    hands.answers.answer("ask_shrink", False)
    hands.click(page_of(hands).parts.print)
    assert not (hands.folder / "p.pdf").exists()
    hands.answers.answer("ask_shrink", True)
    hands.click(page_of(hands).parts.print)
    with pdfplumber.open(hands.folder / "p.pdf") as pdf:
        assert pdf.pages[0].width == pytest.approx(297.0 * MM, abs=0.51)
        assert printing.SHRUNK in pdf.pages[0].extract_text()
        assert max(line["x1"] for line in pdf.pages[0].lines) < pdf.pages[0].width
    to_pdf(monkeypatch, hands.folder / "g.pdf", QPageSize.PageSizeId.A5)
    page_of(hands).open_kind("gauge")
    hands.click(page_of(hands).parts.print)
    assert not (hands.folder / "g.pdf").exists() and "full size or not at all" in hands.answers.told[0]


@pytest.mark.qt_log_ignore("QPainter::begin", extend=True)
def test_a_printer_that_does_not_begin_is_told(hands: Hands, monkeypatch) -> None:
    to_pdf(monkeypatch, hands.folder / "nowhere" / "p.pdf")
    hands.click(page_of(hands).parts.print)
    assert "does not take it" in hands.answers.told[0]


def test_picture_and_table_go_to_the_clipboard(hands: Hands) -> None:
    page, clipboard = page_of(hands), QApplication.clipboard()
    hands.click(page.parts.copy_picture)
    image = clipboard.image()
    assert image.width() / image.height() == pytest.approx(594.0 / 420.0, abs=0.002) and image.width() > 3000
    assert clipboard.mimeData().data("image/svg+xml").startsWith(b"<?xml")
    page.open_kind("table")
    rows = seen(hands).table.rows
    hands.click(page.parts.copy_table)
    lines = clipboard.text().splitlines()
    assert len(lines) == len(rows) + 1 and lines[1].split("\t") == list(rows[0])


# how it fits


def test_at_every_size_nothing_lies_outside_the_page_or_over_its_neighbour(qtbot, tmp_path, monkeypatch) -> None:
    hands = opened(Hands(qtbot, tmp_path, monkeypatch, examples.read("faulty")))
    page = page_of(hands)
    for size in SIZES:
        hands.window.resize(*size)
        for kind in KINDS:
            page.open_kind(kind)
            seen(hands)
            assert outside(page) == [] and overlapping(page) == [], (size, kind)
            for button in page.parts.buttons:
                assert button.width() >= button.sizeHint().width() or not button.isVisible()
        assert page.parts.view.width() >= 0.55 * page.width()


def test_everything_is_reached_by_tab_and_has_a_name(hands: Hands) -> None:
    page = page_of(hands)
    widgets = [w for form in page.forms for w in form.widgets.values()]
    widgets += [page.parts.kinds, page.parts.view, page.parts.table]
    assert all(w.accessibleName() for w in widgets)
    assert all(w.focusPolicy() & Qt.FocusPolicy.TabFocus for w in widgets)
    mnemonics = [b.text().split("&")[1][0].lower() for b in page.parts.buttons]
    assert len(set(mnemonics)) == len(mnemonics) and not set(mnemonics) & set("fecvsh")  # those are the menus'


def test_neither_matplotlib_nor_ezdxf_is_loaded_to_look() -> None:
    """In a process of its own: the tests of other outputs load both."""
    import subprocess
    import sys

    code = (
        "import sys, profiler.ui.drawing.drawing as page, profiler.ui.drawing.printing;"
        "from profiler.study.files import examples;"
        "from profiler.assess import evaluate; from profiler.output.record.option import Request;"
        "s = examples.read('graded'); e = evaluate(s.design, s.machine, s.duty);"
        "[page._answer(page.Question(o.key, e, Request())) for o in page.outputs.OUTPUTS];"
        "print(sorted({'matplotlib', 'ezdxf'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=True)
    assert done.stdout.strip() == "[]"


def test_a_failed_job_leaves_the_page_usable(hands: Hands, monkeypatch) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError("a fault made on purpose")

    monkeypatch.setattr(writing, "export", broken)
    monkeypatch.setattr("profiler.ui.work.jobs.log.exception", lambda *_: None)
    write(hands, hands.folder / "a.pdf")
    assert "a fault made on purpose" in hands.answers.told[0] and page_of(hands).parts.write.isEnabled()


def _with_mouth(hands: Hands, mouth_mm: float):
    return edits.with_grooves(hands.design, replace(hands.design.grooves, mouth_mm=mouth_mm))


def _with_count(hands: Hands, count: int):
    rule = replace(hands.design.grooves, count=count, mouth_mm=5.0, depth_mm=4.0, floor_radius_mm=0.5)
    return edits.with_grooves(hands.design, rule)


def test_targets_of_many_sheets_name_every_file() -> None:
    files = writing.files_of(Path("a.svg"), "drawing", 3)
    assert [f.name for f in files] == ["a.svg", "a-2.svg", "a-3.svg"]
    assert len(writing.files_of(Path("a.pdf"), "drawing", 3)) == 1
