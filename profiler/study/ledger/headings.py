"""What a heading may mean: its words and unit taken apart, and the columns of the ledger that bear such a name.

Words are taken whatever their order and form ('Tails grade', 'grade of tail'); names of the metal and of drying are
passed over. A unit that is used for two sizes (a ton, an ounce a ton) stays open here and is asked about. Not here:
which of several meanings a file's cells speak for (meanings).
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from profiler.study.ledger.columns import COLUMNS, GRADE, MASS, Column

Words = Mapping[str, str]  # the user's own names for columns: plain heading to column key

_SAME = {
    "wt": "mass", "weight": "mass", "weights": "mass", "masses": "mass", "cons": "conc", "con": "conc",
    "concentrate": "conc", "concentrates": "conc", "tails": "tail", "tailing": "tail", "tailings": "tail",
    "grades": "grade", "assays": "assay", "heads": "head", "recoveries": "recovery", "fluidizing": "fluidising",
    "fluidisation": "fluidising", "fluidization": "fluidising", "id": "no", "nr": "no", "num": "no", "nos": "no",
    "comments": "comment", "remarks": "remark", "notes": "note",
}  # fmt: skip
_PASSED = frozenset(("au", "dry", "dried", "of", "the", "in", "final", "average", "avg"))
_REPEATS = frozenset(("dup", "duplicate", "repeat", "rpt", "check", "a", "b", "second", "i", "ii"))
_UNITS = {
    "gpt": "g/t", "g/tonne": "g/t", "g/mt": "g/t", "gram/tonne": "g/t", "grams/tonne": "g/t", "ug/g": "ppm",
    "grams": "g", "gram": "g", "gm": "g", "gms": "g", "kgs": "kg", "kilogram": "kg", "kilograms": "kg", "kilo": "kg",
    "tonne": "t", "tonnes": "t", "mt": "t", "lbs": "lb", "pound": "lb", "pounds": "lb", "st": "short ton",
    "shortton": "short ton", "shorttons": "short ton", "ozt": "oz", "troyoz": "oz", "ounces": "oz", "ounce": "oz",
    "oz/st": "oz/short ton", "oz/shortton": "oz/short ton", "opst": "oz/short ton", "oz/mt": "oz/tonne",
    "w/w%": "%", "%w/w": "%", "wt%": "%", "%wt": "%", "%m/m": "%", "mass%": "%", "%mass": "%", "wt.%": "%",
    "percentage": "percent", "microns": "um", "micrometre": "um", "m3/hr": "m3/h", "l/hr": "l/h", "l/minute": "l/min",
    "litres/min": "l/min", "t/hr": "t/h", "tonnes/h": "t/h", "mtph": "t/h", "kg/hr": "kg/h", "mins": "min",
    "minutes": "min", "minute": "min", "hr": "h", "hrs": "h", "hours": "h", "hour": "h", "sec": "s", "seconds": "s",
    "days": "d", "day": "d", "r/min": "rpm", "rev/min": "rpm", "frac": "fraction", "-": "fraction",
}  # fmt: skip
OF_TWO_SIZES = {  # used for one size here and another there: never guessed
    "oz/t": ("oz/short ton", "oz/tonne"),
    "oz/ton": ("oz/short ton", "oz/tonne"),
    "opt": ("oz/short ton", "oz/tonne"),
    "ton": ("t", "short ton"),
    "tons": ("t", "short ton"),
}
_ALL_UNITS = frozenset(unit for column in COLUMNS.values() for unit in column.units) | frozenset(OF_TWO_SIZES)


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading taken apart: its name in plain words and its unit, empty where it names none."""

    name: str
    unit: str


@dataclass(frozen=True, slots=True)
class Meaning:
    """A column a heading may mean, in a unit (empty: not named). `units`: those an unclear unit may stand for."""

    column: Column
    unit: str = ""
    units: tuple[str, ...] = ()


def heading_of(text: str) -> Heading:
    """'Conc. mass [g]' is 'conc mass' in 'g'; 'tail, g/t' is 'tail' in 'g/t'; 'speed_rpm' is 'speed rpm'."""
    plain = " ".join(text.strip().lower().replace("µ", "u").replace("μ", "u").replace("³", "3").split())
    found = re.fullmatch(r"(.*?)\s*[\[(]([^\])]*)[\])]\s*(\d*)", plain) or re.fullmatch(r"(.*),\s*([^,]+?)()", plain)
    name, unit = (f"{found[1]} {found[3]}", found[2]) if found else (plain, "")
    return Heading(" ".join(re.sub(r"[^\w%/]+|_", " ", name).split()), unit_of(unit))


def unit_of(text: str) -> str:
    """A unit as the ledger's table has it: 'g/t Au' is 'g/t', 'L / min' is 'l/min', 'lbs' is 'lb'."""
    plain = text.strip().lower().replace("µ", "u").replace("μ", "u").replace("³", "3").replace("short ton", "st")
    plain = re.sub(r"[\s.]+|\bau\b|\bdry\b", "", plain).strip("()[]")
    return _UNITS.get(plain, plain)


def is_unit(text: str) -> bool:
    """Whether a cell below a heading holds nothing but a unit, in brackets or not."""
    return unit_of(text) in _ALL_UNITS


def is_known(text: str, words: Words | None = None) -> bool:
    """Whether a text, standing alone, would be taken for a heading of the ledger."""
    return bool(meanings_of(text, words))


def column_for(heading: Heading) -> tuple[Column, float] | None:
    """The first column in the table that a heading may mean, and the size of its unit."""
    found = _meanings(heading)
    return (found[0].column, found[0].column.units.get(found[0].unit, 1.0)) if found else None


def meanings_of(text: str, words: Words | None = None) -> tuple[Meaning, ...]:
    """All columns a heading may mean, the likeliest first; the user's own words go before."""
    heading = heading_of(text)
    own = COLUMNS.get((words or {}).get(" ".join(text.lower().split()), ""))
    if own is None and words:
        own = COLUMNS.get(words.get(heading.name, ""))
    if own is not None:
        return (Meaning(own, heading.unit if heading.unit in own.units else ""),)
    return _meanings(heading)


def unknown_unit(text: str) -> str:
    """What is wrong with a heading that would have a meaning but for its unit; empty for any other."""
    heading = heading_of(text)
    known = column_for(Heading(heading.name, "")) if heading.unit else None
    if known is None or not known[0].units:
        return ""
    return f"“{heading.unit}” is not a unit for {known[0].label.lower()}; it may be {', '.join(known[0].units)}."


def _meanings(heading: Heading) -> tuple[Meaning, ...]:
    """The first way to read the heading that makes sense decides; several columns may bear that name."""
    for name, unit in _readings(heading.name, heading.unit):
        found = tuple(m for known in _bearing(name) if (m := _in_unit(known, unit)) is not None)
        if found:
            return found
    return ()


def _in_unit(known: "_Known", unit: str) -> Meaning | None:
    column = known.column
    if not unit or unit in column.units:
        return Meaning(column, unit or known.unit)
    if (column.units is MASS or column.units is GRADE) and unit in OF_TWO_SIZES:
        units = tuple(one for one in OF_TWO_SIZES[unit] if one in column.units)
        return Meaning(column, "", units) if units else None
    return None


@dataclass(frozen=True, slots=True)
class _Known:
    """A column under one of its names, and the unit that name tells: a key's own, the sign in '% solids'."""

    column: Column
    unit: str


def _bearing(name: str) -> tuple[_Known, ...]:
    """Columns of this name: as it stands, else by its words, else without what marks a repeated assay."""
    exact, by_words = _names()
    found = exact.get(name, ()) or by_words.get(words_of(name), ())
    if found:
        return found
    kept = name.split()
    while len(kept) > 1 and (kept[-1].isdigit() or kept[-1] in _REPEATS):
        kept.pop()
    adding = exact.get(" ".join(kept), ()) or by_words.get(words_of(" ".join(kept)), ())
    return tuple(known for known in adding if known.column.adds)


@cache
def _names() -> tuple[dict[str, tuple[_Known, ...]], dict[tuple[str, ...], tuple[_Known, ...]]]:
    """Columns by name, and by the words of the name in any order."""
    exact: dict[str, tuple[_Known, ...]] = {}
    by_words: dict[tuple[str, ...], tuple[_Known, ...]] = {}
    for column in COLUMNS.values():
        own = next((unit for unit, size in column.units.items() if size == 1.0), "")
        key = column.key.replace("_", " ")
        for name in dict.fromkeys((key, column.label.lower(), *column.names)):
            known = _Known(column, own if "%" in name or (name == key and name != column.label.lower()) else "")
            exact[name] = (*exact.get(name, ()), known)
            words = words_of(name)
            if all(other.column is not column for other in by_words.get(words, ())):
                by_words[words] = (*by_words.get(words, ()), known)
    return exact, by_words


def words_of(name: str) -> tuple[str, ...]:
    """The words of a name by which it is known, in one form and order each."""
    return tuple(sorted(_SAME.get(word, word) for word in name.split() if word not in _PASSED))


def _readings(name: str, unit: str) -> list[tuple[str, str]]:
    """The name as it stands, then with its last words as the unit: 'feed kg' is 'feed' in 'kg'."""
    words = [word for word in name.split() if word != "au"]
    while len(words) > 1 and (words[-1].isdigit() or words[-1] in _REPEATS):
        words.pop()
    found = [(name, unit)]
    if not unit:
        for count in (1, 2):
            tail = words[-count:]
            if len(words) > count:
                found += [(" ".join(words[:-count]), unit_of(sign.join(tail))) for sign in ("/", "", " ")]
        if len(words) > 1 and words[0] == "%":
            found.append((" ".join(words[1:]), "%"))
        if words and words[-1].endswith("%") and len(words[-1]) > 1:
            found.append((" ".join([*words[:-1], words[-1][:-1]]), "%"))
    return found
