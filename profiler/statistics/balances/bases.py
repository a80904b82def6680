"""On which basis recoveries were worked out, where the feed grade comes from, and the recoveries on a basis.

The basis is settled before the trial. Not here: the balances (balance, reconciliation), which pairs of basis and
feed grade share an assay (adjustment).
"""

from enum import Enum

from profiler.statistics.balances.balance import Balances, Estimates
from profiler.statistics.balances.reconciliation import ReconciledRuns


class Basis(Enum):
    """How the recoveries that are compared were worked out."""

    BUILT_UP = "recovery on built-up head"
    OVER_FEED = "concentrate metal over assayed feed"
    TWO_PRODUCT = "two-product formula on assays"
    RECONCILED = "reconciled balance"
    STATED = "recoveries as entered"


class FeedGrade(Enum):
    """Where the feed grade used as covariate comes from."""

    INDEPENDENT = "independent feed sample"
    ASSAYED_FEED = "the balance's own feed assay"
    BUILT_UP_HEAD = "built-up head"
    FRESH_FEED = "fresh feed to the circuit"
    NOT_STATED = "feed grade of unstated origin"


def recoveries_on(basis: Basis, balances: Balances, reconciled: ReconciledRuns) -> Estimates:
    """Recoveries (n,) as fractions with their deviations; NaN where a run does not give one on this basis."""
    if basis is Basis.BUILT_UP:
        return balances.built_up
    if basis is Basis.OVER_FEED:
        return balances.over_feed
    if basis is Basis.TWO_PRODUCT:
        return balances.two_product
    if basis is Basis.RECONCILED:
        return Estimates(reconciled.recovery, reconciled.recovery_sd)
    raise ValueError("Recoveries as entered are not worked out from streams.")
