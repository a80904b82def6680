"""A look at wear as one JSON object. Keys are a promise: more may come, none is renamed; no answer is null."""

import json
from math import isfinite

from profiler.assess.worn.laid_over import LaidOver
from profiler.assess.worn.wear import PROMISE, Rate
from profiler.explore.beside_new import BesideNew
from profiler.explore.worn_look import WornLook
from profiler.numbers import as_printed


def worn_json(look: WornLook) -> str:
    answered = {
        "design": look.design.name,
        "duty": look.duty.name,
        "sentence": look.answer,
        "profile": None if look.over is None else _profile(look.over),
        "accepted": None if look.acceptance is None else look.acceptance.kept,
        "acceptance": None if look.acceptance is None else look.acceptance.sentence,
        "rate": None if look.rate is None else _rate(look.rate),
        "worn": None if look.beside is None else _beside(look.beside),
        "until": look.until or None,
        "lands": [
            {
                "from_mm": land.from_mm,
                "to_mm": land.to_mm,
                "above_groove": land.number,
                "holds_grooves": list(land.grooves),
                "deepest_bed_mm": list(land.deepest),
                "without_mm": list(land.without),
                "sentence": land.sentence,
            }
            for land in look.lands
        ],
        "promise": PROMISE,
    }
    return json.dumps(answered, allow_nan=False)


def _profile(over: LaidOver) -> dict[str, object]:
    p = over.profile
    worst = over.worst
    return {
        "name": p.name,
        "serial": p.serial,
        "date": p.date,
        "hours": p.hours,
        "points": len(over.deviation),
        "left_out": over.left_out,
        "largest_mm": float(over.deviation[worst]),
        "largest_at_mm": float(over.place[worst, 1]),
        "sentence": over.sentence,
        "deviations": [
            {"height_mm": float(z), "deviation_mm": float(d), "groove": int(g)}
            for z, d, g in zip(over.place[:, 1], over.deviation, over.groove, strict=True)
        ],
    }


def _rate(rate: Rate) -> dict[str, object]:
    return {
        "height_mm": rate.course.height.tolist(),
        "mm_per_1000_h": rate.course.value.tolist(),
        "plus_minus": rate.plus_minus,
        "source": as_printed(rate.source),
    }


def _beside(beside: BesideNew) -> dict[str, object]:
    return {
        "hours": beside.gone.hours,
        "gone_mm": beside.gone.wear.most,
        "plus_minus_mm": beside.gone.plus_minus,
        "quantities": {r.quantity.key: {"new": _number(r.new), "worn": _number(r.worn)} for r in beside.rows},
        "least_water_ratio": {"new": _number(beside.least_water[0]), "worn": _number(beside.least_water[1])},
        "grooves_gone": list(beside.bowl.gone),
        "findings": [as_printed(text) for text in beside.added],
        "remarks": [as_printed(text) for text in beside.bowl.remarks],
    }


def _number(value: float) -> float | None:
    return value if isfinite(value) else None
