"""Pure edits of the trials of a study: each takes values and returns new ones, or refuses with one sentence.

Runs are meant by their row, since names in a file may repeat. Raw values are replaced only by what was typed.
"""

import re
from collections.abc import Mapping, Sequence
from datetime import date

from msgspec.structs import replace

from profiler.numbers import number_of, plainly
from profiler.study.edits.names import typed_name
from profiler.study.ledger.columns import COLUMNS
from profiler.study.records.study import Study
from profiler.study.records.trial import GoldClass, Plan, Run, SieveAssay, Trial
from profiler.words import Waiver


def with_trial(study: Study, index: int, trial: Trial) -> Study:
    """The study with one trial replaced. Names must differ."""
    others = [t.name for i, t in enumerate(study.trials) if i != index]
    if not trial.name.strip():
        raise ValueError("A trial needs a name.")
    if trial.name in others:
        raise ValueError(f"There is a trial “{trial.name}” already.")
    return replace(study, trials=(*study.trials[:index], trial, *study.trials[index + 1 :]))


def add_trial(study: Study, trial: Trial) -> Study:
    """The study with one trial more, its name made free by a number where it is taken."""
    names, name = {t.name for t in study.trials}, trial.name
    number = 2
    while name in names:
        name, number = f"{trial.name} {number}", number + 1
    return replace(study, trials=(*study.trials, replace(trial, name=name)))


def delete_trial(study: Study, index: int) -> Study:
    return replace(study, trials=(*study.trials[:index], *study.trials[index + 1 :]))


def with_design_renamed(trial: Trial, old: str, new: str) -> Trial:
    """The trial with its runs of a design under that design's other name.

    ValueError where runs bear the other name already: two bowls would become one.
    """
    if old == new or (trial.plan.reference != old and all(run.design != old for run in trial.runs)):
        return trial
    if any(run.design == new for run in trial.runs):
        raise ValueError(f"The trial “{trial.name}” has runs of another “{new}” already; “{old}” stays.")
    runs = tuple(replace(run, design=new) if run.design == old else run for run in trial.runs)
    plan = replace(trial.plan, reference=new) if trial.plan.reference == old else trial.plan
    return replace(trial, runs=runs, plan=plan)


def renamed(trial: Trial, name: str) -> Trial:
    """Under another name. ValueError without one, or one too long; whether it is free is seen to by `with_trial`."""
    return replace(trial, name=typed_name(name, "trial", trial.name))


def adjust_also(trial: Trial, key: str, on: bool) -> Trial:
    """Adjust the comparison for a further column of the runs, or no longer."""
    others = tuple(name for name in trial.plan.adjust_also if name != key)
    return set_plan(trial, "adjust_also", (*others, key) if on else others)


def set_cells(trial: Trial, cells: Mapping[tuple[int, str], str]) -> Trial:
    """Cells of the ledger as typed, all or none; rows past the last are new runs. ValueError for an unreadable one."""
    runs = list(trial.runs)
    for (row, key), text in sorted(cells.items(), key=lambda item: item[0][0]):
        while row >= len(runs):
            runs.append(_blank(runs))
        if key in ("run", "design") and not text.strip():
            raise ValueError(f"A run needs its {COLUMNS[key].label.lower()}.")
        if key == "run" and any(other.run == text.strip() for i, other in enumerate(runs) if i != row):
            raise ValueError(f"There is a run “{text.strip()}” already; each run needs its own name.")
        try:
            runs[row] = COLUMNS[key].take(runs[row], text, 1.0)
        except ValueError as reason:
            raise ValueError(f"Run {runs[row].run}, {COLUMNS[key].label.lower()}: {reason}") from None
    for row in {row for row, key in cells if key in ("excluded", "exclusion_reason")}:
        if runs[row].excluded and not runs[row].exclusion_reason.strip():
            raise ValueError(f"Run {runs[row].run}: a run is left out only with a reason.")
    return replace(trial, runs=tuple(runs))


def add_run(trial: Trial, design: str = "") -> Trial:
    """The ledger with an empty run at its end, of the design given or of the last run's."""
    blank = _blank(list(trial.runs))
    return replace(trial, runs=(*trial.runs, replace(blank, design=design or blank.design)))


def add_runs(trial: Trial, runs: Sequence[Run]) -> Trial:
    """The ledger with runs added. ValueError where a name stands twice."""
    seen = {run.run for run in trial.runs}
    for run in runs:
        if run.run in seen:
            raise ValueError(f"There is a run “{run.run}” already; each run needs its own name.")
        seen.add(run.run)
    return replace(trial, runs=(*trial.runs, *runs))


def delete_runs(trial: Trial, rows: Sequence[int]) -> Trial:
    gone = set(rows)
    return replace(trial, runs=tuple(run for row, run in enumerate(trial.runs) if row not in gone))


def exclude(trial: Trial, rows: Sequence[int], reason: str) -> Trial:
    """Leave runs out of the comparison; they stay in the ledger with the reason. ValueError without one."""
    if not rows:
        raise ValueError("Choose the runs to leave out first.")
    if not reason.strip():
        raise ValueError("A run is left out only with a reason: type one first.")
    return _each(trial, rows, excluded=True, exclusion_reason=reason.strip())


def take_back(trial: Trial, rows: Sequence[int]) -> Trial:
    """Take runs back into the comparison."""
    if not rows:
        raise ValueError("Choose the runs to take back first.")
    return _each(trial, rows, excluded=False, exclusion_reason="")


def with_sizes(trial: Trial, sizes: Mapping[str, tuple[SieveAssay, ...]]) -> Trial:
    """Size classes given to the runs they name. ValueError for a run there is not."""
    known = {run.run for run in trial.runs}
    strange = next((name for name in sizes if name not in known), None)
    if strange is not None:
        raise ValueError(f"The size classes speak of a run “{strange}”, which the ledger does not hold.")
    runs = (replace(run, sizes=sizes[run.run]) if run.run in sizes else run for run in trial.runs)
    return replace(trial, runs=tuple(runs))


def set_plan(trial: Trial, name: str, value: object) -> Trial:
    """One member of the plan changed."""
    return trial.having("plan", trial.plan.having(name, value))


def freeze_plan(trial: Trial, day: date) -> Trial:
    """Settle basis, size cut, exclusions and worthwhile gain together, at a day."""
    if trial.plan.worthwhile_points is None:
        raise ValueError("Agree on the worthwhile gain first: it is frozen together with the basis.")
    return replace(trial, plan=replace(trial.plan, stamped=day.isoformat()))


def waive(trial: Trial, gate: str, reason: str) -> Trial:
    """Set a gate aside with a reason; without one it is taken back into force if it was waived, else refused."""
    others = tuple(w for w in trial.plan.waivers if w.gate != gate)
    if not reason.strip():
        raise ValueError(f"The gate “{gate}” cannot be waived without a reason.")
    return _with_waivers(trial, (*others, Waiver(gate, reason.strip())))


def unwaive(trial: Trial, gate: str) -> Trial:
    return _with_waivers(trial, tuple(w for w in trial.plan.waivers if w.gate != gate))


def gold_of(text: str) -> tuple[GoldClass, ...]:
    """Grain sizes as typed: '75', or '38: 40, 75: 30, 150: 20, 300: 10' with the share of the gold in each."""
    found = []
    for part in re.split(r"[;,]\s+|;", text.strip()):
        if not part.strip():
            continue
        size, _, share = part.partition(":")
        um, pct = number_of(size), number_of(share) if share.strip() else 100.0
        if um is None or pct is None or um <= 0.0 or pct < 0.0:
            raise ValueError(f"“{part.strip()}” is not a grain size in µm, or a size and a share such as “75: 30”.")
        found.append(GoldClass(um, pct))
    if found and not sum(gold.share_pct for gold in found) > 0.0:
        raise ValueError("The shares of the grain sizes add up to zero.")
    return tuple(found)


def gold_text(gold: Sequence[GoldClass]) -> str:
    """What `gold_of` reads."""
    if len(gold) == 1:
        return plainly(gold[0].size_um)
    return "; ".join(f"{plainly(g.size_um)}: {plainly(g.share_pct)}" for g in gold)


def _blank(runs: Sequence[Run]) -> Run:
    """A run to be filled in: the next free number, the design of the run before."""
    names = {run.run for run in runs}
    number = len(runs) + 1
    while str(number) in names:
        number += 1
    return Run(run=str(number), design=runs[-1].design if runs else "A")


def _each(trial: Trial, rows: Sequence[int], **members: object) -> Trial:
    chosen = set(rows)
    runs = (replace(run, **members) if row in chosen else run for row, run in enumerate(trial.runs))
    return replace(trial, runs=tuple(runs))


def _with_waivers(trial: Trial, waivers: tuple[Waiver, ...]) -> Trial:
    plan: Plan = replace(trial.plan, waivers=waivers)
    return replace(trial, plan=plan)
