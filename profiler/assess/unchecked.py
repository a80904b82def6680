"""Numbers whose source nobody of the project has yet seen, and how far what is shown would move were they wrong.

The bounds are over the designs and duties of the default example; tests/laws/slurry/test_unchecked.py holds each.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Unchecked:
    """A published number taken over without its source at hand."""

    what: str
    source: str  # who published it
    doubt: str  # over which range it may lie
    moves: str  # what of the figures shown it moves
    at_most: float | None = None  # by how much; None where it moves no figure
    unit: str = ""

    @property
    def cited(self) -> str:
        return f"{self.source}, not yet checked against the source"

    @property
    def words(self) -> str:
        bound = "" if self.at_most is None else f" by at most {self.at_most:g}{self.unit} in the default example"
        return f"{self.cited}: {self.doubt} {self.moves}{bound}"


CONTACT_LOAD = Unchecked(
    "Grains the film carries off their neighbours", "Gillies, Shook & Xu (2004)",
    "none, or twice as many, moves", "the repose angle", 1.1, "°",
)  # fmt: skip
THRESHOLD = Unchecked(
    "Threshold of motion", "Soulsby & Whitehouse (1997)",
    "half or one and a half times it moves", "the repose angle", 0.3, "°",
)  # fmt: skip
EXCHANGE = Unchecked(
    "Exchange across a groove's mouth, share of the stream's velocity", "Weitbrecht (2004)",
    "0.01 to 0.04, the band shown, moves", "the smallest size kept", 60.0, " %",
)  # fmt: skip
CAPTIVE_WIDTH = Unchecked(
    "Width over depth that one eddy fills", "Cui, Patel & Lin (2003) Int. J. Heat Fluid Flow 24, 372",
    "a limit of 3 or 5 instead of 4 moves", "no figure, only where the note stands",
)  # fmt: skip
PACKING = Unchecked("Solids' share of a settled bed", "Scott (1960)", "0.54 to 0.62 moves", "the capacity", 7.0, " %")
FLAKES = Unchecked(
    "Settling of flat grains", "Dietrich (1982)",
    "velocities a fifth higher or lower move", "the smallest size kept", 17.0, " %",
)  # fmt: skip
STEPS = Unchecked(
    "Jet or skimming over steps", "Chanson (2002)",
    "limits a tenth higher or lower move", "the wall angle where a jet ends", 0.7, "°",
)  # fmt: skip
UNCHECKED = (CONTACT_LOAD, THRESHOLD, EXCHANGE, CAPTIVE_WIDTH, PACKING, FLAKES, STEPS)
