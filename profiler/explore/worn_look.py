"""One look at wear: a profile against its drawing or an earlier one, the rate, the worn bowl, hours until a limit.

Window, terminal and report ask it, so that all of them say the same.
"""

import re
from dataclasses import dataclass

from profiler.assess import Evaluation, Stages, evaluate
from profiler.assess.worn.laid_over import Acceptance, LaidOver, accepted, check_doubts, laid_over
from profiler.assess.worn.wear import (
    PER,
    Rate,
    hours_until,
    lands_course,
    rate_between,
    rate_since_new,
    typed_rate,
)
from profiler.assess.worn.without_land import WithoutLand, without_lands
from profiler.explore.beside_new import NOTHING_GONE, BesideNew, Gone, Limit, beside_new, until_lost
from profiler.explore.search.goal import goal_quantity
from profiler.numbers import read
from profiler.study import Design, Duty, Machine, MeasuredProfile, Study

TOLERANCE_MM = 0.5  # of a casting; common practice of cast polyurethane liners, no source
OFF_BY_MM = 0.1  # of a measured point; assumed, the user's to say
LIMIT = re.compile(r"^\s*([a-z0-9_]+)\s*(>=|<=|≥|≤)\s*(.+)$")


@dataclass(frozen=True, slots=True)
class WornAsked:
    """What is asked of the wear. Empty: not said. `profile` and `against` are names of the study's profiles."""

    profile: str = ""
    against: str = ""  # an earlier profile of the same casting; empty: the drawing
    tolerance_mm: float = TOLERANCE_MM
    off_by_mm: float = OFF_BY_MM
    rate: str = ""  # mm in 1,000 h, as it is typed; empty: from the profiles
    even: bool = False
    hours: float | None = None  # since new; None: as it was measured
    limit: str = ""  # mm gone, or a quantity such as exposed_height_mm >= 150


@dataclass(frozen=True, slots=True)
class WornLook:
    """What came of it; None, or empty, where it was not asked or does not follow."""

    design: Design
    duty: Duty
    over: LaidOver | None
    against: LaidOver | None
    acceptance: Acceptance | None  # of a new casting: one that ran may lie off as far as it has worn
    rate: Rate | None
    beside: BesideNew | None
    until: str
    lands: tuple[WithoutLand, ...]

    @property
    def answer(self) -> str:
        """One sentence, with its uncertainty."""
        if self.beside is not None:
            return self.beside.sentence
        if self.over is not None:
            return self.over.sentence
        return "Read a measured profile, or type a rate and hours, to see this bowl worn."


def worn_look(study: Study, design: Design, duty: Duty, asked: WornAsked) -> WornLook:
    """Raises ValueError, one sentence, for what cannot be read or does not go together.

    With a profile the bowl is the one it was laid over, as it was drawn then.
    """
    check_doubts(asked.tolerance_mm, asked.off_by_mm)
    over = _over(study, asked.profile)
    against = _over(study, asked.against)
    if against is not None and over is None:
        raise ValueError("Say which profile is compared with the earlier one.")
    if over is not None:
        design = over.profile.design
    rate = _rate(asked, over, against)
    gone = _gone(asked, over)
    beside = _beside(asked, design, study.machine, duty, rate, gone)
    new = beside.new if beside is not None else evaluate(design, study.machine, duty, Stages.FLOW)
    return WornLook(
        design, duty, over, against,
        None if over is None or over.profile.hours > 0.0 else accepted(over, asked.tolerance_mm, asked.off_by_mm),
        rate, beside, _until(asked, new, rate, gone), without_lands(new),
    )  # fmt: skip


def profile_of(study: Study, name: str) -> MeasuredProfile:
    """Raises ValueError with the names there are."""
    for profile in study.profiles:
        if profile.name == name:
            return profile
    known = ", ".join(f"“{p.name}”" for p in study.profiles) or "none"
    raise ValueError(f"The study holds no profile “{name}”; it holds {known}.")


def limit_of(text: str) -> float | Limit:
    """“4” is mm gone; “exposed_height_mm >= 150” a number that must hold. Raises ValueError."""
    found = LIMIT.match(text)
    if found is None:
        return read(text).value
    return Limit(goal_quantity(found[1]), found[2] in (">=", "≥"), read(found[3]).value)


def _over(study: Study, name: str) -> LaidOver | None:
    return laid_over(profile_of(study, name), study.machine) if name else None


def _rate(asked: WornAsked, over: LaidOver | None, against: LaidOver | None) -> Rate | None:
    if asked.rate.strip():
        return typed_rate(asked.rate)
    if over is not None and against is not None:
        return rate_between(against, over, asked.even, asked.off_by_mm)
    if over is not None and over.profile.hours > 0.0:
        return rate_since_new(over, asked.even, asked.off_by_mm, asked.tolerance_mm)
    return None


def _gone(asked: WornAsked, over: LaidOver | None) -> Gone:
    """What is gone already: nothing of a bowl that was not measured, or that is new."""
    if over is None or not over.profile.hours > 0.0:
        return NOTHING_GONE
    doubt = asked.off_by_mm + (0.0 if asked.against else asked.tolerance_mm)
    return Gone(lands_course(over, asked.even), doubt, over.profile.hours)


def _beside(
    asked: WornAsked, design: Design, machine: Machine, duty: Duty, rate: Rate | None, gone: Gone
) -> BesideNew | None:
    if asked.hours is not None:
        if rate is None:
            raise ValueError("Hours ahead need a rate: type one, or choose profiles of two ages.")
        return beside_new(design, machine, duty, gone.later(rate, asked.hours))
    return beside_new(design, machine, duty, gone) if gone.hours > 0.0 else None


def _until(asked: WornAsked, new: Evaluation, rate: Rate | None, gone: Gone) -> str:
    if not asked.limit.strip():
        return ""
    if rate is None:
        raise ValueError("A limit needs a rate: type one, or choose profiles of two ages.")
    limit = limit_of(asked.limit)
    if not isinstance(limit, Limit):
        worn = gone.wear if gone.hours > 0.0 else None
        return hours_until(limit, rate, worn, gone.hours, gone.plus_minus).sentence
    if not rate.course.most > 0.0:
        return "The profiles show no wear, so no limit is ever reached."
    looked = gone.hours + _deepest_loss(new) * PER / rate.course.most
    return until_lost(new.design, new.machine, new.duty, gone, rate, limit, looked).sentence


def _deepest_loss(new: Evaluation) -> float:
    """mm after which nothing is left to ask of: the deepest groove, or the wall where there are none."""
    if new.shape is None or not len(new.shape.mouths):
        return new.design.body.wall_mm
    return float(new.shape.cut.depth.max())
