"""The shipped steels against material cards.

FreeCAD 0.20, an open CAD program, ships cards that name their standard: X5CrNi18-10 and X5CrNiMo17-12-2 (EN 10088),
S355J2G3 (EN 10025). A library of temperature-dependent properties, matprotlib 0.2, gives density and Poisson's ratio
of 304 and 316 after NASA and British Stainless Steel Association tables.
"""

import pytest

from profiler.study import Material
from profiler.study.files.owned_lists import shipped

SHIPPED = {m.name: m for m in shipped(Material)}


@pytest.mark.parametrize(
    ("name", "strength_mpa", "moduli_mpa", "ratios", "densities"),
    [
        ("Stainless steel 1.4301 (304)", 210.0, (193e3, 200e3), (0.29, 0.30), (7800.0, 8030.0)),
        ("Stainless steel 1.4401 (316)", 220.0, (180e3, 200e3), (0.26, 0.30), (7800.0, 8000.0)),
        ("Structural steel S355", 355.0, (210e3, 210e3), (0.30, 0.30), (7800.0, 7900.0)),
    ],
)
def test_shipped_steels_are_those_of_the_cards(
    name: str,
    strength_mpa: float,
    moduli_mpa: tuple[float, float],
    ratios: tuple[float, float],
    densities: tuple[float, float],
) -> None:
    steel = SHIPPED[name]
    assert steel.strength_mpa == strength_mpa
    assert moduli_mpa[0] <= steel.modulus_mpa <= moduli_mpa[1]
    assert ratios[0] <= steel.poisson <= ratios[1]
    assert densities[0] <= steel.density_kg_m3 <= densities[1]


def test_every_number_of_a_shipped_material_says_where_it_comes_from() -> None:
    for material in SHIPPED.values():
        for name, source in material.sources:
            assert source and "memory" not in source, f"{material.name}: {name}"
