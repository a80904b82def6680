"""What a number or a choice in a study is: label, unit, bounds, step, decimals, help, declared beside the member.

Forms, tables, bars, terminal options, read-outs, range findings, the file's schema and the help pages are made from
these; nothing here knows a widget. A value outside its bounds still loads: it becomes a finding, never a silent
correction.
"""

from dataclasses import dataclass, replace
from enum import Enum
from functools import cache
from math import inf, isfinite
from types import NoneType
from typing import Annotated, Generic, TypeAlias, TypeVar, cast, get_args, get_origin, get_type_hints

import msgspec

from profiler.numbers import fixed, significant
from profiler.study.records.record import Record, Rows, Step

T = TypeVar("T")
Holder = TypeVar("Holder", bound=Record)

HUGE = 1e12  # from here on a number is told with a power of ten
OFF = 0.05  # of a small number: what its rounded text may be off by
BY_RULE = "by rule"  # what an empty box means where nothing else is said
NOT_GIVEN = "not given"  # what it means of a number that nobody knows but whoever owns the thing


@dataclass(frozen=True, slots=True, eq=False)
class Field(Generic[T]):
    """One value a designer may set: a number (float, int), a choice (an enum), a tick (bool), a text, a whole record.

    `low` and `high` are the outermost numbers that can be worked with. `get` and `set` take the study or any record on
    the way to the value: the shown duty's speed is asked of a study or of a duty.
    """

    name: str  # of the member
    label: str
    unit: str = ""
    low: float = -inf
    high: float = inf
    step: float = 1.0
    decimals: int = 0
    help: str = ""
    short: str = ""  # the label in a narrow table of one kind of record
    empty: str = ""  # what an emptied box means; nothing where a value is needed
    option_words: tuple[str, ...] = ()  # of a choice, where they read better than those in the file
    undo_words: str = ""
    kind: type = float
    may_be_none: bool = False
    of: type[Record] = Record
    path: tuple[Step, ...] = ()  # from a study to the record it is a member of

    def get(self, holder: Record) -> T:
        """The value as it is."""
        for step in self._steps_from(holder):
            holder = holder.row(step.name, _key(step)) if isinstance(step, Rows) else getattr(holder, step)
        return cast(T, getattr(holder, self.name))

    def set(self, holder: Holder, value: T) -> Holder:
        """The holder with this value changed, everything else the very same; itself where nothing changes.

        Raises ValueError, one sentence, for what a record refuses or a count that is not whole; not for a value outside
        the bounds.
        """
        return cast(Holder, _put(holder, self._steps_from(holder), self.name, self._as_kept(value)))

    def at(self, *keys: int) -> "Field[T]":
        """The field of these rows, outermost first; a single groove or ring goes by its place, from 1."""
        left = list(keys)
        path = tuple(Rows(s.name, left.pop(0)) if isinstance(s, Rows) and left else s for s in self.path)
        return replace(self, path=path)

    def under(self, part: "Field[Holder | None]") -> "Field[T]":
        """The field of a record that stands at several places, at this one."""
        return replace(self, path=(*part.path, part.name))

    @property
    def row(self) -> int | None:
        """Which row of its list it belongs to; None where it stands in no list, or that is not said yet."""
        last = self.path[-1] if self.path else None
        return last.key if isinstance(last, Rows) else None

    @property
    def title(self) -> str:
        """Label and unit, as heads of tables and axes have it."""
        return f"{self.label}, {self.unit}" if self.unit else self.label

    @property
    def head(self) -> str:
        """The same over a narrow column."""
        return f"{self.short or self.label}, {self.unit}" if self.unit else self.short or self.label

    @property
    def is_number(self) -> bool:
        """Whether it is typed as a number, within bounds; the place of a groove is not."""
        return self.kind in (int, float) and self.low > -inf

    @property
    def is_whole(self) -> bool:
        return self.kind is int

    @property
    def options(self) -> tuple[T, ...]:
        """What may be chosen, in the order offered; nothing for a number."""
        return tuple(self.kind) if issubclass(self.kind, Enum) else ()

    def option_text(self, option: T) -> str:
        """An option as a list offers it."""
        text = self.option_words[self.options.index(option)] if self.option_words else str(option)
        return f"{text[0].upper()}{text[1:]}"

    def text(self, value: float) -> str:
        """The number with the field's decimals, without its unit; two figures where it is too small for them."""
        text = fixed(value, self.decimals) if abs(value) < HUGE else significant(value, 4)
        small = 0.0 < abs(value) < 10.0 ** (1 - self.decimals)
        return significant(value, 2) if small and abs(round(value, self.decimals) - value) > OFF * abs(value) else text

    def with_unit(self, value: float) -> str:
        return f"{self.text(value)} {self.unit}".strip()

    def told(self, value: float | None) -> str:
        """The number with its unit, or what it means that there is none."""
        return (self.empty or NOT_GIVEN) if value is None else self.with_unit(value)

    def step_of(self, fine: bool = False) -> float:
        """One step; with `fine` a tenth of it, but a count has no tenths."""
        return self.step / 10.0 if fine and not self.is_whole else self.step

    def snapped(self, value: float, fine: bool = False) -> float:
        """The nearest multiple of the step (a tenth of it with `fine`), so that files hold what was read."""
        step = self.step_of(fine)
        return round(round(value / step) * step, self.decimals + (1 if fine else 0))

    def nearest(self, value: float, fine: bool = False) -> float:
        """The nearest value on a step and within the bounds: where a drag or an arrow key comes to."""
        return min(max(self.snapped(value, fine), self.low), self.high)

    def objection(self, value: float) -> str | None:
        """Why the number cannot be worked with, as one sentence, or None."""
        if not isfinite(value):
            return f"{self.label} must be a number."
        if not self.low <= value <= self.high:
            span = f"{self.text(self.low)} and {self.with_unit(self.high)}"
            return f"{self.label} is {self.with_unit(value)}, but must lie between {span}."
        if self.is_whole and value != int(value):
            return f"{self.label} is {value:g}, but must be a whole number."
        return None

    def _as_kept(self, value: T) -> object:
        """As the record holds it: 18.0 typed for a count is 18, 600 for a speed is 600.0."""
        if not isinstance(value, (int, float)) or self.kind not in (int, float):
            return value
        if self.is_whole and value != int(value):
            raise ValueError(f"{self.label} is {value:g}, but must be a whole number.")
        return self.kind(value)

    def _steps_from(self, holder: Record) -> tuple[Step, ...]:
        steps = holder.PLACE.steps
        way = self.path[: len(steps)]
        if way != steps and [_name(s) for s in way] != [_name(s) for s in steps]:
            raise TypeError(f"{self.label} does not stand in a {type(holder).__name__}.")
        return self.path[len(steps) :]


NumberField: TypeAlias = Field[float] | Field[int] | Field[float | None] | Field[int | None]


def _put(holder: Record, steps: tuple[Step, ...], name: str, value: object) -> Record:
    if not steps:
        return holder.having(name, value)
    step, rest = steps[0], steps[1:]
    if isinstance(step, Rows):
        row = holder.row(step.name, _key(step))
        changed = _put(row, rest, name, value)
        return holder if changed is row else holder.having_row(step.name, _key(step), changed)
    held: Record = getattr(holder, step)
    changed = _put(held, rest, name, value)
    return holder if changed is held else holder.having(step, changed)


def _key(step: Rows) -> int:
    if step.key is None:
        raise TypeError(f"Which of the {step.name} is meant has to be said first, with at().")
    return step.key


def _name(step: Step) -> str:
    return step.name if isinstance(step, Rows) else step


def number(
    label: str,
    unit: str,
    low: float,
    high: float,
    step: float,
    decimals: int,
    help: str,
    *,
    short: str = "",
    empty: str = BY_RULE,
    undo: str = "",
) -> msgspec.Meta:
    """The annotation that makes a member a number. `empty` is of one that may be None, `undo` names its undo step."""
    spec: Field[float] = Field(
        "", label, unit, float(low), float(high), step, decimals, help, short, empty, undo_words=undo
    )
    shown = {"x-unit": unit, "x-lowest": spec.low, "x-highest": spec.high, "x-step": step, "x-decimals": decimals}
    return _meta(spec, shown if unit else {k: v for k, v in shown.items() if k != "x-unit"})


def member(label: str, help: str, *, options: tuple[str, ...] = (), undo: str = "") -> msgspec.Meta:
    """The annotation of any other member: a choice, a tick, a text, a list, or a record that is taken as a whole."""
    spec: Field[object] = Field("", label, help=help, option_words=options, undo_words=undo)
    return _meta(spec, {})


def _meta(spec: Field[T], shown: dict[str, object]) -> msgspec.Meta:
    return msgspec.Meta(title=spec.label, description=spec.help, extra_json_schema=shown, extra={"field": spec})


def required(of: type[Record], name: str, kind: type[T]) -> Field[T]:
    """The field of a member that always has a value. Raises TypeError where the member is of another type."""
    return cast("Field[T]", _declared(of, name, kind, False))


def optional(of: type[Record], name: str, kind: type[T]) -> Field[T | None]:
    """The field of a member that may be None."""
    return cast("Field[T | None]", _declared(of, name, kind, True))


def _declared(of: type[Record], name: str, kind: type, may_be_none: bool) -> Field[object]:
    found = members_of(of)[name]
    if found.kind is not kind or found.may_be_none is not may_be_none:
        raise TypeError(f"{of.__name__}.{name} is not declared so.")
    return found


@cache
def members_of(of: type[Record]) -> dict[str, Field[object]]:
    """All Fields of a kind of record, by member name, in the order they are declared."""
    found: dict[str, Field[object]] = {}
    for name, hint in get_type_hints(of, include_extras=True).items():
        spec = _spec(hint)
        if spec is None:
            continue
        may_be_none = _may_be_none(hint)
        found[name] = replace(
            spec,
            name=name,
            empty=spec.empty if may_be_none else "",
            undo_words=spec.undo_words or of.PLACE.undo.format(spec.label.lower()),
            kind=_kind(hint),
            may_be_none=may_be_none,
            of=of,
            path=of.PLACE.steps,
        )
    return found


@cache
def fields_of(of: type[Record]) -> dict[str, Field[float]]:
    """The numbers among them."""
    return {name: cast("Field[float]", spec) for name, spec in members_of(of).items() if spec.is_number}


def not_given(record: Record) -> tuple[Field[float], ...]:
    """The numbers of the record that nobody gave."""
    return tuple(f for f in fields_of(type(record)).values() if f.empty == NOT_GIVEN and f.get(record) is None)


def objections(record: Record) -> list[tuple[Field[float], float, str]]:
    """Every number of the record that lies outside its bounds: field, value, sentence."""
    found = []
    for name, low, high, whole, spec in _bounds_of(type(record)):
        held = getattr(record, name)
        if held is None or (low <= held <= high and not whole):  # nearly every one, which is soon seen
            continue
        sentence = spec.objection(held)
        if sentence is not None:
            found.append((spec, held, sentence))
    return found


@cache
def _bounds_of(of: type[Record]) -> tuple[tuple[str, float, float, bool, Field[float]], ...]:
    return tuple((name, spec.low, spec.high, spec.is_whole, spec) for name, spec in fields_of(of).items())


def _spec(hint: object) -> Field[object] | None:
    if get_origin(hint) is Annotated:
        for extra in get_args(hint)[1:]:
            if isinstance(extra, msgspec.Meta) and extra.extra and "field" in extra.extra:
                spec = extra.extra["field"]
                return spec if isinstance(spec, Field) else None
    return next((spec for part in get_args(hint) if (spec := _spec(part)) is not None), None)


def _may_be_none(hint: object) -> bool:
    return NoneType in get_args(hint) or any(_may_be_none(part) for part in get_args(hint))


def _kind(hint: object) -> type:
    """The type of the value itself, without its annotation and None."""
    if get_origin(hint) is tuple:
        return tuple
    parts = [hint] if isinstance(hint, type) else [p for p in get_args(hint) if p is not NoneType]
    return parts[0] if isinstance(parts[0], type) else _kind(parts[0])
