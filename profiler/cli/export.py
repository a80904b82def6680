"""The command `export`: its flags and its help are made from the outputs' records, which decide what is written."""

import argparse
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from profiler.cli.command import (
    FINE,
    PROGRAM,
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
from profiler.numbers import plainly, significant
from profiler.study import BowlFileError, Study
from profiler.study.files.disk import shown_name
from profiler.study.files.file import SUFFIX

if TYPE_CHECKING:
    from profiler.assess import Evaluation
    from profiler.output.record.option import Option, Request
    from profiler.output.record.output import Output

METAVARS = {"%": "PERCENT", "°": "DEG"}  # units that are no words


def describe() -> str:
    from profiler.output import outputs

    *most, last = (o.title.lower() for o in outputs.OUTPUTS)
    return f"write {', '.join(most)} or {last}"


def _epilog() -> str:
    from profiler.output import outputs

    return "\n".join(("outputs and the types of file they can be:", *(f"  {line}" for line in outputs.listed())))


def _add_options(parser: argparse.ArgumentParser) -> None:
    from profiler.output import outputs

    add_choice(parser)
    types = " ".join(outputs.suffixes())
    parser.add_argument(
        "out", metavar="OUT", type=Path, nargs="+", help=f"files to write; the extension tells which: {types}"
    )
    meant = ", ".join(
        f"{suffix} {held[0].key}" for suffix in outputs.suffixes() if len(held := outputs.outputs_of(suffix)) > 1
    )
    keys = [o.key for o in outputs.OUTPUTS]
    parser.add_argument("--kind", choices=keys, help=f"what a type of several outputs holds (default: {meant})")
    known: set[str] = set()
    for output in outputs.OUTPUTS:
        _add_group(parser, output, known)


def _add_group(parser: argparse.ArgumentParser, output: "Output", known: set[str]) -> None:
    """The flags of an output; those that another has had already are named only."""
    from profiler.output.record.option import flag_of

    told = [o for o in output.options if o.in_terminal]
    also = [flag_of(o) for o in told if o.key in known]
    words = f"{output.says}.{' Also: ' + ', '.join(also) + '.' if also else ''}"
    group = parser.add_argument_group(output.title.lower(), words.replace("%", "%%"))
    for option in told:
        if option.key not in known:
            _add_option(group, option)
    known |= {o.key for o in told}


def _add_option(group: "argparse._ArgumentGroup", option: "Option") -> None:
    from profiler.output.record.option import Amount, Choice, flag_of

    said = f"{option.label}: {_small(option.help)}".replace("%", "%%")
    if isinstance(option, Choice) and any(offer.typed.startswith("--") for offer in option.offers):
        flags = group.add_mutually_exclusive_group()
        for offer in option.offers:
            if offer.typed.startswith("--"):
                usual = " (default)" if offer is option.offers[0] else ""
                words = f"{option.label}: {_small(offer.words)}{usual}"
                flags.add_argument(
                    offer.typed, dest=option.key, action="store_const", const=str(offer.value), help=words
                )
        return
    metavar = "TEXT"
    if isinstance(option, Choice):
        metavar = option.metavar or "{" + ",".join(offer.word for offer in option.offers) + "}"
        said += f" (default: {option.offers[0].word or option.offers[0].words})"
    elif isinstance(option, Amount):
        field = option.field
        metavar = METAVARS.get(field.unit, field.unit.upper())
        usual = option.empty or plainly(option.usual or 0.0)
        said += f"; {significant(field.low)} to {significant(field.high)} (default: {usual})"
    group.add_argument(flag_of(option), dest=option.key, metavar=metavar, type=_reader(option), help=said)


def _small(words: str) -> str:
    """With a small letter first, but for a name or an abbreviation."""
    return words[:1].lower() + words[1:] if words[1:2].islower() or words[1:2] == " " else words


def _reader(option: "Option") -> Callable[[str], str | float]:
    """Reads what is typed for an option; what cannot be used is said in the option's own words."""

    def typed(text: str) -> str | float:
        try:
            return option.typed(text)
        except ValueError as reason:
            raise argparse.ArgumentTypeError(str(reason)) from None

    return typed


def _refuse_names(outs: Sequence[Path], study: Path) -> None:
    """Refuse names that cannot be written to, all of them before the first file is. Raises ValueError."""
    from profiler.output.writing import output_for

    for out in outs:
        if out.suffix.lower() == SUFFIX or (out.exists() and out.samefile(study)):
            raise ValueError(f"{out} is the name of a study; give the drawing another, such as {out.stem}.dxf.")
        if out.is_dir():
            raise ValueError(f"{out} is a folder; give the drawing's file name too.")
        output_for(out)
    if len({out.resolve() for out in outs}) < len(outs):
        raise ValueError("two outputs have the same name.")


def request_of(given: argparse.Namespace, study: Study) -> "Request":
    """What the flags say. Raises ValueError for one that has no effect beside the others."""
    from profiler.output import outputs
    from profiler.output.record.option import Request, flag_of

    values = {key: value for key in outputs.options() if (value := getattr(given, key, None)) not in (None, "")}
    request = Request(values, shown_name(given.file), study, lengths=lengths_asked(given))
    for option in (o for output in outputs.OUTPUTS for o in output.options if o.key in values):
        if option.only is not None and option.only.choice.in_terminal and not request.counts(option):
            word = next(o.word for o in option.only.choice.offers if o.value == option.only.value)
            raise ValueError(f"{flag_of(option)} belongs to {flag_of(option.only.choice)} {word}.")
    return request


def kind_for(out: Path, kind: str | None, several: bool) -> str:
    """The kind asked for, where the file can hold it; among several files those that cannot keep their own."""
    from profiler.output import outputs

    held = {o.key for o in outputs.outputs_of(out.suffix.lower())}
    return "" if kind is None or (several and kind not in held) else kind


def _run(given: argparse.Namespace) -> int:
    from profiler.assess import Severity, evaluate
    from profiler.assess.findings.finding import not_checked_words, stops
    from profiler.output.writing import output_for

    study, design, duty = chosen_of(given)
    with sentences():
        _refuse_names(given.out, given.file)
        request = request_of(given, study)
        kinds = [output_for(out, kind_for(out, given.kind, len(given.out) > 1)) for out in given.out]
    evaluation = evaluate(design, study.machine, duty)
    count = stops(evaluation.findings)
    if evaluation.shape is None and not any(kind.without_shape(request) for kind in kinds):
        why = next(f.text for f in evaluation.findings if f.severity is Severity.STOP)
        complain(f"nothing written, “{design.name}” has no outline: {why}")
        return STOPPED
    written = sum(_write(out, kind, evaluation, request) for out, kind in zip(given.out, kinds, strict=True))
    if count and written:
        say(f"{not_checked_words(count)}; see: {PROGRAM} check {given.file}")
    if written < len(given.out):
        return UNUSABLE
    return STOPPED if count else FINE


def _write(out: Path, output: "Output", e: "Evaluation", request: "Request") -> bool:
    """Write one output and say what it is, or why it is not there; the others are written all the same."""
    from profiler.output.writing import export

    try:
        made = export(out, e, request, output.key)
    except BowlFileError as reason:
        complain(str(reason))
        return False
    except ValueError as reason:
        complain(f"{out.name} was not written: {reason}")
        return False
    for one in made:
        say(f"written: {one.words}: {one.path}" if one.words else f"written: {one.path}", plainly=True)
        for finding in one.findings:
            say(f"  {finding.severity.value}: {finding.text}")
    return True


EXPORT = Command("export", describe, _add_options, _run, _epilog)
