"""The answer of `check` for a person: findings worst first, then grooves, wall and body in tables of 100 columns."""

from collections.abc import Iterable, Sequence
from itertools import pairwise
from textwrap import wrap

from profiler.assess import Evaluation
from profiler.assess.findings.finding import severity_counts
from profiler.assess.findings.kinds import Kind, Severity, Topic
from profiler.assess.flow.clay import clay_words
from profiler.assess.flow.sizes import size_words
from profiler.assess.quantities.reading import DATUM
from profiler.assess.quantities.spin_quantities import CAUTION
from profiler.assess.quantities.table import quantity
from profiler.numbers import NOTHING, fixed, significant
from profiler.output.blocks.in_unit import table_in
from profiler.output.terminal.check_json import Check, FindingRow, GrooveRow, WallRow, check_of
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.study import Duty
from profiler.study.records.duty import D50, TURNED_MOST

WIDTH = 100
PARTS_OF_WALL = 10  # the table shows the ends of so many equal parts, and both sides of every corner
RATIO = "Overturn ratio: fall over the mouth / fall of the film's own slope there; strong from 2."
RESTS_ON = "Screening figures: they rank grooves and duties; no recovery follows from them."

_GROOVE_HEADS = ("groove", "height", "radius", "state", "overfall", "buried", "overturn ratio", "power")
_GROOVE_UNITS = ("", "mm", "mm", "", "mm", "mm", "", "W")
_CATCH_HEADS = (
    "groove", "holes", "water", "velocity ratio (low to high)", "target kept", "gangue washed", "capacity",
)  # fmt: skip
_CATCH_UNITS = ("", "", "L/min", "", "from µm", "up to µm", "L")
_WALL_HEADS = ("height", "radius", "wall", "repose (low to high)", "margin", "slope", "buried", "held at", "state")
_WALL_UNITS = ("mm", "mm", "°", "°", "°", "", "mm", "mm", "")


def check_text(e: Evaluation, lengths: LengthUnit = MILLIMETRES) -> str:
    """Lines of at most 100 columns, the last one ended too; in inches a sentence's line may be some letters longer."""
    check, unit = check_of(e), lengths.keeping(e.design.name, e.machine.name, e.duty.name)
    blocks = [_head(check, e.duty), _cautions(e), _rotor(check), _findings(check)]
    if check.grooves:
        blocks.append([*_table(_GROOVE_HEADS, _GROOVE_UNITS, (_groove_cells(g) for g in check.grooves), unit), RATIO])
    if check.wall:
        blocks.append(_table(_WALL_HEADS, _WALL_UNITS, (_wall_cells(w) for w in _shown(check.wall)), unit))
    if check.grooves:
        blocks.append(
            _table(_CATCH_HEADS, _CATCH_UNITS, (_catch_cells(g) for g in check.grooves), unit) + _water(check)
        )
    blocks.append(_body(check))
    return unit.told("\n\n".join("\n".join(block) for block in blocks if block) + "\n")


def _head(check: Check, duty: Duty) -> list[str]:
    running = ", ".join(
        size_words(duty) if field is D50 and duty.size_classes else field.with_unit(field.get(duty))
        for field in TURNED_MOST
    )
    found = severity_counts(f.severity for f in check.findings)
    return _wrapped(
        f"Design: {check.design}",
        f"Duty: {check.duty}: {running}",
        *([_fines(check)] if duty.size_classes else []),
        f"Machine: {check.machine}",
        f"Slurry model: {check.slurry_model}",
        clay_words(duty),
        DATUM,
        f"Findings: {found}",
    )


def _fines(check: Check) -> str:
    f = check.feed
    return f"Sizes: d80 {_text(f.d80_um, 0)} µm; {_text(f.fine_pct, 1)} % of the solids, finer than " + (
        f"{_text(f.liquid_um, 0)} µm, count as liquid"
    )


def _findings(check: Check) -> list[str]:
    """Worst first, safety before others, repeated notes as one; the standing caution stands above already."""
    safety = {kind.code for kind in Kind if kind.topic is Topic.SAFETY}
    order = {severity.value: rank for rank, severity in enumerate(Severity)}
    told = [f for f in check.findings if f.code != Kind.SPINNING_CAUTION.code]
    told.sort(key=lambda f: (order[f.severity], f.code not in safety))
    notes: dict[str, list[str]] = {}
    for finding in (f for f in told if f.severity == Severity.NOTE):
        notes.setdefault(finding.code, []).append(finding.text)
    once = [f for f in told if f.severity != Severity.NOTE or f.text == notes[f.code][0]]
    return [
        part for f in once for part in _finding(f, " ".join(notes[f.code] if f.severity == Severity.NOTE else [f.text]))
    ]


def _cautions(e: Evaluation) -> list[str]:
    """Safety comes first: what spins and presses, before any figure of it."""
    return _wrapped(*(f.text for f in e.findings if f.kind is Kind.SPINNING_CAUTION))


def _finding(finding: FindingRow, text: str) -> list[str]:
    remedy = f" Remedy: {finding.remedy}." if finding.remedy else ""
    return wrap(text + remedy, WIDTH, initial_indent=f"{finding.severity:<7}", subsequent_indent=" " * 7)


def _groove_cells(g: GrooveRow) -> tuple[str, ...]:
    numbers = (_text(g.overfall_mm, 2), _text(g.buried_mm, 2), _ratio(g.overturn_ratio), _text(g.overturn_power_w, 1))
    return (str(g.number), _text(g.height_mm, 1), _text(g.radius_mm, 1), g.state or NOTHING, *numbers)


def _ratio(value: float | None) -> str:
    return NOTHING if value is None else quantity("groove_ratio").number(value)


def _catch_cells(g: GrooveRow) -> tuple[str, ...]:
    holes = NOTHING if g.hole_count is None else f"{g.hole_count} × {_text(g.hole_mm, 2)} mm"
    ratio = f"{_text(g.velocity_ratio, 2)} ({_text(g.velocity_ratio_low, 2)} to {_text(g.velocity_ratio_high, 2)})"
    kept, washed = (
        NOTHING if low is None else f"{_text(low, 0)} to {_text(high, 0)}"
        for low, high in ((g.kept_um_low, g.kept_um_high), (g.washed_um_low, g.washed_um_high))
    )
    band = NOTHING if g.velocity_ratio is None else ratio
    return (str(g.number), holes, _text(g.water_l_min, 2), band, kept, washed, _text(g.volume_l, 3))


def _water(check: Check) -> list[str]:
    w = check.water
    if w is None:
        return []
    if w.jacket_kpa is None:
        how = "no hole plan is given: it is taken as spread evenly over the grooves"
    else:
        level = "full" if w.free_surface_mm is None else f"part full, its water at R {_text(w.free_surface_mm, 1)} mm"
        how = f"{_text(w.jacket_kpa, 1)} kPa at the jacket inlet; jacket {level}; dry rings: {w.dry_rings}"
    return _wrapped(
        f"Water supplied: {_text(w.total_l_min, 1)} L/min; {how}.",
        f"  {RESTS_ON}",
    )


def _wall_cells(w: WallRow) -> tuple[str, ...]:
    band = f"{_text(w.repose_deg, 1)} ({_text(w.repose_low_deg, 1)} to {_text(w.repose_high_deg, 1)})"
    place = (_text(w.height_mm, 1), _text(w.radius_mm, 1), _text(w.wall_angle_deg, 1))
    depth = (_text(w.buried_mm, 2), _text(w.held_at_mm, 1))
    return (*place, NOTHING if w.repose_deg is None else band, _text(w.margin_deg, 1), w.slope or NOTHING, *depth,
            w.state or NOTHING)  # fmt: skip


def _shown(wall: Sequence[WallRow]) -> list[WallRow]:
    tall = wall[-1].height_mm
    heights = [w.height_mm for w in wall]
    corners = {low for low, high in pairwise(heights) if low == high}

    def chosen(height: float) -> bool:
        share = PARTS_OF_WALL * height / tall
        return height in corners or abs(share - round(share)) < 1e-6

    return [w for w in wall if chosen(w.height_mm)]


def _body(check: Check) -> list[str]:
    if check.body is None:
        return []
    b = check.body
    return _wrapped(
        f"Body: section {fixed(b.section_area_mm2, 0)} mm², outline {fixed(b.section_length_mm, 1)} mm, volume "
        f"{fixed(b.volume_l, 3)} L,",
        f"  mass {fixed(b.mass_kg, 2)} kg, polar inertia {fixed(b.inertia_kg_m2, 4)} kg m²; grooves cut, water holes "
        "left out.",
    )


def _rotor(check: Check) -> list[str]:
    r = check.rotor
    if r is None:
        return []

    def told(name: str, value: float | None, decimals: int, unit: str = "") -> str:
        if value is None:
            return "not worked out"  # nothing is no least and no most
        return f"{r.bounds.get(name, '')} {_never_nothing(value, decimals)} {unit}".strip()

    return _wrapped(
        f"Rotating assembly: mass {told('mass_kg', r.mass_kg, 2, 'kg')}, polar inertia "
        f"{told('inertia_kg_m2', r.inertia_kg_m2, 4, 'kg m²')}, energy {told('energy_kj', r.energy_kj, 2, 'kJ')}, "
        f"rim speed {told('rim_speed_m_s', r.rim_speed_m_s, 1, 'm/s')}, feed power {_text(r.feed_power_kw, 3)} kW, "
        f"permitted unbalance "
        f"{told('unbalance_g_mm', r.unbalance_g_mm, 0, 'g mm')}, end thrust {told('thrust_kn', r.thrust_kn, 2, 'kN')}; "
        f"shell: hoop stress {told('hoop_mpa', r.hoop_mpa, 2, 'MPa')}, strength factor "
        f"{told('strength_factor', r.strength_factor, 1)}. {CAUTION}",
        "  Figures marked at least or at most leave out what is not given.",
    )


def _wrapped(*lines: str) -> list[str]:
    return [part for line in lines for part in wrap(line, WIDTH, subsequent_indent="  ")]


def _table(heads: Sequence[str], units: Sequence[str], rows: Iterable[Sequence[str]], unit: LengthUnit) -> list[str]:
    shown, found = table_in(units, list(rows), unit)
    lines = [heads, shown, *found]
    widths = [max(len(line[k]) for line in lines) for k in range(len(heads))]
    return ["  ".join(cell.rjust(width) for cell, width in zip(line, widths, strict=True)).rstrip() for line in lines]


def _never_nothing(value: float, decimals: int) -> str:
    """With so many decimals; a small bowl's figure that these would round to 0 with two figures of its own.

    >>> _never_nothing(0.00041, 2), _never_nothing(92.531, 2), _never_nothing(0.0, 2)
    ('0.00041', '92.53', '0.00')
    """
    return significant(value, 2) if 0.0 < abs(value) < 0.5 * 10.0**-decimals else fixed(value, decimals)


def _text(value: float | None, decimals: int) -> str:
    return NOTHING if value is None else fixed(value, decimals)
