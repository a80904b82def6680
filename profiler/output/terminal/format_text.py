"""The `.bowl` format as a page of text, 100 columns wide: rules first, then every kind of record, member by member."""

from collections.abc import Iterator
from textwrap import wrap

from profiler.study.files.schema import RULES, Member, Section, sections

WIDTH = 100
INDENT = " " * 4


def format_text() -> str:
    """Ends with a newline."""
    blocks = ["The study file (.bowl)", *("\n".join(wrap(rule, WIDTH)) for rule in RULES)]
    return "\n\n".join([*blocks, *("\n".join(_section(s)) for s in sections())]) + "\n"


def _section(section: Section) -> Iterator[str]:
    where = ", ".join(place for place in section.places if place) or "the object itself"
    yield from wrap(f"{section.name} ({where}): {section.about}", WIDTH, subsequent_indent=INDENT)
    for member in section.members:
        yield from wrap(f"{member.name}: {said(member)}", WIDTH, initial_indent="  ", subsequent_indent=INDENT)
        yield from wrap(f"{member.label}. {member.help}", WIDTH, initial_indent=INDENT, subsequent_indent=INDENT)


def said(member: Member) -> str:
    """'number, 0.5 to 300 mm; 13.0 if left out'."""
    span = f"{member.span} {member.unit}".strip()
    what = f"{member.kind}, {span}" if span else member.kind
    return f"{what}; needed" if member.default == "needed" else f"{what}; {member.default} if left out"
