"""A ledger as CSV: what study/ledger reads back to the very same runs. Raw values only.

Verdicts and balances are in trial_json and trial_text.
"""

from collections.abc import Sequence

from profiler.study.files.csv_text import csv_text
from profiler.study.ledger.columns import COLUMNS
from profiler.study.ledger.size_tables import SIZE_HEADINGS, SIZE_KEYS
from profiler.study.records.trial import Trial


def ledger_csv(trial: Trial) -> str:
    """Every column of every run, excluded ones with their reason; several assays in a cell kept apart by slashes."""
    columns = COLUMNS.values()
    rows = ([column.show(run) for column in columns] for run in trial.runs)
    return csv_text([[column.heading for column in columns], *rows])


def sizes_csv(trial: Trial) -> str:
    """Size classes, a line per run and class."""
    rows = ([run.run, *(getattr(size, key) for key in SIZE_KEYS)] for run in trial.runs for size in run.sizes)
    return csv_text([SIZE_HEADINGS, *rows])


def blank_ledger_csv(designs: tuple[str, str], pairs: int, first: Sequence[bool]) -> str:
    """An empty ledger for so many pairs, in the order in which they are to be run.

    `first` (pairs,) is true where the reference goes first; two runs a pair, numbered.
    """
    columns = list(COLUMNS.values())
    rows = []
    for pair in range(pairs):
        order = designs if first[pair] else designs[::-1]
        for place, design in enumerate(order, 1):
            known = {"run": str(2 * pair + place), "design": design, "block": str(pair + 1), "order": str(place)}
            rows.append([known.get(column.key, "") for column in columns])
    return csv_text([[column.heading for column in columns], *rows])
