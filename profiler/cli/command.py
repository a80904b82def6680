"""What the terminal's commands share: the record of one, how it speaks and ends, how a design and a duty are chosen."""

import argparse
import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from contextvars import ContextVar
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn, TextIO, TypeVar

from profiler.study import BowlFileError, Design, Duty, Study, write_study
from profiler.study.files.disk import reason
from profiler.study.files.file import SUFFIX, read_stamped
from profiler.study.records.lineage import LINEAGE_WHY, LONGEST_WHY

if TYPE_CHECKING:
    from profiler.pictures.basics.lengths import LengthUnit

PROGRAM = "bowl-profiler"
FINE, STOPPED, UNUSABLE, FAULTY, INTERRUPTED = 0, 1, 2, 3, 130  # the last as shells have it: 128 and SIGINT's number

_IN_INCHES: ContextVar[bool] = ContextVar("lengths in inches", default=False)  # of the command that runs

Named = TypeVar("Named", Design, Duty)


class Unusable(ValueError):
    """Input that cannot be used, as one sentence."""


class Parser(argparse.ArgumentParser):
    """Says what is wrong in one sentence; the usage is for those who ask with --help."""

    def error(self, message: str) -> NoReturn:
        raise Unusable(f"{message.rstrip('.')}.")

    def print_help(self, file: object = None) -> None:
        """As everything is said here: the usual way keeps quiet about what cannot be written."""
        say(self.format_help().rstrip("\n"))


@dataclass(frozen=True, slots=True)
class Command:
    """One command; `run` gives the exit code.

    `describe` and `epilog` are called only where their words are read, since what they tell may take long to load.
    """

    name: str
    describe: Callable[[], str]
    add_options: Callable[[argparse.ArgumentParser], None]
    run: Callable[[argparse.Namespace], int]
    epilog: Callable[[], str] = str
    tells_lengths: bool = True


def add_choice(parser: argparse.ArgumentParser, with_design: bool = True) -> None:
    """The study, and of it the design and the duty."""
    parser.add_argument("file", metavar="FILE", type=Path, help="a study, .bowl")
    if with_design:
        parser.add_argument("--design", metavar="NAME", help="a design of the study (default: the one last shown)")
    else:
        parser.set_defaults(design=None)
    parser.add_argument("--duty", metavar="NAME", help="a duty of the study (default: the one last shown)")


def add_why(parser: argparse.ArgumentParser) -> None:
    """For commands that write a design made from another."""
    parser.add_argument("--why", metavar="TEXT", default="", help="with --save: why this design is made, kept with it")


def with_why(study: Study, given: argparse.Namespace) -> Study:
    """The study with what was said, if anything, kept with its shown design."""
    return LINEAGE_WHY.set(study, given.why.strip()[:LONGEST_WHY]) if given.why else study


def check_save(given: argparse.Namespace, such_as: str) -> None:
    """Before any work is done. Raises Unusable where what --save names, if anything, is no study's file."""
    if given.save is not None and given.save.suffix.lower() != SUFFIX:
        raise Unusable(f"{given.save} cannot be the study's file; give it a name such as {such_as}{SUFFIX}.")


def save(study: Study, given: argparse.Namespace) -> None:
    """Write the study where --save says so, and say it; not after JSON, whose reader wants one object alone."""
    if given.save is not None:
        write_study(study, given.save)
        if not getattr(given, "json", False):
            say(f"written: {given.save}", plainly=True)


def chosen_of(given: argparse.Namespace) -> tuple[Study, Design, Duty]:
    study, _, notes = read_stamped(given.file)
    for note in notes:
        complain(f"{given.file.name}: {note}")
    design = _named(study.designs, given.design, "design", given.file) or study.design
    duty = _named(study.duties, given.duty, "duty", given.file) or study.duty
    return study, design, duty


@contextmanager
def sentences() -> Iterator[None]:
    """A ValueError raised within is a sentence about input that cannot be used."""
    try:
        yield
    except BowlFileError:
        raise
    except ValueError as reason:
        raise Unusable(str(reason)) from None


def _named(group: tuple[Named, ...], name: str | None, word: str, file: Path) -> Named | None:
    if name is None:
        return None
    for item in group:
        if item.name == name:
            return item
    known = ", ".join(f"“{item.name}”" for item in group)
    raise Unusable(f"{file.name} holds no {word} “{name}”; it holds {known}.")


def tell_in_inches(given: argparse.Namespace) -> None:
    """From here on what is said has its lengths in inches, where that was asked for.

    Raises Unusable where data are asked for too: the keys of JSON say mm.
    """
    inches = getattr(given, "inches", False)
    if inches and getattr(given, "json", False):
        raise Unusable("JSON has its lengths in millimetres, as its keys say: leave out --json or --inches.")
    _IN_INCHES.set(inches)


def lengths_asked(given: argparse.Namespace) -> "LengthUnit":
    """The unit a command's tables are to be in."""
    from profiler.pictures.basics.lengths import INCHES, MILLIMETRES

    return INCHES if getattr(given, "inches", False) else MILLIMETRES


def say(text: str, plainly: bool = False) -> None:
    """Print, unless the reader of our output has gone, as `head` does: the exit code still tells.

    Lengths are in inches where that is asked for, unless it is said `plainly`: names of files, tables made so.
    Raises Unusable where what we write to takes no more, such as a full disk.
    """
    if _IN_INCHES.get() and not plainly:
        from profiler.pictures.basics.lengths import INCHES

        text = INCHES.told(text)
    with _onto_stdout():
        print(text, flush=True)


def finish_saying() -> None:
    """Have all of it written now, since the interpreter would complain at its own end of what cannot be. Raises so."""
    with _onto_stdout():
        if sys.stdout is not None:
            sys.stdout.flush()


@contextmanager
def _onto_stdout() -> Iterator[None]:
    try:
        yield
    except BrokenPipeError:
        _let_go(sys.stdout)
    except OSError as error:
        _let_go(sys.stdout)
        raise Unusable(f"the standard output cannot be written: {reason(error)}.") from None


def complain(sentence: str) -> None:
    """Say on stderr what stands beside the answer: what was not done and why, what an older file needed."""
    try:
        print(f"{PROGRAM}: {sentence}", file=sys.stderr, flush=True)
    except OSError:
        _let_go(sys.stderr)


def _let_go(stream: TextIO) -> None:
    """What is still said there goes nowhere."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
