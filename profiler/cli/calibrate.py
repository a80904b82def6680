"""The command `calibrate`: a measurement kept in the study, and the friction that all of them give."""

import argparse
from pathlib import Path

from profiler.cli.command import (
    FINE,
    STOPPED,
    Command,
    add_choice,
    check_save,
    chosen_of,
    save,
    say,
    sentences,
)
from profiler.numbers import read
from profiler.study import Design, Duty, Study
from profiler.study.edits.list_edits import Listed, turned_to
from profiler.study.edits.measurement_edits import seen_of, with_angle, with_stop


def _add_options(parser: argparse.ArgumentParser) -> None:
    add_choice(parser)
    parser.add_argument("--angle", metavar="DEG", help="the slurry's measured angle from the axis")
    parser.add_argument("--height", metavar="MM", help="where it was measured, above the inner floor")
    parser.add_argument("--spread", metavar="DEG", default="0.3", help="one standard deviation of it (default: 0.3)")
    parser.add_argument(
        "--seen", metavar="LETTERS", help="a stopped bowl's grooves from the floor up: p packed, c clean, u unsure"
    )
    parser.add_argument("--how", metavar="TEXT", default="", help="how it was measured, or how the bowl was stopped")
    parser.add_argument("--save", metavar="OUT.bowl", type=Path, help="write the study with measurement and friction")
    parser.add_argument("--json", action="store_true", help="one JSON object instead of sentences")


def _calibrate(given: argparse.Namespace) -> int:
    """Exit code 1 where no friction follows: the study is then written with the measurement alone."""
    from profiler.assess.calibration.calibrate import calibrate, calibrated
    from profiler.output.terminal.calibration_text import calibration_json, calibration_text

    check_save(given, "measured")
    study, design, duty = chosen_of(given)
    with sentences():
        study = _with_measurements(study, given, design, duty)
        found = calibrate(study.measurements, study.machine)
    say(calibration_json(found) if given.json else calibration_text(found))
    if given.save is not None and found.friction is not None:
        study = turned_to(study, Listed.DUTY, duty).having("duty", calibrated(duty, found))
    save(study, given)
    return STOPPED if found.friction is None else FINE


def _with_measurements(study: Study, given: argparse.Namespace, design: Design, duty: Duty) -> Study:
    """The study with what the options tell of, taken with the chosen design under the chosen duty."""
    if given.angle is not None:
        if given.height is None:
            raise ValueError("Say with --height where the angle was measured.")
        angle, height, spread = (read(text).value for text in (given.angle, given.height, given.spread))
        study = with_angle(study, design, duty, height, angle, spread, given.how)
    if given.seen is not None:
        study = with_stop(study, design, duty, seen_of(given.seen), given.how)
    return study


CALIBRATE = Command(
    "calibrate", lambda: "the friction that measured angles or a stopped bowl give", _add_options, _calibrate
)
