"""What is measured, and how: by the clock and by the processor's time of one process, on the machine at hand."""

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

from profiler.assess import Stages, evaluate
from profiler.assess.drawn.laid_out import read_and_lay
from profiler.assess.evaluate.batch import under
from profiler.assess.fitting.fit import fit
from profiler.explore.ore_map import AT_ONCE, asked, ore_map, span
from profiler.output.outputs import OUTPUTS
from profiler.output.writing import export
from profiler.progress import Progress
from profiler.study import Design, write_study
from profiler.study.edits import design_edits as edits
from profiler.study.files import examples
from profiler.ui.app import FIRST_PAINT
from tests.benchmarks.bowls import GROOVES, forty
from tests.benchmarks.drag import drags
from tests.benchmarks.eddies import eddies
from tests.benchmarks.growth import growth
from tests.benchmarks.rows import Row, Took, timed
from tests.benchmarks.trials import judging

LINES = 40  # each way of a whole map
ASKED_MS = {"profile": 300.0, "report": 4000.0}  # of an export; any other may take a second


@dataclass(frozen=True, slots=True)
class Counts:
    """How often each thing is done."""

    recompute: int = 300
    drag: int = 400
    start: int = 10
    drawing: int = 20
    growth: int = 30
    edits: int = 10_000


def groups(counts: Counts) -> list[Callable[[], list[Row]]]:
    """What is measured together, so that a plain redraw stands before and after."""
    return [
        lambda: recompute(counts.recompute),
        lambda: drags(counts.drag),
        lambda: [start(counts.start)],
        lambda: maps(counts.drawing),
        lambda: fits(counts.drawing),
        lambda: drawings(counts.start),
        lambda: exports(counts.drawing),
        lambda: growth(counts.growth),
        lambda: eddies(counts.start),
        lambda: judging(counts.start),
    ]


def recompute(count: int) -> list[Row]:
    """A knot has moved: everything that depends on it, in sight alone and with all stages."""
    base = forty()
    turned = [edits.move_knot(base.design, 1, None, 17.0 + 0.05 * (i % 40)) for i in range(count)]

    def over(want: Stages) -> tuple[Took, ...]:
        def one(design: Design) -> None:
            whole = evaluate(design, base.machine, base.duty, want)
            assert whole.shape is not None and len(whole.shape.mouths) == GROOVES

        one(turned[0])
        return tuple(timed(lambda design=design: one(design)) for design in turned)

    return [
        Row("recompute, 40 grooves, in sight", over(Stages.QUICK), 3.5),
        Row("recompute, 40 grooves, all stages", over(Stages.ALL), 10.0),
    ]


def start(count: int) -> Row:
    """From starting the process to the first paint of the section strip, with a warm disk."""
    with tempfile.TemporaryDirectory() as home:
        environment = os.environ | {
            FIRST_PAINT: "1", "HOME": home, "XDG_CONFIG_HOME": home, "XDG_DATA_HOME": home, "XDG_STATE_HOME": home,
        }  # fmt: skip

        def once() -> Took:
            began = time.monotonic()
            done = subprocess.run(
                [sys.executable, "-m", "profiler"],
                env=environment, capture_output=True, text=True, timeout=120, check=True,
            )  # fmt: skip
            return Took(float(done.stdout.split()[-1]) - began)

        once()
        return Row("process start to first paint", tuple(once() for _ in range(count)), 600.0)


def maps(count: int) -> list[Row]:
    """A step of an ore map, which is what a drag may have to wait for; a whole one; the ladder of nine duties."""
    read = examples.read(examples.DEFAULT)
    now = evaluate(read.design, read.machine, read.duty)
    question = asked(span("solids", count=max(count, 2)), span("d50", count=AT_ONCE), "matched_mm", None, now)
    at = [time.perf_counter()]
    ore_map(question, now, progress=Progress(lambda share: at.append(time.perf_counter())))
    whole = asked(span("solids", count=LINES), span("d50", count=LINES), "matched_mm", None, now)
    nine = [span("solids").axis.turned(read.duty, 28.0 + 2.0 * k) for k in range(9)]
    under(now, nine)
    steps = tuple(Took(float(step)) for step in np.diff(at[1:]))
    window = tuple(timed(lambda: ore_map(whole, now)) for _ in range(max(count // 4, 1)))
    ladder = tuple(timed(lambda: under(now, nine)) for _ in range(5 * count))
    return [
        Row(f"ore map, one step of {AT_ONCE} duties", steps, 200.0),
        Row(f"ore map of {LINES**2} points, in the window", window, 500.0),
        Row(f"ore map of {LINES**2} points, from the terminal", _from_the_terminal(max(count // 4, 1)), 900.0),
        Row("ladder of nine duties", ladder, 2.0),
    ]


def _from_the_terminal(count: int) -> tuple[Took, ...]:
    """The same map by the command, process and all."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "default.bowl"
        write_study(examples.read(examples.DEFAULT), path)
        words = ["map", str(path), "--x", "solids", "--y", "d50", "--count", str(LINES), "--csv"]

        def once() -> None:
            subprocess.run([sys.executable, "-m", "profiler", *words], capture_output=True, check=True, timeout=120)

        once()
        return tuple(Took(timed(once).wall) for _ in range(count))


def fits(count: int) -> list[Row]:
    """A bowl fitted to a smaller machine, and one that cannot be: then every turn is tried in vain."""
    base = forty()
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
    base = forty()
    evaluation = evaluate(base.design, base.machine, base.duty)
    with tempfile.TemporaryDirectory() as folder:

        def one(suffix: str, kind: str) -> tuple[Took, ...]:
            target = Path(folder) / f"out{suffix}"
            export(target, evaluation, kind=kind)
            return tuple(timed(lambda: export(target, evaluation, kind=kind)) for _ in range(count))

        kinds = [(suffix, output.key) for output in OUTPUTS for suffix in output.suffixes]
        return [Row(f"{suffix} {kind}, warm", one(suffix, kind), ASKED_MS.get(kind, 1000.0)) for suffix, kind in kinds]
