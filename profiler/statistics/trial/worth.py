"""What a gain is worth in a year: ounces caught, ounces that are extra metal, wear and money.

Most gold that gravity misses is caught further down. Ounces caught by gravity and ounces gained by the plant are
therefore two numbers, and both are shown. The interval of the gain passes through in proportion. Nothing here is
a price: prices are the user's.
"""

from dataclasses import dataclass

from profiler.statistics.inference.comparison import Interval

TROY_OUNCE_G = 31.1034768  # exact: 480 grains of 64.79891 mg


@dataclass(frozen=True)
class Amount:
    """An estimate with its interval, the confidence being that of the gain it came from."""

    estimate: float
    interval: Interval

    def times(self, factor: float) -> "Amount":
        """A multiple, its interval in proportion."""
        return Amount(self.estimate * factor, self.interval.times(factor))

    def less(self, cost: float) -> "Amount":
        """What is left after a known cost."""
        return Amount(self.estimate - cost, Interval(self.interval.low - cost, self.interval.high - cost))


@dataclass(frozen=True)
class Tonnage:
    """What passes the bowl in a year: dry tonnes, and their grade in g/t."""

    tonnes_a_year: float
    grade_g_t: float

    def __post_init__(self) -> None:
        if not (self.tonnes_a_year > 0.0 and self.grade_g_t > 0.0):
            raise ValueError("Tonnes a year and grade must be above zero for ounces a year.")


@dataclass(frozen=True)
class Downstream:
    """Shares of the metal paid for: of gold caught by gravity, and of gold left to what follows.

    The latter is the recovery there times what is paid for it.
    """

    gravity_return: float
    recovery: float
    pay: float

    def __post_init__(self) -> None:
        if not all(0.0 <= share <= 1.0 for share in (self.gravity_return, self.recovery, self.pay)):
            raise ValueError("Returns and recoveries downstream are shares between 0 and 1.")

    @property
    def net_return(self) -> float:
        return self.recovery * self.pay

    @property
    def credit(self) -> float:
        """Share of a gravity gain that is extra metal."""
        return self.gravity_return - self.net_return


@dataclass(frozen=True)
class Worth:
    """Ounces a year: caught by gravity, and extra metal (None while the downstream is not known)."""

    caught_oz: Amount
    extra_oz: Amount | None
    tonnage: Tonnage
    downstream: Downstream | None


@dataclass(frozen=True)
class WearCost:
    """Liner, labour and the value of hours lost at each change, over the hours a liner lasts."""

    hours_a_year: float
    life_h: float
    cost_per_change: float

    def __post_init__(self) -> None:
        if not self.life_h > 0.0:
            raise ValueError("A liner's life must be above zero hours.")

    @property
    def a_year(self) -> float:
        return self.hours_a_year / self.life_h * self.cost_per_change


def worth(gain_points: Amount, tonnage: Tonnage, downstream: Downstream | None = None) -> Worth:
    """Ounces a year of a gain in percentage points with its interval."""
    caught = gain_points.times(tonnage.tonnes_a_year * tonnage.grade_g_t / 100.0 / TROY_OUNCE_G)
    return Worth(caught, None if downstream is None else caught.times(downstream.credit), tonnage, downstream)


def net_value(ounces: Amount, price_per_oz: float, extra_cost_a_year: float) -> Amount:
    """Money a year: ounces times price less what the new bowl costs more in wear, water, power and handling."""
    return ounces.times(price_per_oz).less(extra_cost_a_year)
