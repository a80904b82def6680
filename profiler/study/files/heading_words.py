"""The user's own words for columns of a ledger: a JSON list, added to the names the program knows.

An object with a column's key for each list of headings: {"recovery_pct": ["caught", "gold caught %"]}.
"""

from collections.abc import Mapping
from pathlib import Path

import msgspec

from profiler.study.files.disk import BowlFileError, read_small, reason, write_whole
from profiler.study.records.table_reading import plain_heading

FILE_NAME = "headings.json"


def read_words(path: Path, known: Mapping[str, object]) -> dict[str, str]:
    """Column keys by plain heading; nothing where there is no such file. `known`: the keys there are.

    Raises BowlFileError, one sentence, for a list that cannot be used.
    """
    try:
        data = read_small(path, "a list of headings")
        lists = {} if data is None else msgspec.json.decode(data, type=dict[str, list[str]])
    except (msgspec.MsgspecError, UnicodeDecodeError) as error:
        raise BowlFileError(f"{path.name} is not a list of headings: {error}.") from None
    strange = next((key for key in lists if key not in known), None)
    if strange is not None:
        raise BowlFileError(f"{path.name}: “{strange}” is not a column of the ledger; it may be {', '.join(known)}.")
    return {plain_heading(heading): key for key, headings in lists.items() for heading in headings if heading.strip()}


def add_word(path: Path, heading: str, key: str, known: Mapping[str, object]) -> dict[str, str]:
    """Put a heading to a column's names, away from any other's. Gives the list as it then is; raises as above."""
    words = read_words(path, known) | {plain_heading(heading): key}
    lists = {
        each: sorted(text for text, meant in words.items() if meant == each) for each in sorted(set(words.values()))
    }
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise BowlFileError(f"{path.name} cannot be written: {reason(error)}.") from None
    write_whole(path, msgspec.json.format(msgspec.json.encode(lists), indent=1) + b"\n")
    return words
