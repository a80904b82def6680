"""What a study says otherwise than an earlier revision of it: what was decided, what comes of it, what was found.

Every number of design, machine and duty that differs, by its field; then the figures that follow; then findings that
are new or gone. Rows of knots, seat points and single grooves are told apart by their place.
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

import numpy as np

from profiler.assess import Evaluation, evaluate
from profiler.assess.quantities.quantity import Quantity, Scope
from profiler.assess.quantities.table import of_scope
from profiler.numbers import NOTHING
from profiler.study import Study, fields_of, read_study
from profiler.study.records.fields import Field, members_of
from profiler.study.records.record import Record

OF_SHAPE = ("section_area_mm2", "section_length_mm", "body_volume_l", "mass_kg")


@dataclass(frozen=True, slots=True)
class Change:
    """One thing: where it stands, as it was, as it is."""

    what: str
    before: str
    now: str


@dataclass(frozen=True, slots=True)
class Changes:
    """Since a file of that name."""

    file: str
    dimensions: tuple[Change, ...]
    duties: tuple[Change, ...]
    figures: tuple[Change, ...]
    findings: tuple[Change, ...]

    @property
    def every(self) -> tuple[Change, ...]:
        return (*self.dimensions, *self.duties, *self.figures, *self.findings)


def changes_since(path: str, e: Evaluation) -> Changes:
    """Against the design and duty of the same name there. Raises BowlFileError, or ValueError where there is none."""
    from pathlib import Path

    earlier = read_study(Path(path))
    name = Path(path).name
    return changes(name, e, _evaluated(name, earlier, e))


def changes(file: str, now: Evaluation, before: Evaluation) -> Changes:
    of_design = [*of_records("", before.design, now.design), *of_records("machine, ", before.machine, now.machine)]
    geometric = [*_figures(before, now, OF_SHAPE, True), *_radii(before, now)]
    return Changes(
        file, (*of_design, *geometric), tuple(of_records("duty, ", before.duty, now.duty)),
        tuple(_figures(before, now, OF_SHAPE, False)), tuple(_findings(before, now)),
    )  # fmt: skip


def _evaluated(name: str, earlier: Study, e: Evaluation) -> Evaluation:
    design = next((d for d in earlier.designs if d.name == e.design.name), None)
    if design is None:
        known = ", ".join(f"“{d.name}”" for d in earlier.designs)
        raise ValueError(f"{name} holds no design “{e.design.name}” to compare with; it holds {known}.")
    duty = next((d for d in earlier.duties if d.name == e.duty.name), earlier.duty)
    return evaluate(design, earlier.machine, duty)


def of_records(where: str, before: Record, now: Record, passed: Collection[str] = ()) -> Iterator[Change]:
    """Member by member, but for those `passed` over; `where` stands before the words of each."""
    fields, members = fields_of(type(now)), members_of(type(now))
    for name in now.__struct_fields__:
        one, other = getattr(before, name), getattr(now, name)
        if one == other or name in passed:
            continue
        label = members[name].label.lower()
        if isinstance(one, Record) and isinstance(other, Record):
            yield from of_records(f"{where}{label}, ", one, other)
        elif _are_rows(one) or _are_rows(other):
            yield from _rows(f"{where}{label}", one, other)
        elif name in fields and not isinstance(other, Record) and not isinstance(one, Record):
            yield Change(f"{where}{label}", _told(fields[name], one), _told(fields[name], other))
        else:
            yield Change(f"{where}{label}", _chosen(members[name], one), _chosen(members[name], other))


def _told(field: object, value: object) -> str:
    return NOTHING if value is None else str(field.with_unit(value))  # type: ignore[attr-defined]


def _chosen(field: Field[object], value: object) -> str:
    """A choice in the words in which a list offers it; anything else plainly."""
    if value not in field.options:
        return _plain(value)
    text = field.option_text(value)
    return f"{text[0].lower()}{text[1:]}"


def _plain(value: object) -> str:
    if value is None or value == ():
        return NOTHING
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Record):
        return str(getattr(value, "name", type(value).__name__))
    if isinstance(value, tuple):
        return ", ".join(map(_plain, value))
    return str(value)


def _are_rows(value: object) -> bool:
    return isinstance(value, tuple) and bool(value) and isinstance(value[0], Record)


def _rows(where: str, before: tuple[Record, ...], now: tuple[Record, ...]) -> Iterator[Change]:
    for k in range(max(len(before), len(now))):
        place = f"{where} {k + 1}"
        if k >= len(before):
            yield Change(place, NOTHING, _row(now[k]))
        elif k >= len(now):
            yield Change(place, _row(before[k]), NOTHING)
        else:
            yield from of_records(f"{place}, ", before[k], now[k])


def _row(row: Record) -> str:
    told = [
        f"{f.label.lower()} {f.with_unit(f.get(row))}" for f in fields_of(type(row)).values() if f.get(row) is not None
    ]
    return ", ".join(told)


def _figures(before: Evaluation, now: Evaluation, keys: tuple[str, ...], among: bool) -> Iterator[Change]:
    """Figures of the whole bowl that are shown otherwise; those of `keys`, or all but those."""
    for q in of_scope(Scope.BOWL):
        one, other = _value(q, before), _value(q, now)
        if (q.key in keys) is among and one != other:
            yield Change(q.label.lower(), one, other)


def _value(q: Quantity, e: Evaluation) -> str:
    values = q.get(e)
    return q.text(float(values[0])) if len(values) else NOTHING


def _radii(before: Evaluation, now: Evaluation) -> Iterator[Change]:
    """Diameters that follow from the curve, and where each groove lies: what a shop measures."""
    one, other = before.shape, now.shape
    if one is None or other is None:
        return
    pairs = [("Ø at the lip", 2.0 * one.lip_radius, 2.0 * other.lip_radius),
             ("Ø at the floor", 2.0 * one.floor_radius, 2.0 * other.floor_radius)]  # fmt: skip
    if len(one.mouths) == len(other.mouths):
        for k, (z0, z1) in enumerate(zip(one.mouths.middle, other.mouths.middle, strict=True), 1):
            pairs.append((f"groove {k}, height of mid-mouth", float(z0), float(z1)))
    for what, a, b in pairs:
        if not np.isclose(a, b, rtol=0.0, atol=5e-3):
            yield Change(what, f"{a:.2f} mm", f"{b:.2f} mm")


def _findings(before: Evaluation, now: Evaluation) -> Iterator[Change]:
    old, new = ({(f.kind, f.text): f for f in e.findings} for e in (before, now))
    for key, f in old.items():
        if key not in new:
            yield Change(f"finding, {f.severity.value}", f.text, "gone")
    for key, f in new.items():
        if key not in old:
            yield Change(f"finding, {f.severity.value}", NOTHING, f.text)
