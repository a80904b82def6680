"""Checks of what the slurry does: runs of wall that open more or less than repose, sheltered runs, buried grooves."""

import numpy as np
from numpy.typing import NDArray

from profiler.assess.findings.by_groove import groove_runs
from profiler.assess.findings.finding import Finding
from profiler.assess.findings.kinds import Kind
from profiler.assess.flow.flow_stage import HIGH, LOW, MIDDLE, Flow
from profiler.assess.flow.no_answer import Why, named
from profiler.assess.shape.shape_stage import Shape
from profiler.assess.shape.slopes import slopes_of
from profiler.geometry.wall import FloatArray
from profiler.numbers import Against
from profiler.physics.slurry.overturn import State
from profiler.study import Machine
from profiler.units import DEGREE, MICRON, MM

LEAST_RUN_MM = 1.0
CLOSED_GAP_MM = 10.0


def flow_findings(shape: Shape, flow: Flow) -> list[Finding]:
    return [
        *_exposure_findings(shape, flow),
        *_buried_findings(shape, flow),
        *_sheltered_findings(shape, flow),
        *_slope_findings(shape, flow),
    ]


def no_answer_findings(shape: Shape, machine: Machine, flow: Flow) -> list[Finding]:
    """Why the model has no answer for the first duty, or none at high friction."""
    known, at_high = flow.answers, bool(flow.answers.high_missing[0])
    if not at_high and not known.missing[0]:
        return []
    level = HIGH if at_high else int(np.argmax(known.why[0] != Why.ANSWERED))
    kind, reason, value, limit, where = _why(shape, machine, flow, level)
    if at_high:
        text = f"At high friction {reason}: the values of high friction are missing."
        return [Finding(kind=Kind.HIGH_FRICTION_LOST, text=text, value=value, limit=limit, from_mm=where, to_mm=where)]
    text = (
        f"{reason[0].upper()}{reason[1:]}. The model has no answer here: no state, overturn, water, catch, slurry "
        "mass, energy or thrust."
    )
    return [Finding(kind=kind, text=text, value=value, limit=limit, from_mm=where, to_mm=where)]


def _why(shape: Shape, machine: Machine, flow: Flow, level: int) -> tuple[Kind, str, float, float, float | None]:
    """Kind, reason, the value against its limit, and the height in mm."""
    why = Why(int(flow.answers.why[0, level]))
    if why is Why.BED_CLOSES:
        where = float(flow.answers.closes_at[0, level]) / MM
        reason = (
            "the bed closes the bowl: at this speed the slurry is not thrown out, and at "
            f"{where:.0f} mm the bed reaches {named(shape, machine, where)}"
        )
        return Kind.BED_CLOSES, reason, 0.0, 0.0, where
    if why is Why.THIN_FILM:
        depth, grain = float(np.min(flow.film.depth[0, level])) / MICRON, float(flow.carrier.grain_size[0]) / MICRON
        thin, size = Against(depth, grain), Against(grain, depth)
        reason = f"the film, {thin:.0f} µm deep, would be thinner than one grain of {size:.0f} µm"
        return Kind.FILM_BELOW_GRAIN, reason, depth, grain, None
    reason = "the wall does not carry the slurry round: no film lag satisfies the balance"
    return Kind.NOT_CARRIED, reason, 1.0, 0.0, None


def _exposure_findings(shape: Shape, flow: Flow) -> list[Finding]:
    line, bed = shape.stations.line, flow.bed
    exposed = (bed.buried(line)[0, MIDDLE] <= 0.0) & line.on_land
    exposed[-1] = False  # the lip itself always is
    if exposed.any():
        return []
    text = (
        "Nothing of the wall is exposed at middle friction: a calm bed covers it from lip to floor and no groove sees "
        "the stream."
    )
    return [Finding(kind=Kind.NOTHING_EXPOSED, text=text, value=0.0, limit=0.0, from_mm=0.0, to_mm=shape.height)]


def _buried_findings(shape: Shape, flow: Flow) -> list[Finding]:
    """Grooves under a bed deeper, square to the wall, than the groove itself."""
    if not len(shape.mouths):
        return []
    deep = flow.groove_buried[0] / MM * np.cos(shape.wall.angle_at(shape.mouths.lower))
    limit = shape.cut.depth
    found = []
    for run in groove_runs(shape.mouths, deep > limit):
        most = run.at[int(np.argmax(deep[run.at]))]
        worst, cut = float(deep[most]), float(limit[most])
        held = float(flow.groove_held_at[0, most] / MM)
        deeper = f"buried {Against(worst, cut):.1f} mm, square to the wall, deeper than cut ({cut:g} mm)"
        text = f"{run.who}: {deeper}; the bed is held at {held:.0f} mm."
        found.append(
            Finding(
                kind=Kind.GROOVE_BURIED, text=text, value=worst, limit=cut, unit="mm",
                from_mm=run.from_mm, to_mm=run.to_mm, grooves=run.grooves,
            )
        )  # fmt: skip
    return found


def _sheltered_findings(shape: Shape, flow: Flow) -> list[Finding]:
    wanted = (
        (State.SHELTERED, Kind.SHELTERED, "sheltered: the bed covers the lands even at low friction, no overturn"),
        (State.MATCHED, Kind.MATCHED, "matched: the lands lie within the uncertainty of the surface"),
    )
    return [
        Finding(kind=kind, text=f"{run.who} {words}.", from_mm=run.from_mm, to_mm=run.to_mm, grooves=run.grooves)
        for state, kind, words in wanted
        for run in groove_runs(shape.mouths, flow.groove_state[0] == state)
    ]


def _slope_findings(shape: Shape, flow: Flow) -> list[Finding]:
    """One statement per stretch of wall that opens more, or less, than the repose band."""
    at = shape.stations
    slope = slopes_of(at.angle, flow.angle[0, LOW], flow.angle[0, HIGH])
    margin = (at.angle - flow.angle[0, MIDDLE]) / DEGREE
    table = (
        (
            1,
            Kind.SHALLOWER,
            "opens more than repose, by up to {worst:.1f}°: slurry tumbles from land to land where no bed covers it",
        ),
        (
            -1,
            Kind.STEEPER,
            "stands steeper than repose, by up to {worst:.1f}°: slurry builds up here and shelters what lies below",
        ),
    )
    found = []
    for sign, kind, words in table:
        for first, last in _stretches(at.height, slope == sign):
            low, high = float(at.height[first]), float(at.height[last])
            worst = float(np.max(np.abs(margin[first : last + 1])))
            text = f"{low:.0f} to {high:.0f} mm: the wall {words.format(worst=Against(worst, 0.0))}."
            found.append(Finding(kind=kind, text=text, value=worst, limit=0.0, unit="°", from_mm=low, to_mm=high))
    return found


def _stretches(height: FloatArray, wanted: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """First and last station of each stretch; water joins at every groove, so repose saws and short gaps are closed."""
    joined: list[tuple[int, int]] = []
    turns = np.flatnonzero(np.append(wanted, False) != np.append(False, wanted))  # where a run begins, where it ended
    for first, last in zip(turns[::2].tolist(), (turns[1::2] - 1).tolist(), strict=True):
        if joined and height[first] - height[joined[-1][1]] < CLOSED_GAP_MM:
            joined[-1] = (joined[-1][0], last)
        else:
            joined.append((first, last))
    return [(a, b) for a, b in joined if height[b] - height[a] >= LEAST_RUN_MM]
