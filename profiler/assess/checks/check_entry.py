"""Checks of the feed's way in, the rim, and what grooves keep when the bowl stands still."""

import numpy as np

from profiler.assess.findings.by_groove import groove_runs, per_run
from profiler.assess.findings.finding import Finding
from profiler.assess.findings.kinds import Kind
from profiler.assess.flow.flow_stage import MIDDLE, Flow
from profiler.assess.flow.sizes import coarsest_um
from profiler.assess.shape.shape_stage import Shape
from profiler.numbers import Against
from profiler.study import Duty, Machine
from profiler.study.records.machine import DEFLECTOR, FEED_PIPE
from profiler.units import DEGREE, MM

MOUTH_PER_GRAIN = 3.0
LEAST_BRIM_MM = 0.5
CLASHES = {DEFLECTOR: Kind.DEFLECTOR_CLASH, FEED_PIPE: Kind.FEED_PIPE_CLASH}
WETTED = {DEFLECTOR: Kind.SLURRY_ON_DEFLECTOR, FEED_PIPE: Kind.SLURRY_ON_FEED_PIPE}


def entry_findings(machine: Machine, duty: Duty, shape: Shape, flow: Flow) -> list[Finding]:
    z = float(flow.entry[0])
    text = f"Below {z:.0f} mm the film is still coming up to speed: no state is claimed there."
    if z >= shape.height:
        text = "The film is still coming up to speed at the lip: no state is claimed of any height."
    found = [Finding(kind=Kind.ENTRY, text=text, value=z, unit="mm", from_mm=0.0, to_mm=z)]
    inner = max(float(flow.bed.radius[0, MIDDLE, 0] - flow.film.depth[0, MIDDLE, 0]) / MM, 0.0)
    fed = ((WETTED[part.word], part.word, 0.5 * part.across_mm, part.height_mm) for part in machine.feed_parts)
    parts = ((Kind.SLURRY_OVER_HUB, "hub hole", shape.shell.hub_radius, 0.0), *fed)
    for kind, word, radius, height in parts:
        if inner < radius and height <= z:
            to = f"R {Against(inner, radius):.0f} mm, to" if inner > 0.0 else "the axis, past"
            text = f"The slurry at the floor reaches in to {to} the {word} of radius {radius:g} mm."
            found.append(Finding(kind=kind, text=text, value=inner, limit=radius, unit="mm", from_mm=0.0, to_mm=height))
    least = float(np.min(shape.cut.mouth)) if len(shape.mouths) else np.inf
    coarsest = coarsest_um(duty)
    if coarsest * MM > least / MOUTH_PER_GRAIN:
        limit = least / MOUTH_PER_GRAIN / MM
        text = f"Grains up to {coarsest:.5g} µm are over a third of a {least:g} mm mouth: it can bridge and clog."
        found.append(Finding(kind=Kind.TOP_SIZE, text=text, value=coarsest, limit=limit, unit="µm"))
    return found


def feed_part_findings(machine: Machine, shape: Shape) -> list[Finding]:
    """Feed pipe and deflector against the bowl's inside."""
    found = []
    for part in machine.feed_parts:
        z = min(part.height_mm, shape.height)
        room = float(shape.wall.radius_at(z)) - 0.5 * part.across_mm
        if room <= 0.0:
            text = f"The {part.word} is {part.across_mm:g} mm across, wider than the bowl at {z:g} mm."
            found.append(
                Finding(
                    kind=CLASHES[part.word], text=text, value=room, limit=0.0, unit="mm", from_mm=z, to_mm=z,
                    own_source=f"machine {machine.name}",
                )
            )  # fmt: skip
    return found


def standing_findings(shape: Shape) -> list[Finding]:
    """Grooves that keep concentrate when the bowl stands, and grooves undercut against a radial draw."""
    if not len(shape.mouths):
        return []
    kept = shape.retained_ml
    found = []
    for run in groove_runs(shape.mouths, kept > 0.05):
        litres = 1e-3 * float(kept[run.at].sum())
        text = f"{run.who}: {Against(litres, 0.0):.3f} L stay behind at rest, below the lower edges; rinse them out."
        found.append(
            Finding(
                kind=Kind.KEEPS_AT_REST, text=text, value=litres, limit=0.0, unit="L",
                from_mm=run.from_mm, to_mm=run.to_mm, grooves=run.grooves,
            )
        )  # fmt: skip
    lower = shape.contours.corners[:, 1] - shape.contours.corners[:, 0]
    under = np.degrees(np.arctan2(-lower[:, 1], lower[:, 0]))
    text = "{who}: undercut by up to {value:.1f}° against a radial draw of the former."
    return [*found, *per_run(Kind.UNDERCUT, shape.mouths, under > 1e-6, under, 0.0, "°", text)]


def brim_findings(shape: Shape) -> list[Finding]:
    """A wall that leans in below the lip is a dam."""
    start = brim_start(shape)
    if start is None:
        return []
    depth = float(shape.wall.radius_at(start)) - shape.lip_radius
    if depth < LEAST_BRIM_MM:
        return []
    text = f"From {start:.0f} mm up the wall leans in by {depth:.1f} mm: a dam, which holds a bed that deep below it."
    return [
        Finding(
            kind=Kind.BRIM_DAM, text=text, value=depth, limit=LEAST_BRIM_MM, unit="mm",
            from_mm=start, to_mm=shape.height,
        )
    ]  # fmt: skip


def overhang_findings(shape: Shape) -> list[Finding]:
    """Stretches that lean inward on their way up, below a wall that opens again; the brim is told by itself."""
    at, start = shape.stations, brim_start(shape)
    inward = at.angle < -1e-4 * DEGREE
    if start is not None:
        inward &= at.height < start
    cuts = np.flatnonzero(np.diff(np.concatenate(([0], inward.astype(np.int8), [0]))))
    found = []
    for first, past in cuts.reshape(-1, 2).tolist():
        low, high = float(at.height[first]), float(at.height[past - 1])
        worst = -float(np.min(at.angle[first:past])) / DEGREE
        where = f"Between {low:.0f} and {high:.0f} mm" if high - low >= 1.0 else f"At {low:.0f} mm"
        text = (
            f"{where} the wall leans inward by up to {Against(worst, 0.0):.1f}°: an overhang, over which no former is "
            "drawn and behind which a bed stands."
        )
        found.append(Finding(kind=Kind.OVERHANG, text=text, value=-worst, limit=0.0, unit="°", from_mm=low, to_mm=high))
    return found


def brim_start(shape: Shape) -> float | None:
    """Height from which the wall leans in all the way to the lip, or None."""
    at = shape.stations
    inward = at.angle < -1e-4 * DEGREE
    inward[-1] = inward[-2]
    if not inward[-1]:
        return None
    outward = np.flatnonzero(~inward)
    return float(at.height[outward[-1] + 1]) if len(outward) else 0.0
