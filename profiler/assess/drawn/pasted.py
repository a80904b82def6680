"""Points of a profile pasted or from a table: two columns, radius and height unless their heads say otherwise."""

import re

import numpy as np

from profiler.assess.drawn.drawing import Drawing, UnreadableDrawing
from profiler.geometry.chain import Chain
from profiler.numbers import number_of

HEIGHT_HEAD = re.compile(r"height|level|^[hzy](\b|_)", re.IGNORECASE)
RADIUS_HEAD = re.compile(r"radius|^[rx](\b|_)", re.IGNORECASE)
DIAMETER_HEAD = re.compile(r"diameter|^(d|dia|Ø|ø)(\b|_)", re.IGNORECASE)
MOST_POINTS = 10_000


def pasted_points(text: str, name: str = "the pasted points") -> Drawing:
    """One open chain through the points, in their order; the unit is not known. Raises UnreadableDrawing."""
    lines = enumerate(text.splitlines(), 1)
    rows = [(at, _cells(line)) for at, line in lines if line.strip() and not line.lstrip().startswith("#")]
    if not rows:
        raise UnreadableDrawing(f"There is nothing in {name}.")
    head = [cell.strip() for cell in rows[0][1]]
    swapped, halved = False, False
    if any(_number(cell) is None for cell in head[:2]):
        rows = rows[1:]
        swapped = bool(HEIGHT_HEAD.search(head[0]))
        halved = bool(DIAMETER_HEAD.search(head[1 if swapped else 0])) if len(head) > 1 else False
        if not swapped and not halved and not RADIUS_HEAD.search(head[0]):
            raise UnreadableDrawing(f"The heads of {name}, “{', '.join(head[:2])}”, name no radius and height.")
    if len(rows) > MOST_POINTS:
        raise UnreadableDrawing(f"{name} holds {len(rows)} points; a profile has at most {MOST_POINTS}.")
    points = np.array([_point(cells, line, name) for line, cells in rows]).reshape(-1, 2)
    if swapped:
        points = points[:, ::-1]
    if halved:
        points = points * [0.5, 1.0]
    if len(points) < 2 or not float(np.hypot(*np.diff(points, axis=0).T).max()) > 0.0:
        raise UnreadableDrawing(f"{name} holds fewer than two points: a profile needs a line.")
    keep = np.append(np.hypot(*np.diff(points, axis=0).T) > 0.0, True)
    stroke = Chain(np.ascontiguousarray(points[keep]), np.zeros(int(keep.sum())), closed=False)
    return Drawing(name, (stroke,), unit_mm=None, notes=("Points do not say their unit.",))


def _cells(line: str) -> list[str]:
    for mark in ("\t", ";"):
        if mark in line:
            return line.split(mark)
    words = line.split()
    return words if len(words) > 1 and not any("," in w and w.endswith(",") for w in words) else re.split(r",\s*", line)


def _point(cells: list[str], line: int, name: str) -> tuple[float, float]:
    numbers = [_number(cell) for cell in cells[:2]]
    if len(numbers) < 2 or numbers[0] is None or numbers[1] is None:
        raise UnreadableDrawing(f"Line {line} of {name}, “{' '.join(cells)[:40]}”, is not a radius and a height.")
    return numbers[0], numbers[1]


def _number(text: str) -> float | None:
    try:
        return number_of(text)
    except ValueError:
        return None
