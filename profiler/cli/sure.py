"""The commands that say how sure: `castings`, bowls as they are cast, and `matters`, which input moves a number."""

import argparse

from profiler.cli.command import FINE, Command, add_choice, chosen_of, say, sentences
from profiler.numbers import read

OPTIONS = {  # of the command, and the tolerance each is
    "angle": ("angle_deg", "plus and minus, degrees: the whole wall turned"),
    "lip": ("lip_radius_mm", "plus and minus, mm, of the lip radius"),
    "height": ("height_mm", "plus and minus, mm, of the height"),
    "groove": ("groove_mm", "plus and minus, mm, of each groove's place along the wall"),
    "shrinkage": ("shrinkage_pct", "plus and minus, per cent of every length"),
}
USUAL = ("exposed_height_mm", "strong_height_mm", "deepest_bed_mm", "power_w")


def _add_casting_options(parser: argparse.ArgumentParser) -> None:
    from profiler.explore.sure.castings import BOWLS, Tolerances

    add_choice(parser)
    usual = Tolerances()
    for word, (name, told) in OPTIONS.items():
        default = getattr(usual, name)
        parser.add_argument(f"--{word}", metavar="V", help=f"{told} (default: {default:g}, common practice)")
    parser.add_argument("--bowls", metavar="N", type=int, default=BOWLS, help=f"simulated bowls (default: {BOWLS})")
    parser.add_argument("--seed", metavar="N", type=int, default=1, help="same seed, same bowls (default: 1)")
    parser.add_argument("--json", action="store_true", help="one JSON object instead of sentences")


def _castings(given: argparse.Namespace) -> int:
    from profiler.explore.sure.castings import Tolerances, as_cast
    from profiler.output.terminal.sure_text import castings_json, castings_text

    study, design, duty = chosen_of(given)
    with sentences():
        if given.seed < 0:
            raise ValueError("A seed is a whole number from 0.")
        asked = {name: getattr(given, word) for word, (name, _) in OPTIONS.items()}
        tolerances = Tolerances(**{name: read(text).value for name, text in asked.items() if text is not None})
        found = as_cast(design, study.machine, duty, tolerances, given.bowls, given.seed)
    say(castings_json(found) if given.json else castings_text(found))
    return FINE


def _add_matter_options(parser: argparse.ArgumentParser) -> None:
    from profiler.explore.sure.what_matters import INPUTS

    add_choice(parser)
    words = f"an input's plus and minus; of {', '.join(INPUTS)}; may be given several times"
    parser.add_argument("--plus-minus", metavar="INPUT=V", action="append", default=[], help=words)
    parser.add_argument(
        "--quantity",
        metavar="KEY",
        action="append",
        help=f"a number of the whole bowl; may be given several times (default: {', '.join(USUAL)})",
    )
    parser.add_argument("--json", action="store_true", help="one JSON object instead of tables")


def _matters(given: argparse.Namespace) -> int:
    from profiler.assess import evaluate
    from profiler.explore.search.goal import goal_quantity
    from profiler.explore.sure.what_matters import what_matters
    from profiler.output.terminal.sure_text import matters_json, matters_text

    study, design, duty = chosen_of(given)
    with sentences():
        amounts = {}
        for text in given.plus_minus:
            word, mark, value = text.partition("=")
            if not mark:
                raise ValueError(f"“{text}” is not an input with its amount; write it as solids=2.")
            amounts[word.strip()] = read(value).value
        quantities = [goal_quantity(key) for key in given.quantity or USUAL]
        found = what_matters(evaluate(design, study.machine, duty), quantities, amounts)
    say(matters_json(found) if given.json else matters_text(found))
    return FINE


CASTINGS = Command(
    "castings", lambda: "simulate bowls as they are cast: where the stream still falls", _add_casting_options, _castings
)
MATTERS = Command(
    "matters", lambda: "which input's plus and minus moves a number of the bowl most", _add_matter_options, _matters
)
