"""Numbers whose source nobody of the project has yet seen, and how far what is shown would move were they wrong.

The bounds are over the designs and duties of the default example; tests/laws/slurry/test_unchecked.py holds each.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Unchecked:
    """A published number taken over without its source at hand."""

    source: str  # who published it
    doubt: str  # over which range it may lie
    moves: str  # what of the figures shown it moves
    at_most: float | None = None  # by how much; None where it moves no figure
    unit: str = ""

    @property
    def words(self) -> str:
        bound = "" if self.at_most is None else f" by at most {self.at_most:g}{self.unit} in the default example"
        return f"{self.source}, not yet checked against the source: {self.doubt} {self.moves}{bound}"


CONTACT_LOAD = Unchecked(
    "Gillies, Shook & Xu (2004)", "no contact load lost, or twice as much, moves", "the repose angle", 0.8, "°"
)
THRESHOLD = Unchecked(
    "Soulsby & Whitehouse (1997)", "half or one and a half times it moves", "the repose angle", 0.5, "°"
)
EXCHANGE = Unchecked("Weitbrecht (2004)", "0.01 to 0.04, the band shown, moves", "the smallest size kept", 60.0, " %")
CAPTIVE_WIDTH = Unchecked("Cui, Patel & Lin (2003)", "a limit of 3 or 5 moves", "no figure, only where the note stands")
PACKING = Unchecked("Scott (1960)", "0.54 to 0.62 moves", "the capacity", 7.0, " %")
FLAKES = Unchecked("Dietrich (1982)", "velocities a fifth higher or lower move", "the smallest size kept", 16.0, " %")
STEPS = Unchecked("Chanson (2002)", "limits a tenth higher or lower move", "the wall angle where a jet ends", 1.0, "°")
UNCHECKED = (CONTACT_LOAD, THRESHOLD, EXCHANGE, CAPTIVE_WIDTH, PACKING, FLAKES, STEPS)
