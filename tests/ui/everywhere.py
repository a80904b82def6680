"""Every page, every pane in place of forms, and every dialog of the window, one by one, for tests that walk."""

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

from PySide6.QtCore import QLockFile
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from profiler.study.files import examples
from profiler.study.files.owned_lists import shipped
from profiler.study.records.machine import Machine
from profiler.ui.compare.profile_dialog import ProfileDialog
from profiler.ui.dialogs.export_dialog import ExportChoice, ExportDialog
from profiler.ui.dialogs.new_study import NewStudyDialog
from profiler.ui.dialogs.questions import LeftoversDialog
from profiler.ui.document.document import Document
from profiler.ui.envelope.envelope_dialog import EnvelopeDialog
from profiler.ui.files.recovery import Leftover, Note
from profiler.ui.files.settings import Settings
from profiler.ui.help.help_window import HelpWindow
from profiler.ui.key_sections import key_sections
from profiler.ui.page_stack import COMPARE, EDDY, ORE, PAGES, SHAPE, TRIALS
from profiler.ui.widgets.theme import LIGHT, dress
from profiler.ui.window import Window

TABLE = "bowl type;rec\nA;40,1\nB;42,3\n"  # leaves in doubt what its first column is


@contextmanager
def one_window(folder: Path, example: str = examples.DEFAULT) -> Iterator[Window]:
    """For all tests of a module, since a window takes longer to make than to walk."""
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    dress(app, LIGHT)
    window = Window(Document(examples.read(example)), Settings.in_file(folder / "settings.ini"))
    window.resize(1280, 720)
    window.show()
    QTest.qWaitForWindowExposed(window)
    window.activateWindow()
    QApplication.processEvents()
    try:
        yield window
    finally:
        window.document.adopt(window.document.study)
        window.close()
        window.deleteLater()


def views(window: Window) -> Iterator[tuple[str, QWidget]]:
    """Each as it comes into view: its name, and what holds its controls."""
    yield "the frame", window.menuWidget()
    yield "the message line", window.message
    for entry in PAGES:
        page = window.pages.open(entry)
        QApplication.processEvents()
        yield entry.title, page
    shape, ore = window.pages.open(SHAPE), window.pages.open(ORE)
    for page, entry, panes in (
        (shape, SHAPE, (shape.start_curve, shape.show_steps)),
        (ore, ORE, (ore.show_measured, ore.show_window, ore.show_sizes)),
    ):
        window.pages.open(entry)
        for pane in panes:
            pane()
            QApplication.processEvents()
            yield f"{entry.title}, {pane.__name__}", page.side
        page.side.show_forms()
    eddy = window.pages.open(EDDY)
    eddy.show_lessons()
    QApplication.processEvents()
    yield "Eddy, lessons", eddy
    compare = window.pages.open(COMPARE)
    for button in compare.turning:
        button.setChecked(True)
        QApplication.processEvents()
        yield f"Compare, {button.text()}", compare
        button.setChecked(False)
    trials = window.pages.open(TRIALS)
    trials.importing.from_text(TABLE)
    QApplication.processEvents()
    yield "Trials, import", trials
    trials.importing.panel.cancel.click()


def dialogs(window: Window) -> Iterator[tuple[str, QWidget]]:
    """Each shown and closed again."""
    document = window.document
    makers: Sequence[Callable[[], QWidget]] = (
        lambda: NewStudyDialog(window, document.study.machine, shipped(Machine), lambda: None),
        lambda: ExportDialog(window, ExportChoice(Path("bowl.dxf")), 1),
        lambda: LeftoversDialog(window, [_leftover("one"), _leftover("two")], None),
        lambda: ProfileDialog(document.study, window, points="119.6 0\n217.6 330"),
        lambda: EnvelopeDialog(document, window.jobs, window.theme, lambda design: None, window),
        lambda: HelpWindow(key_sections(), window),
    )
    for make in makers:
        dialog = make()
        dialog.show()
        dialog.activateWindow()
        QApplication.processEvents()
        yield dialog.windowTitle(), dialog
        dialog.close()
        dialog.deleteLater()


def _leftover(name: str) -> Leftover:
    note = Note(None, name, datetime(2026, 1, 2, 3, 4, tzinfo=UTC))
    return Leftover(Path(name), note, QLockFile(name))
