"""The terminal's commands that ask many evaluations: compare and map. Each gives what to print, and if it is stopped.

Arguments that cannot be used raise ValueError with one sentence; `cli` makes an exit code of it.
"""

import argparse
import re
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from profiler.study import Design, Duty, Study

if TYPE_CHECKING:
    from profiler.explore.ore_map import Span

Parser = TypeVar("Parser", bound=argparse.ArgumentParser)


@dataclass(frozen=True, slots=True)
class Said:
    text: str
    stopped: bool
    failed: bool = False  # nothing could be worked out: the text says why


def compare(study: Study, design: Design, duty: Duty, chosen: argparse.Namespace) -> Said:
    """All designs of the study under the chosen duty; the chosen design is not asked."""
    from msgspec.structs import replace

    from profiler.assess.findings.finding import stops
    from profiler.explore.compare import compare as compared
    from profiler.output.tables.comparison_csv import comparison_csv
    from profiler.output.terminal.comparison_text import comparison_json, comparison_text

    c = compared(replace(study, shown=replace(study.shown, duty=duty.name)))
    stopped = any(stops(s.shown.findings) for s in c.standings)
    if chosen.json:
        return Said(comparison_json(c), stopped)
    return Said(comparison_csv(c).rstrip("\r\n") if chosen.csv else comparison_text(c), stopped)


def map_(study: Study, design: Design, duty: Duty, chosen: argparse.Namespace) -> Said:
    """One quantity over two numbers of the duty."""
    from profiler.assess import evaluate
    from profiler.assess.findings.finding import stops
    from profiler.explore.ore_map import asked, ore_map
    from profiler.output.tables.map_csv import map_csv, map_json, map_text
    from profiler.study.files.file import SUFFIX, write_whole

    e = evaluate(design, study.machine, duty)
    if e.shape is None or e.flow is None:
        return Said(f"nothing mapped, “{design.name}” has no flow: {e.findings[0].text}", True, failed=True)
    question = asked(_span(chosen.x, chosen.count), _span(chosen.y, chosen.count), chosen.quantity, chosen.groove, e)
    if chosen.png is not None and (chosen.png.suffix.lower() == SUFFIX or chosen.png.is_dir()):
        raise ValueError(f"{chosen.png} cannot be the picture's file; give it a name such as map.png.")
    m = ore_map(question, e, study.window)
    stopped = stops(e.findings) > 0
    if chosen.png is not None:
        from profiler.output.formats.picture_page import png_bytes
        from profiler.pictures.charts.map_picture import ore_map_picture

        write_whole(chosen.png, png_bytes(ore_map_picture(m, 1000.0, 640.0)))
        return Said(f"written: {chosen.png}", stopped)
    if chosen.json:
        return Said(map_json(m), stopped)
    return Said(map_csv(m).rstrip("\r\n") if chosen.csv else map_text(m), stopped)


def add_parsers(commands: "argparse._SubParsersAction[Parser]") -> None:
    comparing = commands.add_parser("compare", help="compare all designs of a study on its machine")
    comparing.add_argument("file", metavar="FILE", type=Path, help="a study, .bowl")
    comparing.add_argument("--duty", metavar="NAME", help="a duty of the study (default: the one last shown)")
    comparing.set_defaults(design=None)
    _add_forms(comparing)
    mapping = commands.add_parser("map", help="one quantity of a design over two numbers of its duty")
    mapping.add_argument("file", metavar="FILE", type=Path, help="a study, .bowl")
    mapping.add_argument("--design", metavar="NAME", help="a design of the study (default: the one last shown)")
    mapping.add_argument("--duty", metavar="NAME", help="a duty of the study (default: the one last shown)")
    words = "solids, d50, density, friction, speed, feed or water, with its range: solids=20:65"
    mapping.add_argument("--x", metavar="AXIS[=LOW:HIGH]", required=True, help=words)
    mapping.add_argument("--y", metavar="AXIS[=LOW:HIGH]", required=True, help="likewise, another one")
    mapping.add_argument("--quantity", metavar="NAME", default="share_sheltered_pct", help="what is mapped")
    mapping.add_argument("--groove", metavar="N", type=int, help="which groove, for a quantity of the grooves")
    mapping.add_argument("--count", metavar="N", type=int, default=40, help="lines each way (default: 40)")
    forms = _add_forms(mapping)
    forms.add_argument("--png", metavar="OUT", type=Path, help="write the map as a picture")


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
    found = re.fullmatch(r"([^:]+):([^:]+)", ends)
    try:
        low, high = (float(found[1]), float(found[2])) if found else (None, None)
    except ValueError:
        low = high = None
    if low is None or high is None:
        raise ValueError(f"“{text}” is no axis with a range; write it as {word}=20:65.")
    return span(word, low, high, count)
