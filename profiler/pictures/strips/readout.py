"""The read-out: the numbers under the crosshair in fixed columns, as text."""

from dataclasses import dataclass

from profiler.assess.quantities.reading import Reading
from profiler.assess.quantities.table import STATE_WORDS
from profiler.assess.shape.slopes import SLOPE_WORDS
from profiler.numbers import fixed
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit

DASH = "–"
BETWEEN = "land"  # where the height lies in no groove
NO_READING = "Point at a strip to read the wall at that height."


@dataclass(frozen=True, slots=True)
class Column:
    head: str
    sample: str  # the widest text it must hold


COLUMNS = (
    Column("height", "0000.0 mm"),
    Column("radius", "0000.00 mm"),
    Column("acceleration", "000.0 g, film 000.0 g"),
    Column("wall", "−00.00°"),
    Column("repose (low to high)", "00.00° (00.00° to 00.00°)"),
    Column("margin", "+00.00°"),
    Column("slope", "shallower"),
    Column("state", "strong overturn"),
    Column("groove", "0000"),
    Column("bed", "000.0 mm deep, held at 0000 mm"),
)


def readout(reading: Reading | None, lengths: LengthUnit = MILLIMETRES) -> tuple[str, ...]:
    """A text for every column; dashes where there is no number."""
    if reading is None:
        return tuple(DASH for _ in COLUMNS)
    r = reading
    texts = [lengths.text(r.height_mm, 1), lengths.text(r.radius_mm, 2)]
    texts.append(DASH if r.acceleration_g is None else f"{r.acceleration_g:.1f} g, film {r.film_g:.1f} g")
    texts.append(f"{fixed(r.wall_deg, 2)}°")
    texts.append(
        DASH if r.repose_deg is None else "{1}° ({0}° to {2}°)".format(*(fixed(angle, 2) for angle in r.repose_deg))
    )
    texts.append(DASH if r.margin_deg is None else f"{fixed(r.margin_deg, 2, signed=True)}°")
    texts.append(DASH if r.slope is None else SLOPE_WORDS[r.slope])
    texts.append(DASH if r.state is None else STATE_WORDS[r.state])
    texts.append(BETWEEN if r.groove is None else str(r.groove))
    texts.append(_bed(r, lengths))
    return tuple(texts)


def _bed(r: Reading, lengths: LengthUnit) -> str:
    if r.buried_mm is None:
        return DASH
    if r.held_at_mm is None:
        return "exposed"
    return f"{lengths.text(r.buried_mm, 1)} deep, held at {lengths.text(r.held_at_mm, 0)}"
