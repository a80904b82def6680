"""The set-up sheet, as blocks: one page for whoever runs the bowl.

What is set and what it should read, the order of start, stop and rinse, the cautions, and what to note. Every number is
the study's or the evaluation's; the orders are common practice, no source, and give way to the site's own.
"""

from textwrap import shorten

from profiler.assess import Evaluation
from profiler.assess.cautions import Caution
from profiler.assess.checks.check_fit import SPINNING_CAUTION
from profiler.assess.findings.finding import not_checked_words, stops
from profiler.assess.quantities.table import quantity
from profiler.explore.water_curve import SHOWN, WaterCurve, water_curve
from profiler.numbers import NOTHING, fixed, significant
from profiler.output.blocks.blocks import Block, Figure, Grid, Heading, Paragraph
from profiler.pictures.charts.water_chart import water_chart
from profiler.study import NOT_GIVEN
from profiler.study.records.duty import CYCLE, DRY_FEED, RINSE, SOLIDS, SPEED, WATER
from profiler.study.records.machine import SPIN_UP, Turning

LONGEST_NAME = 80  # letters
NO_ANSWER = "no answer of the model"
GIVEN = 0.995  # of the water asked for: less is told
CHART_PX = (640.0, 128.0)
BLANK_ROWS = (7, 3)  # without the chart, and with it
NOTED = ("clock", "speed, rpm", "water, L/min", "pressure, kPa", "dry feed, t/h", "solids, %", "what was seen")
ONCE = (
    "And once: hours on the liner, lot of feed, numbers and masses of samples of feed, concentrate and tails, mass of "
    "concentrate, everything adjusted or repaired, who ran it. A run without these counts for nothing in a trial."
)
ORDER_LEADS = (
    "Common practice, no source; the procedures of site and machine go first. A reading that leaves the one noted at "
    "the start is a reason to stop, not to turn the water up."
)


def setup_blocks(e: Evaluation, with_chart: bool = True) -> list[Block]:
    """One page; without the chart where names and notes take its room, since the table says the same."""
    curve = water_curve(e)
    blocks: list[Block] = [Paragraph(not_checked_words(stops(e.findings)), strong=True)] if stops(e.findings) else []
    blocks += [Paragraph(f"{SPINNING_CAUTION.text} {Caution.SLURRY.words}"), Heading("What is set", 2), _settings(e)]
    blocks.append(Heading("Pressure at the jacket inlet, as expected", 2))
    blocks += (
        [Paragraph(f"{curve[0].upper()}{curve[1:]}.")] if isinstance(curve, str) else _pressures(curve, with_chart)
    )
    blocks += [Heading("Start, stop, rinse", 2), _orders(e, curve), Paragraph(ORDER_LEADS)]
    return [
        *blocks,
        Heading("To note, every quarter of an hour and at every change", 2),
        _to_note(with_chart),
        Paragraph(ONCE),
    ]


def _settings(e: Evaluation) -> Grid:
    duty, machine = e.duty, e.machine
    turning = NOT_GIVEN if machine.turning is Turning.UNKNOWN else f"{machine.turning.value} from the lip"
    pairs = [
        *((word, shorten(name, LONGEST_NAME, placeholder=" ..")) for word, name in
          (("Bowl", e.design.name), ("Machine", machine.name), ("Duty", duty.name))), ("Rotation", turning),
        *((field.label, field.with_unit(field.get(duty))) for field in (SPEED, WATER, DRY_FEED, SOLIDS, CYCLE, RINSE)),
        *((quantity(key).label, _told(e, key)) for key in ("lip_g", "rinse_l")),
    ]  # fmt: skip
    half = len(pairs) // 2
    return Grid(
        ("",) * 4, tuple((*a, *b) for a, b in zip(pairs[:half], pairs[half:], strict=True)), (1.1, 2.0, 1.3, 1.6)
    )


def _told(e: Evaluation, key: str) -> str:
    values = quantity(key).get(e)
    text = quantity(key).text(float(values[0])) if len(values) else NOTHING
    return (NOT_GIVEN if e.flow is not None else NO_ANSWER) if text == NOTHING else text


def _pressures(curve: WaterCurve, with_chart: bool) -> list[Block]:
    rows = tuple(
        (_litres(float(asked)), *(_reading(curve, n, k) for k in range(len(SHOWN))))
        for n, asked in enumerate(curve.asked_l_min)
    )
    words = (
        "At the inlet itself, at the duty's speed and middle friction; pipe and rotary joint come on top. Part full: "
        "the gauge shows nothing. Back: number of rings with no outflow, into which slurry runs back. "
        "Compare with a first reading of your own, taken with clean holes."
    )
    table = Grid(
        ("water, L/min", *(f"{word}, kPa" for word in SHOWN)), rows, (1.0, 1.5, 1.5, 1.5), strong=(curve.duty_at,)
    )
    chart = [Figure((water_chart(curve, *CHART_PX),), words)] if with_chart else [Paragraph(words)]
    return [table, *chart]


def _litres(asked: float) -> str:
    return fixed(asked, 0) if asked >= 9.5 or not asked else significant(asked, 2)


def _reading(curve: WaterCurve, n: int, k: int) -> str:
    value = float(curve.inlet_kpa[n, k])
    if value != value:
        return NOTHING
    said = "part full" if value < 0.0 else fixed(value, 1)
    if curve.given_l_min[n, k] < GIVEN * curve.asked_l_min[n]:
        said += f" at {significant(float(curve.given_l_min[n, k]), 2)} L/min given"
    back = int(curve.runs_back[n, k])
    return f"{said}; {back} back" if back else said


def _orders(e: Evaluation, curve: WaterCurve | str) -> Grid:
    """Start, stop and rinse beside one another."""
    duty = e.duty
    water, speed = WATER.with_unit(duty.water_l_min), SPEED.with_unit(duty.speed_rpm)
    at = [""] * len(SHOWN) if isinstance(curve, str) else [_expected(curve, k) for k in range(len(SHOWN))]
    start = (
        "Guards shut, interlocks tried, everybody clear; nobody reaches in until it stands and is locked out.",
        "Bowl clean, bolts set, strainer clean, drain shut; a little water shows at every ring.",
        f"Up to {speed} {_slowly(e.machine.spin_up_s)}; stop at any vibration.",
        f"Water to {water}{at[0]}: note the reading.",
        f"Then the feed, thin first, up to {DRY_FEED.with_unit(duty.dry_feed_t_h)}{at[1]}: note the reading again.",
    )
    stop = (
        f"Note the reading{at[2]}.",
        "Feed off and diverted. Speed and water stay until the lip runs clear.",
        "Drive off. The water stays on until the bowl stands: without it slurry runs back into the jacket.",
        "Water off, drain the jacket, lock out both; then open.",
        "",
    )
    rinse = (
        f"After {CYCLE.with_unit(duty.cycle_min)} of feed; stop as at the left.",
        f"Rinse for {RINSE.with_unit(duty.rinse_min)}; catch everything in one clean, labelled vessel.",
        "Look into every groove: note those packed hard, or with holes blocked.",
        f"At rest grooves keep {_told(e, 'stays_behind_l')}: wash it out as well.",
        "Weigh, label, note; then start as at the far left.",
    )
    rows = tuple(
        tuple(f"{k}  {step}" if step else "" for step in steps)
        for k, steps in enumerate(zip(start, stop, rinse, strict=True), 1)
    )
    return Grid(("Start", "Stop", "Rinse"), rows, (1.0, 1.0, 1.0))


def _slowly(spin_up_s: float | None) -> str:
    if spin_up_s is None:
        return "as slowly as the drive's maker says (the spin-up time is not given)"
    return f"in not less than {SPIN_UP.with_unit(spin_up_s)}"


def _expected(curve: WaterCurve, k: int) -> str:
    value = float(curve.inlet_kpa[curve.duty_at, k])
    if value != value:
        return ""
    given, asked = float(curve.given_l_min[curve.duty_at, k]), float(curve.asked_l_min[curve.duty_at])
    short = f" at the {significant(given, 2)} L/min that the supply gives" if given < GIVEN * asked else ""
    return f", no pressure at the inlet{short}" if value < 0.0 else f", about {significant(value, 2)} kPa{short}"


def _to_note(with_chart: bool) -> Grid:
    blank = ("",) * len(NOTED)
    return Grid(NOTED, (blank,) * BLANK_ROWS[with_chart], (0.7, 1.0, 1.1, 1.2, 1.1, 0.8, 3.0), by_hand=True)
