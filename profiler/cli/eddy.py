"""The command `eddy`: the computed flow in one groove."""

import argparse
from pathlib import Path

from profiler.cli.command import FINE, STOPPED, Command, add_choice, chosen_of, complain, lengths_asked, say, sentences
from profiler.numbers import read
from profiler.study.files.file import SUFFIX, write_whole


def _add_options(parser: argparse.ArgumentParser) -> None:
    add_choice(parser)
    parser.add_argument("--groove", metavar="N", type=int, required=True, help="which groove, from 1 at the floor")
    parser.add_argument("--fill", metavar="SHARE", default="0", help="bed in it: 0 empty (default) to 1 level")
    parser.add_argument("--reynolds", metavar="NUMBER", default="300", help="effective Reynolds number (default: 300)")
    parser.add_argument(
        "--landing", metavar="SHARE", default="0.5", help="share of the fall lost in landing, 0 to 1 (default: 0.5)"
    )
    forms = parser.add_mutually_exclusive_group()
    forms.add_argument("--json", action="store_true", help="one JSON object instead of text")
    forms.add_argument("--csv", metavar="OUT", type=Path, help="write the figures, comma-separated, in full precision")
    forms.add_argument("--svg", metavar="OUT", type=Path, help="write the picture of the groove")


def _eddy(given: argparse.Namespace) -> int:
    from profiler.assess import evaluate
    from profiler.assess.eddy.answers import answer
    from profiler.assess.eddy.grains_moved import lifted, moving
    from profiler.assess.eddy.lids import Setting
    from profiler.assess.findings.finding import stops
    from profiler.output.blocks.as_text import blocks_text
    from profiler.output.blocks.in_unit import blocks_in
    from profiler.output.eddy import eddy_told

    study, design, duty = chosen_of(given)
    e = evaluate(design, study.machine, duty)
    if e.shape is None or e.flow is None or e.catch is None:
        complain(f"no eddy, “{design.name}” has no flow: {e.findings[0].text}")
        return STOPPED
    with sentences():
        setting = Setting(_number(given.fill), _number(given.reynolds), _number(given.landing)).checked()
        out = _file(given)
        found = answer(e, given.groove, setting)
    if given.svg is not None:
        from profiler.output.formats.picture_svg import picture_svg
        from profiler.pictures.eddy.groove_picture import GrooveScene, groove_picture

        picture = groove_picture(GrooveScene(e, given.groove, found), *eddy_told.SIZE_PX)
        write_whole(given.svg, picture_svg(picture, f"{design.name}, groove {given.groove}").encode("utf-8"))
    else:
        moved = moving(e, found)
        if given.json:
            say(eddy_told.eddy_json(e, found, moved))
        elif given.csv is not None:
            write_whole(given.csv, eddy_told.eddy_csv(found, moved, lifted(e, found)).encode("utf-8"))
        else:
            blocks = eddy_told.eddy_blocks(e, found, moved, lifted(e, found), drawn=False)
            say(blocks_text(blocks_in(blocks, lengths_asked(given))).rstrip("\n"), plainly=True)
    if out is not None:
        say(f"written: {out}", plainly=True)
    return STOPPED if stops(e.findings) else FINE


def _number(text: str) -> float:
    return read(text).value


def _file(given: argparse.Namespace) -> Path | None:
    out: Path | None = given.csv or given.svg
    if out is not None and (out.suffix.lower() == SUFFIX or out.is_dir()):
        raise ValueError(
            f"{out} cannot be the file written; give it a name such as eddy{'.csv' if given.csv else '.svg'}."
        )
    return out


EDDY = Command("eddy", lambda: "the computed flow in one groove of a design", _add_options, _eddy)
