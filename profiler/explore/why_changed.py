"""Why a groove's eddy is otherwise than it was: wall, stream and what lies above, before and after, in one sentence."""

from profiler.assess import Evaluation
from profiler.assess.quantities.table import STATE_WORDS, quantity
from profiler.explore.why_overturn import Why, why
from profiler.numbers import fixed
from profiler.physics.slurry.overturn import State

LEAST_DEG = 0.05  # what a sentence with one decimal shows
LEAST_RATIO = 0.005


def why_changed(before: Evaluation, after: Evaluation, groove: int, since: str) -> str:
    """`since` begins the sentence: 'Before “Move a knot”', say. Empty where either has no answer for this groove."""
    try:
        was, now = why(before, groove), why(after, groove)
    except ValueError:
        return ""
    i = groove - 1
    said = f"{since}: {STATE_WORDS[State(int(was.grooves_state[i]))]}, ratio {_ratio(was)}; "
    causes = _causes(was, now)
    if causes:
        return f"{said}{' and '.join(causes)}."
    if abs(float(now.grooves_ratio[i]) - float(was.grooves_ratio[i])) < LEAST_RATIO:
        return f"{said}nothing has changed at this groove."
    return f"{said}its own wall and stream are as they were: the bed that reaches it from above is held otherwise."


def _ratio(w: Why) -> str:
    return quantity("groove_ratio").text(float(w.grooves_ratio[w.groove - 1]))


def _causes(was: Why, now: Why) -> list[str]:
    """What acts at the groove itself and is otherwise."""
    i = now.groove - 1
    pairs = (
        ("its wall turned", float(was.grooves_deg[i]), float(now.grooves_deg[i])),
        ("the stream's angle of rest changed", was.repose_deg[1], now.repose_deg[1]),
    )
    return [f"{what} from {fixed(a, 1)}° to {fixed(b, 1)}°" for what, a, b in pairs if abs(b - a) >= LEAST_DEG]
