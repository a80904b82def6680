"""What the computed eddy says of one groove: every figure a band over the Reynolds number and the loss of landing.

The effective Reynolds number and the share of the fall lost in landing are assumptions, so each is taken at its ends
too: the band of a figure is the least and the greatest of the case asked for and the four corners. A corner that does
not settle leaves no band, since it may have been its end.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import product

from profiler.assess.eddy.lids import (
    FAST,
    SLOW,
    USUAL,
    Driving,
    Lid,
    Section,
    Setting,
    doubts,
    driving,
    lid_of,
    section_of,
    stages_of,
)
from profiler.assess.evaluate.evaluation import Evaluation
from profiler.physics.eddy.flow import COARSE, FINE, HIGH_REYNOLDS, LOW_REYNOLDS, Drive, Eddy, NoEddy, solve
from profiler.physics.eddy.measures import Measures, measure
from profiler.physics.eddy.section import left_out
from profiler.progress import SILENT, Progress

NOT_DRIVEN = "No eddy is driven here: a bed lies over the mouth, and water only seeps up through it."
STANDING = (
    "The equations are solved correctly; whether they describe slurry in a groove is untested: one fluid, no grains, "
    "assumed turbulence. Change no depth on this alone."
)
ALWAYS_LEFT_OUT = (
    "One fluid: grains, their weight and the layering they make are left out; a heavy bed would be disturbed less.",
    "Turbulence is one constant viscosity, from an assumed Reynolds number of 300 (100 to 400).",
    "The share of the fall lost in landing has no published value: 0.2 to 1, middle 0.5.",
    "The mouth is narrow against its radius; what changes round the bowl, as between water holes, is left out.",
    "The film over it is that of middle friction, and stays a straight lid.",
)


@dataclass(frozen=True, slots=True)
class Band:
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Case:
    """One settled flow and the lid that drives it."""

    lid: Lid
    eddy: Eddy
    measures: Measures

    @property
    def reach(self) -> float:
        """m"""
        return self.measures.reach * self.lid.mouth

    @property
    def still_depth(self) -> float:
        """m below the reach, down to the floor or the bed."""
        return self.measures.still_depth * self.lid.mouth

    @property
    def circulation(self) -> float | None:
        """m2/s"""
        found = self.measures.circulation
        return None if found is None else found * self.lid.speed * self.lid.mouth

    @property
    def turnover(self) -> float | None:
        """s"""
        found = self.measures.turnover
        return None if found is None else found * self.lid.mouth / self.lid.speed

    @property
    def residence(self) -> Band | None:
        """s of the water from below: past the eddy alone, and if the eddy mixes with it. None where none comes."""
        if not self.lid.water > 0.0:
            return None
        square = self.lid.mouth**2 / self.lid.water
        return Band((self.measures.area - self.measures.closed_area) * square, self.measures.area * square)


@dataclass(frozen=True, slots=True)
class Answer:
    """Of one groove. `case` is None where nothing is driven or nothing settled: `reason` then says why."""

    groove: int  # from 1
    driving: Driving
    setting: Setting
    section: Section
    lid: Lid | None
    case: Case | None
    corners: tuple[Case | NoEddy, ...]  # () where they were not asked for
    reason: str
    left_out: tuple[str, ...]

    @property
    def unsettled(self) -> NoEddy | None:
        """The first corner that found no flow."""
        return next((c for c in self.corners if isinstance(c, NoEddy)), None)

    def band(self, figure: Callable[[Case], float | None]) -> Band | None:
        """Least and greatest of a figure; None where one of the corners has none."""
        if self.case is None or not self.corners:
            return None
        found = [None if isinstance(c, NoEddy) else figure(c) for c in (self.case, *self.corners)]
        known = [v for v in found if v is not None]
        return Band(min(known), max(known)) if len(known) == len(found) else None


def middle_case(
    e: Evaluation, groove: int, setting: Setting, elements: tuple[int, int] = COARSE, start: Eddy | None = None
) -> Answer:
    """The case asked for alone: what follows a hand. Raises ValueError where there is no such groove or no film."""
    section = section_of(stages_of(e, groove)[0], groove - 1)
    lid, driven = lid_of(e, groove, setting.loss), driving(e, groove)
    unsaid = (*doubts(e, groove), *ALWAYS_LEFT_OUT)
    if lid is None:
        return Answer(groove, driven, setting, section, None, None, (), NOT_DRIVEN, unsaid)
    found = case_of(lid, setting, lid.drive(setting.reynolds), elements, start)
    unsaid = (*left_out(lid.filled(setting.fill)), *unsaid)
    if isinstance(found, NoEddy):
        return Answer(groove, driven, setting, section, lid, None, (), found.reason, unsaid)
    return Answer(groove, driven, setting, section, lid, found, (), "", unsaid)


def answer(
    e: Evaluation,
    groove: int,
    setting: Setting = USUAL,
    elements: tuple[int, int] = FINE,
    start: Eddy | None = None,
    progress: Progress = SILENT,
) -> Answer:
    """The case asked for and the four corners of the band."""
    found = middle_case(e, groove, setting, elements, start)
    if found.case is None:
        return found
    corners: list[Case | NoEddy] = []
    nearest = found.case.eddy
    for count, (reynolds, loss) in enumerate(corners_of(setting)):
        progress.at(count / 4.0)
        lid = lid_of(e, groove, loss)
        if lid is None:  # never: the fall does not depend on its landing
            continue
        corners.append(case_of(lid, setting, lid.drive(reynolds), COARSE, nearest))
    return replace(found, corners=tuple(corners))


def corners_of(setting: Setting) -> list[tuple[float, float]]:
    """Reynolds number and loss at the ends of the band, which what is asked for may widen."""
    low, high = min(LOW_REYNOLDS, setting.reynolds), max(HIGH_REYNOLDS, setting.reynolds)
    return list(product((low, high), (max(SLOW, setting.loss), min(FAST, setting.loss))))


def case_of(
    lid: Lid, setting: Setting, drive: Drive, elements: tuple[int, int], start: Eddy | None = None
) -> Case | NoEddy:
    eddy = solve(lid.filled(setting.fill), drive, elements, start)
    return eddy if isinstance(eddy, NoEddy) else Case(lid, eddy, measure(eddy))
