"""The command `steps`: a design rounded to shop steps, with what that changes; written only where a file is named."""

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
    save,
    say,
    sentences,
    with_why,
)
from profiler.study.edits.design_edits import with_design
from profiler.study.edits.list_edits import Listed, turned_to


def _add_options(parser: argparse.ArgumentParser) -> None:
    add_choice(parser)
    add_why(parser)
    for flag, metavar, words in (("--radius", "MM", "radii of the wall's arcs"), ("--angle", "DEG", "wall angles"),
                                 ("--diameter", "MM", "diameters of lip or floor, and of the hub hole")):  # fmt: skip
        parser.add_argument(flag, metavar=metavar, help=f"step of {words} (default: as they are)")
    parser.add_argument("--save", metavar="OUT.bowl", type=Path, help="write the study with the rounded design")


def _run(given: argparse.Namespace) -> int:
    from profiler.assess import evaluate
    from profiler.explore.shop_steps import ANGLE_STEP, DIAMETER_STEP, RADIUS_STEP, Steps, rounded
    from profiler.numbers import read

    check_save(given, "rounded")
    asked = {}
    for key, field, text in (("radius_mm", RADIUS_STEP, given.radius), ("diameter_mm", DIAMETER_STEP, given.diameter),
                             ("angle_deg", ANGLE_STEP, given.angle)):  # fmt: skip
        if text is not None:
            with sentences():
                asked[key] = read(text).value
            if (objection := field.objection(asked[key])) is not None:
                raise Unusable(objection)
    study, design, duty = chosen_of(given)
    found = rounded(evaluate(design, study.machine, duty), Steps(**asked))
    say("\n".join((found.sentence, *(f"  {line}" for line in (*found.moved, *found.states)))))
    if found.refusal:
        return STOPPED
    save(with_why(with_design(turned_to(study, Listed.DESIGN, design), found.design), given), given)
    return FINE


STEPS = Command("steps", lambda: "round a design to shop steps, and tell what that changes", _add_options, _run)
