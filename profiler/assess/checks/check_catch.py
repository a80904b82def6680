"""Checks of what grooves do with their water and grains: loosened or flushed, kept or swept, full before the rinse."""

from profiler.assess.catch.catch_stage import Catch
from profiler.assess.catch.contents import MINUTE
from profiler.assess.catch.groove_water import LOOSE
from profiler.assess.findings.by_groove import per_run
from profiler.assess.findings.finding import Finding
from profiler.assess.findings.kinds import Kind, Severity
from profiler.assess.shape.shape_stage import Shape
from profiler.numbers import Against, significant
from profiler.physics.grains import capture
from profiler.study import Duty
from profiler.units import MICRON

EASIEST, MIDDLE, STRICTEST = 0, 1, 2
DRIP_L_MIN = 0.05  # less runs back from no ring that anyone would see; the balance's own noise is far below
SHORT_MIN = 9.5  # a shorter time is told with two figures


def catch_findings(duty: Duty, shape: Shape, catch: Catch) -> list[Finding]:
    """Statements about the first duty."""
    if not len(shape.mouths):
        return []
    ratio, kept = catch.water.ratio[0], catch.kept[0] / MICRON
    running = (catch.water.mouth_velocity[0] > 0.0) & (duty.water_l_min > 0.0)  # slurry that returns is no water
    wanted = duty.target_um
    low, high = LOOSE
    own = Severity.NOTE if shape.holes is None else None  # spread evenly it is a guess
    found = [
        *per_run(Kind.WATER_LOW, shape.mouths, running & (ratio[MIDDLE] < low), ratio[MIDDLE], low, "",
                 "{who}: water at {value:.2f} of what just lifts the bed; below {limit:g} it packs.",
                 above=False, severity=own),
        *per_run(Kind.WATER_HIGH, shape.mouths, running & (ratio[MIDDLE] > high), ratio[MIDDLE], high, "",
                 "{who}: water at {value:.1f} times what just lifts the bed; above {limit:g} it flushes.",
                 severity=own),
        *per_run(Kind.TARGET_FLUSHED, shape.mouths, catch.flush_ratio[0] >= 1.0, catch.flush_ratio[0], 1.0, "",
                 "{who}: the water rises {value:.1f} times as fast as the target grain sinks: it is carried out."),
        *per_run(Kind.TARGET_NOT_KEPT, shape.mouths, wanted < kept[EASIEST], kept[EASIEST], wanted, "µm",
                 "{who}: keeps target grains from {value:.0f} µm only, even by the most lenient estimate; "
                 "{limit:g} µm are wanted."),
        *per_run(Kind.TARGET_DOUBTFUL, shape.mouths, (wanted >= kept[EASIEST]) & (wanted < kept[STRICTEST]),
                 kept[STRICTEST], wanted, "µm",
                 "{who}: whether it keeps target grains of {limit:g} µm lies within the band, up to {value:.0f} µm."),
        *per_run(Kind.GROOVE_WIDE, shape.mouths, catch.width_over_depth[0] > capture.CAPTIVE_WIDTH,
                 catch.width_over_depth[0], capture.CAPTIVE_WIDTH, "",
                 "{who}: {value:.1f} times as wide as deep; above {limit:g} no captive eddy fills it."),
    ]  # fmt: skip
    return [*found, *_off_findings(shape, catch), *_cycle_findings(duty, catch)]


def _off_findings(shape: Shape, catch: Catch) -> list[Finding]:
    """Rings through which slurry runs back once the water is shut off."""
    if catch.moments is None:
        return []
    rate = -catch.moments.flow[0, -1] * 6.0e4
    text = "{who}: with the water off slurry runs back through the holes, up to {value:.1f} L/min: stop the feed first."
    return per_run(Kind.OFF_BACKFLOW, shape.mouths, rate > DRIP_L_MIN, rate, 0.0, "L/min", text)


def _cycle_findings(duty: Duty, catch: Catch) -> list[Finding]:
    fill = float(catch.contents.fill_time[0]) / MINUTE
    if not fill < duty.cycle_min:
        return []
    told = f"{Against(fill, duty.cycle_min):.0f}" if fill >= SHORT_MIN else significant(fill, 2)
    text = (
        f"If every heavy grain stayed, the grooves would be full after {told} min; the cycle is {duty.cycle_min:g} min."
    )
    return [Finding(kind=Kind.FULL_EARLY, text=text, value=fill, limit=duty.cycle_min, unit="min")]
