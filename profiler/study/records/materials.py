"""A material: the numbers strength and stiffness are reckoned with, each with where it comes from.

What a study uses is a copy of its own; the lists to take from are in `owned_lists`.
"""

from typing import Annotated

from msgspec import Struct
from msgspec.structs import replace

from profiler.study.records.fields import number

TYPED = "typed in this study"


class Material(Struct, frozen=True, forbid_unknown_fields=True):
    """Density, stiffness and strength. A strength that is None is not known, and no factor is reckoned with it."""

    name: str
    density_kg_m3: Annotated[float, number("Density", "kg/m³", 200, 20000, 10, 0, "Weigh a sample of your own.")]
    modulus_mpa: Annotated[
        float, number("Modulus E", "MPa", 0.1, 500000, 1, 1, "Young's modulus; of rubber and urethane at small strain.")
    ]
    poisson: Annotated[float, number("Poisson's ratio", "", 0, 0.4999, 0.01, 4, "Nearly one half for elastomers.")]
    strength_mpa: (
        Annotated[
            float,
            number("Strength", "MPa", 0.1, 3000, 1, 1, "Yield or proof stress of a metal, tensile of an elastomer."),
        ]
        | None
    ) = None
    strength_kind: str = ""  # what the strength is: yield, 0.2 % proof stress, tensile
    density_source: str = TYPED
    modulus_source: str = TYPED
    poisson_source: str = TYPED
    strength_source: str = TYPED
    note: str = ""

    @property
    def sources(self) -> tuple[tuple[str, str], ...]:
        """Member and where its number comes from, in the order of the numbers."""
        return tuple((name, getattr(self, source)) for name, source in SOURCES.items())


SOURCES = {
    "density_kg_m3": "density_source",
    "modulus_mpa": "modulus_source",
    "poisson": "poisson_source",
    "strength_mpa": "strength_source",
}


def with_number(material: Material, name: str, value: float | None) -> Material:
    """The material with one number changed; its source is then the designer."""
    return replace(material, **{name: value, SOURCES[name]: TYPED})
