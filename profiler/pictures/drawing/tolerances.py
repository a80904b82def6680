"""Tolerances a drawing may ask for: the general ones, and classes for a single diameter. All in mm.

ISO 2768-1:1989, tables 1 and 3: three printed tables agree. ISO 286-1: grades IT6 to IT11, the usual printed table,
which the standard's own formula gives back. ISO 3302-1, fixed dimensions of moulded rubber: from memory, not yet
checked against the standard, and said so on the sheet; the class named there is what counts.
"""

from dataclasses import dataclass

Step = tuple[float, float, float]  # over, up to and including, +- mm

SIZES = (0.5, 3.0, 6.0, 30.0, 120.0, 400.0, 1000.0, 2000.0, 4000.0)
_LENGTHS = {
    "f": (0.05, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5),
    "m": (0.1, 0.1, 0.2, 0.3, 0.5, 0.8, 1.2, 2.0),
    "c": (0.2, 0.3, 0.5, 0.8, 1.2, 2.0, 3.0, 4.0),
}
_ANGLES = {
    "f": "±1° up to 10 mm of the shorter leg, ±30' to 50, ±20' to 120, ±10' to 400, ±5' over",
    "m": "±1° up to 10 mm of the shorter leg, ±30' to 50, ±20' to 120, ±10' to 400, ±5' over",
    "c": "±1°30' up to 10 mm of the shorter leg, ±1° to 50, ±30' to 120, ±15' to 400, ±10' over",
}
GRADES = ("6", "7", "8", "9", "10", "11")
# over .. up to; micrometres for the grades above
_IT: tuple[tuple[float, tuple[int, ...]], ...] = (
    (3, (6, 10, 14, 25, 40, 60)), (6, (8, 12, 18, 30, 48, 75)), (10, (9, 15, 22, 36, 58, 90)),
    (18, (11, 18, 27, 43, 70, 110)), (30, (13, 21, 33, 52, 84, 130)), (50, (16, 25, 39, 62, 100, 160)),
    (80, (19, 30, 46, 74, 120, 190)), (120, (22, 35, 54, 87, 140, 220)), (180, (25, 40, 63, 100, 160, 250)),
    (250, (29, 46, 72, 115, 185, 290)), (315, (32, 52, 81, 130, 210, 320)), (400, (36, 57, 89, 140, 230, 360)),
    (500, (40, 63, 97, 155, 250, 400)), (630, (44, 70, 110, 175, 280, 440)), (800, (50, 80, 125, 200, 320, 500)),
    (1000, (56, 90, 140, 230, 360, 560)), (1250, (66, 105, 165, 260, 420, 660)),
    (1600, (78, 125, 195, 310, 500, 780)), (2000, (92, 150, 230, 370, 600, 920)),
    (2500, (110, 175, 280, 440, 700, 1100)), (3150, (135, 210, 330, 540, 860, 1350)),
)  # fmt: skip
MOULDED = ("M1", "M2", "M3", "M4")
# up to; +- mm, of a fixed dimension (one that the mould's closing does not change)
_MOULDED: tuple[tuple[float, tuple[float, ...]], ...] = (
    (4.0, (0.08, 0.10, 0.25, 0.50)), (6.3, (0.10, 0.15, 0.25, 0.50)), (10.0, (0.10, 0.20, 0.30, 0.70)),
    (16.0, (0.15, 0.20, 0.40, 0.80)), (25.0, (0.20, 0.25, 0.50, 1.00)), (40.0, (0.20, 0.35, 0.60, 1.30)),
    (63.0, (0.25, 0.40, 0.80, 1.60)), (100.0, (0.35, 0.50, 1.00, 2.00)), (160.0, (0.40, 0.70, 1.30, 2.50)),
)  # fmt: skip
_MOULDED_SHARES = (0.003, 0.005, 0.008, 0.015)  # of a larger one
UNCHECKED = "values as this program has them, to be checked against the standard"

GENERAL = (*(f"ISO 2768-1 {c}" for c in "mfc"), *(f"ISO 3302-1 {c}" for c in MOULDED))
HOLES = (*(f"H{g}" for g in GRADES), *MOULDED)
SHAFTS = (*(f"h{g}" for g in GRADES), *MOULDED)


@dataclass(frozen=True, slots=True)
class Tolerances:
    """What was chosen: the general tolerance, and a class for hub hole, outside, water holes; "" leaves the general."""

    general: str = GENERAL[0]
    hub: str = ""
    outside: str = ""
    holes: str = ""


def general_steps(name: str) -> tuple[Step, ...]:
    """Steps of nominal size of a general tolerance; beyond the last there is none."""
    letter = name.rpartition(" ")[2]
    if letter in MOULDED:
        k = MOULDED.index(letter)
        lows = (0.0, *(high for high, _ in _MOULDED))
        return tuple((low, high, row[k]) for low, (high, row) in zip(lows, _MOULDED, strict=False))
    values = _LENGTHS[letter]
    return tuple(zip(SIZES, SIZES[1:], values, strict=False))


def general_words(name: str, largest: float) -> str:
    """The general tolerance as a note, as far as a part so large needs it."""
    letter = name.rpartition(" ")[2]
    listed = [f"{low:g} to {high:g} ±{value:g}" for low, high, value in _joined(general_steps(name)) if low < largest]
    if letter in MOULDED:
        share = 100.0 * _MOULDED_SHARES[MOULDED.index(letter)]
        beyond = f"over 160 ±{share:g} %"
        return f"General tolerances {name}, fixed dimensions, mm: {', '.join([*listed, beyond])} ({UNCHECKED})."
    end = general_steps(name)[-1][1]
    if largest > end:
        listed.append(f"over {end:g} NONE: TO BE AGREED")
    return f"General tolerances {name}, mm: {', '.join(listed)}; angles {_ANGLES[letter]}."


def deviations(grade: str, size: float) -> tuple[float, float] | None:
    """Upper and lower deviation of a diameter in a class; None where the class has none for this size."""
    if grade in MOULDED:
        reach = _moulded(grade, size)
        return reach, -reach
    row = next((row for high, row in _IT if size <= high), None)
    if row is None:
        return None
    wide = row[GRADES.index(grade[1:])] * 1e-3
    return (wide, 0.0) if grade[0] == "H" else (0.0, -wide)


def _moulded(grade: str, size: float) -> float:
    k = MOULDED.index(grade)
    return next((row[k] for high, row in _MOULDED if size <= high), _MOULDED_SHARES[k] * size)


def _joined(steps: tuple[Step, ...]) -> list[Step]:
    """Steps with the same tolerance as one."""
    found: list[Step] = []
    for low, high, value in steps:
        if found and found[-1][2] == value:
            low = found.pop()[0]
        found.append((low, high, value))
    return found
