"""A judged trial as pictures: differences with their interval, run order, grade against recovery, size classes.

The reference is drawn hollow, the new design filled; excluded runs are crosses; bars are the
95 per cent intervals of single runs by their own errors. Nothing is computed here.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from profiler.assess.trials.drift import Drift
from profiler.assess.trials.drift import run_order as order_of_runs
from profiler.assess.trials.verdicts import TrialEvaluation
from profiler.numbers import fixed, with_minus
from profiler.pictures.basics.display import (
    Align,
    Area,
    Dot,
    FloatArray,
    Item,
    Label,
    Line,
    Picture,
    Role,
    Strokes,
    boxed,
)
from profiler.pictures.basics.frame import Frame, Scale, framed
from profiler.statistics.inference.comparison import Kind
from profiler.statistics.trial.judge import Judgement

REFERENCE_ROLE, NEW_ROLE = Role.WALL, Role.REPOSE
_DOT = 3.4
_CROSS = 3.0
WORDS_SHARE = 0.1
NARROW_PX = 290.0
_LETTER_PX = 6.2  # a letter of 8 points, on the wide side
_WORDS_PX = 74.0  # room for the words of size classes


@dataclass(frozen=True, slots=True)
class Marked:
    """A run in a picture: its row in the ledger and its place in pixels."""

    row: int
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Along:
    """What recoveries are drawn against: a place for each run, its title, and the drift along it per `unit`."""

    across: Sequence[float | None]
    title: str
    drift: Drift | None = None
    unit: str = ""


def nearest(points: Sequence[Marked], x: float, y: float, reach: float = 12.0) -> int | None:
    """Row of the run nearest to a place, None where none is within reach."""
    if not points:
        return None
    best = min(points, key=lambda p: (p.x - x) ** 2 + (p.y - y) ** 2)
    return best.row if (best.x - x) ** 2 + (best.y - y) ** 2 <= reach**2 else None


def differences(found: TrialEvaluation, width: float, height: float) -> Picture:
    """Every observation's difference in turn, the mean with its 95 per cent interval, zero and the worthwhile gain."""
    judgement = found.judgement
    if judgement is None:
        return _nothing(width, height, "no comparison to draw")
    c, gain = judgement.comparison, judgement.verdict.worthwhile
    values = _differences(judgement)
    limits = c.interval95
    shown = [*values.tolist(), limits.low, limits.high, 0.0, *([gain] if gain is not None else [])]
    count = max(len(values), 1)
    noun = judgement.layout.noun
    x_title = "new runs less the reference's mean" if c.kind is Kind.UNPAIRED else f"{noun}s in order of the ledger"
    y_title = "difference, % points" if width >= NARROW_PX else "% points"
    frame = framed(width, height, (0.0, count + 1.0), _room(shown), x_title, y_title)
    _, _, right, _ = frame.box
    items: list[Item] = [_band(frame, limits.low, limits.high), *frame.grid()]
    items.append(_level(frame, 0.0, Role.FAINT, (), 1.2))
    items.append(_level(frame, c.difference, NEW_ROLE, (), 1.6))
    if gain is not None:
        items.append(_level(frame, gain, Role.CHOSEN, (5.0, 3.0), 1.2))
        items.append(
            Label(right - 4.0, frame.y.px(gain) - 8.0, "worthwhile", Role.CHOSEN, Align.RIGHT, 8.0, paper=True)
        )
    items += [Dot(frame.x.px(i), frame.y.px(v), _DOT, NEW_ROLE) for i, v in enumerate(values.tolist(), 1)]
    text = with_minus(f"{c.difference:+.2f} ({limits.low:+.2f} to {limits.high:+.2f})")
    items.append(Label(right, 12.0, text, Role.TEXT, Align.RIGHT, 8.5, True))
    return Picture(width, height, (*items, *_without_x_numbers(frame, c.kind is Kind.UNPAIRED)))


def run_order(found: TrialEvaluation, width: float, height: float, chosen: int | None = None) -> Picture:
    """Recoveries in the order in which they were run, with what drift there is; excluded runs are crosses."""
    drawn = Along(order_of_runs(found.runs), "run, in order of start", found.with_order, "points a run")
    return _runs_picture(found, width, height, drawn, chosen)


def wear(found: TrialEvaluation, width: float, height: float, chosen: int | None = None) -> Picture:
    """Recoveries against the liner's age, with what drift there is."""
    return _runs_picture(
        found, width, height, Along(_ages(found), "liner age, h", found.with_wear, "points an hour"), chosen
    )


def grade_recovery(found: TrialEvaluation, width: float, height: float, chosen: int | None = None) -> Picture:
    """Recoveries against the feed grade that is compared."""
    grades = [run.feed_grade_g_t for run in found.runs]
    return _runs_picture(found, width, height, Along(grades, "feed grade, g/t"), chosen)


def order_points(found: TrialEvaluation, width: float, height: float) -> list[Marked]:
    """Where each run lies in `run_order`."""
    return _placed(found, order_of_runs(found.runs), width, height, "")[1]


def wear_points(found: TrialEvaluation, width: float, height: float) -> list[Marked]:
    """Where each run lies in `wear`."""
    return _placed(found, _ages(found), width, height, "")[1]


def grade_points(found: TrialEvaluation, width: float, height: float) -> list[Marked]:
    """Where each run lies in `grade_recovery`."""
    grades = [run.feed_grade_g_t for run in found.runs]
    return _placed(found, grades, width, height, "")[1]


def size_classes(found: TrialEvaluation, width: float, height: float) -> Picture:
    """Difference of each class with its 95 per cent interval, and what it contributes to the gain."""
    sizes = found.sizes
    if sizes is None:
        return _nothing(width, height, "no size classes recorded on both sides")
    ends: list[float] = [0.0]
    for test in sizes.tests:
        if test is not None:
            ends += [100.0 * test.interval95.low, 100.0 * test.interval95.high]
    low, high = _room(ends)
    words = 0.42 if width >= NARROW_PX else 1.0  # room for what each contributes
    fitted = framed(
        width, height, (low, high + words * (high - low)), (0.0, 1.0), "difference in the class, points", ""
    )
    frame = replace(fitted, x=replace(fitted.x, start=_WORDS_PX))
    _, top, right, bottom = frame.box
    rows = np.linspace(top, bottom, len(sizes.words) + 1)
    zero = frame.x.px(0.0)
    items: list[Item] = [Line(np.array([[zero, top], [zero, bottom]]), Role.FAINT, 1.2)]
    for k, (word, test) in enumerate(zip(sizes.words, sizes.tests, strict=True)):
        y = 0.5 * float(rows[k] + rows[k + 1])
        items.append(Label(frame.x.start - 5.0, y, word, Role.TEXT, Align.RIGHT, 8.0))
        part = fixed(100.0 * sizes.gain.by_design[k], 2, signed=True)
        items.append(Label(right - 4.0, y, part, Role.TEXT, Align.RIGHT, 8.0))
        if test is None:
            continue
        a, b = frame.x.px(100.0 * test.interval95.low), frame.x.px(100.0 * test.interval95.high)
        items.append(Line(np.array([[a, y], [b, y]]), NEW_ROLE, 2.0))
        items.append(Dot(frame.x.px(100.0 * test.difference), y, _DOT, NEW_ROLE, filled=test.holm_p < 0.05))
    items.append(Label(8.0, top - 12.0, "size, µm (filled: Holm p < 0.05)", Role.TEXT, Align.LEFT, 8.5))
    items.append(Label(right - 4.0, top - 12.0, "contributes", Role.TEXT, Align.RIGHT, 8.5))
    return Picture(width, height, (*items, *_x_only(frame)))


def _differences(judgement: Judgement) -> FloatArray:
    """Of pairs and blocks; of unpaired runs each new run less the reference's mean."""
    first, second = judgement.layout.values("recovery_percent")
    if judgement.layout.kind is Kind.UNPAIRED:
        return np.asarray(second - judgement.comparison.reference_mean)
    return np.asarray(second - first)


def _ages(found: TrialEvaluation) -> list[float | None]:
    return [run.wear_h for run in found.runs]


def _runs_picture(found: TrialEvaluation, width: float, height: float, along: Along, chosen: int | None) -> Picture:
    frame, points = _placed(found, along.across, width, height, along.title)
    if not points:
        return _nothing(width, height, f"no recovery or no {along.title.split(',')[0]} recorded")
    reference = _reference(found)
    items: list[Item] = frame.grid()
    if along.drift is not None:
        items += _drift(frame, along.drift, along.unit, reference)
    bars = [bar for p in points if (bar := _bar(found, frame, p)) is not None]
    if bars:
        items.append(Strokes(np.array(bars), Role.FAINT, 1.0))
    for p in points:
        run = found.trial.runs[p.row]
        old = run.design == reference
        role = REFERENCE_ROLE if old else NEW_ROLE
        if run.excluded:
            ends = [[[p.x - _CROSS, p.y - s * _CROSS], [p.x + _CROSS, p.y + s * _CROSS]] for s in (1.0, -1.0)]
            items.append(Strokes(np.array(ends), Role.FAINT, 1.4))
        else:
            items.append(Dot(p.x, p.y, _DOT - 0.4 if old else _DOT, role, filled=not old))
        if p.row == chosen:
            items.append(Dot(p.x, p.y, 7.0, Role.CHOSEN, filled=False))
            items.append(Label(*_beside(frame, p), f"run {run.run}", Role.CHOSEN, Align.CENTRE, 8.5, True, paper=True))
    return Picture(width, height, (*items, *frame.scales(), *_legend(found, reference, width)))


def _bar(found: TrialEvaluation, frame: Frame, p: Marked) -> list[list[float]] | None:
    """The 95 per cent interval of a run by its own errors, from bottom to top; None where these are not known."""
    half, recovery = found.balances.recovery_half_pct(p.row), float(found.balances.recovery_pct[p.row])
    if half is None or found.trial.runs[p.row].excluded:
        return None
    return [[p.x, frame.y.px(recovery - half)], [p.x, frame.y.px(recovery + half)]]


def _drift(frame: Frame, found: Drift, unit: str, reference: str) -> list[Item]:
    """A line through each design's runs, the fan of the slope's 95 per cent interval, and the slope in words."""
    slope, limits = found.trend.slope, found.trend.interval95
    fans: list[Item] = []
    lines: list[Item] = []
    for level in found.levels:
        xs = np.array([level.low, level.place, level.high])
        low, middle, high = (level.recovery + s * (xs - level.place) for s in (limits.low, slope, limits.high))
        fan = np.vstack((frame.points(xs, np.minimum(low, high)), frame.points(xs, np.maximum(low, high))[::-1]))
        fans.append(Area(fan, Role.BAND, 0.45))
        role, dashes = (REFERENCE_ROLE, (5.0, 3.0)) if level.design == reference else (NEW_ROLE, ())
        lines.append(Line(frame.points(xs, middle), role, 1.4, dashes))
    text = with_minus(f"{slope:+.2g} {unit} ({limits.low:+.2g} to {limits.high:+.2g})")
    left, _, _, bottom = frame.box
    return [*fans, *lines, Label(left + 5.0, bottom - 9.0, text, Role.TEXT, Align.LEFT, 8.0, paper=True)]


def _placed(
    found: TrialEvaluation, across: Sequence[float | None], width: float, height: float, title: str
) -> tuple[Frame, list[Marked]]:
    recovery = found.balances.recovery_pct
    known = [(row, x) for row, x in enumerate(across) if x is not None and np.isfinite(recovery[row])]
    xs = [x for _, x in known] or [0.0, 1.0]
    halves = [found.balances.recovery_half_pct(row) or 0.0 for row, _ in known]
    middles = [float(recovery[row]) for row, _ in known]
    ys = [y + side * half for y, half in zip(middles, halves, strict=True) for side in (-1.0, 1.0)] or [0.0, 1.0]
    low, high = _room(ys)
    foot = low - WORDS_SHARE * (high - low)  # for the words of the drift
    frame = framed(width, height, _room(xs), (foot, high), title, "recovery, %")
    return frame, [Marked(row, frame.x.px(x), frame.y.px(float(recovery[row]))) for row, x in known]


def _reference(found: TrialEvaluation) -> str:
    if found.judgement is not None:
        return found.judgement.verdict.reference
    return found.trial.plan.reference or (found.trial.runs[0].design if found.trial.runs else "")


def _legend(found: TrialEvaluation, reference: str, width: float) -> list[Item]:
    """Hollow and filled, at the right above the frame."""
    new = next((run.design for run in found.trial.runs if run.design != reference), "")
    room = max(int((width - 150.0) / 15.0), 6)
    items: list[Item] = []
    x = width - 12.0
    for name, role, filled in ((new, NEW_ROLE, True), (reference, REFERENCE_ROLE, False)):
        short = name if len(name) <= room else f"{name[: room - 1]}…"
        x -= _LETTER_PX * len(short)
        items.append(Label(x, 12.0, short, Role.TEXT, Align.LEFT, 8.0))
        items.append(Dot(x - 8.0, 12.0, _DOT, role, filled))
        x -= 24.0
    return items


def _beside(frame: Frame, p: Marked) -> tuple[float, float]:
    left, top, right, _ = frame.box
    return min(max(p.x, left + 22.0), right - 22.0), p.y - 14.0 if p.y - 22.0 > top else p.y + 14.0


def _band(frame: Frame, low: float, high: float) -> Item:
    left, _, right, _ = frame.box
    return Area(boxed(left, frame.y.px(high), right, frame.y.px(low)), Role.BAND, 0.6)


def _level(frame: Frame, value: float, role: Role, dashes: tuple[float, ...], width: float) -> Item:
    left, _, right, _ = frame.box
    return Line(np.array([[left, frame.y.px(value)], [right, frame.y.px(value)]]), role, width, dashes)


def _room(values: Sequence[float]) -> tuple[float, float]:
    low, high = min(values), max(values)
    spare = 0.08 * (high - low) or 0.5
    return low - spare, high + spare


def _without_x_numbers(frame: Frame, unpaired: bool) -> list[Item]:
    """Border, upward numbers and titles; observations are counted, so half numbers are left out."""
    whole = Scale(frame.x.low, frame.x.high, frame.x.start, frame.x.end)
    numbers = {f"{v:g}" for v in whole.ticks(56).tolist() if v == int(v) and whole.low < v < whole.high}
    _, _, _, bottom = frame.box
    return [
        item
        for item in frame.scales()
        if not (isinstance(item, Label) and item.y == bottom + 10 and (unpaired or item.text not in numbers))
    ]


def _x_only(frame: Frame) -> list[Item]:
    """Border, numbers across and the title below: rows have words of their own."""
    return [
        item
        for item in frame.scales()
        if not (isinstance(item, Label) and item.x <= _WORDS_PX and item.align in (Align.RIGHT, Align.LEFT))
    ]


def _nothing(width: float, height: float, words: str) -> Picture:
    return Picture(width, height, (Label(0.5 * width, 0.5 * height, words, Role.FAINT, Align.CENTRE),))
