"""The command `fit`: a design brought to its machine's lip radius, height and seat, or the limit that binds."""

import argparse
from pathlib import Path

from profiler.cli.command import (
    FINE,
    STOPPED,
    Command,
    add_choice,
    add_why,
    check_save,
    chosen_of,
    save,
    say,
    with_why,
)
from profiler.study.edits.design_edits import with_design
from profiler.study.edits.list_edits import Listed, turned_to


def _add_options(parser: argparse.ArgumentParser) -> None:
    add_choice(parser)
    add_why(parser)
    parser.add_argument("--save", metavar="OUT.bowl", type=Path, help="write the study with the fitted design")
    parser.add_argument("--json", action="store_true", help="one JSON object instead of sentences")


def _fit(given: argparse.Namespace) -> int:
    """Exit code 1 where a limit binds too: the bowl does not fit, so nothing is written."""
    from profiler.assess import evaluate
    from profiler.assess.findings.finding import stops
    from profiler.assess.fitting.fit import fit
    from profiler.output.terminal.fit_text import fit_json, fit_text

    check_save(given, "fitted")
    study, design, duty = chosen_of(given)
    found = fit(design, study.machine)
    say(fit_json(found, design, study.machine) if given.json else fit_text(found))
    if found.design is None:
        return STOPPED
    save(with_why(with_design(turned_to(study, Listed.DESIGN, design), found.design), given), given)
    return STOPPED if stops(evaluate(found.design, study.machine, duty).findings) else FINE


FIT = Command("fit", lambda: "fit a design to its machine: lip radius, height, grooves, seat", _add_options, _fit)
