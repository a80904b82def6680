"""The columns of a ledger: what each is called, in which units it comes, how it is read from a run and put into one.

Ledger, import and export are filters of this one table. Adding a column is one line. Not here: which heading means
which column (headings), tables (tables, reading).
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from msgspec.structs import replace

from profiler.numbers import moment_of, number_of, numbers_of, plainly, yes_or_no
from profiler.study.records.fields import fields_of, members_of
from profiler.study.records.trial import Run, SampledStream

Show = Callable[[Run], str]
Take = Callable[[Run, str, float], Run]

_OUNCE_G = 31.1034768  # troy: 480 grains of 64.79891 mg (international yard and pound agreement, 1959)
_POUND_KG = 0.45359237  # the same agreement
_SHORT_TON_T = 2000.0 * _POUND_KG / 1000.0
MASS = {"kg": 1.0, "g": 1e-3, "t": 1e3, "lb": _POUND_KG, "mg": 1e-6, "short ton": 1e3 * _SHORT_TON_T}
GRADE = {
    "g/t": 1.0, "ppm": 1.0, "mg/kg": 1.0, "g/kg": 1e3, "mg/g": 1e3, "kg/t": 1e3, "ppb": 1e-3, "%": 1e4,
    "oz/tonne": _OUNCE_G, "oz/short ton": _OUNCE_G / _SHORT_TON_T,
}  # fmt: skip
SHARE = {"%": 1.0, "pct": 1.0, "percent": 1.0, "points": 1.0, "fraction": 100.0}
LENGTH = {"um": 1.0, "micron": 1.0, "mm": 1e3}
METAL = {"g": 1.0, "mg": 1e-3, "kg": 1e3, "oz": _OUNCE_G}
WATER = {"l/min": 1.0, "lpm": 1.0, "l/h": 1.0 / 60.0, "m3/h": 1000.0 / 60.0, "l/s": 60.0}
RATE = {"t/h": 1.0, "tph": 1.0, "kg/h": 1e-3, "kg/min": 0.06}
MINUTES = {"min": 1.0, "h": 60.0, "s": 1.0 / 60.0}
HOURS = {"h": 1.0, "min": 1.0 / 60.0, "d": 24.0, "days": 24.0}
TONNES = {"t": 1.0, "kt": 1e3, "kg": 1e-3, "short ton": _SHORT_TON_T}
SPEED = {"rpm": 1.0, "1/min": 1.0}
STREAMS = ("feed", "concentrate", "tail")
_EXACT = 12  # significant digits kept when a unit is turned: no digit is made up, no rounding noise stays


@dataclass(frozen=True, slots=True)
class Column:
    """`units` maps a unit's name to its size in the ledger's own unit. `adds`: a further column adds to it."""

    key: str
    label: str
    unit: str
    names: tuple[str, ...]
    units: Mapping[str, float]
    show: Show
    take: Take
    adds: bool = False

    @property
    def heading(self) -> str:
        """What stands over the column: its label with the unit in brackets."""
        return f"{self.label} ({self.unit})" if self.unit else self.label


def _label(key: str) -> str:
    return members_of(Run)[key].label


def _text(key: str, *names: str, adds: bool = False) -> Column:
    def take(run: Run, text: str, factor: float) -> Run:
        return replace(run, **{key: text.strip()})

    return Column(key, _label(key), "", names, {}, lambda run: str(getattr(run, key)), take, adds)


def _number(key: str, units: Mapping[str, float], *names: str) -> Column:
    field = fields_of(Run)[key]

    def show(run: Run) -> str:
        value = getattr(run, key)
        return "" if value is None else plainly(value)

    def take(run: Run, text: str, factor: float) -> Run:
        value = _number_in(text, factor)
        if value is not None and (objection := field.objection(value)) is not None:
            raise ValueError(objection)
        return run.having(key, value)

    return Column(key, field.label, field.unit, names, units, show, take)


def _mass(stream: str, label: str, *names: str) -> Column:
    field = fields_of(SampledStream)["mass_kg"]

    def show(run: Run) -> str:
        value = getattr(run, stream).mass_kg
        return "" if value is None else plainly(value)

    def take(run: Run, text: str, factor: float) -> Run:
        value = _number_in(text, factor)
        if value is not None and (objection := field.objection(value)) is not None:
            raise ValueError(objection.replace(field.label, label, 1))
        return replace(run, **{stream: replace(getattr(run, stream), mass_kg=value)})

    return Column(f"{stream}_kg", label, "kg", names, MASS, show, take)


def _grades(stream: str, label: str, *names: str) -> Column:
    def show(run: Run) -> str:
        return " / ".join(plainly(value) for value in getattr(run, stream).grades_g_t)

    def take(run: Run, text: str, factor: float) -> Run:
        values = tuple(sized(value, factor) for value in numbers_of(text))
        wrong = next((value for value in values if value < 0.0 or (value == 0.0 and stream == "feed")), None)
        if wrong is not None:
            raise ValueError(f"{label} {wrong:g} g/t cannot be: no recovery without metal in the feed.")
        return replace(run, **{stream: replace(getattr(run, stream), grades_g_t=values)})

    return Column(f"{stream}_g_t", label, "g/t", names, GRADE, show, take, adds=True)


def _flag(key: str, *names: str) -> Column:
    """Yes or no; an empty cell is 'not recorded' where the run can say so, else no."""
    unknown = None if key == "cleaned_out" else False

    def show(run: Run) -> str:
        value = getattr(run, key)
        return "" if value is None or value is unknown else ("yes" if value else "no")

    def take(run: Run, text: str, factor: float) -> Run:
        value = yes_or_no(text)
        return replace(run, **{key: unknown if value is None else value})

    return Column(key, _label(key), "", names, {}, show, take)


def _take_order(run: Run, text: str, factor: float) -> Run:
    value = number_of(text)
    if value is not None and value != int(value):
        raise ValueError(f"the order is a whole number, not {value:g}.")
    return replace(run, order=None if value is None else int(value))


def _take_start(run: Run, text: str, factor: float) -> Run:
    if text.strip():
        moment_of(text)
    return replace(run, started=text.strip())


def sized(value: float, factor: float) -> float:
    """A number in another unit, without the noise of the turning."""
    return value if factor == 1.0 else float(f"{value * factor:.{_EXACT}g}")


def _number_in(text: str, factor: float) -> float | None:
    value = number_of(text)
    return None if value is None else sized(value, factor)


_ALL = (
    _text("run", "run id", "run no", "id", "no", "number", "cycle no", "test", "test no", "test id", "run number"),
    _text("design", "bowl", "liner", "treatment", "bowl design", "design name", "profile", "variant", "insert"),
    _text("block", "pair", "lot", "pair id", "pair no", "block id", "block no", "batch", "feed batch"),
    Column("order", _label("order"), "", ("order in block", "order in pair", "position"), {},
           lambda run: "" if run.order is None else str(run.order), _take_order),
    Column("started", _label("started"), "",
           ("start", "date", "start time", "time", "start date", "run date", "date time"), {},
           lambda run: run.started, _take_start),
    _text("installation", "mounting", "mounting no", "installation no"),
    _text("machine", "unit"),
    _number("recovery_pct", SHARE, "rec", "recovery", "r", "gravity recovery"),
    _number("feed_grade_g_t", GRADE, "feed", "feed grade", "head", "head grade", "independent feed grade"),
    _mass("feed", "Feed mass", "feed", "feed mass", "dry feed mass", "f mass"),
    _grades("feed", "Feed assay", "feed assay", "feed sample", "f"),
    _grades("concentrate", "Concentrate assay", "concentrate", "conc", "con", "c", "concentrate grade", "conc grade",
            "con grade", "concentrate assay", "conc assay"),
    _mass("concentrate", "Concentrate mass", "concentrate", "conc", "con", "concentrate mass", "conc mass", "con mass"),
    _grades("tail", "Tail assay", "tail", "tails", "tailings", "t", "tail grade", "tails grade", "tail assay"),
    _mass("tail", "Tail mass", "tail", "tails", "tailings", "tail mass", "tails mass"),
    _grades("cleaner_concentrate", "Cleaner concentrate assay", "cleaner conc", "cleaner concentrate",
            "cleaner conc grade", "cleaner conc assay", "table conc", "table conc grade"),
    _mass("cleaner_concentrate", "Cleaner concentrate mass", "cleaner conc", "cleaner concentrate",
          "cleaner conc mass", "table conc", "table conc mass"),
    _grades("cleaner_tail", "Cleaner tail assay", "cleaner tail", "cleaner tail grade", "cleaner tail assay",
            "table tail", "table tail grade"),
    _mass("cleaner_tail", "Cleaner tail mass", "cleaner tail", "cleaner tail mass", "table tail", "table tail mass"),
    _number("feed_f80_um", LENGTH, "f80", "feed f80"),
    _number("feed_metal_g", METAL, "metal fed", "gold fed", "feed metal"),
    _number("speed_rpm", SPEED, "speed"),
    _number("water_l_min", WATER, "water", "fluidising water", "fluidizing water"),
    _number("feed_t_h", RATE, "feed", "feed rate", "dry feed", "throughput"),
    _number("solids_pct", SHARE, "solids", "solids by mass", "% solids"),
    _number("cycle_min", MINUTES, "cycle", "cycle time", "duration"),
    _number("mass_pull_pct", SHARE, "mass pull", "pull", "yield"),
    _number("wear_h", HOURS, "liner age", "wear", "hours on liner", "liner hours"),
    _text("serial", "bowl serial", "serial no", "casting", "casting no", "bowl no"),
    _number("bowl_t", TONNES, "bowl tonnes", "tonnes on bowl", "liner tonnes", "tonnes treated"),
    _text("removed_because", "removed because", "reason for removal", "bowl removed because"),
    _number("since_change_h", HOURS, "since change", "hours since change"),
    _flag("cleaned_out", "cleaned", "clean out", "clean"),
    _number("downstream_g_t", GRADE, "downstream", "downstream grade", "overflow", "overflow grade"),
    _number("gold_output_g", METAL, "gold output", "gold"),
    _flag("excluded", "exclude", "left out"),
    _text("exclusion_reason", "exclusion reason", "reason for exclusion"),
    _text("remarks", "remark", "notes", "note", "comment", "comments", "observations", adds=True),
)  # fmt: skip

COLUMNS: dict[str, Column] = {column.key: column for column in _ALL}
