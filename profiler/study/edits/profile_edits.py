"""Pure edits of a study's measured profiles: one more, with the design as it is drawn now; or refused in a sentence."""

from collections.abc import Sequence
from datetime import date as calendar_day

from profiler.study.edits.list_edits import free_name
from profiler.study.records.design import Design
from profiler.study.records.fields import objections
from profiler.study.records.measured_profile import MeasuredProfile, ProfilePoint
from profiler.study.records.study import Study

Points = Sequence[tuple[float, float]]  # radius, height, mm


def with_profile(
    study: Study, design: Design, points: Points, serial: str, date: str, hours: float, how: str = ""
) -> Study:
    """The study with a measured profile. Raises ValueError for a day that is none, or hours that cannot be."""
    if date:
        try:
            calendar_day.fromisoformat(date)
        except ValueError:
            raise ValueError(f"“{date}” is not a day; write it as 2026-03-31.") from None
    kept = tuple(ProfilePoint(round(r, 4), round(z, 4)) for r, z in points)
    profile = MeasuredProfile(_name(study, serial, hours), design, kept, serial, date, hours, how)
    for record in (profile, *kept):
        for _, _, sentence in objections(record):
            raise ValueError(sentence)
    return study.having("profiles", (*study.profiles, profile))


def without_profile(study: Study, name: str) -> Study:
    return study.having("profiles", tuple(p for p in study.profiles if p.name != name))


def _name(study: Study, serial: str, hours: float) -> str:
    wanted = f"{serial or 'Profile'}, {hours:g} h"
    return free_name(wanted, tuple(p.name for p in study.profiles))
