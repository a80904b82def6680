"""Sieve openings of ISO 3310-1 and ASTM E11, and which of them an entered number means.

Old records write 74 for 75 and 841 for 850; such numbers match by tolerance and are kept as entered.
"""

R40_3 = (
    2000.0, 1700.0, 1400.0, 1180.0, 1000.0, 850.0, 710.0, 600.0, 500.0, 425.0, 355.0, 300.0, 250.0, 212.0, 180.0,
    150.0, 125.0, 106.0, 90.0, 75.0, 63.0, 53.0, 45.0, 38.0, 32.0, 25.0, 20.0,
)  # fmt: skip
"""um; steps of the fourth root of 2, the finest ones from ASTM E11."""

_TOLERANCE = 0.03  # 37 for 38 is 2.6 per cent; neighbours in the series are 19 apart


def nominal_um(entered_um: float) -> float | None:
    """The standard opening meant by an entered one, None if there is none near."""
    nearest = min(R40_3, key=lambda opening: abs(opening - entered_um))
    return nearest if abs(nearest - entered_um) <= _TOLERANCE * nearest else None


def same_opening(first_um: float, second_um: float) -> bool:
    """Whether two entered openings mean the same sieve."""
    if first_um == second_um:
        return True
    nominal = nominal_um(first_um)
    return nominal is not None and nominal == nominal_um(second_um)
