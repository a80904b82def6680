"""A fit for the terminal: its sentence with the choices that remain, and the same as one JSON object.

Keys are a promise: more may come, none is renamed. Errors are of the fitted design, or of the design as it is where
nothing was applied.
"""

import json

from profiler.assess.fitting.fit import Fit
from profiler.assess.shape.shape_stage import wall_of
from profiler.numbers import counted
from profiler.study import Design, Machine


def fit_text(fit: Fit) -> str:
    lines = [fit.sentence]
    if fit.choices:
        lines.append(f"{counted(len(fit.choices), 'way')} that would do it:")
        lines += [f"  {choice.words}" for choice in fit.choices]
    return "\n".join(lines)


def fit_json(fit: Fit, design: Design, machine: Machine) -> str:
    """One JSON object in ASCII; null where there is no number."""
    lip, height = _ends(fit.design or design)
    answer = {
        "design": design.name,
        "machine": machine.name,
        "met": fit.met,
        "binding": None if fit.miss is None else fit.miss.limit.value,
        "misses_mm": None if fit.miss is None else fit.miss.by_mm,
        "lip_error_mm": None if lip is None else lip - machine.lip_radius_mm,
        "height_error_mm": None if height is None else height - machine.height_mm,
        "sentence": fit.sentence,
        "choices": [{"words": c.words, "turned_deg": c.turned_deg} for c in fit.choices],
    }
    return json.dumps(answer, allow_nan=False)


def _ends(design: Design) -> tuple[float | None, float | None]:
    """Lip radius and height as the wall has them; None where there is no wall."""
    try:
        wall = wall_of(design)
    except ValueError:
        return None, None
    return float(wall.radius[-1]), float(wall.height[-1])
