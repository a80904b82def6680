"""Whether a day's work fills the memory: edits of many kinds in one window, and what is resident after so many."""

import os
import tempfile
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication

from profiler.study.edits import design_edits as edits
from profiler.study.records.duty import SOLIDS, SPEED
from profiler.ui.document.document import Document
from profiler.ui.files.settings import Settings
from profiler.ui.widgets.theme import LIGHT, dress
from profiler.ui.window import Window
from tests.benchmarks.bowls import forty

MOST_MB = 200.0
LOOKS = 10


def held(count: int) -> list[tuple[int, float]]:
    """(edits so far, MB resident), ten times over `count` edits: knots, grooves, speed, solids, undo between."""
    app = QApplication.instance() or QApplication([])
    assert isinstance(app, QApplication)
    dress(app, LIGHT)
    seen = []
    with tempfile.TemporaryDirectory() as folder:
        document = Document(forty())
        window = Window(document, Settings.in_file(Path(folder) / "settings.ini"))
        window.resize(1400, 900)
        window.show()
        for i in range(1, count + 1):
            _edit(document, i)
            app.processEvents()
            if i % 50 == 0:
                document.flush()  # every stage
                app.processEvents()
            if i % max(count // LOOKS, 1) == 0:
                seen.append((i, resident_mb()))
        document.adopt(document.study)
        window.close()
        window.deleteLater()
        app.processEvents()
    return seen


def _edit(document: Document, i: int) -> None:
    step = i % 37
    if i % 11 == 0:
        document.undo_stack.undo()
    elif i % 3 == 0:
        document.edit_design(edits.move_knot(document.design, 1, None, 17.0 + 0.05 * step), "Move a knot")
    elif i % 3 == 1:
        document.change(SPEED, 560.0 + step)
    else:
        document.change(SOLIDS, 30.0 + 0.25 * step)


def resident_mb() -> float:
    """Of this process; nan where the system does not tell."""
    try:
        pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
    except OSError:
        return float("nan")
    return pages * os.sysconf("SC_PAGE_SIZE") / 2**20


if __name__ == "__main__":
    import json
    import sys

    print(json.dumps(held(int(sys.argv[1]))))
