"""A search for the terminal: its sentence, the best candidates, what binds; and the same as one JSON object.

Keys are a promise: more may come, none is renamed.
"""

import json
from math import isfinite

from profiler.explore.search.goal import CLAIM, SINGLE_HEIGHTS, TRIVIAL
from profiler.explore.search.left_out import left_out
from profiler.explore.search.search import Found, best_of
from profiler.explore.search.tried import Tried
from profiler.numbers import as_printed, counted, fixed

LISTED = 5  # candidates


def find_text(found: Found) -> str:
    """The answer in one sentence above all else, then what it rests on."""
    asked = found.asked
    lines = [CLAIM, answer(found)]
    lines += [f"Friction {d.friction:g} under “{d.name}”; its band plays no part." for d in asked.duties]
    lines += remarks(found)
    if found.candidates:
        lines.append(f"{counted(len(found.candidates), 'candidate')}; the best:")
        lines += [f"  {asked.goal.text(t.value):>14}   {curve_words(t)}" for t in best_of(found.tried, LISTED)]
    return as_printed("\n".join(lines))


def answer(found: Found) -> str:
    """One sentence: what was found, from where, or the nearest miss and what binds."""
    asked, goal = found.asked, found.asked.goal
    for_goal = f"{goal.words[0].upper()}{goal.words[1:]}"
    if found.best is None:
        why = found.nearest.why.words if found.nearest.why is not None else "nothing was evaluated"
        return f"{for_goal}: nothing that was tried meets every condition. The nearest miss: {why}."
    now = found.start.value
    was = f", where “{asked.design.name}” has {goal.text(now)}" if isfinite(now) else ""
    unmet = "" if found.start.met else " without meeting the conditions"
    held = f" What binds: {'; '.join(r.words for r in found.binding)}." if found.binding else ""
    return f"{for_goal}: {goal.text(found.best.value)}{was}{unmet}, after {found.evaluations} evaluations.{held}"


def remarks(found: Found) -> list[str]:
    """What else must be known of this search."""
    lines = []
    if not found.hangs_on_wall:
        lines.append("The goal does not depend on the wall: whatever was tried has the same number.")
    quantity = found.asked.goal.quantity
    if quantity is not None and quantity.key in SINGLE_HEIGHTS and not found.asked.conditions:
        lines.append(TRIVIAL)
    if not found.complete:
        lines.append("Stopped: this is what was found until then.")
    return [*lines, told] if (told := left_out(found.excluded)) else lines


def curve_words(tried: Tried) -> str:
    knots = tried.design.wall.knots
    return ", ".join(f"{fixed(k.angle_deg, 2)}° at {fixed(k.height_mm, 1)} mm" for k in knots)


def find_json(found: Found) -> str:
    """One JSON object in ASCII; null where there is no number."""
    asked, best = found.asked, found.best
    answered = {
        "design": asked.design.name,
        "goal": asked.goal.words,
        "duties": [d.name for d in asked.duties],
        "value": None if best is None else _number(best.value),
        "start": _number(found.start.value),
        "start_met": found.start.met,
        "met": found.met,
        "binding": [{"key": r.key, "words": as_printed(r.words)} for r in found.binding],
        "evaluations": found.evaluations,
        "candidates": [_candidate(t) for t in best_of(found.tried, LISTED)],
        "nearest": _candidate(found.nearest),
        "excluded": dict(found.excluded),
        "complete": found.complete,
        "seed": asked.seed,
        "points": asked.points,
        "sentence": as_printed(answer(found)),
        "remarks": [as_printed(line) for line in (CLAIM, *remarks(found))],
    }
    return json.dumps(answered, allow_nan=False)


def _candidate(tried: Tried) -> dict[str, object]:
    design = tried.design
    return {
        "value": _number(tried.value),
        "met": tried.met,
        "heights_mm": [k.height_mm for k in design.wall.knots],
        "angles_deg": [k.angle_deg for k in design.wall.knots],
        "mouth_mm": design.grooves.mouth_mm,
        "depth_mm": design.grooves.depth_mm,
        "count": design.grooves.count,
    }


def _number(value: float) -> float | None:
    return value if isfinite(value) else None
