"""The command `ore-window`: duties around one, by plus and minus chosen amounts, into a study."""

import argparse
from pathlib import Path

from profiler.cli.command import FINE, Command, add_choice, check_save, chosen_of, say, sentences
from profiler.numbers import read
from profiler.study import write_study
from profiler.study.edits.list_edits import Listed, turned_to
from profiler.study.edits.ore_window import VARIED, Way, built

WAYS = {"together": Way.TOGETHER, "each": Way.EACH, "crossed": Way.CROSSED}
FLAGS = {"solids": 0, "d50": 1, "feed": 2, "speed": 3, "water": 4, "density": 5}  # places in VARIED


def _add_options(parser: argparse.ArgumentParser) -> None:
    add_choice(parser, with_design=False)
    words = f"a number ({', '.join(FLAGS)}) and by how much it goes up and down: solids=4; may be given several times"
    parser.add_argument("--vary", metavar="NUMBER=AMOUNT", action="append", required=True, help=words)
    parser.add_argument("--way", choices=WAYS, default="together", help="how several numbers go (default: together)")
    parser.add_argument("--save", metavar="OUT.bowl", type=Path, required=True, help="the study with its window")


def _ore_window(given: argparse.Namespace) -> int:
    check_save(given, "window")
    study, _, duty = chosen_of(given)
    with sentences():
        amounts = dict(_amount(text) for text in given.vary)
        shown = turned_to(study, Listed.DUTY, duty)
        changed = built(shown, {VARIED[FLAGS[word]]: amount for word, amount in amounts.items()}, WAYS[given.way])
    write_study(changed, given.save)
    say("\n".join(f"{d.weight:<6g}{d.name}" for d in changed.window))
    say(f"written: {given.save}", plainly=True)
    return FINE


def _amount(text: str) -> tuple[str, float]:
    word, _, number = text.partition("=")
    if word not in FLAGS or not number:
        raise ValueError(f"--vary {text}: write one of {', '.join(FLAGS)} with an amount, such as solids=4.")
    return word, read(number).value


ORE_WINDOW = Command(
    "ore-window", lambda: "build an ore window around a duty", _add_options, _ore_window, tells_lengths=False
)
