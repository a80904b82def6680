"""The command `counterpart`: a copy of a design with another's wall, and everything else equal as far as it fits."""

import argparse
from pathlib import Path

from profiler.cli.command import (
    FINE,
    STOPPED,
    Command,
    Unusable,
    add_choice,
    add_why,
    check_save,
    chosen_of,
    say,
    sentences,
    with_why,
)
from profiler.study import Design, write_study
from profiler.study.edits.list_edits import Listed, add_design, turned_to


def _add_options(parser: argparse.ArgumentParser) -> None:
    add_choice(parser)
    add_why(parser)
    parser.add_argument("--wall-of", metavar="NAME", required=True, help="the design whose wall it gets")
    parser.add_argument("--save", metavar="OUT.bowl", type=Path, required=True, help="the study with the counterpart")


def _counterpart(given: argparse.Namespace) -> int:
    """Exit code 1 where the counterpart has a stop finding."""
    from profiler.assess import evaluate
    from profiler.assess.findings.finding import stops
    from profiler.assess.fitting.counterpart import counterpart

    check_save(given, "both")
    study, design, duty = chosen_of(given)
    other = next((d for d in study.designs if d.name == given.wall_of), None)
    if other is None or other is design:
        raise Unusable(f"{given.file.name} holds no other design “{given.wall_of}” whose wall could be taken.")
    found = []

    def made(name: str) -> Design:
        found.append(counterpart(design, other, study.machine, name))
        return found[-1].design

    with sentences():
        changed = add_design(turned_to(study, Listed.DESIGN, design), f"{design.name}, wall of {other.name}", made)
    write_study(with_why(changed, given), given.save)
    say(found[-1].sentence)
    say(f"written: {given.save}", plainly=True)
    return STOPPED if stops(evaluate(changed.design, study.machine, duty).findings) else FINE


COUNTERPART = Command("counterpart", lambda: "a copy of a design with another's wall", _add_options, _counterpart)
