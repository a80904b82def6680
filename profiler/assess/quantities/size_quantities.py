"""The quantities of a feed by size: a part of the table in `quantities`."""

import numpy as np

from profiler.assess import unchecked
from profiler.assess.evaluate.evaluation import Evaluation
from profiler.assess.flow.carrier import liquid_limit
from profiler.assess.quantities.quantity import Quantity, Scope
from profiler.geometry.wall import FloatArray
from profiler.units import MICRON, PERCENT

_CONTACT = f"{unchecked.CONTACT_LOAD.words}; drag of spheres after Haider & Levenspiel (1989)"


def _limit(e: Evaluation) -> FloatArray:
    """As used where classes are given; else what it would be."""
    if e.flow is None:
        return np.array([np.nan])
    used = e.flow.carrier.limit[:1]
    return (used if e.duty.size_classes else liquid_limit(e.flow.feed, e.flow.film)[:1]) / MICRON


def _fine(e: Evaluation) -> FloatArray:
    if e.flow is None or not e.duty.size_classes:
        return np.array([np.nan])
    return np.asarray(e.flow.carrier.fine[:1] / PERCENT)


SIZE_QUANTITIES: tuple[Quantity, ...] = (
    Quantity("liquid_um", "Counts as liquid below", "µm", 1, Scope.BOWL, _limit,
             "exp(−0.0097 V/v) = ½, v in clear water at the film's acceleration", _CONTACT,
             "one size for the bowl; with one d50 nothing is counted as liquid"),
    Quantity("fine_pct", "Solids that count as liquid", "% of the solids", 1, Scope.BOWL, _fine,
             "per cent passing that size", _CONTACT, "none where the feed is given by one d50"),
)  # fmt: skip
