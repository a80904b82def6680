"""How the time of an evaluation grows with grooves, duties and knots; as rows, and as one chart when it is asked for.

Straight or better: twice as many take at most twice as long. The slope in logarithms says how it stands: 1 is straight.
"""

from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np
from msgspec.structs import replace

from profiler.assess import Stages, evaluate
from profiler.explore.ore_map import axis
from profiler.study import Design, Duty, Knot, Study
from profiler.study.edits import design_edits as edits
from tests.benchmarks.bowls import forty, grooved
from tests.benchmarks.rows import Row, timed

LINES: dict[str, tuple[int, ...]] = {
    "grooves": (10, 20, 40, 80, 150, 300),
    "duties": (1, 3, 9, 30, 90),
    "knots": (3, 10, 30, 100),
}
NAMED = "recompute in sight, {many} {what}"
WALL_MM = 330.0  # of the default's wall, shared by however many grooves
ASKED_MS = 4.0  # of forty grooves under one duty; straight from there, and never less than half of it
STRAIGHT = {"grooves": 40, "duties": 1, "knots": 3}


def growth(count: int) -> list[Row]:
    """Every evaluation is of a wall not met before: what is in sight, without anything kept."""
    return [_row(what, many, count) for what, line in LINES.items() for many in line]


def _row(what: str, many: int, count: int) -> Row:
    study, duties = _CASES[what](many)
    walls = [_leant(study.design, 0.05 * i) for i in range(count + 1)]

    def one(design: Design) -> None:
        whole = evaluate(design, study.machine, duties, Stages.QUICK)
        assert whole.shape is not None and whole.flow is not None

    one(walls[0])
    asked = ASKED_MS * max(many / STRAIGHT[what], 0.5) if what != "knots" else ASKED_MS
    took = tuple(timed(lambda design=design: one(design)) for design in walls[1:])
    return Row(NAMED.format(many=many, what=what), took, round(asked, 1))


def _leant(design: Design, by_deg: float) -> Design:
    return edits.turned(design, range(1, len(design.wall.knots) - 1), by_deg)


def _grooves(many: int) -> tuple[Study, tuple[Duty, ...]]:
    pitch = WALL_MM / many
    study = grooved(many, 0.65 * pitch, 0.55 * pitch, 0.1 * pitch, 0.03 * pitch)
    return study, (study.duty,)


def _duties(many: int) -> tuple[Study, tuple[Duty, ...]]:
    study, solids = forty(), axis("solids")
    return study, tuple(solids.turned(study.duty, float(v)) for v in np.linspace(26.0, 46.0, many))


def _knots(many: int) -> tuple[Study, tuple[Duty, ...]]:
    """The default wall's own angles at so many equal heights."""
    study = forty()
    was = study.design.wall.knots
    heights = np.linspace(was[0].height_mm, was[-1].height_mm, many)
    angles = np.interp(heights, [k.height_mm for k in was], [k.angle_deg for k in was])
    knots = tuple(Knot(round(float(z), 2), round(float(a), 3)) for z, a in zip(heights, angles, strict=True))
    wall = replace(study.design.wall, knots=knots)
    return edits.with_design(study, replace(study.design, wall=wall)), (study.duty,)


_CASES: dict[str, Callable[[int], tuple[Study, tuple[Duty, ...]]]] = {
    "grooves": _grooves,
    "duties": _duties,
    "knots": _knots,
}


def slopes(rows: Sequence[Row]) -> dict[str, float]:
    """How fast each line grows, in logarithms, over its upper half."""
    found = {}
    for what, line in LINES.items():
        upper = line[len(line) // 2 - 1 :]
        times = [_of(rows, what, many).cpu_ms for many in upper]
        found[what] = float(np.polyfit(np.log(upper), np.log(times), 1)[0])
    return found


def chart(rows: Sequence[Row], target: Path) -> None:
    """One picture of the three lines, both ways in logarithms, beside what would be straight."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    figure = Figure((7.0, 4.6), dpi=110)
    FigureCanvasAgg(figure)
    panel = figure.subplots()
    grown = slopes(rows)
    for what, line in LINES.items():
        times = [_of(rows, what, many).cpu_ms for many in line]
        panel.loglog(line, times, "o-", label=f"{what}: slope {grown[what]:.2f} over the upper half")
        panel.loglog([line[0], line[-1]], [times[0], times[0] * line[-1] / line[0]], ":", color="0.6", linewidth=1.0)
    panel.set_xlabel("how many (the other two: 40 grooves, 1 duty, 4 knots)")
    panel.set_ylabel("evaluation in sight, ms of processor time, median")
    panel.set_title("How an evaluation grows; dotted: straight from its first point")
    panel.grid(visible=True, which="both", alpha=0.3)
    panel.legend()
    figure.tight_layout()
    figure.savefig(target)


def _of(rows: Sequence[Row], what: str, many: int) -> Row:
    return next(row for row in rows if row.what == NAMED.format(many=many, what=what))
