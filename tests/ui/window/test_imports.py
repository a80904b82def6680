"""What starting the window loads: Qt and numpy; the heavy packages wait until after the first paint."""

import subprocess
import sys
from pathlib import Path

HEAVY = ("scipy", "matplotlib", "ezdxf", "shapely")

START = """
import os, sys
from pathlib import Path
os.environ["QT_QPA_PLATFORM"] = "offscreen"
from PySide6.QtWidgets import QApplication
from profiler.study.files import examples
from profiler.ui import app as program
from profiler.ui.document.document import Document
from profiler.ui.files.settings import Settings
from profiler.ui.strips.section import SectionStrip
from profiler.ui.widgets.theme import LIGHT, dress
from profiler.ui.window import Window

loaded = []
paint = SectionStrip.paintEvent

def watched(strip, event):
    paint(strip, event)
    if not loaded:
        loaded.append({name.split(".")[0] for name in sys.modules})

SectionStrip.paintEvent = watched
app = QApplication([])
dress(app, LIGHT)
window = Window(Document(examples.read(examples.DEFAULT)), Settings.in_file(Path(sys.argv[1])))
window.show()
while not loaded:
    app.processEvents()
assert not window.page.section.failure
print(*loaded[0])
"""


def test_the_first_paint_needs_no_heavy_package(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-c", START, str(tmp_path / "settings.ini")],
        capture_output=True, text=True, timeout=120, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    loaded = set(done.stdout.split())
    assert "numpy" in loaded and "PySide6" in loaded
    assert loaded.isdisjoint(HEAVY)
