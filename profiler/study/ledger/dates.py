"""Dates and times of a file, and the file's own evidence for the order of day, month and year.

What proves an order: a number above 12 where the month would stand, a year of four digits in front, points between
(days first wherever points are written), a month's name. "03/04/2031" proves nothing and is asked about. A plain number
of a spreadsheet is its count of days since 1899-12-30 (ISO/IEC 29500-1, 18.17.4.1). Not here: which cells hold dates.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from profiler.numbers import moment_of
from profiler.study.ledger.cells import At

ORDERS = ("dmy", "mdy", "ymd")
ORDER_WORDS = {"dmy": "day, month, year", "mdy": "month, day, year", "ymd": "year, month, day"}
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_FIRST_DAY = datetime(1899, 12, 30)
_SERIALS = (20_000.0, 80_000.0)  # 1954 to 2119

_TIME = re.compile(
    r"(?P<hour>[0-9]{1,2})[:h.](?P<minute>[0-9]{2})(?::(?P<second>[0-9]{2})(?:\.[0-9]+)?)? ?(?P<half>[aApP]\.?[mM]\.?)?"
)
_NUMBERED = re.compile(
    r"(?P<a>[0-9]{1,4})(?P<mark>[-/. ])(?P<b>[0-9]{1,2})(?P=mark)(?P<c>[0-9]{2,4})\.?,?(?:[T ]+(?P<time>.*))?"
)
_NAMED = re.compile(
    r"(?:(?P<day>[0-9]{1,2})(?:st|nd|rd|th)?[-/. ]*(?P<month>[A-Za-z]{3,9})\.?|"
    r"(?P<month2>[A-Za-z]{3,9})\.? (?P<day2>[0-9]{1,2})(?:st|nd|rd|th)?,?)"
    r"[-/. ]*(?P<year>[0-9]{4}|[0-9]{2}),?(?:[T ]+(?P<time>.*))?"
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Order:
    """The order of a file's dates; empty where it is in doubt (`doubt`: the first such cell) or plays no part."""

    order: str
    likely: str
    doubt: At | None = None
    proof: At | None = None


def order_of(cells: Iterable[At], answered: str = "") -> Order:
    """By the file's own evidence, else by what was answered. Dates that are the same either way leave no doubt."""
    proofs: dict[str, At] = {}
    doubts: list[At] = []
    for cell in cells:
        fits = _fits(cell.text)
        if len(fits) == 1:
            proofs.setdefault(fits[0], cell)
        elif len({_date_in(" ".join(cell.text.split()), order) for order in fits}) > 1:
            doubts.append(cell)
    if not doubts:
        return Order(next(iter(proofs), answered), "dmy")
    proofs = {o: at for o, at in proofs.items() if all(o in _fits(cell.text) for cell in doubts)}
    if len(proofs) == 1:
        order, proof = next(iter(proofs.items()))
        return Order(order, order, doubts[0], proof)
    said = answered if all(answered in _fits(cell.text) for cell in doubts) else ""
    return Order(said, said or _ascending(doubts), doubts[0])


def moment_in(text: str, order: str) -> str:
    """A date, or date and time, as ISO 8601 has it. Raises ValueError for what is none."""
    plain = " ".join(text.split())
    try:
        moment_of(plain)
        return plain
    except ValueError:
        pass
    found = _date_in(plain, order)
    if found is not None:
        return found
    serial = _serial(plain)
    if serial is not None:
        moment = _FIRST_DAY + timedelta(seconds=round(serial * 86_400.0))
        return moment.date().isoformat() if serial == int(serial) else moment.isoformat(timespec="minutes")
    moment_of(plain)
    raise AssertionError(plain)


def moments_of(text: str) -> tuple[tuple[str, str], ...]:
    """What a date of unsure order may be: each order that makes a date of it, and that date."""
    plain = " ".join(text.split())
    return tuple((order, _date_in(plain, order) or "") for order in _fits(plain))


def time_in(text: str) -> str:
    """A time of day as ISO 8601 has it; also the part of a day that spreadsheets keep. Raises ValueError."""
    plain = " ".join(text.split())
    found = _TIME.fullmatch(plain)
    if found is not None:
        hour, minute = int(found["hour"]), int(found["minute"])
        if found["half"]:
            hour = hour % 12 + (12 if found["half"][0] in "pP" else 0)
        if hour < 24 and minute < 60:
            return f"{hour:02d}:{minute:02d}" + (f":{found['second']}" if int(found["second"] or 0) else "")
    try:
        part = float(plain.replace(",", "."))
    except ValueError:
        part = -1.0
    if 0.0 <= part < 1.0:
        minutes = round(part * 1440.0)
        return f"{minutes // 60 % 24:02d}:{minutes % 60:02d}"
    raise ValueError(f"“{plain[:30]}” is not a time of day such as 08:30.")


def is_time(text: str) -> bool:
    """Whether a cell holds a time of day and no date."""
    return ":" in text and _TIME.fullmatch(" ".join(text.split())) is not None


def _date_in(plain: str, order: str) -> str | None:
    named, numbered = _NAMED.fullmatch(plain), _NUMBERED.fullmatch(plain)
    if named is not None:
        name = (named["month"] or named["month2"])[:3].lower()
        if name not in _MONTHS:
            return None
        parts = int(named["year"]), _MONTHS.index(name) + 1, int(named["day"] or named["day2"])
        return _joined(parts, named["time"], plain)
    if numbered is None:
        return None
    fits = _fits(plain)
    chosen = order if order in fits else fits[0] if fits else ""
    if not chosen:
        return None
    found = dict(zip(chosen, (int(numbered[k]) for k in "abc"), strict=True))
    return _joined((found["y"], found["m"], found["d"]), numbered["time"], plain)


def _joined(parts: tuple[int, int, int], time: str | None, plain: str) -> str:
    year, month, day = parts
    year += 2000 if year < 70 else 1900 if year < 100 else 0  # two digits as POSIX strptime takes them, nearly
    try:
        date = datetime(year, month, day).date().isoformat()
    except ValueError:
        raise ValueError(f"“{plain[:30]}” is not a date of the calendar.") from None
    return f"{date}T{time_in(time)}" if time else date


def _fits(text: str) -> tuple[str, ...]:
    """Orders in which a date of three numbers is one of the calendar."""
    found = _NUMBERED.fullmatch(" ".join(text.split()))
    if found is None:
        return ()
    a, b, c = found["a"], found["b"], found["c"]
    if len(a) > 2:
        return ("ymd",)
    fits = [order for order in ("dmy", "mdy") if _is_date(dict(zip(order, (int(a), int(b), int(c)), strict=True)))]
    if len(c) == 2 and _is_date({"y": int(a), "m": int(b), "d": int(c)}):
        fits.append("ymd")
    if found["mark"] == "." and "dmy" in fits:
        return ("dmy",)
    return tuple(fits)


def _is_date(parts: dict[str, int]) -> bool:
    year = parts["y"] + (2000 if parts["y"] < 100 else 0)
    try:
        datetime(year, parts["m"], parts["d"])
    except ValueError:
        return False
    return True


def _ascending(doubts: list[At]) -> str:
    """The order in which the dates run on as the lines do, else days first: a proposal, never taken unasked."""
    for order in ORDERS:
        if all(order in _fits(cell.text) for cell in doubts):
            dates = [_date_in(" ".join(cell.text.split()), order) or "" for cell in doubts]
            if dates == sorted(dates) and len(set(dates)) > 1:
                return order
    return next((order for order in ORDERS if all(order in _fits(cell.text) for cell in doubts)), "dmy")


def _serial(plain: str) -> float | None:
    try:
        value = float(plain.replace(",", "."))
    except ValueError:
        return None
    return value if _SERIALS[0] <= value <= _SERIALS[1] else None
