"""Checks of what grooves do with their water and grains: loosened or flushed, kept or swept, full before the rinse."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from profiler.assess.catch.build import Catch
from profiler.assess.catch.contents import MINUTE
from profiler.assess.catch.groove_water import LOOSE
from profiler.assess.findings.finding import Finding, Severity, named, runs
from profiler.assess.shape.build import Shape
from profiler.geometry.wall import FloatArray
from profiler.physics.grains import capture
from profiler.study import Duty
from profiler.units import MICRON

WATER = "fluidising correlations, median of six; window common practice, no source"
GROUPS = "screening groups from cavity and embayment work; no recovery follows"
EASIEST, MIDDLE, STRICTEST = 0, 1, 2


def catch_findings(duty: Duty, shape: Shape, catch: Catch) -> list[Finding]:
    """Statements about the first duty."""
    if not len(shape.mouths):
        return []
    ratio, kept = catch.water.ratio[0], catch.kept[0] / MICRON
    running = catch.water.mouth_velocity[0] > 0.0
    wanted = duty.target_um
    low, high = LOOSE
    asked = Severity.NOTE if shape.holes is None else Severity.CHECK  # spread evenly it is a guess
    found = [
        *_runs(shape, "water_low", asked, running & (ratio[MIDDLE] < low), ratio[MIDDLE], low, "",
               "{who}: water at {value:.2f} of what just lifts the bed; below {limit:g} it packs.", WATER, np.min),
        *_runs(shape, "water_high", asked, ratio[MIDDLE] > high, ratio[MIDDLE], high, "",
               "{who}: water at {value:.1f} times what just lifts the bed; above {limit:g} it flushes.", WATER),
        *_runs(shape, "target_flushed", Severity.CHECK, catch.flush_ratio[0] >= 1.0, catch.flush_ratio[0], 1.0, "",
               "{who}: the water rises {value:.1f} times as fast as the target grain sinks: it is carried out.",
               GROUPS),
        *_runs(shape, "target_not_kept", Severity.CHECK, wanted < kept[EASIEST], kept[EASIEST], wanted, "µm",
               "{who}: keeps target grains from {value:.0f} µm only, even by the easiest measure; "
               "{limit:g} µm are wanted.", GROUPS),
        *_runs(shape, "target_doubtful", Severity.NOTE, (wanted >= kept[EASIEST]) & (wanted < kept[STRICTEST]),
               kept[STRICTEST], wanted, "µm",
               "{who}: whether it keeps target grains of {limit:g} µm lies within the band, up to {value:.0f} µm.",
               GROUPS),
        *_runs(shape, "groove_wide", Severity.NOTE, catch.width_over_depth[0] > capture.CAPTIVE_WIDTH,
               catch.width_over_depth[0], capture.CAPTIVE_WIDTH, "",
               "{who}: {value:.1f} times as wide as deep; above {limit:g} no captive eddy fills it.",
               "Cui, Patel & Lin (2003) Int. J. Heat Fluid Flow 24, 372; limit from memory"),
    ]  # fmt: skip
    return [*found, *_off_findings(shape, catch), *_cycle_findings(duty, catch)]


def _off_findings(shape: Shape, catch: Catch) -> list[Finding]:
    """Rings through which slurry runs back once the water is shut off."""
    if catch.moments is None:
        return []
    back = catch.moments.flow[0, -1] < 0.0
    rate = -catch.moments.flow[0, -1] * 6.0e4
    text = "{who}: with the water off slurry runs back through the holes, up to {value:.1f} L/min: stop the feed first."
    return _runs(shape, "off_backflow", Severity.NOTE, back, rate, 0.0, "L/min", text, "balance of the jacket")


def _cycle_findings(duty: Duty, catch: Catch) -> list[Finding]:
    fill = float(catch.hold.fill_time[0]) / MINUTE
    if not fill < duty.cycle_min:
        return []
    text = (
        f"If every heavy grain stayed, the grooves would be full after {fill:.0f} min; "
        f"the cycle is {duty.cycle_min:g} min."
    )
    return [Finding("full_early", Severity.NOTE, text, fill, duty.cycle_min, "min", "groove volumes and settled bed")]


def _runs(
    shape: Shape,
    code: str,
    severity: Severity,
    broken: NDArray[np.bool_],
    value: FloatArray,
    limit: float,
    unit: str,
    text: str,
    source: str,
    worst_of: Callable[[FloatArray], float] = np.max,
) -> list[Finding]:
    found = []
    for run in runs((np.flatnonzero(broken) + 1).tolist()):
        at = np.array(run) - 1
        worst = float(worst_of(value[at]))
        words = text.format(who=named(run).capitalize(), value=worst, limit=limit)
        low, high = float(shape.mouths.lower[at[0]]), float(shape.mouths.upper[at[-1]])
        found.append(Finding(code, severity, words, worst, limit, unit, source, low, high, run))
    return found
