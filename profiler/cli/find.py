"""The command `find`: a wall curve searched for a goal, on conditions."""

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

if TYPE_CHECKING:
    from profiler.explore.search.goal import Condition, Goal
    from profiler.explore.search.search import Asked


def _add_options(parser: argparse.ArgumentParser) -> None:
    add_choice(parser)
    add_why(parser)
    goals = parser.add_mutually_exclusive_group(required=True)
    goals.add_argument("--raise", dest="up", metavar="KEY", help="raise a quantity of the whole bowl")
    goals.add_argument("--lower", dest="down", metavar="KEY", help="lower one")
    goals.add_argument(
        "--course",
        metavar="STRONG,WEAK,LEVEL,BURIED",
        help="per cent of the height that should overturn strongly, weakly, lie level, lie buried: 20,40,25,15",
    )
    parser.add_argument(
        "--over",
        choices=("window", "duty", "worst"),
        help="weighted over the ore window, under one duty (default), or at its worst in it (default for a course)",
    )
    parser.add_argument("--knots", metavar="N", type=int, help="knots of the curve, 2 to 5 (default: the design's)")
    parser.add_argument("--grooves", metavar="WHICH", default="", help="search mouth, depth, count too: mouth,count")
    for end in ("least", "most"):
        words = f"a condition: at {end} so much at every place and under every duty; may be given several times"
        parser.add_argument(f"--at-{end}", metavar="KEY=V", action="append", default=[], help=words)
    parser.add_argument("--points", metavar="N", type=int, default=256, help="points tried first (default: 256)")
    parser.add_argument("--seed", metavar="N", type=int, default=1, help="same seed, same result (default: 1)")
    parser.add_argument("--save", metavar="OUT.bowl", type=Path, help="write the study with the found design added")
    parser.add_argument("--json", action="store_true", help="one JSON object instead of sentences")


def _find(given: argparse.Namespace) -> int:
    """Exit code 1 where nothing meets the conditions: then nothing is written."""
    from profiler.explore.search.kept import with_found
    from profiler.explore.search.search import search
    from profiler.output.terminal.find_text import find_json, find_text

    check_save(given, "found")
    with sentences():
        found = search(_asked(given))
    say(find_json(found) if given.json else find_text(found))
    if found.best is None:
        return STOPPED
    if given.save is not None:
        save(with_why(with_found(found.asked.study, found, found.best), given), given)
    return FINE


def _asked(given: argparse.Namespace) -> "Asked":
    from profiler.explore.search.goal import condition_on
    from profiler.explore.search.search import Asked

    study, design, duty = chosen_of(given)
    if given.seed < 0:
        raise ValueError("A seed is a whole number from 0.")
    conditions: list[Condition] = []
    for texts, at_least in ((given.at_least, True), (given.at_most, False)):
        conditions += [condition_on(*_key_and_number(text, at_least)) for text in texts]
    grooves = tuple(word.strip() for word in given.grooves.split(",") if word.strip())
    return Asked(study, design, duty, _goal(given), tuple(conditions), given.knots, grooves, given.points, given.seed)


def _goal(given: argparse.Namespace) -> "Goal":
    from profiler.explore.search.goal import Across, Goal, course_goal, goal_quantity

    if given.course is not None:
        parts = [read(part).value for part in given.course.split(",")]
        return course_goal(parts, Across(given.over or Across.WORST))
    return Goal(goal_quantity(given.up or given.down), given.up is not None, (), Across(given.over or Across.DUTY))


def _key_and_number(text: str, at_least: bool) -> tuple[str, bool, float]:
    key, mark, value = text.partition("=")
    if not mark:
        raise ValueError(f"“{text}” is not a condition; write it as {key or 'land_mm'}=5.")
    return key.strip(), at_least, read(value).value


def _goals() -> str:
    from profiler.assess.quantities.table import quantity
    from profiler.explore.search.goal import CLAIM, goal_keys

    found = [quantity(key) for key in goal_keys()]
    width = max(len(q.key) for q in found) + 2
    rows = (f"  {q.key:<{width}}{q.label}{', ' + q.unit if q.unit else ''}" for q in found)
    return "\n".join((CLAIM, "", "what can be raised or lowered:", *rows))


FIND = Command("find", lambda: "search a wall curve for a stated goal, on conditions", _add_options, _find, _goals)
