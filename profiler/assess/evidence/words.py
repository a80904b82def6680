"""What may be said of the slurry model, in one place: window, report, drawing, tables and terminal read it from here.

The counts in the sentences are those of `flumes`; a test holds that they agree. No share of a flume's slope is claimed
for a bowl.
"""

from collections.abc import Callable

from profiler.assess.evidence.flumes import THICKEST_CARRIER, Record, Tally, tally
from profiler.numbers import fixed
from profiler.physics.slurry.carpet import BED_FRACTION, SLIP
from profiler.study import Duty

RECORD_TITLE = "The model's record"  # of the help page and of the report's section

UNCALIBRATED = (
    "uncalibrated; slope within 30 % of 54 of 55 flume runs (1 g, clear water, 2 to 10.5 mm, slope 7 to 20 %, C 0.03 "
    "to 0.24); untested in a bowl, at high g and on finer or crushed grains"
)
UNCALIBRATED_SHORT = "uncalibrated; 54 of 55 flume runs within 30 %, untested in a bowl"  # where room is short
MEASURED_IN_ONE = "one slurry, one bowl, one stop; untested elsewhere"
LEAST_BAND = "band ±2° at least"
MEASURED_BAND = "band ±1° at least, ±1.3° beyond a third of the measured conditions"

PICTURE = (
    "Slope predicted against slope measured, on flumes with clear water (filled), clay suspensions (hollow) and clay "
    f"thicker than {fixed(THICKEST_CARRIER, 0)} kg/m³ (squares), set a little apart; bars: friction low to high; "
    "broken: 30 % either side. "
    "Right: predicted over measured against the grains delivered."
)


def standing(duty: Duty) -> str:
    """How the model stands to measurements under a duty: on what its friction rests, or that it rests on none."""
    measured = duty.calibrated
    return UNCALIBRATED if measured is None else f"friction measured: {measured.rests_on}; {MEASURED_IN_ONE}"


def standing_short(duty: Duty) -> str:
    """The same where room is short."""
    return UNCALIBRATED_SHORT if duty.calibrated is None else f"friction measured; {MEASURED_IN_ONE}"


def as_it_stands(text: str, duty: Duty, written: Callable[[str], str] = str) -> str:
    """A text of the tables, written for a model without a measurement, as it reads under a duty that rests on one.

    `written` is how the text writes plain words: measurements have names that somebody typed.
    """
    if duty.calibrated is None:
        return text
    measured = text.replace(LEAST_BAND, MEASURED_BAND).replace(UNCALIBRATED_SHORT, standing_short(duty))
    return measured.replace(UNCALIBRATED, written(standing(duty)))


def paragraphs(record: Record) -> tuple[tuple[str, str], ...]:
    """Heading and text of each part of the record, in reading order."""
    clear, clay, thick = (tally(record, part) for part in (record.clear, record.clay, record.thick_clay))
    passed = int((~record.bedded).sum())
    return (
        ("What was held against what",
         "The slope the model predicts against that of steep laboratory flumes, in which a fed rate of gravel and sand "
         f"passes a bed that neither rises nor falls. Nothing was fitted: slip {SLIP:g} and friction 0.6 stand in one "
         f"abstract on 55 sheet-flow experiments (Abrahams 2003). {passed} further runs deliver fewer than "
         f"{BED_FRACTION:g} of grains by volume; there the model claims no bed, and they are left out."),
        ("How it came out",
         f"Clear water: {_told(clear)}. Clay suspensions up to {fixed(THICKEST_CARRIER, 0)} kg/m³: {_told(clay)}. "
         f"Thicker clay needs more slope than its density explains: {_told(thick)}. The film's depth is "
         f"{_depths(record)} of the measured one in clear water."),
        ("What no experiment has tested",
         "A sheared film of slurry above 1 g; a bowl; grains finer than 2 mm or crushed; how fine grains slip; water "
         "rising through the bed; a film that lags and is turned by the Coriolis force; grooves. That friction between "
         "grains does not depend on the field is known of dry and wet sand from 0.1 to 100 g, from abstracts."),
        ("What a sceptic adds",
         "Grains that keep up with the water (slip 1) and a friction of 0.95 give 53 of the 55, so the count does not "
         "prove the slip: its support is the trend with the grains delivered, and one measured profile in which 2.6 to "
         "4 times the delivered grains are in place. The trend is still too strong: the predicted slope goes with the "
         "0.67th power of the delivered fraction, the measured one with the 0.54th, so thin slurries come out low. The "
         "runs are 15 groups of size and slope, not 55 independent trials, and some may be among the 55 experiments "
         "that gave the slip. Their sources were identified from memory."),
        ("What it means here",
         "The repose band is friction low to high and at least 2° either side: a working band, borne out in flumes "
         "only. A slope fixes no more than friction over slip, so one measured angle calibrates the one and leaves the "
         "other."),
        ("Source",
         "The runs are facts of an open data file, mydata4.xlsx in the public repository "
         "ayushrathore111/bedload-sediment, which names no source of its own; by all marks Smart & Jaeggi (1983), "
         "Mitt. VAW 64, and Rickenmann (1990), Diss. ETH 9065. They come with the program, in "
         "data/evidence/steep_flume.csv, which says how their units were found."),
    )  # fmt: skip


def _told(t: Tally) -> str:
    return (
        f"{t.within} of {t.count} runs within 30 %, {t.in_band} inside the friction band, "
        f"median of predicted over measured {t.median:.2f}"
    )


def _depths(record: Record) -> str:
    found = (record.film.depth / record.runs.depth)[record.clear]
    return f"{found.min():.2f} to {found.max():.2f}"
