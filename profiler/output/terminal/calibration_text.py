"""A calibration for the terminal: its sentence, what each measurement says, what contradicts; and as one JSON object.

Keys are a promise: more may come, none is renamed.
"""

import json
from math import isfinite

from profiler.assess.calibration.calibrate import CAUTION, LEAST_WATER_RATIO, Calibration, Reading
from profiler.numbers import as_printed, significant


def calibration_text(c: Calibration) -> str:
    lines = [c.sentence, *(f"Contradiction: {words}" for words in c.contradictions), *c.warnings]
    lines += [f"  {reading_words(r)}" for r in c.readings]
    return as_printed("\n".join(lines))


def reading_words(r: Reading) -> str:
    """One measurement's own say, as a sentence."""
    if r.bracket is None:
        return f"“{r.name}”: " + (f"by itself friction {significant(r.friction, 3)}." if isfinite(r.friction) else
                                  "no friction gives this angle.")  # fmt: skip
    b = r.bracket
    ends = [f"at least {significant(b.low, 3)} (groove {b.low_groove} packed)"] if b.low_groove else []
    ends += [f"less than {significant(b.high, 3)} (groove {b.high_groove} clean)"] if b.high_groove else []
    said = f"“{r.name}”: friction {' and '.join(ends)}" if ends else f"“{r.name}”: says nothing of the friction"
    if r.unsure:
        grooves = ", ".join(str(k) for k in r.unsure)
        said += f"; packed but counted as unsure, with a water ratio below {LEAST_WATER_RATIO:g}: {grooves}"
    return f"{said}."


def calibration_json(c: Calibration) -> str:
    answered = {
        "friction": c.friction,
        "low": c.low,
        "high": _number(c.high),
        "kind": "bracket" if c.is_bracket else "interval",
        "sentence": c.sentence,
        "contradictions": [as_printed(words) for words in c.contradictions],
        "warnings": [as_printed(words) for words in c.warnings],
        "measurements": [
            {
                "name": r.name,
                "friction": _number(r.friction),
                "low": None if r.bracket is None else r.bracket.low,
                "high": None if r.bracket is None else _number(r.bracket.high),
                "unsure": list(r.unsure),
            }
            for r in c.readings
        ],
        "caution": CAUTION,
    }
    return json.dumps(answered, allow_nan=False)


def _number(value: float) -> float | None:
    return value if isfinite(value) else None
