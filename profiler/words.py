"""Words that study and statistics share: how a trial is laid out, measured, gated and called, each standing once.

They are what files hold and what window, terminal and report show. Enums and small records only; what follows from a
word is decided where it is used.
"""

from enum import IntEnum, StrEnum
from typing import Annotated

from msgspec import Meta, Struct


class Structure(StrEnum):
    """How the trial was laid out; it decides what counts as one observation."""

    PAIRS = "pairs"
    INSTALLATIONS = "cycles within installations"
    UNPAIRED = "unpaired runs"
    EXCHANGED = "two machines with the bowls exchanged"
    BEFORE_AFTER = "before and after"


class Ordering(StrEnum):
    """How it was decided which design runs first."""

    RANDOMISED = "order randomised"
    ALTERNATED = "order alternated"
    FIXED = "order fixed"
    NOT_RECORDED = "order not recorded"


class Basis(StrEnum):
    """How the recoveries that are compared are worked out."""

    BUILT_UP = "recovery on built-up head"
    OVER_FEED = "concentrate metal over assayed feed"
    TWO_PRODUCT = "two-product formula on assays"
    RECONCILED = "reconciled balance"
    CLEANER = "recovery to the cleaner's concentrate on built-up head"
    STATED = "recoveries as entered"


class FeedGrade(StrEnum):
    """Where the feed grade that is compared and adjusted for comes from."""

    INDEPENDENT = "independent feed sample"
    ASSAYED_FEED = "the balance's own feed assay"
    BUILT_UP_HEAD = "built-up head"
    FRESH_FEED = "fresh feed to the circuit"
    NOT_STATED = "feed grade of unstated origin"


class GateCode(StrEnum):
    """What must be alike, or known, for a comparison to be fair; waivers in files name gates by these."""

    MACHINE = "machine"
    FEED_GRADE = "feed-grade"
    FEED_SIZE = "feed-size"
    SPEED = "speed"
    WATER = "water"
    FEED_RATE = "feed-rate"
    SOLIDS = "solids"
    CYCLE = "cycle"
    MASS_PULL = "mass-pull"
    WEAR = "wear"
    CASTINGS = "castings"
    CLEAN_OUT = "clean-out"
    CHANGE_OVER = "change-over"
    ORDER = "order"
    UNITS = "units"
    BALANCES = "balances"
    TREND = "trend"
    EXCLUSIONS = "exclusions"
    STAMP = "stamp"


class GateState(StrEnum):
    """Only `FAILED` closes the trial."""

    MET = "met"
    FAILED = "failed"
    WAIVED = "waived"
    NOT_RECORDED = "not recorded"


class VerdictState(IntEnum):
    """What a trial says, in the order in which it is tried; the first that applies holds.

    2 to 4 go with the name of the design that is better, either of the two; no state is 1.
    """

    NOT_FAIR = 0
    WORTHWHILE = 2
    BELOW_WORTHWHILE = 3
    SIZE_OPEN = 4
    NO_DIFFERENCE = 5
    NOT_RESOLVED = 6


class GainSize(StrEnum):
    """How large a firm difference is against the worthwhile one."""

    WORTHWHILE = "worthwhile"
    BELOW = "below"
    OPEN = "open"


class Agreement(StrEnum):
    """What a secondary outcome says of the recovery: its interval clear of zero the right way, not clear, the wrong."""

    AGREES = "agrees"
    SILENT = "silent"
    CONTRADICTS = "contradicts"


class Waiver(Struct, frozen=True, forbid_unknown_fields=True):
    """A gate set aside by the person responsible, with the reason that is printed beside it."""

    gate: Annotated[str, Meta(title="Gate", description="Which check of the trial is set aside.")]
    reason: Annotated[str, Meta(title="Reason", description="Printed beside it.")]
