"""What starting the window loads: Qt and numpy; the heavy packages wait until they are used."""

import subprocess
import sys

HEAVY = ("scipy", "matplotlib", "ezdxf", "shapely")

START = """
import os, sys
os.environ["QT_QPA_PLATFORM"] = "offscreen"
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication
from profiler.study import examples
from profiler.ui import app as program
from profiler.ui.document import Document
from profiler.ui.theme import LIGHT, dress
from profiler.ui.window import Window

app = QApplication([])
dress(app, LIGHT)
window = Window(Document(examples.read(examples.DEFAULT)), QSettings(sys.argv[1], QSettings.Format.IniFormat))
window.show()
for _ in range(5):
    app.processEvents()
assert not window.page.section.failure
print(*sorted({name.split(".")[0] for name in sys.modules}))
"""


def test_starting_the_window_loads_no_heavy_package(tmp_path) -> None:
    done = subprocess.run(
        [sys.executable, "-c", START, str(tmp_path / "settings.ini")],
        capture_output=True, text=True, timeout=120, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    loaded = set(done.stdout.split())
    assert "numpy" in loaded and "PySide6" in loaded
    assert loaded.isdisjoint(HEAVY)
