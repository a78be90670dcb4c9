"""The prices of a rented machine: by the day, the week, the four-week month, the hour on top."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from estimator.errors import EquipmentFaulty, fault
from estimator.money import RATE_DECIMALS, round_to_cent, rounded
from estimator.rates.exact_inputs import COUNT, Count, Exact, exact_inputs

LONGEST_DAYS = 1096
_MOST_PER_HOUR = Decimal(100_000)


@exact_inputs(EquipmentFaulty, price="$", days=COUNT, included_hours="hr")
@dataclass(frozen=True)
class RentalTier:
    """One price of a rental: for a day, a week or a four-week month.

    Parameters
    ----------
    price : Decimal [$]
        In whole cents.
    days : int
        Calendar days that it covers.
    included_hours : Decimal [hr]
        Meter hours that it includes.

    Raises
    ------
    EquipmentFaulty
        If the price is negative, or it covers no day.
    """

    price: Exact
    days: Count
    included_hours: Exact

    def __post_init__(self) -> None:
        if self.price != round_to_cent(self.price):
            raise fault(EquipmentFaulty, "has parts of a cent", "write dollars and cents", "price")
        if self.days < 1:
            raise fault(EquipmentFaulty, "is below one", "a tier covers a day at least", "days")


@exact_inputs(
    EquipmentFaulty, day="$/day", week="$/week", month="$/month", over_hour="$/hr",
    hours_in_day="hr", hours_in_week="hr", hours_in_month="hr", minimum_days=COUNT,
    days_in_week=COUNT, days_in_month=COUNT,
)  # fmt: skip
@dataclass(frozen=True)
class RentalRates:
    """The prices of a machine; each of the three tiers may be absent.

    Parameters
    ----------
    day, week, month : Decimal or None [$]
        Of a day, of seven days, of four weeks.
    over_hour : Decimal [$/hr]
        For each meter hour beyond the included ones; zero where the yard counts none.
    minimum_days : int
        Charged at least.
    days_in_week, days_in_month : int
        7 and 28 on the calendar; 5 and 20 where only workdays are counted, as spans then are too.
    hours_in_day, hours_in_week, hours_in_month : Decimal [hr]
        Included: 8, 40 and 160, a single shift (common practice, no source).

    Raises
    ------
    EquipmentFaulty
        If there is no tier at all, a price is negative, or the tiers do not grow.
    """

    day: Exact | None = None
    week: Exact | None = None
    month: Exact | None = None
    over_hour: Exact = Decimal(0)
    minimum_days: Count = 1
    days_in_week: Count = 7
    days_in_month: Count = 28
    hours_in_day: Exact = Decimal(8)
    hours_in_week: Exact = Decimal(40)
    hours_in_month: Exact = Decimal(160)

    def __post_init__(self) -> None:
        if self.day is None and self.week is None and self.month is None:
            raise fault(EquipmentFaulty, "there is no rental tier", "price a day, week or month")
        if self.over_hour > _MOST_PER_HOUR or self.over_hour != rounded(
            self.over_hour, RATE_DECIMALS
        ):
            remedy = "at most four decimals and 100,000 dollars an hour"
            raise fault(EquipmentFaulty, f"is {self.over_hour}", remedy, "over_hour")
        if not 1 <= self.minimum_days <= LONGEST_DAYS:
            raise fault(EquipmentFaulty, f"is {self.minimum_days}", "1 or more", "minimum_days")
        if not 1 < self.days_in_week < self.days_in_month:
            raise fault(EquipmentFaulty, "a week is longer than a day, a month than a week")
        _ = self.tiers

    @property
    def tiers(self) -> tuple[RentalTier | None, RentalTier | None, RentalTier | None]:
        """Day, week and month, None for each that is absent."""
        return (
            _tier(self.day, 1, self.hours_in_day),
            _tier(self.week, self.days_in_week, self.hours_in_week),
            _tier(self.month, self.days_in_month, self.hours_in_month),
        )


def _tier(price: Decimal | None, days: int, hours: Decimal) -> RentalTier | None:
    return None if price is None else RentalTier(price, days, hours)
