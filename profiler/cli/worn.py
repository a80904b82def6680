"""The command `worn`: a measured profile kept in the study, laid over its drawing, and the bowl worn beside new."""

import argparse
from pathlib import Path

from profiler.cli.command import (
    FINE,
    STOPPED,
    Command,
    add_choice,
    check_save,
    chosen_of,
    complain,
    lengths_asked,
    save,
    say,
    sentences,
)
from profiler.numbers import read
from profiler.study import Design, Study
from profiler.study.edits.profile_edits import with_profile

UNITS = ("mm", "cm", "inch")


def _add_options(parser: argparse.ArgumentParser) -> None:
    add_choice(parser)
    measured = parser.add_argument_group("a measured profile")
    measured.add_argument("--read", metavar="FILE", type=Path, help="a CSV of radius and height, or a DXF, to be kept")
    measured.add_argument("--unit", choices=UNITS, help="of the profile that is read (default: what it says)")
    measured.add_argument("--upside-down", action="store_true", default=None, help="heights run down from the lip")
    measured.add_argument("--right-way-up", dest="upside_down", action="store_false", help="heights run upward")
    measured.add_argument("--serial", metavar="TEXT", default="", help="of the casting")
    measured.add_argument("--date", metavar="DAY", default="", help="on which it was measured, as 2026-03-31")
    measured.add_argument("--age", metavar="H", default="0", help="hours the casting had run (default: 0, new)")
    measured.add_argument("--how", metavar="TEXT", default="", help="how it was measured")
    asked = parser.add_argument_group("what is asked")
    asked.add_argument("--profile", metavar="NAME", help="a profile of the study (default: the one read)")
    asked.add_argument("--against", metavar="NAME", default="", help="an earlier one (default: the drawing)")
    asked.add_argument("--tolerance", metavar="MM", default="0.5", help="of the casting, plus and minus (default: 0.5)")
    asked.add_argument("--off-by", metavar="MM", default="0.1", help="a measured point, plus and minus (default: 0.1)")
    asked.add_argument("--rate", metavar="TEXT", default="", help="mm in 1,000 h: 0.4, 0.3..0.5, or 50:0.2,300:0.6")
    asked.add_argument("--even", action="store_true", help="use one measured rate for the whole wall")
    asked.add_argument("--hours", metavar="H", help="see the bowl after so many hours since new")
    asked.add_argument("--limit", metavar="TEXT", default="", help='mm gone, or such as "exposed_height_mm>=150"')
    parser.add_argument("--keep-as", metavar="NAME", help="keep the worn bowl as a design of this name")
    parser.add_argument("--save", metavar="OUT.bowl", type=Path, help="write the study with what was read and kept")
    parser.add_argument("--json", action="store_true", help="one JSON object instead of sentences and tables")


def _worn(given: argparse.Namespace) -> int:
    """Exit code 1 where a casting is refused."""
    from profiler.explore.worn_look import WornAsked, worn_look
    from profiler.output.blocks.as_text import blocks_text
    from profiler.output.blocks.in_unit import blocks_in
    from profiler.output.worn.worn_blocks import worn_blocks
    from profiler.output.worn.worn_json import worn_json

    check_save(given, "measured")
    study, design, duty = chosen_of(given)
    with sentences():
        study = _with_profile(study, design, given)
        latest = study.profiles[-1].name if given.read is not None else ""
        look = worn_look(study, design, duty, WornAsked(
            given.profile or latest, given.against, read(given.tolerance).value, read(given.off_by).value, given.rate,
            given.even, None if given.hours is None else read(given.hours).value, given.limit,
        ))  # fmt: skip
        if given.keep_as is not None:
            study = _with_worn(study, look.beside.bowl.design if look.beside else None, given)
    say(worn_json(look) if given.json else blocks_text(blocks_in(worn_blocks(look), lengths_asked(given))).rstrip("\n"))
    save(study, given)
    return STOPPED if look.acceptance is not None and look.acceptance.kept is False else FINE


def _with_profile(study: Study, design: Design, given: argparse.Namespace) -> Study:
    if given.read is None:
        return study
    from profiler.assess.worn.reading import ProfileDoubt, Said, read_profile

    try:
        found = read_profile(given.read, design, Said(given.unit, given.upside_down))
    except ProfileDoubt as doubt:
        raise ValueError(f"{str(doubt).rstrip('.')} ({doubt.options}).") from None
    for note in found.notes:
        complain(note)
    return with_profile(
        study, design, found.points.tolist(), given.serial, given.date, read(given.age).value, given.how
    )


def _with_worn(study: Study, bowl: Design | None, given: argparse.Namespace) -> Study:
    from msgspec.structs import replace

    from profiler.study.edits.list_edits import add_design
    from profiler.study.edits.names import typed_name

    if bowl is None:
        raise ValueError("--keep-as: there is no worn bowl yet; give --hours and a rate, or a profile with an age.")
    if given.save is None:
        raise ValueError("--keep-as asks --save OUT.bowl too: what is not written is lost.")
    return add_design(study, typed_name(given.keep_as, "design", bowl.name), lambda free: replace(bowl, name=free))


WORN = Command("worn", lambda: "lay a measured profile over its drawing; the bowl worn beside new", _add_options, _worn)
