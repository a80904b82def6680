"""Cautions, one sentence each, for where a decision is made that can hurt someone: one table of them.

Each defers to local codes, the supplier's safety data sheet and licensed practice; none is a procedure. That of
spinning itself is a finding of every bowl (`checks.check_fit.SPINNING_CAUTION`). Common practice of the trades, no
source.
"""

from enum import Enum


class Caution(Enum):
    """What may hurt; the value is the sentence."""

    SPINNING_BODY = (
        "Never spin a bowl made from this, printed, cast or cut, without the approval of a licensed engineer under "
        "local codes."
    )
    CASTING = (
        "Casting polyurethane: isocyanates can make people ill for life, hot moulds burn; work by the supplier's "
        "safety data sheet and local exposure rules."
    )
    CUTTING = (
        "Cutting polyurethane: chips wind up and catch, hot dust and smoke harm lungs; guard, extract, and follow the "
        "supplier's safety data sheet and the shop's rules."
    )
    DUST = (
        "Dry ore and its dust can hold crystalline silica, which destroys lungs: keep it wet or extracted, within "
        "local exposure limits."
    )
    SLURRY = (
        "Slurry and water lines stay under pressure after a stop: shut off, drain and lock out by the site's "
        "procedures before anything is opened."
    )
    ASSAY = (
        "Assaying uses lead, hot metal, acids and cyanide: leave it to a laboratory licensed under local codes, and "
        "handle concentrate by its rules."
    )

    WORN = (
        "A worn bowl, liner or shell can burst: whether it may still spin is for a licensed engineer under local codes "
        "to say, by inspection and not by these figures."
    )

    @property
    def words(self) -> str:
        return str(self.value)


OF_TRIALS = (Caution.DUST, Caution.SLURRY, Caution.ASSAY)
_OF_OUTPUT = {  # by the output's key, and by the part of a profile
    "profile": (Caution.SPINNING_BODY, Caution.CUTTING),
    "former": (Caution.SPINNING_BODY, Caution.CASTING),
}


def of_output(key: str, part: str = "") -> tuple[Caution, ...]:
    """Cautions for who makes something from an output; every body may end up spinning."""
    return _OF_OUTPUT.get(part, _OF_OUTPUT.get(key, (Caution.SPINNING_BODY,)))
