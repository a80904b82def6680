"""A wall curve searched for a goal: quasi-random points first, then the best few polished without derivatives.

Sobol points fill the cube of free numbers evenly whatever their count; points that do not fit seat, hub or least wall
are drawn anew, since they cost next to nothing. The same seed gives the same result. What was found before the work is
called off is kept. The answer is the best that was tried, never a claim that there is no better.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from math import isfinite

import numpy as np
from msgspec.structs import replace

from profiler.assess.fitting.limits import Room, room_of
from profiler.assess.shape.held_ends import CannotJoin
from profiler.explore.search.free_curve import ANGLES_DEG, FreeCurve, free_curve
from profiler.explore.search.goal import Across, Condition, Goal
from profiler.explore.search.tried import STOPS, Judge, Reason, Tried, cannot_join
from profiler.geometry.wall import FloatArray
from profiler.progress import SILENT, Cancelled, Progress
from profiler.study import Design, Duty, Study
from profiler.study.edits.design_edits import with_grooves

POINTS = 256
DRAWS = 16  # for each point wanted, at most so many are drawn
POLISHED = 5
POLISH = 24  # evaluations for each free number of each polish
ALIKE_DEG, ALIKE_MM = 1.5, 10.0  # at every knot: nearer curves are one candidate
POLISH_OF_POINTS = 3  # all polishing together takes at most so many evaluations for each point tried first
FIRST_STEP = 0.06  # of a number's range
SOBOL_SHARE = 0.5  # of the work, as progress tells it
WORSE = 1e6  # every design that meets the conditions is better than any that does not
NEARER_WALL_MM = 0.5  # the best one would miss room with so much more of least wall: the wall binds


@dataclass(frozen=True, slots=True)
class Asked:
    """A search: the design it starts from, the goal, the conditions, and what is free."""

    study: Study
    design: Design
    duty: Duty
    goal: Goal
    conditions: tuple[Condition, ...] = ()
    knots: int | None = None
    grooves: tuple[str, ...] = ()
    points: int = POINTS
    seed: int = 1
    no_stop: bool = True
    polish: int = POLISH  # evaluations for each free number, for each of the best few; 0: none

    @property
    def duties(self) -> tuple[Duty, ...]:
        """Those the goal is taken over. Raises ValueError where the ore window is wanted and empty."""
        if self.goal.across is Across.DUTY:
            return (self.duty,)
        if not self.study.window:
            raise ValueError("The ore window is empty: mark duties as belonging to it, or search under one duty.")
        return self.study.window

    @property
    def angles_deg(self) -> tuple[float, float]:
        """The range of angles: the widest one wanted cuts it off from above."""
        widest = [c.limit for c in self.conditions if c.quantity.key == "wall_angle_deg" and not c.at_least]
        return ANGLES_DEG[0], min((ANGLES_DEG[1], *widest))


@dataclass(frozen=True, slots=True)
class Found:
    """What was found. `best` is None where nothing met the conditions: then `nearest` came nearest, `why` it failed."""

    asked: Asked
    start: Tried
    best: Tried | None
    nearest: Tried
    tried: tuple[Tried, ...]  # those with a number, in the order they were tried
    binding: tuple[Reason, ...]
    evaluations: int
    excluded: tuple[tuple[str, int], ...]  # why points were left out, and how many, most first
    complete: bool  # False where it was called off

    @property
    def met(self) -> bool:
        return self.best is not None

    @property
    def candidates(self) -> tuple[Tried, ...]:
        """Those that meet the conditions, best first."""
        return tuple(sorted((t for t in self.tried if t.met), key=lambda t: t.loss))

    @property
    def hangs_on_wall(self) -> bool:
        """Whether the goal differs at all among what was tried."""
        values = [t.value for t in self.tried if isfinite(t.value)]
        return len(values) < 2 or max(values) - min(values) > 1e-9 * max(1.0, *map(abs, values))


def best_of(tried: Sequence[Tried], count: int) -> list[Tried]:
    """Those that meet the conditions, best first, each another curve than those before it."""
    found: list[Tried] = []
    for one in sorted((t for t in tried if t.met), key=lambda t: t.loss):
        if len(found) == count:
            break
        if not any(_alike(one.design, other.design) for other in found):
            found.append(one)
    return found


def _alike(one: Design, other: Design) -> bool:
    """Whether two bowls are one for whoever chooses between them."""
    rules = (one.grooves.mouth_mm, one.grooves.depth_mm, one.grooves.count) == (
        other.grooves.mouth_mm, other.grooves.depth_mm, other.grooves.count
    )  # fmt: skip
    knots = one.wall.knots, other.wall.knots
    return rules and len(knots[0]) == len(knots[1]) and all(
        abs(a.angle_deg - b.angle_deg) < ALIKE_DEG and abs(a.height_mm - b.height_mm) < ALIKE_MM
        for a, b in zip(*knots, strict=True)
    )  # fmt: skip


Tell = Callable[[Tried], None]


def search(asked: Asked, progress: Progress = SILENT, tell: Tell = lambda tried: None) -> Found:
    """The best wall found. `tell` is called with everything that has a number, as soon as it has.

    Raises ValueError, one sentence, where there is nothing to search.
    """
    if asked.points < 1:
        raise ValueError("A search tries at least one point.")
    space = free_curve(asked.design, asked.knots, asked.grooves, asked.angles_deg)
    judge = Judge(asked.study.machine, _room(asked), asked.duties, asked.goal, asked.conditions, asked.no_stop)
    run = _Run(judge, space, tell)
    complete = True
    try:
        run.begin(asked.design)
        run.spread(asked, progress)
        run.polish(asked, progress)
    except Cancelled:
        complete = False
    return run.found(asked, complete)


def _room(asked: Asked) -> Room | None:
    """Where the seat cannot be followed no wall fits it; the findings then say so of every point."""
    try:
        return room_of(asked.design, asked.study.machine)
    except ValueError:
        return None


@dataclass(slots=True)
class _Run:
    """One search under way: what was tried so far."""

    judge: Judge
    space: FreeCurve
    tell: Tell
    tried: list[Tried] = field(default_factory=list)
    at: list[FloatArray | None] = field(default_factory=list)  # where in the cube, None for the design as drawn
    out: list[Tried] = field(default_factory=list)  # the nearest of those without a number
    why: Counter[str] = field(default_factory=Counter)
    evaluations: int = 0

    def begin(self, design: Design) -> None:
        """The design as it is, whatever is wrong with its room, then its like with the free knots."""
        self._keep(self.judge(design, roomy=True), None)
        self._try(self.space.at_start)

    def spread(self, asked: Asked, progress: Progress) -> None:
        """Quasi-random points until so many were evaluated, or so many more drawn."""
        done = 0
        for drawn, point in enumerate(sobol(self.space.count, asked.points * DRAWS, asked.seed)):
            progress.at(SOBOL_SHARE * max(done / asked.points, drawn / (asked.points * DRAWS)))
            before = self.evaluations
            self._try(point)
            done += self.evaluations - before
            if done >= asked.points:
                return

    def polish(self, asked: Asked, progress: Progress) -> None:
        """The best few moved on by simplexes, which need no derivatives: the number has corners."""
        from scipy.optimize import minimize

        most = min(asked.polish * self.space.count, POLISH_OF_POINTS * asked.points // POLISHED)
        starts = self._best_points() if most else []
        for k, start in enumerate(starts):
            share = SOBOL_SHARE + (1.0 - SOBOL_SHARE) * k / len(starts)
            step = np.where(start > 0.5, -FIRST_STEP, FIRST_STEP)

            def worth(point: FloatArray, share: float = share) -> float:
                progress.at(share)
                return self._worth(self._try(np.clip(point, 0.0, 1.0)))

            simplex = np.vstack((start, start + np.diag(step)))
            options = {"maxfev": most, "initial_simplex": simplex, "xatol": 1e-4, "fatol": 1e-6}
            minimize(worth, start, method="Nelder-Mead", bounds=[(0.0, 1.0)] * len(start), options=options)
        progress.at(1.0)

    def found(self, asked: Asked, complete: bool) -> Found:
        """The best that the plain evaluate() has no stop against; what it stops is no candidate any more."""
        tried = list(self.tried)
        best = None
        for i in sorted((i for i, t in enumerate(tried) if t.met), key=lambda i: tried[i].loss):
            stop = self.judge.whole(tried[i].design) if self.judge.no_stop else None
            if stop is None:
                best = tried[i]
                break
            self.why[stop.key] += 1
            tried[i] = Tried(tried[i].design, tried[i].value, tried[i].loss, STOPS, stop)
        nearest = best or min((*tried, *self.out), key=lambda t: t.miss)
        binding = (nearest.why,) if best is None and nearest.why is not None else self._binding(nearest)
        excluded = tuple(self.why.most_common())
        start = tried[0] if self.at and self.at[0] is None else self.out[0]
        return Found(asked, start, best, nearest, tuple(tried), binding, self.evaluations, excluded, complete)

    def _try(self, point: FloatArray) -> Tried:
        try:
            design = self.space.at(point)
        except CannotJoin as reason:
            return self._keep(cannot_join(self.space.design, reason), point)
        return self._keep(self.judge(design), point)

    def _keep(self, tried: Tried, point: FloatArray | None) -> Tried:
        if tried.why is not None:
            self.why[tried.why.key] += 1
        if tried.had_flow:
            self.evaluations += 1
        if isfinite(tried.value):
            self.tried.append(tried)
            self.at.append(point)
            self.tell(tried)
        else:
            self.out.append(tried)
        return tried

    def _worth(self, tried: Tried) -> float:
        return tried.loss if tried.met else WORSE * (1.0 + tried.miss)

    def _best_points(self) -> list[FloatArray]:
        ranked = sorted(((self._worth(t), i) for i, t in enumerate(self.tried) if self.at[i] is not None))
        points = (self.at[i] for _, i in ranked[:POLISHED])
        return [point for point in points if point is not None]

    def _binding(self, best: Tried) -> tuple[Reason, ...]:
        """Conditions met by next to nothing, and room that a little more of least wall would not leave."""
        rule = best.design.grooves
        thicker = with_grooves(best.design, replace(rule, least_wall_mm=rule.least_wall_mm + NEARER_WALL_MM))
        tight = self.judge.excluded(thicker)
        return best.near if tight is None or tight.why is None else (*best.near, tight.why)


def sobol(numbers: int, count: int, seed: int) -> Iterator[FloatArray]:
    """Points of the unit cube, (numbers,) each, in blocks of a power of two, so that they stay evenly spread."""
    from scipy.stats import qmc

    engine = qmc.Sobol(numbers, scramble=True, seed=seed)
    block = 1 << min(max(count - 1, 1).bit_length(), 8)
    drawn = 0
    while drawn < count:
        points: Sequence[FloatArray] = engine.random(block)
        for point in points[: count - drawn]:
            yield np.asarray(point, dtype=float)
        drawn += block
