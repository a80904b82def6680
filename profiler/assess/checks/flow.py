"""Checks of what the slurry does: runs of wall that open more or less than repose, sheltered runs, buried grooves."""

import numpy as np
from numpy.typing import NDArray

from profiler.assess.evidence.words import UNCALIBRATED_SHORT
from profiler.assess.findings.finding import Finding, Severity, named, runs
from profiler.assess.flow.solve import HIGH, LOW, MIDDLE, Flow
from profiler.assess.shape.build import Shape
from profiler.assess.shape.slopes import slopes_of
from profiler.geometry.wall import FloatArray
from profiler.physics.slurry.overturn import State
from profiler.physics.slurry.surface import EXPOSURE_TOLERANCE
from profiler.units import DEGREE, MM

MODEL = f"slurry model, {UNCALIBRATED_SHORT}"
LEAST_RUN_MM = 1.0
CLOSED_GAP_MM = 10.0


def flow_findings(shape: Shape, flow: Flow) -> list[Finding]:
    return [
        *_exposure_findings(shape, flow),
        *_buried_findings(shape, flow),
        *_sheltered_findings(shape, flow),
        *_slope_findings(shape, flow),
    ]


def exposed_grooves(shape: Shape, flow: Flow, duty: int = 0) -> FloatArray:
    """(g,) 1 where the stream touches a groove's lower edge at middle repose, 0 where a bed covers it."""
    return np.asarray((flow.groove_buried[duty] <= EXPOSURE_TOLERANCE).astype(float))


def _exposure_findings(shape: Shape, flow: Flow) -> list[Finding]:
    line, bed = shape.stations.line, flow.bed
    exposed = (bed.buried(line)[0, MIDDLE] <= 0.0) & line.on_land
    exposed[-1] = False  # the lip itself always is
    if exposed.any():
        return []
    text = "Nothing of the wall is exposed: a calm bed covers it from lip to floor and no groove sees the stream."
    return [Finding("nothing_exposed", Severity.CHECK, text, 0.0, 0.0, source=MODEL, from_mm=0.0, to_mm=shape.height)]


def _buried_findings(shape: Shape, flow: Flow) -> list[Finding]:
    """Grooves under a bed deeper, square to the wall, than the groove itself."""
    if not len(shape.mouths):
        return []
    deep = flow.groove_buried[0] / MM * np.cos(shape.wall.angle_at(shape.mouths.lower))
    limit = shape.cut.depth
    found = []
    for run in runs((np.flatnonzero(deep > limit) + 1).tolist()):
        at = np.array(run) - 1
        worst = float(np.max(deep[at]))
        most = at[int(np.argmax(deep[at]))]
        held, cut = float(flow.groove_held_at[0, most] / MM), float(limit[most])
        who = named(run).capitalize()
        text = f"{who}: buried {worst:.1f} mm, deeper than cut ({cut:g} mm); the bed is held at {held:.0f} mm."
        low, high = float(shape.mouths.lower[at[0]]), float(shape.mouths.upper[at[-1]])
        found.append(Finding("groove_buried", Severity.CHECK, text, worst, cut, "mm", MODEL, low, high, run))
    return found


def _sheltered_findings(shape: Shape, flow: Flow) -> list[Finding]:
    wanted = (
        (State.SHELTERED, "sheltered", "sheltered: the bed covers the lands even at low friction, no overturn"),
        (State.MATCHED, "matched", "matched: the lands lie within the uncertainty of the surface"),
    )
    found = []
    for state, code, words in wanted:
        for run in runs((np.flatnonzero(flow.groove_state[0] == state) + 1).tolist()):
            at = np.array(run) - 1
            low, high = float(shape.mouths.lower[at[0]]), float(shape.mouths.upper[at[-1]])
            text = f"{named(run).capitalize()} {words}."
            found.append(Finding(code, Severity.NOTE, text, source=MODEL, from_mm=low, to_mm=high, grooves=run))
    return found


def _slope_findings(shape: Shape, flow: Flow) -> list[Finding]:
    """One statement per stretch of wall that opens more, or less, than the repose band."""
    at = shape.stations
    slope = slopes_of(at.angle, flow.angle[0, LOW], flow.angle[0, HIGH])
    margin = (at.angle - flow.angle[0, MIDDLE]) / DEGREE
    table = (
        (
            1,
            "shallower",
            "opens more than repose, by up to {worst:.1f}°: slurry tumbles from land to land where no bed covers it",
        ),
        (
            -1,
            "steeper",
            "stands steeper than repose, by up to {worst:.1f}°: slurry builds up here and shelters what lies below",
        ),
    )
    found = []
    for sign, code, words in table:
        for first, last in _stretches(at.height, slope == sign):
            low, high = float(at.height[first]), float(at.height[last])
            worst = float(np.max(np.abs(margin[first : last + 1])))
            text = f"{low:.0f} to {high:.0f} mm: the wall {words.format(worst=worst)}."
            found.append(Finding(code, Severity.NOTE, text, worst, 0.0, "°", MODEL, low, high))
    return found


def _stretches(height: FloatArray, wanted: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """First and last station of each stretch; water joins at every groove, so repose saws and short gaps are closed."""
    joined: list[tuple[int, int]] = []
    for run in runs(np.flatnonzero(wanted).tolist()):
        if joined and height[run[0]] - height[joined[-1][1]] < CLOSED_GAP_MM:
            joined[-1] = (joined[-1][0], run[-1])
        else:
            joined.append((run[0], run[-1]))
    return [(a, b) for a, b in joined if height[b] - height[a] >= LEAST_RUN_MM]
