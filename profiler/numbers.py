"""Numbers, dates and yes or no as people write them in tables; each gives a value or says why not (ValueError)."""

from datetime import datetime

_YES = ("yes", "y", "true", "1", "x")
_NO = ("no", "n", "false", "0", "")
_EMPTY = ("", "-", "–", "—", "n/a", "na", "nan", "null", "none")


def number_of(text: str) -> float | None:
    """A number with decimal point or comma; None for an empty cell. Grouping marks are refused, not guessed."""
    plain = text.strip().replace("\u2212", "-").replace("\u00a0", "").replace("\u202f", "")
    if plain.lower() in _EMPTY:
        return None
    if plain.count(",") + plain.count(".") > 1:
        raise ValueError(f"'{_short(text)}' is not a number (leave out the marks between thousands).")
    try:
        value = float(plain.replace(",", ".").removesuffix("%"))
    except ValueError:
        raise ValueError(f"'{_short(text)}' is not a number.") from None
    if value - value != 0.0 or "_" in plain:
        raise ValueError(f"'{_short(text)}' is not a number.")
    return value


def numbers_of(text: str) -> tuple[float, ...]:
    """Several numbers in one cell, kept apart by slashes: '2.4 / 2.6'."""
    found = (number_of(part) for part in text.split("/"))
    return tuple(value for value in found if value is not None)


def yes_or_no(text: str) -> bool | None:
    """Yes or no; None for an empty cell."""
    word = text.strip().lower()
    if not word:
        return None
    if word in _YES or word in _NO:
        return word in _YES
    raise ValueError(f"'{_short(text)}' is neither yes nor no.")


def moment_of(text: str) -> datetime:
    """A date, with or without a time, as ISO 8601 has it: 2031-03-03, 2031-03-03T08:00."""
    try:
        return datetime.fromisoformat(text.strip())
    except ValueError:
        raise ValueError(f"'{_short(text)}' is not a date such as 2031-03-03 or 2031-03-03T08:00.") from None


def plainly(value: float) -> str:
    """The shortest text that reads back as the very same number."""
    return repr(int(value)) if value == int(value) and abs(value) < 1e15 else repr(value)


def _short(text: str) -> str:
    plain = "".join(c if c.isprintable() else " " for c in text.strip())
    return plain if len(plain) <= 30 else f"{plain[:29]}…"
