"""A material: the numbers that strength and stiffness are worked out with, each with where it comes from.

What a study uses is a copy of its own; the lists to take from are in `owned_lists`.
"""

from typing import Annotated, ClassVar, Self

from profiler.study.records.fields import member, number, optional
from profiler.study.records.record import Place, Record

TYPED = "typed in this study"


class Material(Record, frozen=True):
    """Density, stiffness and strength. A strength that is None is not known, and no factor is worked out with it.

    A material belongs to the bowl or to the shell: its fields are asked `under` the one or the other.
    """

    PLACE: ClassVar[Place] = Place(undo="Change the material's {}")

    name: Annotated[str, member("Name", "The name in lists and reports.")]
    density_kg_m3: Annotated[float, number("Density", "kg/m³", 200, 20000, 10, 0, "Weigh a sample of your own.")]
    modulus_mpa: Annotated[
        float, number("Modulus E", "MPa", 0.1, 500000, 1, 1, "Young's modulus; of rubber and urethane at small strain.")
    ]
    poisson: Annotated[float, number("Poisson's ratio", "", 0, 0.4999, 0.01, 4, "Nearly one half for elastomers.")]
    strength_mpa: (
        Annotated[
            float,
            number(
                "Strength",
                "MPa",
                0.1,
                3000,
                1,
                1,
                "Yield or proof stress of a metal, tensile of an elastomer.",
                empty="not known",
            ),
        ]
        | None
    ) = None
    strength_kind: Annotated[str, member("Kind of strength", "Yield, 0.2 % proof stress, tensile.")] = ""
    density_source: Annotated[str, member("Source of the density", "Where the number comes from.")] = TYPED
    modulus_source: Annotated[str, member("Source of the modulus", "Where the number comes from.")] = TYPED
    poisson_source: Annotated[str, member("Source of Poisson's ratio", "Where the number comes from.")] = TYPED
    strength_source: Annotated[str, member("Source of the strength", "Where the number comes from.")] = TYPED
    note: Annotated[str, member("Note", "For whoever reads the file.")] = ""

    @property
    def sources(self) -> tuple[tuple[str, str], ...]:
        """Member and where its number comes from, in the order of the numbers."""
        return tuple((name, getattr(self, source)) for name, source in SOURCES.items())

    def having(self, name: str, value: object) -> Self:
        """A number that was changed comes from the designer."""
        changed = super().having(name, value)
        return changed if changed is self or name not in SOURCES else changed.having(SOURCES[name], TYPED)


SOURCES = {
    "density_kg_m3": "density_source",
    "modulus_mpa": "modulus_source",
    "poisson": "poisson_source",
    "strength_mpa": "strength_source",
}

STRENGTH = optional(Material, "strength_mpa", float)
