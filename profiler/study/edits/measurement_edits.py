"""Pure edits of a study's measurements: one more, with bowl and duty as they are now; or refused with one sentence."""

from collections.abc import Sequence

from profiler.study.edits.list_edits import free_name
from profiler.study.records.design import Design
from profiler.study.records.duty import Duty
from profiler.study.records.measurement import Measurement, Seen
from profiler.study.records.study import Study

LETTERS = {"p": Seen.PACKED, "c": Seen.CLEAN, "u": Seen.UNSURE}


def with_angle(
    study: Study, design: Design, duty: Duty, height_mm: float, angle_deg: float, spread_deg: float, how: str
) -> Study:
    """The study with a measured angle. Raises ValueError for a spread that is none."""
    if not spread_deg > 0.0:
        raise ValueError("The spread of an angle is above 0: give one standard deviation.")
    return _with(study, Measurement(_name(study, "Angle"), design, duty, how, height_mm, angle_deg, spread_deg))


def with_stop(study: Study, design: Design, duty: Duty, grooves: Sequence[Seen], how: str) -> Study:
    """The study with what a stopped bowl showed."""
    return _with(study, Measurement(_name(study, "Stopped bowl"), design, duty, how, grooves=tuple(grooves)))


def seen_of(letters: str) -> tuple[Seen, ...]:
    """p, c and u, a letter for each groove from the floor up. Raises ValueError for any other."""
    unknown = sorted(set(letters) - set(LETTERS))
    if unknown:
        raise ValueError(f"“{unknown[0]}” is not a groove's state: p is packed, c clean, u unsure.")
    return tuple(LETTERS[c] for c in letters)


def _with(study: Study, measurement: Measurement) -> Study:
    return study.having("measurements", (*study.measurements, measurement))


def _name(study: Study, wanted: str) -> str:
    return free_name(wanted, tuple(m.name for m in study.measurements))
