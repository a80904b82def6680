"""The commands `check`, which says what is found of a design, `example`, which fetches one, and `schema` of a file."""

import argparse
import json
from pathlib import Path

from profiler.cli.command import FINE, STOPPED, Command, Unusable, add_choice, chosen_of, lengths_asked, say, sentences
from profiler.study.files.file import encode_study, write_whole


def _add_check_options(parser: argparse.ArgumentParser) -> None:
    add_choice(parser)
    parser.add_argument("--json", action="store_true", help="one JSON object instead of a table")


def _check(given: argparse.Namespace) -> int:
    from profiler.assess import evaluate
    from profiler.assess.findings.finding import stops
    from profiler.output.terminal.check_json import check_json
    from profiler.output.terminal.check_text import check_text

    study, design, duty = chosen_of(given)
    evaluation = evaluate(design, study.machine, duty)
    text = check_json(evaluation) if given.json else check_text(evaluation, lengths_asked(given)).rstrip("\n")
    say(text, plainly=True)
    return STOPPED if stops(evaluation.findings) else FINE


def _add_example_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name", metavar="NAME", nargs="?", help="an example's name")
    parser.add_argument("out", metavar="OUT.bowl", nargs="?", type=Path, help="the file to write")
    parser.add_argument("--list", action="store_true", help="list names and titles")


def _example(given: argparse.Namespace) -> int:
    from profiler.study.files import examples

    if given.list:
        width = max(len(name) for name in examples.names())
        say("\n".join(f"{name:<{width}}  {examples.read(name).title}" for name in examples.names()))
        return FINE
    if given.name is None or given.out is None:
        raise Unusable("give an example's name and the file to write, or --list.")
    with sentences():
        data = encode_study(examples.read(given.name))
    if given.out.exists() and not _holds(given.out, data):
        raise Unusable(f"{given.out} exists already and is left alone; choose another name.")
    write_whole(given.out, data)
    say(f"written: {given.out}", plainly=True)
    return FINE


def _holds(path: Path, data: bytes) -> bool:
    return path.is_file() and path.stat().st_size == len(data) and path.read_bytes() == data


def _add_schema_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--page", action="store_true", help="as a page of text: every member, its unit and bounds")


def _schema(given: argparse.Namespace) -> int:
    if given.page:
        from profiler.output.terminal.format_text import format_text

        say(format_text().rstrip("\n"))
    else:
        from profiler.study.files.schema import json_schema

        say(json.dumps(json_schema(), ensure_ascii=False, indent=1))
    return FINE


CHECK = Command("check", lambda: "check a design under a duty and list the findings", _add_check_options, _check)
EXAMPLE = Command(
    "example", lambda: "write an invented example study", _add_example_options, _example, tells_lengths=False
)
SCHEMA = Command(
    "schema", lambda: "say what a study file holds, as JSON Schema", _add_schema_options, _schema, tells_lengths=False
)
