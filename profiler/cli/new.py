"""The command `new`: a study from a machine and a first duty; nothing of an example comes along."""

import argparse
from pathlib import Path

from profiler.cli.command import FINE, STOPPED, Command, Unusable, say, sentences
from profiler.numbers import read
from profiler.study import NumberField, Study, read_study, write_study
from profiler.study.edits.new_study import MACHINE_HEIGHT, MACHINE_LIP, OF_MACHINE, blank_machine, first_duty
from profiler.study.files.file import SUFFIX
from profiler.study.records.duty import D50, DRY_FEED, SOLIDS, SPEED, WATER
from profiler.study.records.machine import JACKET_GAP

FLAGS: dict[str, NumberField] = {
    "lip": MACHINE_LIP, "height": MACHINE_HEIGHT, "jacket-gap": JACKET_GAP, "speed": SPEED, "solids": SOLIDS,
    "d50": D50, "feed": DRY_FEED, "water": WATER,
}  # fmt: skip


def _add_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("out", metavar="OUT.bowl", type=Path, help="the study to write")
    parser.add_argument("--machine-of", metavar="FILE.bowl", type=Path, help="a study whose machine it gets")
    for flag, field in FLAGS.items():
        of = "of the machine, where it is a new one" if field in (*OF_MACHINE, JACKET_GAP) else "of the first duty"
        parser.add_argument(f"--{flag}", metavar="NUMBER", help=f"{field.title} {of}".replace("%", "%%"))


def _new(given: argparse.Namespace) -> int:
    """A fitted plain cone. Exit code 1 where it has a stop finding."""
    from profiler.assess import evaluate
    from profiler.assess.findings.finding import stops
    from profiler.assess.fitting.starting import fitted_cone

    if given.out.suffix.lower() != SUFFIX or given.out.exists():
        raise Unusable(f"{given.out} must be a new file, with a name such as mine{SUFFIX}.")
    if given.machine_of is not None:
        for flag in (f for f, field in FLAGS.items() if field in (*OF_MACHINE, JACKET_GAP)):
            if getattr(given, flag.replace("-", "_")) is not None:
                raise Unusable(f"--{flag} is of a new machine; the one of {given.machine_of} has its own.")
    with sentences():
        typed = {field: _number(getattr(given, flag.replace("-", "_")), flag) for flag, field in FLAGS.items()}
        machine = blank_machine(typed) if given.machine_of is None else read_study(given.machine_of).machine
        study = Study(machine, (first_duty(typed),), (fitted_cone("Plain cone", machine),), title="New study")
    write_study(study, given.out)
    say(f"written: {given.out}", plainly=True)
    return STOPPED if stops(evaluate(study.design, machine, study.duty).findings) else FINE


def _number(text: str | None, flag: str) -> float | None:
    try:
        return None if text is None else read(text).value
    except ValueError as reason:
        raise ValueError(f"--{flag}: {reason}") from None


NEW = Command("new", lambda: "start a study from a machine and a first duty", _add_options, _new, tells_lengths=False)
