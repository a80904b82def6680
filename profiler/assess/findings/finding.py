"""A finding: one located statement, as data with an address. Which checks make findings is in the `check_*` files."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum

from profiler.study import Design, Duty, Machine
from profiler.units import with_minus


class Severity(StrEnum):
    """stop: cannot be built, does not fit or must not run. check: works against the purpose, or a model is strained."""

    STOP = "stop"
    CHECK = "check"
    NOTE = "note"


RANK = {Severity.STOP: 0, Severity.CHECK: 1, Severity.NOTE: 2}


@dataclass(frozen=True, slots=True)
class Remedy:
    """The edit that mends a finding: the changed record, ready to be put in place of the shown one."""

    label: str
    changed: Design | Duty | Machine


@dataclass(frozen=True, slots=True)
class Finding:
    """What was found, where, against which limit, and who says so."""

    code: str
    severity: Severity
    text: str
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    source: str = ""
    from_mm: float | None = None
    to_mm: float | None = None
    grooves: tuple[int, ...] = ()
    remedy: Remedy | None = None

    @property
    def groove(self) -> int | None:
        return self.grooves[0] if self.grooves else None


def in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Worst first; within a severity as they were found. Negative numbers get their true minus here."""
    return tuple(sorted(map(_printed, findings), key=lambda f: RANK[f.severity]))


def _printed(finding: Finding) -> Finding:
    text, remedy = with_minus(finding.text), finding.remedy
    if remedy is not None and (label := with_minus(remedy.label)) != remedy.label:
        return replace(finding, text=text, remedy=replace(remedy, label=label))
    return finding if text is finding.text else replace(finding, text=text)


def stops(findings: Iterable[Finding]) -> int:
    return sum(f.severity is Severity.STOP for f in findings)


def runs(numbers: Iterable[int]) -> list[tuple[int, ...]]:
    """Numbers grouped into runs of neighbours, so that one statement serves each run."""
    grouped: list[list[int]] = []
    for number in sorted(numbers):
        if grouped and number == grouped[-1][-1] + 1:
            grouped[-1].append(number)
        else:
            grouped.append([number])
    return [tuple(g) for g in grouped]


def named(grooves: tuple[int, ...]) -> str:
    """'groove 3' or 'grooves 3 to 7'."""
    return f"groove {grooves[0]}" if len(grooves) == 1 else f"grooves {grooves[0]} to {grooves[-1]}"
