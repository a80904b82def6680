"""What a duty does to the shown design, in one line of text: for hovering over a map."""

from profiler.assess import Evaluation
from profiler.assess.quantities.table import STATE_KEYS, quantity
from profiler.physics.slurry.overturn import State
from profiler.pictures.basics.state_marks import SHORT_WORDS

_SUMS = ("exposed_count", "matched_mm", "deepest_mm", "power_w", "residence_s")


def duty_reading(e: Evaluation) -> str:
    """Grooves per state and the sums of the bowl under the first duty."""
    counts = []
    for state in sorted(State, reverse=True):
        values = quantity(f"count_{STATE_KEYS[state]}").get(e)
        counts.append(f"{values[0]:.0f} {SHORT_WORDS[state]}" if len(values) else f"– {SHORT_WORDS[state]}")
    sums = []
    for key in _SUMS:
        q = quantity(key)
        values = q.get(e)
        sums.append(f"{q.label.lower()} {q.text(float(values[0])) if len(values) else '–'}")
    return f"{', '.join(counts)} · {' · '.join(sums)}"
