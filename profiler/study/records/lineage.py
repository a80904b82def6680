"""A design's lineage: made from which other, in which way, why, and what was done to it as a whole since.

What changed on the way is not kept: it is worked out from both designs as they stand, so it cannot go stale.
Files that know of no lineage get one that says so.
"""

from enum import StrEnum
from typing import Annotated, ClassVar, Self

from profiler.study.records.fields import member, required
from profiler.study.records.record import Place, Record

LONGEST_WHY = 500  # letters that are typed: a table still shows them


class Way(StrEnum):
    """How a design came to be, or what was done to the whole of it."""

    NOT_RECORDED = "not recorded"
    COPY = "copy"
    COUNTERPART = "counterpart"
    SEARCH = "search"
    CONE = "plain cone"
    DRAWING = "drawing"
    WORN = "worn"
    FIT = "fit"
    CURVE = "starting curve"
    SHOP_STEPS = "shop steps"


MADE = {
    Way.NOT_RECORDED: "How it was made is not recorded",
    Way.COPY: "A copy of {origin}",
    Way.COUNTERPART: "A counterpart of {origin} with the wall of {other}",
    Way.SEARCH: "Found from {origin} by a search",
    Way.CONE: "A plain cone, made from no other design",
    Way.DRAWING: "Read from a drawing, made from no other design",
    Way.WORN: "{origin}, worn",
    Way.FIT: "fitted to the machine",
    Way.CURVE: "given a new curve to start from",
    Way.SHOP_STEPS: "rounded to shop steps",
}


class Lineage(Record, frozen=True):
    """Origins go by name and follow a renaming; a design that was deleted stays named, and is marked as gone."""

    PLACE: ClassVar[Place] = Place(("design", "lineage"))

    way: Annotated[Way, member("Way", "How the design came to be.")] = Way.NOT_RECORDED
    origin: Annotated[str, member("Made from", "Name of the design it was made from; empty: from none.")] = ""
    other: Annotated[str, member("Wall of", "Name of the design whose wall a counterpart took.")] = ""
    told: Annotated[str, member("On what terms", "A search's goal and conditions, a drawing's file name.")] = ""
    then: Annotated[tuple[Way, ...], member("Then", "What was done to the whole of it since, in order.")] = ()
    gone: Annotated[tuple[str, ...], member("Gone", "Those of the named designs that were deleted since.")] = ()
    why: Annotated[
        str, member("Why", "Why this design was made, in the designer's words.", undo="Say why a design was made")
    ] = ""

    @property
    def words(self) -> str:
        """How it was made, as one sentence."""
        named = MADE[self.way].format(origin=self._named(self.origin), other=self._named(self.other))
        made = f"{named} ({self.told.rstrip('.')})" if self.told else named
        return f"{', then '.join((made, *(MADE[way] for way in self.then)))}."

    def followed_by(self, way: Way) -> Self:
        """With one thing more done to the whole design; what is done again counts where it was done last."""
        return self.having("then", (*(w for w in self.then if w is not way), way))

    def renamed(self, old: str, new: str) -> Self:
        """As a design that was called `old` is called now; one deleted before under that name is another."""
        names = {name: new if getattr(self, name) == old else getattr(self, name) for name in ("origin", "other")}
        return self if old in self.gone else self.having("origin", names["origin"]).having("other", names["other"])

    def without(self, name: str) -> Self:
        """As a design of that name is deleted."""
        known = name in (self.origin, self.other) and name not in self.gone
        return self.having("gone", (*self.gone, name)) if known else self

    def _named(self, name: str) -> str:
        if not name:
            return "a design without a name"
        return f"“{name}”{' (deleted since)' if name in self.gone else ''}"


LINEAGE_WHY = required(Lineage, "why", str)
