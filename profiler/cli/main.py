"""The terminal: open the window on a study, or do one of the commands.

Exit code 0; 1 if and only if a `stop` finding exists; 2 where the input cannot be used or a file
cannot be written, with one sentence on stderr for each; 3 for a fault of the program, with its trace;
130 after Ctrl+C.
What is checked and what is written is decided in `assess` and `output`; here only arguments become values.
"""

import argparse
import codecs
import os
import sys
import traceback
from collections.abc import Sequence
from pathlib import Path

from profiler import __version__
from profiler.cli.calibrate import CALIBRATE
from profiler.cli.check import CHECK, EXAMPLE, SCHEMA
from profiler.cli.command import (
    FAULTY,
    FINE,
    INTERRUPTED,
    PROGRAM,
    UNUSABLE,
    Command,
    Parser,
    Unusable,
    complain,
    finish_saying,
    say,
    sentences,
    tell_in_inches,
)
from profiler.cli.counterpart import COUNTERPART
from profiler.cli.eddy import EDDY
from profiler.cli.envelope import ENVELOPE
from profiler.cli.explore import COMPARE, MAP
from profiler.cli.export import EXPORT
from profiler.cli.find import FIND
from profiler.cli.fit import FIT
from profiler.cli.new import NEW
from profiler.cli.ore_window import ORE_WINDOW
from profiler.cli.shop_steps import STEPS
from profiler.cli.start import START
from profiler.cli.sure import CASTINGS, MATTERS
from profiler.cli.worn import WORN
from profiler.numbers import MINUS, THOUSANDS
from profiler.study import BowlFileError, read_study

IN_INCHES = "tell and write lengths in inches; study files, JSON, DXF, STEP and solids stay in mm"
IN_PLAIN_LETTERS = {
    MINUS: "-", THOUSANDS: " ", "–": "-", "—": "-", "“": '"', "”": '"', "’": "'", "…": "...", "×": "x", "·": ".",
    "°": "deg", "µ": "u", "²": "2", "³": "3", "±": "+/-", "≤": "<=", "≥": ">=",
}  # fmt: skip


def _trial_options(parser: argparse.ArgumentParser) -> None:
    from profiler.cli.trial import add_options  # the ledger's reading with it: the window starts without

    add_options(parser)


def _trial(given: argparse.Namespace) -> int:
    from profiler.cli import trial as cli_trial

    with sentences():
        said = cli_trial.trial(given)
    say(said)
    return FINE


TRIAL = Command(
    "trial", lambda: "judge a trial of two designs: a study's, or a CSV table of runs", _trial_options, _trial
)
COMMANDS = {
    command.name: command
    for command in (
        CHECK, EXPORT, EXAMPLE, NEW, COMPARE, COUNTERPART, MAP, EDDY, FIND, FIT, STEPS, START, CALIBRATE, CASTINGS,
        MATTERS, WORN, ENVELOPE, ORE_WINDOW, TRIAL, SCHEMA,
    )
}  # fmt: skip


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the program and return its exit code.

    Whatever ends a command early is one sentence; there is a trace only where the program itself is wrong.
    """
    words = list(sys.argv[1:] if arguments is None else arguments)
    _print_anything()
    try:
        code = _run(words)
        finish_saying()
        return code
    except (Unusable, BowlFileError) as reason:
        complain(str(reason))
    except BrokenPipeError:
        return FINE  # the reader has seen what it wanted
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        complain(f"{where}{(error.strerror or str(error)).lower()}.")
    except KeyboardInterrupt:
        complain("stopped by Ctrl+C; nothing is half written.")
        return INTERRUPTED
    except Exception as error:
        complain(f"a fault of the program, not of what it was given: {error}\n{traceback.format_exc().rstrip()}")
        return FAULTY
    return UNUSABLE


def _run(words: list[str]) -> int:
    if not words or not (words[0] in COMMANDS or words[0].startswith("-")):
        return _open_window(words)
    try:
        given = _parser(words[0]).parse_args(words)
    except SystemExit as end:  # after --help and --version
        return int(end.code or 0)
    tell_in_inches(given)
    return COMMANDS[given.command].run(given)


def _parser(first: str) -> argparse.ArgumentParser:
    """All commands by their names; what the first word does not ask for is not loaded."""
    parser = Parser(
        PROGRAM,
        usage=f"{PROGRAM} [FILE]  |  {PROGRAM} {{{','.join(COMMANDS)}}} ...",
        description="Shape the inside of a spinning bowl. With a FILE, or nothing, the window opens; "
        "with a command the work is done in the terminal.",
        epilog="Exit code: 0; 1 where a stop finding exists; 2 where the input cannot be used; 3 for a fault of the "
        "program; 130 after Ctrl+C.",
    )
    parser.add_argument("--version", action="version", version=f"{PROGRAM} {__version__}")
    commands = parser.add_subparsers(dest="command", required=True, metavar="command", prog=PROGRAM)
    for command in COMMANDS.values():
        if first == command.name:
            words, form = command.describe(), argparse.RawDescriptionHelpFormatter
            told = f"{words[:1].upper()}{words[1:]}.".replace("%", "%%")
            sub = commands.add_parser(command.name, description=told, epilog=command.epilog(), formatter_class=form)
            command.add_options(sub)
            if command.tells_lengths:
                sub.add_argument("--inches", action="store_true", help=IN_INCHES)
        else:
            commands.add_parser(command.name, help=command.describe() if first in ("-h", "--help") else None)
    return parser


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
        if error.name is not None and error.name.startswith(__package__.partition(".")[0]):
            raise
        raise Unusable(f"the window cannot open, since PySide6, the window library, did not load: {error}.") from None
    return run(path)


def _print_anything() -> None:
    """A terminal may lack letters: it then prints the plain ones that stand for them, or a question mark."""
    codecs.register_error("in plain letters", _in_plain_letters)
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="in plain letters")


def _in_plain_letters(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    lacking = error.object[error.start : error.end]
    return "".join(IN_PLAIN_LETTERS.get(letter, "?") for letter in lacking), error.end
