"""A finding: one located statement, as data with an address. Which kinds there are stands in `kinds`."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import TypeAlias

from profiler.assess.findings.kinds import Kind, Severity, Topic
from profiler.numbers import as_printed, counted
from profiler.study import Design, Duty, Machine

Changed: TypeAlias = Design | Duty | Machine
RANK = {severity: rank for rank, severity in enumerate(Severity)}


@dataclass(frozen=True, slots=True)
class Remedy:
    """The edit that mends a finding: the changed record, to be put in place of the shown one.

    An edit that takes time is worked out when it is wanted: then `edit` is a function, which may refuse.
    """

    label: str
    edit: Changed | Callable[[], Changed]

    @property
    def changed(self) -> Changed:
        """Raises ValueError, one sentence, where the edit cannot be made."""
        return self.edit() if callable(self.edit) else self.edit


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """What was found, where, against which limit, and who says so."""

    kind: Kind
    text: str
    field: str = ""  # its name, where the kind is found of any field: it ends the code
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    from_mm: float | None = None
    to_mm: float | None = None
    at_mm: float | None = None  # where between them the value is, where one place has it
    grooves: tuple[int, ...] = ()
    remedy: Remedy | None = None
    own_severity: Severity | None = None  # where it is not the kind's
    own_source: str = ""  # where it is not the kind's

    @property
    def code(self) -> str:
        return f"{self.kind.code}_{self.field}" if self.field else self.kind.code

    @property
    def severity(self) -> Severity:
        return self.own_severity or self.kind.severity

    @property
    def source(self) -> str:
        return self.own_source or self.kind.source

    @property
    def groove(self) -> int | None:
        return self.grooves[0] if self.grooves else None


def in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Worst first; within a severity as they were found. Negative numbers get their true minus here."""
    return tuple(sorted(map(_printed, findings), key=lambda f: RANK[f.severity]))


def _printed(finding: Finding) -> Finding:
    text, remedy = as_printed(finding.text), finding.remedy
    if remedy is not None and (label := as_printed(remedy.label)) != remedy.label:
        return replace(finding, text=text, remedy=replace(remedy, label=label))
    return finding if text is finding.text else replace(finding, text=text)


def stops(findings: Iterable[Finding]) -> int:
    return sum(f.severity is Severity.STOP for f in findings)


def severity_counts(severities: Iterable[Severity | str]) -> str:
    """'0 stops, 1 check, 17 notes'."""
    found = [Severity(severity) for severity in severities]
    return ", ".join(counted(found.count(severity), severity.value) for severity in Severity)


NEVER_SPIN = "never spin a printed or cast body without an engineer's approval"


def body_caution(stop_count: int) -> str:
    """What every file that a body, a mould or a gauge can be made from says of itself, in a line."""
    checked = not_checked_words(stop_count)
    return f"{checked}; {NEVER_SPIN}" if checked else f"{NEVER_SPIN[0].upper()}{NEVER_SPIN[1:]}"


def not_checked_words(stop_count: int) -> str:
    """What everything that is made in spite of `stop` findings carries; empty where there are none."""
    return f"NOT CHECKED: {counted(stop_count, 'stop finding')}" if stop_count else ""


def grouped(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Notes that repeat one matter as one statement, where the first of them stands; other findings as they are."""
    found = tuple(findings)
    made: list[Finding] = []
    for finding in found:
        same = [f for f in found if f.code == finding.code and f.severity is Severity.NOTE]
        if finding.severity is not Severity.NOTE or len(same) == 1:
            made.append(finding)
        elif finding is same[0]:
            made.append(replace(finding, text=" ".join(f.text for f in same)))
    return tuple(made)


def by_topic(findings: Iterable[Finding]) -> list[tuple[Topic, tuple[Finding, ...]]]:
    """The findings of each topic that has any, in the order of the topics and as they were found."""
    found = tuple(findings)
    parts = ((topic, tuple(f for f in found if f.kind.topic is topic)) for topic in Topic)
    return [(topic, part) for topic, part in parts if part]
