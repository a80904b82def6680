"""Loose strokes joined end to end into chains, small gaps closed; where more than two meet a chain ends."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from profiler.geometry.chain import Chain, FloatArray

SAME = 1e-6  # ends closer than this are one point as drawn: nothing was closed


@dataclass(frozen=True, slots=True)
class Joined:
    """`closed_gaps`: how many joints had a gap, `widest` the widest of them; `forks`: places where strokes branch."""

    chains: tuple[Chain, ...]
    closed_gaps: int
    widest: float
    forks: int


def joined(strokes: Sequence[Chain], gap: float) -> Joined:
    """Chains of open strokes whose ends lie within `gap` of one another; closed strokes stay as they are.

    The longest chains come first.
    """
    loose = [s for s in strokes if not s.closed and len(s.points) > 1]
    whole = [s for s in strokes if s.closed]
    if not loose:
        return Joined(tuple(_longest_first(whole)), 0, 0.0, 0)
    ends: FloatArray = np.array([p for s in loose for p in (s.points[0], s.points[-1])])
    node = _nodes(ends, gap)
    at: dict[int, list[int]] = {}
    for end, n in enumerate(node):
        at.setdefault(int(n), []).append(end)
    partner = {a: b for pair in at.values() if len(pair) == 2 for a, b in (pair, pair[::-1])}
    gaps = np.array([float(np.hypot(*(ends[a] - ends[b]))) for a, b in partner.items() if a < b])
    open_gaps = gaps[gaps > SAME]
    chains = [_run(loose, run, partner) for run in _runs(len(loose), partner)]
    widest = float(open_gaps.max()) if len(open_gaps) else 0.0
    forks = sum(len(meeting) > 2 for meeting in at.values())
    return Joined(tuple(_longest_first([*whole, *chains])), len(open_gaps), widest, forks)


def _nodes(ends: FloatArray, gap: float) -> NDArray[np.int64]:
    """Which meeting place each end belongs to. Ends that touch exactly come first: a near one joins only free ends."""
    from scipy.spatial import cKDTree

    pairs = cKDTree(ends).query_pairs(gap, output_type="ndarray")
    away = np.hypot(*(ends[pairs[:, 0]] - ends[pairs[:, 1]]).T)
    root = list(range(len(ends)))
    size = [1] * len(ends)

    def find(i: int) -> int:
        while root[i] != i:
            root[i] = root[root[i]]
            i = root[i]
        return i

    for place in np.argsort(away, kind="stable"):
        a, b = (find(int(i)) for i in pairs[place])
        if a == b or (away[place] > SAME and (size[a] > 1 or size[b] > 1)):
            continue
        root[b] = a
        size[a] += size[b]
    return np.array([find(i) for i in range(len(ends))])


def _runs(count: int, partner: dict[int, int]) -> list[list[tuple[int, bool]]]:
    """Strokes in the order they are run through, each with whether it runs as drawn; stroke i has ends 2i, 2i + 1."""
    used = [False] * count
    found = []
    starts = [e for i in range(count) for e in (2 * i, 2 * i + 1) if e not in partner]
    for end in (*starts, *range(0, 2 * count, 2)):  # what has no loose end runs in a ring
        run = []
        at: int | None = end
        while at is not None and not used[at // 2]:
            used[at // 2] = True
            run.append((at // 2, at % 2 == 0))
            at = partner.get(at ^ 1)
        if run:
            found.append(run)
    return found


def _run(strokes: Sequence[Chain], run: list[tuple[int, bool]], partner: dict[int, int]) -> Chain:
    """One chain; the point before a closed gap gives way to the point after it."""
    parts = [strokes[i] if as_drawn else strokes[i].reversed() for i, as_drawn in run]
    if len(parts) == 1 and 2 * run[0][0] not in partner:
        return parts[0]
    points = np.concatenate([p.points[:-1] for p in parts] + [parts[-1].points[-1:]])
    bulges = np.concatenate([p.bulges[:-1] for p in parts] + [np.zeros(1)])
    first, last = run[0], run[-1]
    opening = 2 * first[0] + (0 if first[1] else 1)
    ending = 2 * last[0] + (1 if last[1] else 0)
    if partner.get(ending) == opening and len(points) > 2:
        return Chain(points[:-1], bulges[:-1], closed=True)
    return Chain(points, bulges, closed=False)


def _longest_first(chains: Sequence[Chain]) -> list[Chain]:
    """By the chords between their points."""
    if not chains:
        return []
    sizes = np.array([len(c.points) for c in chains])
    steps = np.hypot(*np.diff(np.concatenate([c.points for c in chains]), axis=0, append=0.0).T)
    last = np.cumsum(sizes) - 1
    steps[last] = 0.0  # from one chain to the next
    lengths = np.add.reduceat(steps, last - sizes + 1)
    return [chains[i] for i in np.argsort(-lengths, kind="stable")]
