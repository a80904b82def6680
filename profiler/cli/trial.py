"""The terminal's `trial`: judge a trial of a study, or a CSV table of runs, and say the verdict.

Every ValueError is one sentence about input that cannot be used. Not here: exit codes and printing (cli).
"""

import argparse
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from profiler.cli import trial_tables
from profiler.cli.command import lengths_asked
from profiler.numbers import read
from profiler.study import Study
from profiler.study.files.disk import read_whole
from profiler.study.files.file import SUFFIX, decode_noted
from profiler.study.ledger.reading import ColumnRead
from profiler.study.ledger.table_files import refuse_too_large
from profiler.study.records.trial import LAYOUT, PLAN_REFERENCE, WORTHWHILE, WORTHWHILE_SOURCE, Trial
from profiler.words import Structure

if TYPE_CHECKING:
    from profiler.statistics.trial.run_flags import RunFlag

STRUCTURES = {
    "pairs": Structure.PAIRS,
    "installations": Structure.INSTALLATIONS,
    "unpaired": Structure.UNPAIRED,
    "exchanged": Structure.EXCHANGED,
    "before-after": Structure.BEFORE_AFTER,
}


@dataclass(frozen=True, slots=True)
class _Asked:
    study: Study | None
    trial: Trial
    remarks: tuple[str, ...] = ()
    columns: tuple[ColumnRead, ...] = ()  # of a table, as they were read


def add_options(trial: argparse.ArgumentParser) -> None:
    trial.add_argument(
        "file", metavar="FILE", type=Path, help="a study, or a table (CSV, .xlsx) with block, design, feed, rec, ..."
    )
    trial.add_argument("--trial", metavar="NAME", help="a trial of the study (default: the first)")
    trial.add_argument("--reference", metavar="NAME", help="the design differences are taken against")
    trial.add_argument("--worthwhile", metavar="POINTS", help="least gain worth having, percentage points of recovery")
    trial.add_argument("--structure", choices=STRUCTURES, help="how the trial was laid out (default: as recorded)")
    trial.add_argument("--pair-neighbours", action="store_true", help="pair runs of both designs in turn")
    trial.add_argument("--fill-installations", action="store_true", help="each stretch of one bowl is one mounting")
    trial.add_argument("--json", action="store_true", help="one JSON object instead of text")
    trial_tables.add_options(trial)


def trial(chosen: argparse.Namespace) -> str:
    """What is said of the trial, for any verdict. Raises ValueError, one sentence, where there is none."""
    from profiler.assess.trials.verdicts import evaluate_trial
    from profiler.output.blocks.as_text import blocks_text
    from profiler.output.blocks.in_unit import blocks_in
    from profiler.output.trials.trial_blocks import terminal_blocks
    from profiler.output.trials.trial_json import trial_json

    asked = _asked(chosen)
    found = evaluate_trial(_as_asked(_arranged(asked.trial, chosen), chosen), asked.study)
    if found.judgement is None:
        raise ValueError(f"{chosen.file.name}: {found.trouble}{_flagged(found.balances.flags, asked.trial)}")
    if chosen.json:
        return trial_json(found, found.judgement, asked.remarks, asked.columns)
    return blocks_text(blocks_in(terminal_blocks(found, asked.remarks), lengths_asked(chosen))).rstrip("\n")


def _arranged(trial: Trial, chosen: argparse.Namespace) -> Trial:
    """The ledger told apart by the order of its runs, where that is asked for."""
    from profiler.assess.trials.arranging import with_neighbours_paired, with_stretches_mounted

    if chosen.pair_neighbours and chosen.fill_installations:
        raise ValueError("--pair-neighbours and --fill-installations tell runs apart in two ways; choose one.")
    if chosen.pair_neighbours:
        return with_neighbours_paired(trial)
    return with_stretches_mounted(trial) if chosen.fill_installations else trial


def _asked(chosen: argparse.Namespace) -> _Asked:
    file: Path = chosen.file
    is_study = file.suffix.lower() == SUFFIX
    if not is_study:
        refuse_too_large(file)
    data, _ = read_whole(file)
    if is_study or data.lstrip()[:1] == b"{":
        trial_tables.refuse_answers(chosen, file.name)
        study, notes = decode_noted(data, file.name)
        trial, told = trial_tables.with_sizes(_named(study, chosen.trial, file.name), chosen)
        return _Asked(study, trial, (*notes, *_as_remarks(told)))
    if chosen.trial is not None:
        raise ValueError(f"{file.name} is a table and holds one trial; --trial names a trial of a study.")
    ledger, seen = trial_tables.read_ledger(file, chosen)
    trial, told = trial_tables.with_sizes(ledger, chosen)
    over = seen.passed_over
    remarks = (f"Passed over: {', '.join(over)}.",) if over else ()
    return _Asked(None, trial, (*remarks, *_as_remarks(seen.read_as), *_as_remarks(told)), seen.columns)


def _as_remarks(told: tuple[str, ...]) -> tuple[str, ...]:
    return (f"Read: {'; '.join(told)}.",) if told else ()


def _named(study: Study, name: str | None, file: str) -> Trial:
    if not study.trials:
        raise ValueError(f"{file} holds no trial.")
    found = next((t for t in study.trials if name in (None, t.name)), None)
    if found is None:
        known = ", ".join(f"“{t.name}”" for t in study.trials)
        raise ValueError(f"{file} holds no trial “{name}”; it holds {known}.")
    return found


def _as_asked(trial: Trial, chosen: argparse.Namespace) -> Trial:
    """The trial under the plan as asked; a worthwhile gain named afterwards is not the one that was frozen."""
    if chosen.reference is not None:
        trial = PLAN_REFERENCE.set(trial, chosen.reference)
    if chosen.structure is not None:
        trial = LAYOUT.set(trial, STRUCTURES[chosen.structure])
    points = _points(chosen.worthwhile)
    if points is not None and points != WORTHWHILE.get(trial):
        trial = WORTHWHILE_SOURCE.set(WORTHWHILE.set(trial, points), "named when the trial was judged")
    return trial


def _points(text: str | None) -> float | None:
    if text is None:
        return None
    try:
        points = read(text).value
        objection = WORTHWHILE.objection(points)
    except ValueError as reason:
        raise ValueError(f"--worthwhile: {reason}") from None
    if objection is not None:
        raise ValueError(f"--worthwhile {text}: {objection}")
    return points


def _flagged(flags: "tuple[tuple[RunFlag, ...], ...]", trial: Trial) -> str:
    """The first flagged run, which is often the reason why nothing is left to compare."""
    for run, found in zip(trial.runs, flags, strict=True):
        if found and not run.excluded:
            return f" Run {run.run}: {found[0].text}."
    return ""
