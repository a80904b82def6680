"""Tables of runs and of size classes on their way into the terminal's `trial`; their doubts are its options.

What is in doubt and unanswered is refused with the cell and the option that answers it.
"""

import argparse
from pathlib import Path

from profiler.study.edits import trial_edits
from profiler.study.files.disk import BowlFileError
from profiler.study.files.heading_words import read_words
from profiler.study.ledger.columns import COLUMNS
from profiler.study.ledger.meanings import meaning_named
from profiler.study.ledger.problems import Kind
from profiler.study.ledger.reading import Preview, preview, trial_of
from profiler.study.ledger.size_tables import SIZE_HEADINGS, is_size_table, size_preview
from profiler.study.ledger.table_files import read_table_file
from profiler.study.records.table_reading import TableReading
from profiler.study.records.trial import Trial

ANSWERS = ("decimal", "dates", "heading", "meanings", "sheet", "blanks", "as_typed", "empty", "words")


def add_options(parser: argparse.ArgumentParser) -> None:
    asked = parser.add_argument_group("what a table of runs leaves in doubt")
    asked.add_argument("--decimal", choices=(".", ","), help="the decimal sign")
    asked.add_argument("--dates", choices=("dmy", "mdy", "ymd"), help="the order of day, month and year")
    asked.add_argument("--heading", metavar="LINE", type=int, help="the line of the file that holds the headings")
    asked.add_argument(
        "--as", metavar='"HEADING=MEANING, UNIT"', action="append", default=[], dest="meanings",
        help='what a heading means, as "conc mass=concentrate mass, g"; "HEADING=nothing" passes it over',
    )  # fmt: skip
    asked.add_argument("--sheet", metavar="NAME", default="", help="the sheet of a workbook")
    asked.add_argument("--blanks", choices=("above", "empty"), help="cells left empty below filled ones")
    asked.add_argument("--as-typed", metavar="HEADING", action="append", default=[],
                       help="values far from the others in this column are right as typed")  # fmt: skip
    asked.add_argument("--empty", metavar="WORD", action="append", default=[], help="a word for what is not recorded")
    asked.add_argument(
        "--words", metavar="FILE", type=Path, help="your own headings, as JSON: {column: [heading, ...]}"
    )
    asked.add_argument("--sizes", metavar="FILE", type=Path, help="a table of size classes of the runs")


def refuse_answers(chosen: argparse.Namespace, file: str) -> None:
    """Raises ValueError where a study is judged with answers that a table would need."""
    given = next((name for name in ANSWERS if getattr(chosen, name)), None)
    if given is not None and chosen.sizes is None:
        name = "as" if given == "meanings" else given.replace("_", "-")
        raise ValueError(f"{file} is a study, which leaves nothing in doubt; --{name} is for tables.")


def read_ledger(path: Path, chosen: argparse.Namespace) -> tuple[Trial, Preview]:
    """The trial that a table of runs makes. Raises ValueError, one sentence that names the way on."""
    table = read_table_file(path, chosen.sheet)
    try:
        words = read_words(chosen.words, COLUMNS) if chosen.words is not None else {}
        if is_size_table(table):
            raise ValueError("This is a table of size classes; name the runs first, and it with --sizes.")
        seen = preview(table, _reading(chosen), words=words)
        _refuse(seen)
    except BowlFileError:
        raise
    except ValueError as reason:
        raise ValueError(f"{path.name}{'' if str(reason).startswith(', ') else ': '}{reason}") from None
    return trial_of(seen, path.stem), seen


def with_sizes(trial: Trial, chosen: argparse.Namespace) -> tuple[Trial, tuple[str, ...]]:
    """The trial with the size classes of a table put to its runs, and what was read as what."""
    path: Path | None = chosen.sizes
    if path is None:
        return trial, ()
    found = size_preview(read_table_file(path, ""), _reading(chosen, of_sizes=True))
    refusal = found.refusal()
    if refusal:
        raise ValueError(f"{path.name}: {refusal}")
    try:
        return trial_edits.with_sizes(trial, found.by_run), tuple(f"{path.name}: {words}" for words in found.read_as)
    except ValueError as reason:
        raise ValueError(f"{path.name}: {reason}") from None


def _reading(chosen: argparse.Namespace, of_sizes: bool = False) -> TableReading:
    """The answers given as options. Those that name headings may be for the runs or for the sizes."""
    reading = TableReading(
        decimal=chosen.decimal or "", dates=chosen.dates or "", heading_line=None if of_sizes else chosen.heading,
        sheet=chosen.sheet, as_typed=tuple(chosen.as_typed), blanks=chosen.blanks or "", empty=tuple(chosen.empty),
    )  # fmt: skip
    for text in chosen.meanings:
        heading, sign, rest = text.rpartition("=")
        if not sign or not heading.strip():
            raise ValueError(f"--as “{text}”: write HEADING=MEANING, or HEADING=MEANING, UNIT.")
        meaning, _, unit = rest.partition(",")
        key = "_".join(meaning.lower().split())
        if of_sizes or (chosen.sizes is not None and key in SIZE_HEADINGS and key not in COLUMNS):
            reading = reading.answering(heading.strip(), key, unit.strip())
            continue
        try:
            column = meaning_named(meaning)
        except ValueError as reason:
            raise ValueError(f"--as: {reason}") from None
        if column is not None and unit.strip() and unit.strip() not in column.units:
            known = ", ".join(column.units) or "no unit"
            raise ValueError(
                f"--as “{text}”: “{unit.strip()}” is not a unit for {column.label.lower()}; it may be {known}."
            )
        reading = reading.answering(heading.strip(), "" if column is None else column.key, unit.strip())
    return reading


def _refuse(seen: Preview) -> None:
    """What is in doubt is answered first, then what cannot be read: no row is left out unsaid."""
    not_understood = next((group for group in seen.groups if group.kind is Kind.COLUMN), None)
    if not_understood is not None:
        raise ValueError(f", {not_understood.sentence}")
    if seen.missing:
        raise ValueError(seen.missing)
    if seen.open_questions:
        more = len(seen.open_questions) - 1
        others = f" ({more} more question{'' if more == 1 else 's'} after this one.)" if more else ""
        raise ValueError(f"{seen.open_questions[0].sentence}{others}")
    if seen.groups:
        more = len(seen.groups) - 1
        others = f" ({more} more kind{'' if more == 1 else 's'} of problem.)" if more else ""
        raise ValueError(f", {seen.groups[0].sentence}{others}")
