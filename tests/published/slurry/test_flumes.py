"""The repose model against measured runs of steep laboratory flumes, and against formulas others fitted to such runs.

The runs are the packaged ones that the program shows as its record: facts of an open compilation (file mydata4.xlsx of
the public repository ayushrathore111/bedload-sediment, commit 3f0b9f9), by all marks Smart & Jaeggi (1983) for clear
water and Rickenmann (1990) for clay suspensions; that identification is from memory. Nothing is fitted: slip 0.6 and
friction 0.6 are those of Abrahams A.D. (2003) J. Hydraul. Eng. 129(2) 159-163 (abstract). The counts asked for here
came from an independent calculation of the same model on the same runs.
"""

from itertools import pairwise

import numpy as np
import pytest

from profiler.assess.evidence import words
from profiler.assess.evidence.flumes import FIELD, flume_film, flume_runs, record, tally
from profiler.physics.slurry.carpet import PACKED, SLIP, Slurry
from profiler.physics.slurry.repose import repose
from profiler.units import DEGREE, GRAVITY
from tests.oracles.rotation import angular_speed_for
from tests.oracles.suspension import volume_fraction

RUNS, RECORD = flume_runs(), record()


def test_the_packaged_runs_are_those_of_the_source() -> None:
    """Count, sets and a few rows as they stand there; discharge = width x depth x velocity ties three columns."""
    assert len(RUNS.number) == 114 and np.sum(RUNS.clay) == 45 and len(set(RUNS.number.tolist())) == 114
    row = {int(n): k for k, n in enumerate(RUNS.number)}
    k = row[1344]
    assert (RUNS.grain_size[k], RUNS.slope[k], RUNS.water_velocity[k]) == (pytest.approx(0.0043), 0.20, 2.12)
    assert RUNS.fraction[k] == pytest.approx(0.2373, abs=1e-4)
    assert RUNS.fraction[row[1392]] == pytest.approx(0.1612, abs=1e-4)
    assert RUNS.carrier_density[row[1317]] == 1246.0
    water = RUNS.flow * (1.0 - RUNS.fraction)
    # the velocity is printed to two decimals, the depth to three digits
    assert water == pytest.approx(RUNS.depth * RUNS.water_velocity, rel=0.012)
    assert set(np.unique(RUNS.slope[RECORD.clear])) == {0.07, 0.10, 0.15, 0.20}


def test_clear_water_runs_lie_where_an_independent_calculation_put_them() -> None:
    found = tally(RECORD, RECORD.clear)
    assert (found.count, found.within, found.in_band) == (55, 54, 50)
    assert found.median == pytest.approx(0.92, abs=0.005)
    ratio = RECORD.ratio[RECORD.clear]
    assert (ratio.min(), ratio.max()) == (pytest.approx(0.69, abs=0.005), pytest.approx(1.13, abs=0.005))


def test_runs_with_more_than_a_twentieth_of_grains_lie_within_a_quarter_and_inside_the_band() -> None:
    thick = RECORD.clear & (RUNS.fraction >= 0.05)
    found = tally(RECORD, thick)
    assert found.count == found.in_band == 42
    assert np.all(np.abs(RECORD.ratio[thick] - 1.0) <= 0.25)


def test_the_depth_of_the_film_is_about_the_measured_one() -> None:
    found = (RECORD.film.depth / RUNS.depth)[RECORD.clear]
    assert (found.min(), found.max()) == (pytest.approx(0.69, abs=0.006), pytest.approx(1.16, abs=0.005))


def test_clay_suspensions_count_as_a_dense_carrier_until_they_are_thick() -> None:
    found = tally(RECORD, RECORD.clay)
    assert (found.count, found.within) == (29, 26)
    assert found.median == pytest.approx(0.93, abs=0.005)
    thick = tally(RECORD, RECORD.thick_clay)  # they need more slope than density explains
    assert thick.median < found.median - 0.1


def test_without_slip_the_same_friction_falls_short_of_every_run() -> None:
    """So that the counts above can fail: the delivered fraction alone is too little weight."""
    clear = RECORD.clear
    for friction in (0.45, 0.60):
        ratio = np.tan(flume_film(RUNS, friction, slip=1.0).slope)[clear] / RUNS.slope[clear]
        assert np.median(ratio) < 0.7 and np.sum(np.abs(ratio - 1.0) <= 0.30) < 28
    ratio = np.tan(flume_film(RUNS, 0.45, slip=1.0).slope)[clear] / RUNS.slope[clear]
    assert (ratio.min(), ratio.max()) == (pytest.approx(0.40, abs=0.012), pytest.approx(0.64, abs=0.012))
    assert np.median(ratio) == pytest.approx(0.51, abs=0.006)  # the former law


def test_what_a_sceptic_says_of_the_record_is_so() -> None:
    """The numbers of the sentences that the help shows under that heading."""
    clear = RECORD.clear
    ratio = np.tan(flume_film(RUNS, 0.95, slip=1.0).slope)[clear] / RUNS.slope[clear]
    assert np.sum(np.abs(ratio - 1.0) <= 0.30) == 53
    predicted, measured = (
        np.polyfit(np.log(RUNS.fraction[clear]), np.log(s[clear]), 1)[0] for s in (RECORD.middle, RUNS.slope)
    )
    assert (predicted, measured) == (pytest.approx(0.67, abs=0.006), pytest.approx(0.54, abs=0.006))
    edges = (0.03, 0.05, 0.10, 0.16, 1.0)
    parts = [clear & (RUNS.fraction >= a) & (RUNS.fraction < b) for a, b in pairwise(edges)]
    medians = [float(np.median(RECORD.ratio[part])) for part in parts]
    assert medians == pytest.approx([0.79, 0.90, 0.94, 1.00], abs=0.006)
    groups = {(float(d), float(s)) for d, s in zip(RUNS.grain_size[clear], RUNS.slope[clear], strict=True)}
    assert len(groups) == 15


def test_the_sentence_that_everything_shows_says_what_the_record_says() -> None:
    clear, found = RECORD.clear, tally(RECORD, RECORD.clear)
    assert f"within 30 % of {found.within} of {found.count} flume runs" in words.UNCALIBRATED
    assert f"{found.within} of {found.count} flume runs within 30 %" in words.UNCALIBRATED_SHORT
    spans = (
        ("2 to 10.5 mm", (2.0, 10.5), 1e3 * RUNS.grain_size),
        ("slope 7 to 20 %", (7.0, 20.0), 100.0 * RUNS.slope),
        ("C 0.03 to 0.24", (0.03, 0.24), np.round(RUNS.fraction, 2)),
    )
    for said, ends, values in spans:
        assert said in words.UNCALIBRATED and (values[clear].min(), values[clear].max()) == pytest.approx(ends)
    for untested in ("untested in a bowl", "at high g", "finer or crushed grains"):
        assert untested in words.UNCALIBRATED
    assert words.UNCALIBRATED.startswith("uncalibrated") and words.UNCALIBRATED_SHORT.startswith("uncalibrated")
    assert "untested in a bowl" in words.UNCALIBRATED_SHORT


# what others fitted to steep flumes


def smart_jaeggi(delivered: np.ndarray, excess: np.ndarray) -> np.ndarray:
    """Slope by q_s = 4 q S^1.6/Delta, grading factor and threshold left out; Smart & Jaeggi (1983), from memory."""
    return (delivered / (1.0 - delivered) * excess / 4.0) ** (1.0 / 1.6)


def rickenmann(delivered: np.ndarray, excess: np.ndarray) -> np.ndarray:
    """Slope by q_b = 12.6 q S^2/Delta^1.6, threshold left out; Rickenmann (1991), seen in open code."""
    return np.sqrt(delivered / (1.0 - delivered) * excess**1.6 / 12.6)


@pytest.mark.parametrize(("formula", "degrees"), [(smart_jaeggi, (7.5, 10.5, 15.5)), (rickenmann, (7.5, 9.7, 13.3))])
def test_the_model_lies_within_the_spread_of_the_steep_flume_formulas(formula, degrees) -> None:
    """At solids of relative density 2.7 and 20, 30, 45 per cent by mass; the formulas' slopes worked by hand.

    Their spread is what the clear-water runs show: measured over fitted slope, least to greatest.
    """
    fractions = volume_fraction(np.array([0.20, 0.30, 0.45]), 2.7, 1.0)
    fitted = formula(fractions, np.full(3, 1.7))
    assert np.degrees(np.arctan(fitted)) == pytest.approx(degrees, abs=0.051)
    clear = RECORD.clear
    spread = RUNS.slope[clear] / formula(RUNS.fraction[clear], RUNS.excess[clear])
    slurry = Slurry(2.7 * 998.2, 150e-6, 998.2, 1.0016e-3)
    speed = angular_speed_for(60.0, 0.15)
    film = repose(0.15, speed, 6.0 / 3600.0, fractions, slurry, 0.60, lag=False)
    assert film.slope / DEGREE == pytest.approx((6.5, 8.9, 12.1), abs=0.051)
    over = np.tan(film.slope) / fitted
    assert np.all((spread.min() <= over) & (over <= spread.max()))


# the fraction in place

PROFILE = [  # slip measured, delivered fraction, fraction in place
    (0.23, 0.0156, 0.065),
    (0.29, 0.0153, 0.051),
    (0.38, 0.0141, 0.037),
]


@pytest.mark.parametrize(("slip", "delivered", "there"), PROFILE)
def test_grains_in_place_are_as_many_as_a_measured_profile_shows(slip: float, delivered: float, there: float) -> None:
    """Revil-Baudard, Chauchat, Hurther & Barraud (2015) J. Fluid Mech., one run as open data (in SedFoam's tutorials).

    Profiles of fraction and velocity over PMMA grains of 3 mm, integrated from three levels called the bed. Which of
    them is right is not known; in place are 2.6 to 4 times the delivered grains whichever it is. The slip, printed to
    two digits, carries a tenth of a per cent by volume.
    """
    slurry = Slurry(1192.0, 3e-3, 1000.0, 1.0e-3)
    film = repose(1e4, np.sqrt(FIELD / 1e4), 0.05 * 2.0 * np.pi * 1e4, delivered, slurry, 0.5, slip=slip, lag=False)
    contact = float(film.contact_fraction) * delivered
    standing = contact * (1.0 / slip - 1.0)
    assert film.in_place_fraction == pytest.approx((delivered + standing) / (1.0 + standing), rel=1e-12)
    all_in_contact = delivered / (delivered + slip * (1.0 - delivered))  # the mass balance alone
    assert all_in_contact == pytest.approx(there, abs=0.001)
    assert delivered < film.in_place_fraction < all_in_contact
    assert 2.5 < all_in_contact / delivered < 4.2


def test_no_more_grains_are_in_place_than_a_bed_packs_to() -> None:
    """Reached from C 0.453 where all grains are in contact to 0.463 where nine in ten are, worked by hand."""
    fraction = np.linspace(0.03, 0.60, 1141)
    coarse = repose(0.2, 60.0, 1e-3, fraction, Slurry(2700.0, 600e-6, 998.2, 1e-3), 0.6)
    assert np.all(coarse.in_place_fraction[fraction <= PACKED] <= PACKED + 1e-12)
    assert np.all(coarse.in_place_fraction >= coarse.delivered_fraction)
    assert np.array_equal(coarse.packed, coarse.in_place_fraction >= PACKED - 1e-12)
    assert np.all(np.diff(coarse.packed.astype(int)) >= 0)
    start = float(fraction[np.argmax(coarse.packed)])
    contact = float(coarse.contact_fraction[np.argmax(coarse.packed)])
    assert 0.453 <= start <= 0.463
    by_hand = PACKED / (PACKED + (1.0 - PACKED) * (1.0 + contact * (1.0 / SLIP - 1.0)))
    assert start == pytest.approx(by_hand, abs=5.1e-4)  # the step of the fractions


# scaling


def test_a_film_scales_with_its_field_exactly() -> None:
    """Field N times, kinematic viscosity and flow per width root N times: the same slope, depth and Froude number.

    So flumes at 1 g say something of films at 60 g; what they do not reach is the grain number. Derived.
    """
    base = {"fraction": 0.2326, "size": 150e-6, "flow": 1.77e-3, "viscosity": 1.0016e-3}
    radius = 1e4

    def film(times: float):
        slurry = Slurry(2695.0, base["size"], 998.2, base["viscosity"] * np.sqrt(times))
        flow = base["flow"] * np.sqrt(times) * 2.0 * np.pi * radius
        return repose(radius, np.sqrt(GRAVITY * times / radius), flow, base["fraction"], slurry, 0.6, lag=False)

    one = film(1.0)
    for times in (10.0, 60.0, 100.0):
        other = film(times)
        assert other.slope == pytest.approx(one.slope, rel=1e-9)
        assert other.depth == pytest.approx(one.depth, rel=1e-9)
        assert other.in_place_fraction == pytest.approx(one.in_place_fraction, rel=1e-9)
