"""Sieve openings against the ASTM E11 and ISO 3310-1 tables of the open library `fluids`."""

import pytest
from fluids import particle_size_distribution as tables

from profiler.statistics.sampling.sieves import R40_3, nominal_um, same_opening


def test_every_opening_stands_in_the_american_table() -> None:
    openings = {round(sieve.opening * 1e6, 6) for sieve in tables.ASTM_E11_sieve_list}
    assert set(R40_3) <= openings


def test_every_opening_of_the_coarser_international_series_is_known() -> None:
    openings = [round(sieve.opening * 1e6, 6) for sieve in tables.ISO_3310_1_R20_3]
    for opening in openings:
        assert opening > 2000.0 or nominal_um(opening) == opening


@pytest.mark.parametrize(
    ("number", "opening"),
    [(10, 2000), (20, 850), (40, 425), (100, 150), (140, 106), (200, 75), (270, 53), (400, 38), (635, 20)],
)
def test_mesh_numbers_of_the_american_series(number: int, opening: float) -> None:
    mesh = next(sieve for sieve in tables.ASTM_E11_sieve_list if sieve.old_designation == f"No. {number}")
    assert round(mesh.opening * 1e6, 6) == opening
    assert opening in R40_3


@pytest.mark.parametrize(("entered", "nominal"), [(37, 38), (74, 75), (105, 106), (841, 850), (44, 45), (210, 212)])
def test_old_openings_match_the_standard_ones(entered: float, nominal: float) -> None:
    assert nominal_um(entered) == nominal
    assert same_opening(entered, nominal)


def test_an_odd_opening_matches_only_itself() -> None:
    assert nominal_um(68.0) is None
    assert same_opening(68.0, 68.0)
    assert not same_opening(68.0, 63.0)
