"""The terminal's `trial`: judge a trial of a study, or a CSV table of runs, and say the verdict.

Every ValueError is one sentence about input that cannot be used. Not here: exit codes and printing (cli).
"""

import argparse
from dataclasses import dataclass
from math import isfinite
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from msgspec.structs import replace

from profiler.study import Study
from profiler.study.files.disk import read_whole
from profiler.study.files.file import SUFFIX, decode_noted
from profiler.study.ledger.reading import Preview, preview, read_table, text_of, trial_of
from profiler.study.records.trial import Plan, Structure, Trial

if TYPE_CHECKING:
    from profiler.statistics.trial.run_flags import RunFlag

STRUCTURES = {
    "pairs": Structure.PAIRS,
    "installations": Structure.INSTALLATIONS,
    "unpaired": Structure.UNPAIRED,
    "exchanged": Structure.EXCHANGED,
    "before-after": Structure.BEFORE_AFTER,
}


class Commands(Protocol):
    """What argparse gives for sub-commands."""

    def add_parser(self, name: str, *, help: str) -> argparse.ArgumentParser: ...


@dataclass(frozen=True, slots=True)
class _Asked:
    study: Study | None
    trial: Trial
    remarks: tuple[str, ...]


def add_parser(commands: Commands) -> None:
    trial = commands.add_parser("trial", help="judge a trial of two designs: a study's, or a CSV table of runs")
    trial.add_argument("file", metavar="FILE", type=Path, help="a study, or CSV with block, design, feed, rec, ...")
    trial.add_argument("--trial", metavar="NAME", help="a trial of the study (default: the first)")
    trial.add_argument("--reference", metavar="NAME", help="the design differences are taken against")
    trial.add_argument("--worthwhile", metavar="POINTS", help="least gain worth having, percentage points of recovery")
    trial.add_argument("--structure", choices=STRUCTURES, help="how the trial was laid out (default: as recorded)")
    trial.add_argument("--json", action="store_true", help="one JSON object instead of text")


def trial(chosen: argparse.Namespace) -> str:
    """What is said of the trial, for any verdict. Raises ValueError, one sentence, where there is none."""
    from profiler.assess.trials.verdicts import evaluate_trial
    from profiler.output.terminal.trial_json import trial_json
    from profiler.output.terminal.trial_text import trial_text

    asked = _asked(chosen)
    found = evaluate_trial(_as_asked(asked.trial, chosen), asked.study)
    if found.judgement is None:
        raise ValueError(f"{chosen.file.name}: {found.trouble}{_flagged(found.balances.flags, asked.trial)}")
    if chosen.json:
        return trial_json(found, found.judgement, asked.remarks)
    return trial_text(found, asked.remarks).rstrip("\n")


def _asked(chosen: argparse.Namespace) -> _Asked:
    file: Path = chosen.file
    data, _ = read_whole(file)
    if file.suffix.lower() == SUFFIX or data.lstrip()[:1] == b"{":
        study, notes = decode_noted(data, file.name)
        return _Asked(study, _named(study, chosen.trial, file.name), notes)
    if chosen.trial is not None:
        raise ValueError(f"{file.name} is a table and holds one trial; --trial names a trial of a study.")
    try:
        seen = preview(read_table(text_of(data, file.name)))
    except ValueError as reason:
        raise ValueError(f"{file.name}: {reason}") from None
    _refuse_problems(seen, file.name)
    over = seen.passed_over
    return _Asked(None, trial_of(seen, file.stem), (f"Passed over: {', '.join(over)}.",) if over else ())


def _named(study: Study, name: str | None, file: str) -> Trial:
    if not study.trials:
        raise ValueError(f"{file} holds no trial.")
    found = next((t for t in study.trials if name in (None, t.name)), None)
    if found is None:
        known = ", ".join(f'"{t.name}"' for t in study.trials)
        raise ValueError(f'{file} holds no trial "{name}"; it holds {known}.')
    return found


def _refuse_problems(seen: Preview, file: str) -> None:
    """A row that cannot be read is not left out unsaid: it is for the person who keeps the ledger to decide."""
    if seen.problems:
        more = len(seen.problems) - 1
        others = f" ({more} more line{'' if more == 1 else 's'} cannot be used either.)" if more else ""
        raise ValueError(f"{file}, {seen.problems[0].sentence}{others}")
    if seen.missing:
        raise ValueError(f"{file}: {seen.missing}")


def _as_asked(trial: Trial, chosen: argparse.Namespace) -> Trial:
    """The trial under the plan as asked; a worthwhile gain named afterwards is not the one that was stamped."""
    plan: Plan = trial.plan
    if chosen.reference is not None:
        plan = replace(plan, reference=chosen.reference)
    if chosen.structure is not None:
        plan = replace(plan, structure=STRUCTURES[chosen.structure])
    points = _points(chosen.worthwhile)
    if points is not None and points != plan.worthwhile_points:
        plan = replace(plan, worthwhile_points=points, worthwhile_source="named when the trial was judged", stamped="")
    return replace(trial, plan=plan)


def _points(text: str | None) -> float | None:
    if text is None:
        return None
    try:
        points = float(text)
    except ValueError:
        points = float("nan")
    if not (isfinite(points) and points > 0.0):
        raise ValueError(f"--worthwhile is a number of percentage points above zero, not '{text}'.")
    return points


def _flagged(flags: "tuple[tuple[RunFlag, ...], ...]", trial: Trial) -> str:
    """The first flagged run, which is often the reason why nothing is left to compare."""
    for run, found in zip(trial.runs, flags, strict=True):
        if found and not run.excluded:
            return f" Run {run.run}: {found[0].text}."
    return ""
