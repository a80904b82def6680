"""What is measured, and how. Times are wall-clock seconds of one process on the machine at hand."""

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from msgspec.structs import replace
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from profiler.assess import Stages, evaluate
from profiler.assess.drawn.laid_out import read_and_lay
from profiler.assess.fitting.fit import fit
from profiler.explore.ore_map import AT_ONCE, asked, ore_map, span
from profiler.output.outputs import OUTPUTS
from profiler.output.writing import export
from profiler.pictures.strips import angle_strip
from profiler.progress import Progress
from profiler.study import Design, Study
from profiler.study.edits import design_edits as edits
from profiler.study.files import examples
from profiler.ui.app import FIRST_PAINT
from profiler.ui.document.document import Document
from profiler.ui.files.settings import Settings
from profiler.ui.widgets.theme import LIGHT, dress
from profiler.ui.window import Window

SIZE = (1400, 900)
GROOVES = 40
ASKED_MS = {"profile": 300.0, "report": 4000.0}  # of an export; any other may take a second


@dataclass(frozen=True, slots=True)
class Counts:
    """How often each thing is done."""

    recompute: int = 300
    drag: int = 400
    start: int = 10
    drawing: int = 20


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the table: what was done, how often, and how long it took each time, in seconds."""

    what: str
    times: tuple[float, ...]
    asked_ms: float  # median
    asked_p99_ms: float | None = None

    @property
    def median_ms(self) -> float:
        return float(np.median(self.times)) * 1e3

    @property
    def p99_ms(self) -> float:
        return float(np.percentile(self.times, 99)) * 1e3


def study() -> Study:
    """The default example with forty grooves."""
    read = examples.read(examples.DEFAULT)
    cut = replace(
        read.design.grooves, count=GROOVES, mouth_mm=5.5, depth_mm=5.0, floor_radius_mm=1.0, edge_radius_mm=0.4
    )
    return edits.with_design(read, edits.with_grooves(read.design, cut))


def measured(counts: Counts) -> list[Row]:
    first = [*recompute(counts.recompute), drag(counts.drag), start(counts.start), map_step(counts.drawing)]
    return [*first, *fits(counts.drawing), *drawings(counts.start), *exports(counts.drawing)]


def recompute(count: int) -> list[Row]:
    """A knot has moved: everything that depends on it, in sight alone and with all stages."""
    base = study()
    turned = [edits.move_knot(base.design, 1, None, 17.0 + 0.05 * (i % 40)) for i in range(count)]

    def over(want: Stages) -> tuple[float, ...]:
        def one(design: Design) -> None:
            whole = evaluate(design, base.machine, base.duty, want)
            assert whole.shape is not None and len(whole.shape.mouths) == GROOVES

        one(turned[0])
        return tuple(timed(lambda design=design: one(design)) for design in turned)

    return [
        Row("recompute, 40 grooves, in sight", over(Stages.QUICK), 4.0),
        Row("recompute, 40 grooves, all stages", over(Stages.ALL), 4.0),
    ]


def drag(count: int) -> Row:
    """One mouse move while a knot is held: recompute and repaint of all strips."""
    app = QApplication.instance() or QApplication([])
    assert isinstance(app, QApplication)
    dress(app, LIGHT)
    with tempfile.TemporaryDirectory() as folder:
        document = Document(study())
        window = Window(document, Settings.in_file(Path(folder) / "settings.ini"))
        window.resize(*SIZE)
        window.show()
        app.processEvents()
        published: list[object] = []
        document.evaluated.connect(published.append)
        strip = window.page.angle
        handle = next(h for h in angle_strip.handles(strip.scene, strip.scale()) if h.knot == 1)
        centre = QPoint(round(handle.x), round(handle.y))
        QTest.mousePress(strip, Qt.MouseButton.LeftButton, pos=centre)
        times = []
        for i in range(count + 20):
            at = centre + QPoint(round(30 * np.sin(i / 9.0)) + 5, round(30 * np.cos(i / 7.0)))
            times.append(timed(lambda at=at: _move(app, strip, at)))
        QTest.mouseRelease(strip, Qt.MouseButton.LeftButton, pos=centre)
        assert len(published) > 0.8 * count, "a move did not lead to an evaluation"
        document.adopt(document.study)
        window.close()
        window.deleteLater()
        app.processEvents()
    return Row(f"drag, all strips at {SIZE[0]}x{SIZE[1]}", tuple(times[20:]), 10.0, 20.0)


def start(count: int) -> Row:
    """From starting the process to the first paint of the section strip, with a warm disk."""
    with tempfile.TemporaryDirectory() as home:
        environment = os.environ | {
            FIRST_PAINT: "1", "HOME": home, "XDG_CONFIG_HOME": home, "XDG_DATA_HOME": home, "XDG_STATE_HOME": home,
        }  # fmt: skip

        def once() -> float:
            began = time.monotonic()
            done = subprocess.run(
                [sys.executable, "-m", "profiler"],
                env=environment, capture_output=True, text=True, timeout=120, check=True,
            )  # fmt: skip
            return float(done.stdout.split()[-1]) - began

        once()
        return Row("process start to first paint", tuple(once() for _ in range(count)), 1000.0)


def map_step(count: int) -> Row:
    """One step of an ore map, which is what a drag may have to wait for."""
    read = examples.read(examples.DEFAULT)
    now = evaluate(read.design, read.machine, read.duty)
    question = asked(span("solids", count=count), span("d50", count=AT_ONCE), "matched_mm", None, now)
    at = [time.perf_counter()]
    ore_map(question, now, progress=Progress(lambda share: at.append(time.perf_counter())))
    return Row(f"ore map, one step of {AT_ONCE} duties", tuple(np.diff(at[1:]).tolist()), 200.0)


def fits(count: int) -> list[Row]:
    """A bowl fitted to a smaller machine, and one that cannot be: then every turn is tried in vain."""
    base = study()
    smaller = replace(base.machine, lip_radius_mm=200.0, height_mm=300.0)
    hopeless = replace(base.machine, lip_radius_mm=260.0)
    cases = (("a fit, 40 grooves", smaller), ("a fit that finds no way, 40 grooves", hopeless))
    fit(base.design, smaller)
    return [Row(what, tuple(timed(lambda m=m: fit(base.design, m)) for _ in range(count)), 200.0) for what, m in cases]


def drawings(count: int) -> list[Row]:
    """A DXF of 20,000 lines, arcs and polylines, read, joined and laid out as the window's worker does it."""
    import ezdxf

    with tempfile.TemporaryDirectory() as folder:
        path, document = Path(folder) / "many.dxf", ezdxf.new("R2000")
        space, place = document.modelspace(), np.random.default_rng(1).uniform(0.0, 1000.0, (20_000, 2))
        for i, (x, y) in enumerate(place.tolist()):
            if i % 4 == 3:
                space.add_lwpolyline([(x, y), (x + 3.0, y, 0.2), (x + 3.0, y + 4.0)], format="xyb")
            elif i % 4 == 2:
                space.add_arc((x, y), 5.0, 10.0, 80.0)
            else:
                space.add_line((x, y), (x + 5.0, y + 3.0))
        document.saveas(path)
        return [Row("a DXF of 20,000 entities", tuple(timed(lambda: read_and_lay(path)) for _ in range(count)), 2000.0)]


def exports(count: int) -> list[Row]:
    """Every file the program writes, of forty grooves, the writing libraries already loaded."""
    base = study()
    evaluation = evaluate(base.design, base.machine, base.duty)
    with tempfile.TemporaryDirectory() as folder:

        def one(suffix: str, kind: str) -> tuple[float, ...]:
            target = Path(folder) / f"out{suffix}"
            export(target, evaluation, kind=kind)
            return tuple(timed(lambda: export(target, evaluation, kind=kind)) for _ in range(count))

        kinds = [(suffix, output.key) for output in OUTPUTS for suffix in output.suffixes]
        return [Row(f"{suffix} {kind}, warm", one(suffix, kind), ASKED_MS.get(kind, 1000.0)) for suffix, kind in kinds]


def timed(do: Callable[[], object]) -> float:
    began = time.perf_counter()
    do()
    return time.perf_counter() - began


def _move(app: QApplication, widget: object, at: QPoint) -> None:
    place = QPointF(at), QPointF(widget.mapToGlobal(at))
    button, none = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    QApplication.sendEvent(widget, QMouseEvent(QEvent.Type.MouseMove, *place, Qt.MouseButton.NoButton, button, none))
    app.processEvents()  # the evaluation that waits for its turn
    app.processEvents()  # and the paint it asked for
