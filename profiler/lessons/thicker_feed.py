"""Lesson 3: more solids raise the repose angle more than anything else does, and calm grooves from the top."""

from msgspec.structs import replace

from profiler.assess import Evaluation, unchecked
from profiler.assess.quantities.table import SLOPE_EQUATION, quantity
from profiler.lessons.lesson import DUTY, Lesson, Look, Why, study_of
from profiler.study import Knot
from profiler.study.records.duty import SOLIDS

THIN = replace(DUTY, solids_pct=28.0)


def _calm(e: Evaluation) -> float:
    values = [quantity(key).get(e) for key in ("count_matched", "count_sheltered")]
    return float(sum(v[0] for v in values if len(v)))


def _done(start: Evaluation, now: Evaluation) -> bool:
    """The same bowl, a thicker feed, three grooves fewer that overturn."""
    thicker = now.duty.solids_pct > start.duty.solids_pct
    return thicker and now.design.wall == start.design.wall and _calm(now) >= _calm(start) + 3.0


LESSON = Lesson(
    title="What does a thicker feed do?",
    about="A wall that opens from 2° at the lip to 24° at the floor, under a thin feed of 28 % solids by mass.",
    task=f"Raise {SOLIDS.label} in the bar on top (drag its name to the right, or type) until three grooves fewer "
    "overturn.",
    study=lambda: study_of("What does a thicker feed do?", (Knot(0.0, 24.0), Knot(330.0, 2.0)), THIN),
    done=_done,
    look=(Look("repose_deg"), Look("count_strong"), Look("count_weak"), Look("count_matched"), Look("count_sheltered")),
    seen="The repose band moved to the right, and the grooves went calm from the top down. Repose is shown half-way "
    "up.",
    why=Why(
        "More grains in contact carry more of the film's weight, so the bed can lie at a larger angle. The solids "
        "count by volume, less their buoyancy, and where they are: in contact they creep behind the water, so more lie "
        "on the bed than the feed delivers.",
        f"{SLOPE_EQUATION}, Ci all grains in place by volume, Cc those in contact",
        f"balance after Takahashi (1978), derived anew; contact load after {unchecked.CONTACT_LOAD.words}; slip after "
        "Abrahams (2003)",
    ),
)
