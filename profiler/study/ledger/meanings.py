"""What each heading of a file is taken for, in which unit, by its words and by its cells; doubts become questions.

A bare name of a stream ('feed', 'conc') is a grade, a mass or a rate: what else the file holds may tell, else it is
asked. A mass without a unit is always asked about; of other quantities the ledger's own unit is taken, and said, where
the numbers are of its usual size.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import log
from statistics import median

from profiler.numbers import counted
from profiler.study.ledger.cells import written
from profiler.study.ledger.columns import COLUMNS, GRADE, MASS, METAL, SHARE, STREAMS, Column
from profiler.study.ledger.dates import is_time
from profiler.study.ledger.headings import Meaning, Words, heading_of, meanings_of, unit_of, unknown_unit
from profiler.study.ledger.questions import Choice, Doubt, Question, either, shown
from profiler.study.records.table_reading import TableReading

NOTHING = "nothing"  # what a heading is said to mean that is to be passed over
_USUAL = {  # in the ledger's unit: where a number without a unit may be taken to be in it (common practice, no source)
    "feed_grade_g_t": (0.02, 1000.0),
    "feed_g_t": (0.02, 1000.0),
    "concentrate_g_t": (0.5, 900_000.0),
    "tail_g_t": (0.004, 1000.0),
    "cleaner_concentrate_g_t": (5.0, 1_000_000.0),
    "cleaner_tail_g_t": (0.05, 100_000.0),
    "downstream_g_t": (0.002, 1000.0),
    "feed_f80_um": (20.0, 5000.0),
    "water_l_min": (0.5, 20_000.0),
    "feed_t_h": (0.005, 3000.0),
    "cycle_min": (2.0, 2000.0),
}
_TYPICAL = {
    "feed_kg": 300.0,
    "concentrate_kg": 0.7,
    "tail_kg": 300.0,
    "cleaner_concentrate_kg": 0.05,
    "cleaner_tail_kg": 0.6,
    "feed_metal_g": 5.0,
    "gold_output_g": 5.0,
}


@dataclass(frozen=True, slots=True)
class Match:
    """What a heading is taken for; no column: it is passed over. `trouble` says what is wrong with a known one.

    `unit` is the one the cells are taken to be in, `note` how that was told where the heading does not name it.
    `clock`: the cells are times of day that belong to the dates of another column.
    """

    heading: str
    column: Column | None
    factor: float = 1.0
    trouble: str = ""
    unit: str = ""
    note: str = ""
    clock: bool = False


@dataclass(frozen=True, slots=True)
class Cells:
    """The cells of one column that hold anything, with the file's decimal sign."""

    texts: tuple[str, ...]
    decimal: str

    @property
    def numbers(self) -> tuple[float, ...]:
        found = (written(part) for text in self.texts for part in text.split("/"))
        values = (one.value_if_any(self.decimal) for one in found if one is not None)
        return tuple(value for value in values if value is not None)

    @property
    def middle(self) -> float | None:
        """The median of the numbers that are not zero; None without any."""
        numbers = [abs(n) for n in self.numbers if n]
        return median(numbers) if numbers else None

    @property
    def name_units(self) -> bool:
        """Whether every number has its unit behind it."""
        return bool(self.texts) and all(
            (w := written(text)) is not None and w.unit not in ("", "%") for text in self.texts
        )


@dataclass(frozen=True, slots=True)
class Understood:
    matches: tuple[Match, ...]
    questions: tuple[Question, ...]


def understood(
    headings: Sequence[str], cells: Sequence[Cells], reading: TableReading, words: Words | None = None
) -> Understood:
    """What each heading is taken for. `cells` go with the headings."""
    return _Matching(headings, cells, reading, words or {}).done()


def meaning_named(text: str) -> Column | None:
    """The column that an answer names: by its key, its label or any of its names. Raises ValueError for none."""
    if text.strip().lower() in (NOTHING, ""):
        return None
    key = "_".join(text.strip().lower().split())
    found = COLUMNS.get(key) or next((m.column for m in meanings_of(text)), None)
    if found is None:
        labels = ", ".join(column.label.lower() for column in COLUMNS.values())
        raise ValueError(f"“{text.strip()}” is not a column of the ledger: {labels}; or “{NOTHING}”, to pass it over.")
    return found


class _Matching:
    def __init__(
        self, headings: Sequence[str], cells: Sequence[Cells], reading: TableReading, words: Mapping[str, str]
    ) -> None:
        self.headings, self.cells, self.reading = headings, cells, reading
        self.meant = [meanings_of(text, words) for text in headings]
        self.matches: list[Match] = [Match(text, None) for text in headings]
        self.questions: list[Question] = []

    def done(self) -> Understood:
        open_ones = []
        for k, text in enumerate(self.headings):
            answer = self.reading.of(text) if text else None
            if answer is not None and (not answer.meaning or answer.meaning in COLUMNS):
                self._answered(k, answer.meaning, answer.unit)
            elif len(self.meant[k]) == 1:
                self._settle(k, self.meant[k][0])
            elif self.meant[k]:
                open_ones.append(k)
            elif text:
                self.matches[k] = Match(text, None, trouble=unknown_unit(text) if self.cells[k].texts else "")
        for k in open_ones:
            self._choose(k)
        self._part_dates_and_times()
        self._refuse_second_columns()
        self._give_the_balance_its_feed()
        return Understood(tuple(self.matches), tuple(self.questions))

    # one heading

    def _answered(self, k: int, key: str, unit: str) -> None:
        if not key:
            self.matches[k] = Match(self.headings[k], None)
            return
        column = COLUMNS[key]
        own = heading_of(self.headings[k]).unit
        named = next((m.unit for m in self.meant[k] if m.column is column), own if own in column.units else "")
        self._settle(k, Meaning(column, unit_of(unit) if unit_of(unit) in column.units else named))

    def _settle(self, k: int, meant: Meaning) -> None:
        """Take the heading as this column, in its unit or the one that its cells speak for; else ask."""
        column, cells = meant.column, self.cells[k]
        if meant.unit or len(column.units) < 2 or not cells.texts or cells.name_units:
            unit = meant.unit or next(iter(column.units), "")
            note = "units stand in the cells" if cells.name_units and not meant.unit else ""
            if self._is_share_of_stream(k, meant):
                self._ask_share(k, column)
                return
            self.matches[k] = Match(self.headings[k], column, column.units.get(unit, 1.0), unit=unit, note=note)
            return
        units = meant.units or self._units_in_doubt(column, cells)
        own = next(unit for unit, size in column.units.items() if size == 1.0)
        if not units:
            note = f"no unit named: taken as {own}"
            self.matches[k] = Match(self.headings[k], column, 1.0, unit=own, note=note)
            return
        self._ask_unit(k, column, units)

    def _units_in_doubt(self, column: Column, cells: Cells) -> tuple[str, ...]:
        """Units that numbers without one could be in; nothing where they are of the usual size in the ledger's own."""
        middle = cells.middle
        if middle is None:
            return ()
        if column.units is MASS:
            return ("kg", "g", "t", "lb")
        if column.units is METAL:
            return ("g", "mg", "kg", "oz")
        if column.units is SHARE:
            return ("%", "fraction") if max(map(abs, cells.numbers)) <= 1.0 else ()
        low, high = _USUAL.get(column.key, (0.0, float("inf")))
        if low <= middle <= high and not (column.units is GRADE and self._other_grades_differ()):
            return ()
        return tuple(unit for unit in ("g/t", "%", "g/kg", "ppb") if unit in column.units) or tuple(column.units)[:4]

    def _other_grades_differ(self) -> bool:
        """Whether any heading names a grade in a unit that is not grams a tonne."""
        return any(
            m.unit and m.column.units is GRADE and m.column.units[m.unit] != 1.0 for ms in self.meant for m in ms
        )

    def _is_share_of_stream(self, k: int, meant: Meaning) -> bool:
        """'conc %' may be a grade in per cent, or the share of the mass."""
        bare = heading_of(self.headings[k]).name.replace("%", "").strip()
        answered = self.reading.of(self.headings[k]) is not None
        is_bare = any(m.column.units is MASS for m in meanings_of(bare)) and len(meanings_of(bare)) > 1
        return meant.unit == "%" and meant.column.units is GRADE and is_bare and not answered

    # questions

    def _ask_share(self, k: int, column: Column) -> None:
        heading = self.headings[k]
        other = COLUMNS["mass_pull_pct"] if column.key.startswith("concentrate") else None
        choices = [self._choice(k, column, "%")] + ([self._choice(k, other, "%")] if other else []) + [self._passing(k)]
        likely = 1 if other is not None else 0
        self.questions.append(
            Question(Doubt.MEANING, f"“{heading}” may be a grade in per cent, or a share of the mass.", tuple(choices),
                     self._option(k, other or column, "%"), heading, likely)
        )  # fmt: skip
        self.matches[k] = Match(heading, other or column, 1.0 if other else column.units["%"], unit="%", note="asked")

    def _ask_unit(self, k: int, column: Column, units: Sequence[str]) -> None:
        heading = self.headings[k]
        likely = self._likely_unit(column, units, self.cells[k].middle or 1.0)
        named = heading_of(heading).unit
        if column.units is SHARE:
            text = f"All values of “{heading}” lie between 0 and 1: they may be fractions or per cent."
        elif named and named not in column.units:
            text = f"“{heading}”: “{named}” is used for {either(units)}."
        else:
            text = f"“{heading}” names no unit: {either(units)}?"
        choices = tuple(self._choice(k, column, unit) for unit in units)
        self.questions.append(
            Question(Doubt.UNIT, text, choices, self._option(k, column, units[likely]), heading, likely)
        )
        self.matches[k] = Match(heading, column, column.units[units[likely]], unit=units[likely], note="asked")

    def _choose(self, k: int) -> None:
        """One of several columns that bear this name: what else the file holds may leave a single one."""
        heading, cells = self.headings[k], self.cells[k]
        taken = {m.column.key for m in self.matches if m.column is not None}
        left = [m for m in self.meant[k] if m.column.adds or m.column.key not in taken] or list(self.meant[k])
        chosen = left[0] if len(left) == 1 else self._by_context(left, taken, cells)
        if chosen is not None or not cells.texts:
            self._settle(k, chosen or left[0])
            if self.matches[k].column is not None and self.matches[k].note != "asked":
                column, unit = self.matches[k].column, self.matches[k].unit
                self.matches[k] = replace(self.matches[k], note=f"taken as {column.label.lower()}, {unit}")  # type: ignore[union-attr]
            return
        choices = tuple(self._choice(k, m.column, self._unit_for(m.column, cells)) for m in left)
        kinds = either([f"{m.column.label.lower()} ({m.column.unit})" for m in left])
        first = left[0].column
        option = self._option(k, first, self._unit_for(first, cells))
        self.questions.append(
            Question(Doubt.MEANING, f"“{heading}” may be {kinds}.", (*choices, self._passing(k)), option, heading)
        )
        unit = self._unit_for(first, cells)
        self.matches[k] = Match(heading, first, first.units.get(unit, 1.0), unit=unit, note="asked")

    def _by_context(self, left: Sequence[Meaning], taken: set[str], cells: Cells) -> Meaning | None:
        """The grade, where the file speaks of grades and this is the one it lacks; or of recoveries alone."""
        grade = next((m for m in left if m.column.units is GRADE), None)
        middle = cells.middle
        if grade is None or middle is None:
            return None
        low, high = _USUAL.get(grade.column.key, (0.0, float("inf")))
        if not low <= middle <= high:
            return None
        masses = any(m.column.units is MASS for ms in self.meant for m in ms if len(ms) == 1)
        if grade.column.key == "feed_grade_g_t":
            return grade if "recovery_pct" in taken and not masses and middle <= 100.0 else None
        assays = {f"{stream}_g_t" for stream in STREAMS}
        return grade if assays & taken and grade.column.key not in taken else None

    def _choice(self, k: int, column: Column, unit: str) -> Choice:
        label = f"{column.label.lower()}, {unit}" if unit else column.label.lower()
        middle, size = self.cells[k].middle, column.units.get(unit, 1.0)
        follows = "" if middle is None else f"{shown(middle)} becomes {shown(middle * size)} {column.unit}".strip()
        return Choice(label, follows, self.reading.answering(self.headings[k], column.key, unit))

    def _passing(self, k: int) -> Choice:
        return Choice("pass it over", "nothing of it is taken", self.reading.answering(self.headings[k], ""))

    def _option(self, k: int, column: Column, unit: str) -> str:
        meaning = f"{column.label.lower()}, {unit}" if unit else column.label.lower()
        return f'--as "{self.headings[k]}={meaning}"'

    def _unit_for(self, column: Column, cells: Cells) -> str:
        units = self._units_in_doubt(column, cells)
        if not units:
            return next((unit for unit, size in column.units.items() if size == 1.0), "")
        return units[self._likely_unit(column, units, cells.middle or 1.0)]

    def _likely_unit(self, column: Column, units: Sequence[str], middle: float) -> int:
        """The unit in which the numbers are nearest to a usual size."""
        low, high = _USUAL.get(column.key, (1.0, 1.0))
        typical = _TYPICAL.get(column.key, (low * high) ** 0.5)
        if column.units is SHARE:
            return 0 if column.key == "mass_pull_pct" else 1
        far = [abs(log(middle * column.units[unit] / typical)) for unit in units]
        return next(k for k, distance in enumerate(far) if distance <= min(far) + log(3.0))  # the commoner of near ones

    # several headings

    def _part_dates_and_times(self) -> None:
        """Of two columns for the start one holds days and one times of day; times alone say nothing of an order."""
        found = [k for k, m in enumerate(self.matches) if m.column is COLUMNS["started"]]
        clocks = [k for k in found if self.cells[k].texts and all(map(_may_be_time, self.cells[k].texts))]
        for k in clocks:
            if len(found) > len(clocks):
                self.matches[k] = replace(self.matches[k], clock=True, note="time of day, put to the date")
            elif all(map(is_time, self.cells[k].texts)):
                self.matches[k] = Match(self.headings[k], None, note="times of day without a date")
            elif heading_of(self.headings[k]).name == "time":
                self._ask_time(k)

    def _ask_time(self, k: int) -> None:
        heading, column = self.headings[k], COLUMNS["cycle_min"]
        choices = (self._choice(k, column, "min"), self._choice(k, column, "h"), self._passing(k))
        text = f"“{heading}” holds plain numbers: a duration, not a time of day?"
        self.questions.append(Question(Doubt.MEANING, text, choices, self._option(k, column, "min"), heading))
        self.matches[k] = Match(heading, column, 1.0, unit="min", note="asked")

    def _refuse_second_columns(self) -> None:
        first: dict[str, int] = {}
        notes: list[int] = []
        for k, match in enumerate(self.matches):
            if match.column is None or match.clock or not self.cells[k].texts:
                continue
            if match.column.key == "remarks":
                notes.append(k)
            elif not match.column.adds and match.column.key in first:
                self._second(match.column, first[match.column.key], k)
            first.setdefault(match.column.key, k)
        if len(notes) > 1 and not any(self.reading.of(self.headings[k]) for k in notes):
            self._ask_notes(notes)

    def _give_the_balance_its_feed(self) -> None:
        """A feed grade is the balance's own assay where without it no recovery can be worked out."""
        keys = {m.column.key: k for k, m in enumerate(self.matches) if m.column is not None}
        two_product = {"concentrate_g_t", "tail_g_t"} <= set(keys) and "concentrate_kg" not in keys
        over_feed = {"concentrate_g_t", "concentrate_kg", "feed_kg"} <= set(keys) and "tail_g_t" not in keys
        place = keys.get("feed_grade_g_t")
        if place is None or "feed_g_t" in keys or "recovery_pct" in keys or not (two_product or over_feed):
            return
        if self.reading.of(self.headings[place]) is None:
            note = "the recovery needs it, as the balance's own feed assay"
            self.matches[place] = replace(self.matches[place], column=COLUMNS["feed_g_t"], note=note)

    def _second(self, column: Column, one: int, other: int) -> None:
        heading, before = self.headings[other], self.headings[one]
        if self.cells[one].texts == self.cells[other].texts:
            self.matches[other] = Match(heading, None, note=f"the same as “{before}”")
            return
        choices = (
            Choice(f"“{before}”", f"“{heading}” is passed over", self.reading.answering(heading, "")),
            Choice(f"“{heading}”", f"“{before}” is passed over", self.reading.answering(before, "")),
        )
        text = f"“{heading}” is a second column for {column.label.lower()}, beside “{before}”."
        self.questions.append(Question(Doubt.SECOND, text, choices, f'--as "{heading}={NOTHING}"', heading))
        self.matches[other] = Match(heading, None, note="asked")

    def _ask_notes(self, notes: Sequence[int]) -> None:
        names = [f"“{self.headings[k]}”" for k in notes]
        both = self.reading
        for k in notes:
            both = both.answering(self.headings[k], "remarks")
        choices = [Choice("all of them", f"{counted(len(notes), 'note')} a run are put together", both)]
        for k in notes:
            alone = both
            for other in notes:
                if other != k:
                    alone = alone.answering(self.headings[other], "")
            choices.append(Choice(f"“{self.headings[k]}” only", "the others are passed over", alone))
        text = f"{' and '.join(names)} hold notes."
        option = f'--as "{self.headings[notes[-1]]}={NOTHING}"'
        self.questions.append(Question(Doubt.NOTES, text, tuple(choices), option, self.headings[notes[0]], must=False))


def _may_be_time(text: str) -> bool:
    found = written(text)
    value = None if found is None else found.value_if_any(".")
    return is_time(text) or (value is not None and value < 1000.0)
