"""How sure, for the terminal: bowls as cast and what matters, each as sentences with a table and as one JSON object.

A share never stands without the number of bowls behind it. Keys are a promise: more may come, none is renamed.
"""

import json
from dataclasses import asdict
from math import isfinite

from profiler.explore.sure.castings import CAUTION, WORDS, AsCast
from profiler.explore.sure.what_matters import Matters
from profiler.numbers import NOTHING, as_printed, counted, fixed, significant


def castings_answer(c: AsCast) -> str:
    """One sentence with its uncertainty: how many grooves the castings leave as drawn, at middle friction."""
    falling, nominal = c.falling[1], c.nominal[1] > 0.0
    unsure = int(((falling > 0.0) & (falling < 1.0)).sum())
    worst = c.costs[0]
    lost = "" if c.bowls == c.asked else f" ({c.asked - c.bowls} more could not be built)"
    return as_printed(
        f"In {c.bowls} simulated bowls{lost}, at friction {c.frictions[1]:g}, the stream falls in some and not in "
        f"others at {unsure} of {counted(len(falling), 'groove')}; as drawn it falls at {int(nominal.sum())}. What "
        f"matters most is {_inside(WORDS[worst[0]][0])}: at its limit an overfall moves by {fixed(worst[1], 2)} mm. "
        f"The standard error of a share is at most {fixed(100.0 * c.sampling_error, 1)} percentage points."
    )


def castings_text(c: AsCast) -> str:
    lines = [CAUTION, castings_answer(c)]
    lines.append(
        "Assumed, plus and minus: "
        + ", ".join(
            f"{_inside(WORDS[name][0])} {value:g} {WORDS[name][1]}" for name, value in asdict(c.tolerances).items()
        )
        + " (the defaults are common practice, no source)."
    )
    low, middle, high = (f"{f:g}" for f in c.frictions)
    lines.append(f"Bowls of {c.bowls} whose stream falls, at friction")
    lines.append(f"  groove   drawn    {low:>10}{middle:>10}{high:>10}")
    counts = (c.overfall > 0.0).sum(axis=0)
    for g in range(counts.shape[1]):
        row = "".join(f"{int(n):>10}" for n in counts[:, g])
        lines.append(f"  {g + 1:>6}{fixed(float(c.nominal[1, g]), 2):>8} mm {row}")
    lines.append("How far an overfall moves at each tolerance's limit: " + costs_words(c) + ".")
    return as_printed("\n".join(lines))


def costs_words(c: AsCast) -> str:
    return ", ".join(f"{_inside(WORDS[name][0])} {fixed(moved, 2)} mm" for name, moved in c.costs)


def castings_json(c: AsCast) -> str:
    answered = {
        "design": c.design.name,
        "duty": c.duty.name,
        "bowls": c.bowls,
        "asked": c.asked,
        "seed": c.seed,
        "tolerances": asdict(c.tolerances),
        "friction": list(c.frictions),
        "grooves": [
            {
                "number": g + 1,
                "drawn_overfall_mm": [float(v) for v in c.nominal[:, g]],
                "bowls_falling": [int(v) for v in (c.overfall[:, :, g] > 0.0).sum(axis=0)],
                "share_falling": [float(v) for v in c.falling[:, g]],
            }
            for g in range(c.overfall.shape[2])
        ],
        "costs_mm": dict(c.costs),
        "sampling_error": c.sampling_error,
        "sentence": castings_answer(c),
        "caution": CAUTION,
    }
    return json.dumps(answered, allow_nan=False)


def matters_text(m: Matters) -> str:
    """A table per quantity, largest change first."""
    lines = []
    for ranking in m.rankings:
        q = ranking.quantity
        lines.append(f"{q.label}: {q.text(ranking.now)} now")
        for effect in ranking.effects:
            ends = f"{significant(effect.low)} to {significant(effect.high)} {effect.unit}".rstrip()
            if isfinite(effect.change):
                what = f"{q.text(effect.at_low)} to {q.text(effect.at_high)}"
                change = f"{fixed(effect.change, q.decimals, signed=True)} {q.unit}".rstrip()
                lines.append(f"  {effect.label:<16}{ends:<24}{change:>12}   {what}")
            else:
                lines.append(f"  {effect.label:<16}{ends:<24}{NOTHING:>12}   no number at one of its ends")
    if m.not_given:
        lines.append(f"Not given, so not ranked: {', '.join(_inside(label) for label in m.not_given)}.")
    return as_printed("\n".join(lines))


def matters_json(m: Matters) -> str:
    answered = {
        "quantities": [
            {
                "key": r.quantity.key,
                "unit": r.quantity.unit,
                "now": _number(r.now),
                "effects": [
                    {
                        "input": e.word,
                        "low": e.low,
                        "high": e.high,
                        "unit": e.unit,
                        "at_low": _number(e.at_low),
                        "at_high": _number(e.at_high),
                        "change": _number(e.change),
                    }
                    for e in r.effects
                ],
            }
            for r in m.rankings
        ],
        "not_given": list(m.not_given),
    }
    return json.dumps(answered, allow_nan=False)


def _inside(label: str) -> str:
    return label if label[1:2].isdigit() else f"{label[0].lower()}{label[1:]}"


def _number(value: float) -> float | None:
    return value if isfinite(value) else None
