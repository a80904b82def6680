"""How long the eddy takes: cold and coarse, warm and fine, all grooves in turn, a frame while the worker solves."""

import time

from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from profiler.assess import Evaluation, evaluate
from profiler.assess.eddy.answers import middle_case
from profiler.assess.eddy.lids import USUAL, lid_of
from profiler.physics.eddy.flow import COARSE, FINE, Eddy, solve
from profiler.study.files import examples
from profiler.ui.work.jobs import Jobs
from tests.benchmarks.rows import Row, Took, timed

GROOVE, GROOVES = 3, 16
FRAME_MS = 16


def eddies(count: int) -> list[Row]:
    """On the default example, with w; library loaded, numbering known, as after the first of a session."""
    e = _sixteen()
    lid = lid_of(e, GROOVE)
    assert lid is not None
    drive = lid.drive(USUAL.reynolds)
    start = solve(lid.groove, drive, COARSE)
    assert isinstance(start, Eddy)
    solve(lid.groove, drive, FINE, start)
    cold = tuple(timed(lambda: solve(lid.groove, drive, COARSE)) for _ in range(count))
    warm = tuple(timed(lambda: solve(lid.groove, drive, FINE, start)) for _ in range(count))
    whole, waits = _in_the_worker(e, max(count // 5, 1))
    return [
        Row("eddy, 16 x 16 elements from rest", cold, 350.0),
        Row("eddy, 24 x 24 elements from a neighbour", warm, 300.0),
        Row("eddies of 16 grooves, in the worker", whole, 5000.0),
        Row("wait of the window meanwhile, beyond a frame", waits, FRAME_MS),
    ]


def _sixteen() -> Evaluation:
    read = examples.read(examples.DEFAULT)
    cut = read.having("design", read.design.having("grooves", read.design.grooves.having("count", GROOVES)))
    return evaluate(cut.design, cut.machine, cut.duty)


def _in_the_worker(e: Evaluation, count: int) -> tuple[tuple[Took, ...], tuple[Took, ...]]:
    """Seconds for all grooves one after another, and how late each look of the window's own thread came meanwhile."""
    app = QApplication.instance() or QApplication([])
    assert isinstance(app, QApplication)
    jobs, whole, waits = Jobs(), [], []
    for _ in range(count):
        told: list[object] = []
        began = time.perf_counter()
        jobs.ask("eddies", lambda progress: _all(e), told.append)
        while not told:
            at = time.perf_counter()
            QTest.qWait(FRAME_MS)
            waits.append(Took(max(time.perf_counter() - at - FRAME_MS * 1e-3, 0.0)))
        whole.append(Took(time.perf_counter() - began))
    jobs.close()
    return tuple(whole), tuple(waits)


def _all(e: Evaluation) -> int:
    """Each groove from the one below it; how many settled."""
    start: Eddy | None = None
    settled = 0
    for groove in range(1, GROOVES + 1):
        case = middle_case(e, groove, USUAL, COARSE, start).case
        if case is not None:
            start, settled = case.eddy, settled + 1
    return settled
