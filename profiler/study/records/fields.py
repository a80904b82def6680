"""What a number in a study is: its label, unit, bounds, step, decimals and help, declared beside the number.

Forms, tables, read-outs, range findings and the help pages are generated from these; nothing here knows a widget.
A value outside its bounds still loads: it becomes a finding, never a silent correction.
"""

from dataclasses import dataclass
from functools import cache
from math import isfinite
from typing import Annotated, get_args, get_origin, get_type_hints

import msgspec

from profiler.numbers import fixed


@dataclass(frozen=True, slots=True)
class Field:
    """One number a designer may type. `low` and `high` are the outermost values that can be worked with."""

    name: str
    label: str
    unit: str
    low: float
    high: float
    step: float
    decimals: int
    help: str

    def text(self, value: float) -> str:
        """The number with the field's decimals, without its unit."""
        return fixed(value, self.decimals)

    def with_unit(self, value: float) -> str:
        return f"{self.text(value)} {self.unit}".strip()

    def snapped(self, value: float, fine: bool = False) -> float:
        """The nearest multiple of the step (a tenth of it with `fine`), so that files hold what was read."""
        step = self.step / 10.0 if fine else self.step
        return round(round(value / step) * step, self.decimals + (1 if fine else 0))

    def objection(self, value: float) -> str | None:
        """Why the value cannot be worked with, as one sentence, or None."""
        if not isfinite(value):
            return f"{self.label} must be a number."
        if not self.low <= value <= self.high:
            span = f"{self.text(self.low)} and {self.with_unit(self.high)}"
            return f"{self.label} is {self.with_unit(value)}, but must lie between {span}."
        return None


def number(label: str, unit: str, low: float, high: float, step: float, decimals: int, help: str) -> msgspec.Meta:
    """The annotation that makes a struct member a Field."""
    spec = Field("", label, unit, float(low), float(high), step, decimals, help)
    return msgspec.Meta(title=label, description=help, extra={"field": spec})


@cache
def fields_of(kind: type) -> dict[str, Field]:
    """The Fields of a struct class, by member name, in the order they are declared."""
    found: dict[str, Field] = {}
    for name, hint in get_type_hints(kind, include_extras=True).items():
        spec = _spec(hint)
        if spec is not None:
            parts = (spec.label, spec.unit, spec.low, spec.high, spec.step, spec.decimals, spec.help)
            found[name] = Field(name, *parts)
    return found


def objections(value: msgspec.Struct) -> list[tuple[Field, float, str]]:
    """Every number of the struct that lies outside its bounds: field, value, sentence."""
    found = []
    for name, field in fields_of(type(value)).items():
        held = getattr(value, name)
        sentence = field.objection(held) if held is not None else None
        if sentence is not None:
            found.append((field, held, sentence))
    return found


def _spec(hint: object) -> Field | None:
    if get_origin(hint) is Annotated:
        for extra in get_args(hint)[1:]:
            if isinstance(extra, msgspec.Meta) and extra.extra and "field" in extra.extra:
                spec = extra.extra["field"]
                return spec if isinstance(spec, Field) else None
    for part in get_args(hint):
        spec = _spec(part)
        if spec is not None:
            return spec
    return None
