"""Machines on rent: what has accrued, and by which day one is better called off."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from estimator.errors import EquipmentFaulty, fault
from estimator.money import cents_money, to_cents
from estimator.rates.machines.rental import cheapest_rental
from estimator.rates.machines.rental_rates import RentalRates
from estimator.tracking.ledger_rows import Cost
from estimator.tracking.tickets import standing

EQUIPMENT = "equipment"
_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


@dataclass(frozen=True)
class OnRent:
    """A machine on rent.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        The first day of the rent; when it was entered [UTC].
    machine, vendor, code : str
        What it is, whose, and the cost code it works for.
    rates : RentalRates
        Prices of a day, a week and four weeks, on calendar days.
    called_off : date or None
        The last day that is charged: see `running_rents`.
    reverses : int or None
        Number of the rent that it takes back.
    """

    row: int
    happened: date
    entered: datetime
    machine: str
    vendor: str
    code: str
    rates: RentalRates
    called_off: date | None = None
    reverses: int | None = None


@dataclass(frozen=True)
class CalledOff:
    """A rent that ends; of several for one rent the last entered counts.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        The last day that is charged; when it was entered [UTC].
    rent : int
        Row of the rent.
    """

    row: int
    happened: date
    entered: datetime
    rent: int


@dataclass(frozen=True)
class CallOff:
    """The next step in the price of a rent.

    Parameters
    ----------
    last_day : date
        Through this day the rent stays as it is.
    cents_now, cents_then : int
        [0.01 $] Rent through that day, and from the day after.
    """

    last_day: date
    cents_now: int
    cents_then: int


def running_rents(rents: Iterable[OnRent], called_off: Iterable[CalledOff]) -> list[OnRent]:
    """Return the rents that stand, each with the day on which it was called off.

    Parameters
    ----------
    rents, called_off : iterables of OnRent and of CalledOff
        As known: see `as_known`.
    """
    listed = list(rents)
    live = set(standing(listed))
    ends = {one.rent: one.happened for one in called_off}
    return [replace(one, called_off=ends.get(one.row)) for one in listed if one.row in live]


def billed_through(rent: OnRent, costs: Iterable[Cost]) -> date | None:
    """Return the last day of a rent for which a bill is here; None without one."""
    bills = list(costs)
    live = set(standing(bills))
    own = [one for one in bills if one.row in live and rent.row in one.rents]
    return max((one.rent_through or one.happened for one in own), default=None)


def unbilled_rent_cents(rent: OnRent, through: date | None, as_of: date) -> int:
    """Return the rent that has accrued after the last day for which a bill is here [0.01 $].

    Parameters
    ----------
    rent : OnRent
        See `running_rents`.
    through : date or None
        See `billed_through`: a bill replaces the accrual to that day, whatever it comes to.
    as_of : date
        The last day that counts.

    Notes
    -----
    Before tax, by the cheapest mix of the whole rent: the rent to date less the rent through the
    day that is billed.
    """
    if as_of < rent.happened:
        return 0
    so_far = rent_accrued_cents(rent, as_of)
    if through is None or through < rent.happened:
        return so_far
    return max(so_far - rent_accrued_cents(rent, through), 0)


def rent_accrued_cents(rent: OnRent, as_of: date) -> int:
    """Return the rent from the first day through a day, by the cheapest mix [0.01 $].

    Raises
    ------
    EquipmentFaulty
        If the rent starts after that day.

    Examples
    --------
    >>> from datetime import UTC
    >>> from decimal import Decimal
    >>> rates = RentalRates(day=Decimal(295), week=Decimal(1040), month=Decimal(2950))
    >>> monday = date(2026, 5, 4)
    >>> lift = OnRent(1, monday, datetime(2026, 5, 4, tzinfo=UTC), "lift", "Yard", "40.010", rates)
    >>> rent_accrued_cents(lift, date(2026, 5, 6)), rent_accrued_cents(lift, date(2026, 5, 7))
    (88500, 104000)
    """
    return _rent_cents(rent, _days(rent, as_of))


def _days(rent: OnRent, as_of: date) -> int:
    last = as_of if rent.called_off is None else min(as_of, rent.called_off)
    days = (last - rent.happened).days + 1
    if days < 1:
        what = f"{rent.machine} is on rent from {rent.happened}, after {last}"
        raise fault(EquipmentFaulty, what, where="as_of")
    return days


def _rent_cents(rent: OnRent, days: int) -> int:
    return to_cents(cheapest_rental(days, rent.rates).rent)


def next_call_off(rent: OnRent, as_of: date) -> CallOff | None:
    """Return until when a rent stays as it is, and what it steps up to; None once called off.

    Parameters
    ----------
    rent : OnRent
        Its first day, its prices.
    as_of : date
        Its day counts as charged.

    Raises
    ------
    EquipmentFaulty
        If the rent starts after that day.
    """
    if rent.called_off is not None:
        return None
    days = _days(rent, as_of)
    now = _rent_cents(rent, days)
    longer = days + 1
    while (then := _rent_cents(rent, longer)) == now:
        longer += 1
    return CallOff(rent.happened + timedelta(longer - 2), now, then)


def call_off_sentence(rent: OnRent, call_off: CallOff) -> str:
    """Return the sentence that a builder acts on.

    Examples
    --------
    >>> from datetime import UTC
    >>> from decimal import Decimal
    >>> rates = RentalRates(day=Decimal(295), week=Decimal(1040))
    >>> monday = date(2026, 5, 4)
    >>> lift = OnRent(1, monday, datetime(2026, 5, 4, tzinfo=UTC), "lift", "Yard", "40.010", rates)
    >>> step = next_call_off(lift, date(2026, 5, 7))
    >>> call_off_sentence(lift, step)
    'call the lift off by Sunday 2026-05-10; from the next day the rent is $1,335.00, not $1,040.00'
    """
    weekday = _WEEKDAYS[call_off.last_day.weekday()]
    return (
        f"call the {rent.machine} off by {weekday} {call_off.last_day}; "
        f"from the next day the rent is {cents_money(call_off.cents_then)}, "
        f"not {cents_money(call_off.cents_now)}"
    )
