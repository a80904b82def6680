"""The terminal: open the window on a study, or check it, export its section, fetch an example.

Exit code 0; 1 if and only if a `stop` finding exists; 2 where the input cannot be used or a file
cannot be written, with one sentence on stderr for each.
What is checked and what is written is decided in `assess` and `output`; here only arguments become values.
"""

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import NoReturn, TypeVar

from profiler import __version__
from profiler.cli import export as cli_export
from profiler.cli import trial as cli_trial
from profiler.cli.explore import add_parsers
from profiler.study import BowlFileError, Design, Duty, Study, read_study
from profiler.study.files.file import encode_study, read_stamped, write_whole

PROGRAM = "bowl-profiler"
FINE, STOPPED, UNUSABLE = 0, 1, 2

Named = TypeVar("Named", Design, Duty)


class Unusable(ValueError):
    """Input that cannot be used, as one sentence."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the program and return its exit code."""
    words = list(sys.argv[1:] if arguments is None else arguments)
    _print_anything()
    try:
        return _run(words)
    except (Unusable, BowlFileError) as reason:
        print(f"{PROGRAM}: {reason}", file=sys.stderr)
    except OSError as error:
        print(f"{PROGRAM}: {error.filename}: {(error.strerror or str(error)).lower()}.", file=sys.stderr)
    return UNUSABLE


def _run(words: list[str]) -> int:
    if not words or not (words[0] in COMMANDS or words[0].startswith("-")):
        return _open_window(words)
    try:
        chosen = _parser().parse_args(words)
    except SystemExit as end:  # after --help and --version
        return int(end.code or 0)
    run: Callable[[argparse.Namespace], int] = COMMANDS[chosen.command]
    return run(chosen)


def _check(chosen: argparse.Namespace) -> int:
    from profiler.assess import evaluate
    from profiler.assess.findings.finding import stops
    from profiler.output.terminal.check_json import check_json
    from profiler.output.terminal.check_text import check_text

    study, design, duty = _chosen(chosen)
    evaluation = evaluate(design, study.machine, duty)
    _say(check_json(evaluation) if chosen.json else check_text(evaluation).rstrip("\n"))
    return STOPPED if stops(evaluation.findings) else FINE


def _export(chosen: argparse.Namespace) -> int:
    from profiler.assess import Severity, evaluate
    from profiler.assess.findings.finding import stops

    study, design, duty = _chosen(chosen)
    try:
        cli_export.targets(chosen.out, chosen.file)
        options = cli_export.options_of(chosen, study)
        kinds = [cli_export.kind_for(out, chosen.kind, len(chosen.out) > 1) for out in chosen.out]
    except ValueError as reason:
        raise Unusable(str(reason)) from None
    evaluation = evaluate(design, study.machine, duty)
    count = stops(evaluation.findings)
    if evaluation.shape is None and not cli_export.any_without_shape(chosen.out, kinds, options):
        why = next(f.text for f in evaluation.findings if f.severity is Severity.STOP)
        print(f'{PROGRAM}: nothing written, "{design.name}" has no outline: {why}', file=sys.stderr)
        return STOPPED
    written = 0
    for out, kind in zip(chosen.out, kinds, strict=True):
        try:
            _say("\n".join(cli_export.write(out, evaluation, options, kind)))
            written += 1
        except BowlFileError as reason:
            _complain(str(reason))
        except ValueError as reason:
            _complain(f"{out.name} was not written: {reason}")
    if count and written:
        _say(f"NOT CHECKED: {count} stop finding{'' if count == 1 else 's'}; see: {PROGRAM} check {chosen.file}")
    if written < len(chosen.out):
        return UNUSABLE
    return STOPPED if count else FINE


def _complain(sentence: str) -> None:
    """Say what stands beside the answer: why one of several files was not written, what an older file needed."""
    print(f"{PROGRAM}: {sentence}", file=sys.stderr)


def _example(chosen: argparse.Namespace) -> int:
    from profiler.study.files import examples

    if chosen.list:
        width = max(len(name) for name in examples.names())
        _say("\n".join(f"{name:<{width}}  {examples.read(name).title}" for name in examples.names()))
        return FINE
    if chosen.name is None or chosen.out is None:
        raise Unusable("give an example's name and the file to write, or --list.")
    try:
        data = encode_study(examples.read(chosen.name))
    except ValueError as reason:
        raise Unusable(str(reason)) from None
    if chosen.out.exists() and not _holds(chosen.out, data):
        raise Unusable(f"{chosen.out} exists already and is left alone; choose another name.")
    write_whole(chosen.out, data)
    _say(f"written: {chosen.out}")
    return FINE


def _explore(name: str) -> Callable[[argparse.Namespace], int]:
    def run(chosen: argparse.Namespace) -> int:
        from profiler.cli import explore as cli_explore

        ask = {"compare": cli_explore.compare, "map": cli_explore.map_}[name]
        try:
            said = ask(*_chosen(chosen), chosen)
        except BowlFileError:
            raise
        except ValueError as reason:
            raise Unusable(str(reason)) from None
        if said.failed:
            print(f"{PROGRAM}: {said.text}", file=sys.stderr)
        else:
            _say(said.text)
        return STOPPED if said.stopped else FINE

    return run


def _trial(chosen: argparse.Namespace) -> int:
    try:
        said = cli_trial.trial(chosen)
    except BowlFileError:
        raise
    except ValueError as reason:
        raise Unusable(str(reason)) from None
    _say(said)
    return FINE


COMMANDS: dict[str, Callable[[argparse.Namespace], int]] = {
    "check": _check,
    "export": _export,
    "example": _example,
    "compare": _explore("compare"),
    "map": _explore("map"),
    "trial": _trial,
}


def _open_window(words: list[str]) -> int:
    """The window on a study, or on the default example. A file that cannot be read is said here, before any window."""
    if len(words) > 1:
        raise Unusable(f"{words[0]} is not a command ({', '.join(COMMANDS)}), and the window opens one file at a time.")
    path = Path(words[0]) if words else None
    if path is not None:
        read_study(path)
    on_linux = sys.platform.startswith("linux")
    if on_linux and not any(os.environ.get(n) for n in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")):
        raise Unusable("there is no display here, so no window can open; --help tells what works in the terminal.")
    try:
        from profiler.ui.app import run
    except ImportError as error:
        if error.name is not None and error.name.startswith(__package__):
            raise
        raise Unusable(f"the window cannot open, since PySide6, the window library, did not load: {error}.") from None
    return run(path)


def _chosen(chosen: argparse.Namespace) -> tuple[Study, Design, Duty]:
    study, _, notes = read_stamped(chosen.file)
    for note in notes:
        _complain(f"{chosen.file.name}: {note}")
    design = _named(study.designs, chosen.design, "design", chosen.file) or study.design
    duty = _named(study.duties, chosen.duty, "duty", chosen.file) or study.duty
    return study, design, duty


def _named(group: tuple[Named, ...], name: str | None, word: str, file: Path) -> Named | None:
    if name is None:
        return None
    for item in group:
        if item.name == name:
            return item
    known = ", ".join(f'"{item.name}"' for item in group)
    raise Unusable(f'{file.name} holds no {word} "{name}"; it holds {known}.')


def _holds(path: Path, data: bytes) -> bool:
    return path.is_file() and path.stat().st_size == len(data) and path.read_bytes() == data


class _Parser(argparse.ArgumentParser):
    """Says what is wrong in one sentence; the usage is for those who ask with --help."""

    def error(self, message: str) -> NoReturn:
        raise Unusable(f"{message.rstrip('.')}.")


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        PROGRAM,
        usage=f"{PROGRAM} [FILE]  |  {PROGRAM} {{{','.join(COMMANDS)}}} ...",
        description="Shape the inside of a spinning bowl. With a FILE, or nothing, the window opens; "
        "with a command the work is done in the terminal.",
        epilog="Exit code: 0; 1 where a stop finding exists; 2 where the input cannot be used.",
    )
    parser.add_argument("--version", action="version", version=f"{PROGRAM} {__version__}")
    commands = parser.add_subparsers(dest="command", required=True, metavar="command", prog=PROGRAM)

    check = commands.add_parser("check", help="say what is found of a design under a duty")
    _add_choice(check)
    check.add_argument("--json", action="store_true", help="one JSON object instead of a table")

    words = "What is written is told by the extension; several files at once."
    export = commands.add_parser("export", help="write profile, drawing, gauge, table or solid", description=words)
    _add_choice(export)
    cli_export.add_options(export)

    example = commands.add_parser("example", help="write an invented example study")
    example.add_argument("name", metavar="NAME", nargs="?", help="an example's name")
    example.add_argument("out", metavar="OUT.bowl", nargs="?", type=Path, help="the file to write")
    example.add_argument("--list", action="store_true", help="list names and titles")
    add_parsers(commands)
    cli_trial.add_parser(commands)
    return parser


def _add_choice(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", type=Path, help="a study, .bowl")
    parser.add_argument("--design", metavar="NAME", help="a design of the study (default: the one last shown)")
    parser.add_argument("--duty", metavar="NAME", help="a duty of the study (default: the one last shown)")


def _say(text: str) -> None:
    """Print, unless the reader of our output has gone, as `head` does: the exit code still tells."""
    try:
        print(text, flush=True)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _print_anything() -> None:
    """Names may hold letters a terminal lacks: it then prints question marks instead of failing."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")
