"""The command `start`: a design given a curve to start from, fitted to its machine."""

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

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
    sentences,
    with_why,
)
from profiler.numbers import read
from profiler.study.edits.design_edits import with_design
from profiler.study.edits.list_edits import Listed, turned_to

if TYPE_CHECKING:
    from profiler.study import Knot


def _add_options(parser: argparse.ArgumentParser) -> None:
    add_choice(parser)
    add_why(parser)
    curves = parser.add_mutually_exclusive_group(required=True)
    curves.add_argument("--one", metavar="ANGLE", help="a straight cone")
    curves.add_argument("--two", metavar="LOWER,UPPER,CORNER", help="two angles and the height of their corner, mm")
    curves.add_argument("--graded", metavar="FLOOR,LIP,POWER", help="angle at floor and lip, and the power between")
    parser.add_argument("--save", metavar="OUT.bowl", type=Path, help="write the study with the design so started")
    parser.add_argument("--json", action="store_true", help="one JSON object instead of sentences")


def _start(given: argparse.Namespace) -> int:
    """Exit code 1 where a limit binds: nothing is written then."""
    from profiler.assess.fitting.starting_curves import started
    from profiler.output.terminal.fit_text import fit_json, fit_text

    check_save(given, "started")
    study, design, _ = chosen_of(given)
    with sentences():
        found = started(design, study.machine, _knots(given, study.machine.height_mm))
    say(fit_json(found, design, study.machine) if given.json else fit_text(found))
    if found.design is None:
        return STOPPED
    save(with_why(with_design(turned_to(study, Listed.DESIGN, design), found.design), given), given)
    return FINE


def _knots(given: argparse.Namespace, height_mm: float) -> "tuple[Knot, ...]":
    from profiler.assess.fitting.starting_curves import graded, one_angle, two_angles

    if given.one is not None:
        return one_angle(height_mm, read(given.one).value)
    numbers = [read(part).value for part in (given.two or given.graded).split(",")]
    if len(numbers) != 3:
        raise ValueError("Give three numbers: 20,8,150.")
    return (two_angles if given.two is not None else graded)(height_mm, *numbers)


START = Command("start", lambda: "give a design a curve to start from, fitted to its machine", _add_options, _start)
