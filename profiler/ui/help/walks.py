"""The two walk-throughs: what a student asks, and what a designer does.

Their words stand in data/help; the numbers in them are worked out, and the pictures drawn, from the bowls they speak of
when the help is opened: neither can go stale.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np

from profiler.assess import Evaluation, Severity, Stages, evaluate
from profiler.assess.checks.check_fit import SPINNING_CAUTION
from profiler.assess.eddy.answers import ALWAYS_LEFT_OUT, Answer, middle_case
from profiler.assess.eddy.lids import USUAL
from profiler.assess.quantities.table import STATE_KEYS, STATE_WORDS, quantity
from profiler.lessons import Lesson, Look, coarser_feed, how_far, how_sure, thicker_feed, what_to_beat, who_holds
from profiler.lessons.lesson import degrees, falling, grooves
from profiler.physics.slurry.overturn import STRONG_RATIO, State
from profiler.pictures.basics.display import Picture
from profiler.pictures.eddy.groove_picture import GrooveScene, groove_picture
from profiler.pictures.strips.still import still
from profiler.study import Study
from profiler.study.edits.design_edits import with_duty
from profiler.study.files.examples import DEFAULT, read
from profiler.study.records.duty import D50, SOLIDS
from profiler.study.records.machine import FASTEST_SPEED, SLOWEST_SPEED
from profiler.units import MM

THICK, COARSE = 48.0, 200.0  # solids and size that the pages set against those of the lessons
FAULTY = "faulty"  # the example that does not fit
REPOSE = Look("repose_deg")


@dataclass(frozen=True, slots=True)
class Bowls:
    """What the designer's page shows: two designs, the new one under a harder ore too, and one that does not fit."""

    new: Evaluation
    old: Evaluation
    hard: Evaluation
    misfit: Evaluation


def eddy_numbers() -> dict[str, str]:
    """What stands in braces on the student's page."""
    cone, upright, held, band = (_of(m.LESSON) for m in (how_far, what_to_beat, who_holds, how_sure))
    thin, fine = _of(thicker_feed.LESSON), _of(coarser_feed.LESSON)
    thick = _under(thicker_feed.LESSON, SOLIDS.name, THICK)
    coarse = _under(coarser_feed.LESSON, D50.name, COARSE)
    fall, ratio = Look("groove_overfall_mm", how_far.WATCHED), Look("groove_ratio", how_far.WATCHED)
    numbers = {
        "cone_pull": Look("acceleration_g").text(cone),
        "cone_groove": str(how_far.WATCHED),
        "cone_fall": fall.text(cone),
        "cone_ratio": ratio.text(cone),
        "left_out": " ".join(ALWAYS_LEFT_OUT),
        "strong": f"{STRONG_RATIO:g}",
        "upright_all": grooves(_count(upright)),
        "upright_deep": Look("deepest_mm").text(upright),
        "held_free": grooves(who_holds.cone_falling(held)),
        "held_all": str(int(np.sum(who_holds.cone_grooves(held)))),
        "held_above": f"{held.design.wall.knots[-1].angle_deg:g}°",
        "held_at": _held_at(held),
        "band_low": degrees(Look("repose_low_deg").value(band)),
        "band_high": degrees(Look("repose_high_deg").value(band)),
        "band_sure": grooves(_in(band, State.WEAK) + _in(band, State.STRONG)),
        "band_calm": str(_in(band, State.SHELTERED)),
        "band_matched": str(_in(band, State.MATCHED)),
        "thin_solids": SOLIDS.text(thin.duty.solids_pct) + " %",
        "thick_solids": SOLIDS.text(thick.duty.solids_pct) + " %",
        "fine_size": D50.with_unit(fine.duty.d50_um),
        "coarse_size": D50.with_unit(coarse.duty.d50_um),
    }
    numbers |= {f"{name}_free": grooves(falling(e)) for name, e in (("thin", thin), ("thick", thick))}
    for name, e in (("cone", cone), ("held", held), ("fine", fine), ("coarse", coarse)):
        numbers[f"{name}_repose"] = degrees(REPOSE.value(e))
    for name, e in (("cone", cone), ("upright", upright), ("held", held)):
        numbers[f"{name}_wall"] = f"{e.design.wall.knots[0].angle_deg:g}°"
    return numbers


def retrofit_numbers() -> dict[str, str]:
    """What stands in braces on the designer's page."""
    bowls = _bowls()
    machine = bowls.new.machine
    return {
        "speed_low": SLOWEST_SPEED.told(machine.speed_low_rpm),
        "speed_high": FASTEST_SPEED.told(machine.speed_high_rpm),
        "new": f"“{bowls.new.design.name}”",
        "old": f"“{bowls.old.design.name}”",
        "hard": bowls.hard.duty.name,
        "states": _states(bowls.new),
        "hard_states": _states(bowls.hard),
        "misfit": f"“{bowls.misfit.design.name}”",
        "worst": bowls.misfit.findings[0].text,
        "stops": str(sum(f.severity is Severity.STOP for f in bowls.misfit.findings)),
    }


def picture(name: str, width: float, height: float) -> tuple[Picture, ...]:
    """A picture of the pages, by its name. Raises KeyError for one that no page has."""
    if name in ("ghost", "seat"):
        bowls = _bowls()
        return still(bowls.misfit, width, height) if name == "seat" else still(bowls.new, width, height, bowls.old)
    if name == "eddy":
        return (groove_picture(GrooveScene(_with_catch(), how_far.WATCHED, _flowing()), width, height),)
    lesson = {"cone": how_far.LESSON, "held": who_holds.LESSON, "band": how_sure.LESSON}[name]
    return still(_of(lesson), width, height)


def caution() -> str:
    return SPINNING_CAUTION.text


@cache
def _of(lesson: Lesson) -> Evaluation:
    """The lesson's bowl as it is found."""
    return _seen(lesson.study())


@cache
def _with_catch() -> Evaluation:
    """The first bowl with the film that drives its eddies."""
    cone = _of(how_far.LESSON)
    return evaluate(cone.design, cone.machine, cone.duties, Stages.QUICK | Stages.CATCH)


@cache
def _flowing() -> Answer:
    """Half a second: asked for when its picture is painted, not when the help opens."""
    return middle_case(_with_catch(), how_far.WATCHED, USUAL)


@cache
def _under(lesson: Lesson, number: str, value: float) -> Evaluation:
    """The same with one number of the duty set."""
    study = lesson.study()
    return _seen(with_duty(study, study.duty.having(number, value)))


@cache
def _bowls() -> Bowls:
    study = read(DEFAULT)
    new, old = study.designs[0], study.designs[1]
    hard = max(study.duties, key=lambda d: d.solids_pct)
    return Bowls(
        evaluate(new, study.machine, study.duties[0], Stages.QUICK),
        evaluate(old, study.machine, study.duties[0], Stages.QUICK),
        evaluate(new, study.machine, hard, Stages.QUICK),
        _seen(read(FAULTY)),
    )


def _seen(study: Study) -> Evaluation:
    return evaluate(study.design, study.machine, study.duty, Stages.QUICK)


def _count(e: Evaluation) -> int:
    return 0 if e.shape is None else len(e.shape.mouths)


def _in(e: Evaluation, state: State) -> int:
    return 0 if e.flow is None else int(np.sum(e.flow.groove_state[0] == state))


def _held_at(e: Evaluation) -> str:
    """Height of the land that holds the bed over the topmost groove of the cone."""
    if e.flow is None:
        return "–"
    at = int(np.flatnonzero(who_holds.cone_grooves(e))[-1])
    return f"{e.flow.groove_held_at[0, at] / MM:.0f} mm"


def _states(e: Evaluation) -> str:
    """As the top bar counts them."""
    counts = [(state, quantity(f"count_{STATE_KEYS[state]}").get(e)) for state in sorted(State, reverse=True)]
    return ", ".join(f"{int(found[0])} {STATE_WORDS[state]}" for state, found in counts if len(found))
