"""The commands that ask many evaluations: `compare` and `map`."""

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from profiler.cli.command import (
    FINE,
    STOPPED,
    UNUSABLE,
    Command,
    add_choice,
    chosen_of,
    complain,
    lengths_asked,
    say,
    sentences,
)
from profiler.numbers import read
from profiler.study.files.file import SUFFIX, write_whole

if TYPE_CHECKING:
    from profiler.assess import Evaluation
    from profiler.explore.ore_map import Asked, Span

DEFAULT_QUANTITY = "share_sheltered_pct"
COUNT = 40


def _add_compare_options(parser: argparse.ArgumentParser) -> None:
    add_choice(parser, with_design=False)
    _add_forms(parser)


def _compare(given: argparse.Namespace) -> int:
    """All designs of the study under the chosen duty."""
    from msgspec.structs import replace

    from profiler.assess.findings.finding import stops
    from profiler.explore.compare import compare as compared
    from profiler.output.tables.comparison_csv import comparison_csv
    from profiler.output.terminal.comparison_text import comparison_json, comparison_text

    study, _, duty = chosen_of(given)
    with sentences():
        c = compared(replace(study, shown=replace(study.shown, duty=duty.name)))
    if given.json:
        say(comparison_json(c))
    else:
        unit = lengths_asked(given)
        say(comparison_csv(c, unit).rstrip("\r\n") if given.csv else comparison_text(c, unit), plainly=True)
    return STOPPED if any(stops(s.shown.findings) for s in c.results) else FINE


def _add_map_options(parser: argparse.ArgumentParser) -> None:
    from profiler.explore.ore_map import AXES

    add_choice(parser)
    *most, last = (axis.word for axis in AXES)
    words = f"{', '.join(most)} or {last}, with its range: {AXES[0].word}=20:65"
    parser.add_argument("--x", metavar="AXIS[=LOW:HIGH]", required=True, help=words)
    parser.add_argument("--y", metavar="AXIS[=LOW:HIGH]", required=True, help="what the map runs over upward, likewise")
    parser.add_argument(
        "--quantity",
        metavar="NAME",
        default=DEFAULT_QUANTITY,
        help=f"what is mapped, one of those below (default: {DEFAULT_QUANTITY})",
    )
    parser.add_argument("--groove", metavar="N", type=int, help="which groove, for a quantity of the grooves")
    parser.add_argument("--count", metavar="N", type=int, default=COUNT, help=f"lines each way (default: {COUNT})")
    forms = _add_forms(parser)
    forms.add_argument("--png", metavar="OUT", type=Path, help="write the map as a picture")


def _map(given: argparse.Namespace) -> int:
    """One quantity over two numbers of the duty."""
    from profiler.assess import evaluate
    from profiler.assess.findings.finding import stops
    from profiler.explore.ore_map import ore_map
    from profiler.output.tables.map_csv import map_csv, map_json, map_text

    study, design, duty = chosen_of(given)
    e = evaluate(design, study.machine, duty)
    if e.shape is None or e.flow is None:
        complain(f"nothing mapped, “{design.name}” has no flow: {e.findings[0].text}")
        return STOPPED if stops(e.findings) else UNUSABLE
    with sentences():
        m = ore_map(_question(given, e), e, study.window)
    if given.png is not None:
        from profiler.output.formats.picture_page import png_bytes
        from profiler.pictures.charts.map_picture import ore_map_picture

        write_whole(given.png, png_bytes(ore_map_picture(m, 1000.0, 640.0)))
        say(f"written: {given.png}", plainly=True)
    elif given.json:
        say(map_json(m))
    else:
        unit = lengths_asked(given)
        say(map_csv(m, unit).rstrip("\r\n") if given.csv else map_text(m, unit), plainly=True)
    return STOPPED if stops(e.findings) else FINE


def _question(given: argparse.Namespace, e: "Evaluation") -> "Asked":
    from profiler.explore.ore_map import asked

    question = asked(_span(given.x, given.count), _span(given.y, given.count), given.quantity, given.groove, e)
    if given.png is not None and (given.png.suffix.lower() == SUFFIX or given.png.is_dir()):
        raise ValueError(f"{given.png} cannot be the picture's file; give it a name such as map.png.")
    return question


def _add_forms(parser: argparse.ArgumentParser) -> "argparse._MutuallyExclusiveGroup":
    forms = parser.add_mutually_exclusive_group()
    forms.add_argument("--json", action="store_true", help="one JSON object instead of a table")
    forms.add_argument("--csv", action="store_true", help="comma-separated values in full precision")
    return forms


def _span(text: str, count: int) -> "Span":
    from profiler.explore.ore_map import span

    word, _, ends = text.partition("=")
    if not ends:
        return span(word, count=count)
    low, _, high = ends.partition(":")
    try:
        between = read(low).value, read(high).value
    except ValueError:
        raise ValueError(f"“{text}” is not an axis with a range; write it as {word}=20:65.") from None
    return span(word, *between, count)


def _quantities() -> str:
    from profiler.explore.ore_map import mapped_quantities

    found = mapped_quantities()
    width = max(len(q.key) for q in found) + 2
    return "\n".join(("quantities:", *(f"  {q.key:<{width}}{q.label}{', ' + q.unit if q.unit else ''}" for q in found)))


COMPARE = Command("compare", lambda: "compare all designs of a study on its machine", _add_compare_options, _compare)
MAP = Command(
    "map", lambda: "one quantity of a design over two numbers of its duty", _add_map_options, _map, _quantities
)
