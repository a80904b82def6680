"""Place, size, page, shares of splitters and text size are kept; the window opens on the screen there is.

Screens are those of Qt's offscreen platform, set up by its configuration file, each in a process of its own.
"""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import QSize
from PySide6.QtWidgets import QApplication, QSplitter
from pytestqt.qtbot import QtBot

from profiler.ui import window_place
from profiler.ui.files import settings
from profiler.ui.files.settings import Settings
from profiler.ui.page_stack import PAGES
from profiler.ui.widgets.canvas import Canvas
from profiler.ui.widgets.theme import DARK, LIGHT, dress
from profiler.ui.window import Window
from profiler.ui.window_place import TEXT_SIZES, has_room, text_size
from tests.ui.hands import Hands

# Opens the window as the program does, says where it stands and what of each page lies outside, leaves it elsewhere.
PROGRAM = """
import json
import sys
from pathlib import Path
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from profiler.study.files import examples
from profiler.ui.document.document import Document
from profiler.ui.files.settings import Settings
from profiler.ui.page_stack import PAGES
from profiler.ui.widgets.theme import LIGHT, dress
from profiler.ui.window import Window
from profiler.ui.window_place import text_scaled
from tests.ui.window.test_layout import outside

remembered = Settings.in_file(Path(sys.argv[1]))
with text_scaled(remembered):
    app = QApplication([])
dress(app, LIGHT)
window = Window(Document(examples.read(examples.DEFAULT)), remembered)
window.as_left()
window.show()
QTest.qWait(100)
rect = lambda r: [r.x(), r.y(), r.width(), r.height()]
said = {"place": rect(window.frameGeometry()), "page": window.pages.title, "outside": []}
said["screen"] = rect(window.screen().availableGeometry())
if sys.argv[2] == "look":
    for entry in PAGES:
        window.pages.open(entry)
        QTest.qWait(30)
        said["outside"] += outside(window.pages.shown)
        said["least"] = max(said.get("least", 0), window.pages.shown.minimumSizeHint().width())
    said["after"] = rect(window.frameGeometry())
else:
    window.showNormal()
    window.setGeometry(*json.loads(sys.argv[2]))
    QTest.qWait(50)
    window.pages.open_titled("Drawing")
window.let_go()
remembered.sync()
print(json.dumps(said))
"""


def opened(folder: Path, screens: list[tuple[int, int, int, int]], act: str = "look", factor: float = 1.0) -> dict:
    """What the program says; screens as x, y, width, height in the screen's own pixels."""
    config = folder / "screens.json"
    said = [
        {"name": f"screen {i}", "x": x, "y": y, "width": w, "height": h, "logicalDpi": 96, "dpr": 1}
        for i, (x, y, w, h) in enumerate(screens)
    ]
    config.write_text(json.dumps({"screens": said}))
    surroundings = os.environ | {"QT_QPA_PLATFORM": f"offscreen:configfile={config}", "QT_SCALE_FACTOR": str(factor)}
    words = [sys.executable, "-c", PROGRAM, str(folder / "settings.ini"), act]
    done = subprocess.run(words, capture_output=True, text=True, env=surroundings, timeout=120, check=False)
    assert done.returncode == 0, done.stderr
    return dict(json.loads(done.stdout.splitlines()[-1]))


FRAME = 5  # of a window on the offscreen platform, both sides
ROUNDED = 1  # Qt rounds a window up and a screen down where a factor leaves fractions of a logical pixel


def inside(place: list[int], screen: list[int]) -> bool:
    x, y, w, h = place
    left, top, wide, high = screen
    return left <= x and top <= y and x + w <= left + wide + ROUNDED and y + h <= top + high + ROUNDED


@pytest.mark.long
@pytest.mark.parametrize(
    ("width", "height", "factor"),
    [
        (1024, 600, 1.0),
        pytest.param(1366, 768, 1.25, marks=pytest.mark.long),
        pytest.param(1920, 1080, 1.5, marks=pytest.mark.long),
        pytest.param(2560, 1440, 2.0, marks=pytest.mark.long),
        pytest.param(3840, 2160, 3.0, marks=pytest.mark.long),
    ],
)
def test_the_window_and_every_page_lie_on_the_screen(tmp_path: Path, width: int, height: int, factor: float) -> None:
    said = opened(tmp_path, [(0, 0, width, height)], factor=factor)
    assert said["screen"][2] >= 1024 and said["screen"][3] >= 600
    assert inside(said["place"], said["screen"])
    assert inside(said["after"], said["screen"])
    assert said["outside"] == []


@pytest.mark.long  # starts the program three times
def test_place_and_page_are_as_they_were_left_and_come_back_from_a_screen_that_is_gone(tmp_path: Path) -> None:
    two = [(0, 0, 1920, 1080), (1920, 0, 1920, 1080)]
    assert opened(tmp_path, two, json.dumps([2000, 100, 1200, 700]))["page"] == "Shape"
    again = opened(tmp_path, two)
    assert again["place"] == pytest.approx([2000, 100, 1200, 700], abs=FRAME) and again["page"] == "Drawing"
    one = opened(tmp_path, two[:1])
    assert inside(one["place"], one["screen"])


@pytest.mark.long  # starts the program
def test_text_at_150_percent_makes_everything_so_much_larger(tmp_path: Path) -> None:
    Settings.in_file(tmp_path / "settings.ini").put(settings.TEXT_SIZE, "150")
    said = opened(tmp_path, [(0, 0, 1920, 1080)])
    assert said["screen"] == [0, 0, 1280, 720] and inside(said["place"], said["screen"])


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def test_the_text_sizes_reach_from_90_to_200_percent_and_the_choice_is_kept_and_said(hands: Hands) -> None:
    menu = hands.window.menus.actions["view.text_size"].menu()
    assert (min(TEXT_SIZES), max(TEXT_SIZES)) == (90, 200)
    assert [a.text() for a in menu.actions() if a.isChecked()] == ["100 %"]
    for percent in TEXT_SIZES:
        menu.choose(percent)
        assert text_size(hands.window.settings) == percent and f"{percent} %" in hands.window.message.text.text()
        menu.refresh()
        assert [a.text() for a in menu.actions() if a.isChecked()] == [f"{percent} %"]
    hands.window.settings.put(settings.TEXT_SIZE, "1000")
    assert text_size(hands.window.settings) == 100


def test_only_sizes_the_screen_has_room_for_are_offered() -> None:
    assert has_room(QSize(1920, 1080), 100, 175) and not has_room(QSize(1920, 1080), 100, 200)
    assert has_room(QSize(960, 540), 200, 175) and not has_room(QSize(800, 800), 100, 110)


def test_the_shares_of_a_page_are_kept(hands: Hands, qtbot: QtBot) -> None:
    def sizes(window: Window) -> dict[str, list[int]]:
        window.pages.open_titled("Trials")
        hands.rest()
        return {s.objectName(): s.sizes() for s in window.findChildren(QSplitter) if s.objectName()}

    usual = sizes(hands.window)
    assert set(usual) >= {"trials/across", "trials/down"}
    across = hands.window.findChild(QSplitter, "trials/across")
    across.setSizes([500, sum(across.sizes()) - 500])
    left = across.sizes()
    window_place.keep(hands.window, hands.window.settings)
    other = Window(hands.document, hands.window.settings)
    qtbot.addWidget(other)
    other.resize(hands.window.size())
    other.show()
    assert left != usual["trials/across"]
    assert sizes(other)["trials/across"] == pytest.approx(left, abs=2)
    other.let_go()


def test_every_picture_has_dark_paper_in_the_dark_even_while_it_is_awaited(hands: Hands) -> None:
    hands.do("Dark colours")
    try:
        light = []
        for entry in PAGES:
            page = hands.window.pages.open(entry)
            found = [c for c in page.findChildren(Canvas) if c.theme is not DARK]
            light += [f"{entry.title}: {canvas.accessibleName()}" for canvas in found]
        assert light == []
    finally:
        dress(QApplication.instance(), LIGHT)
