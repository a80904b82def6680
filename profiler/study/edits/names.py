"""Names of designs, duties and trials as they are typed: one line, not without end."""

from profiler.study.records.record import LONGEST_NAME


def typed_name(name: str, what: str, present: str) -> str:
    """The name on one line. Raises ValueError where there is none, or more of it than a list can show."""
    name = " ".join(name.split())
    if not name:
        raise ValueError(f"A {what} needs a name; “{present}” stays.")
    if len(name) > LONGEST_NAME:
        raise ValueError(f"A name has at most {LONGEST_NAME} letters, this one {len(name)}; “{present}” stays.")
    return name
