"""Machines on rent from date to date: when each stays, when it goes back, by which mix of tiers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from functools import lru_cache

from estimator.money import cents_money, exact_arithmetic, round_to_cent, to_cents
from estimator.quantity.units import counted
from estimator.rates.machines.rental import Rental, cheapest_rental
from estimator.rates.machines.rental_rates import LONGEST_DAYS, RentalRates
from estimator.rates.rents import Rent

# A machine that stays longer than from here to there is looked at in parts.
MOST_USES_TOGETHER = 40


@dataclass(frozen=True)
class MachineUse:
    """A machine at one piece of work.

    Parameters
    ----------
    start, finish : date
        First and last day of the work.
    machines : int
        How many are there at once.
    days : Decimal [day]
        That all of them together are ordered for.
    is_brought : bool
        Whether the work itself pays for their way, there and back.
    """

    start: date
    finish: date
    machines: int
    days: Decimal
    is_brought: bool = False


@dataclass(frozen=True)
class RentedSpan:
    """A machine from its delivery to its pick-up.

    Parameters
    ----------
    uses : tuple of MachineUse
        What it stays for.
    cents : int
        Rent, over-hours, delivery and pick-up.
    words : str
        The mix of tiers, the dates and what is charged: `2 weeks + 3 days from ... to ...`.
    is_by_days : bool
        Whether it is rented by single days; else it stays from the first use to the last.
    """

    uses: tuple[MachineUse, ...]
    cents: int
    words: str
    is_by_days: bool = False


@exact_arithmetic
def cheapest_spans(
    uses: Sequence[MachineUse], rent: Rent, day_rate: Decimal, shift_hr: Decimal
) -> tuple[RentedSpan, ...]:
    """Return when a machine stays on the site, so that its rent comes to least.

    Parameters
    ----------
    uses : sequence of MachineUse
        By their starts.
    rent : Rent
        What it costs by the week, by four weeks, and to bring.
    day_rate : Decimal [$/day]
        What it costs by the day.
    shift_hr : Decimal [hr/day]
        Meter hours of a day of work.

    Returns
    -------
    tuple of RentedSpan
        Each use in one of them, in order.

    Notes
    -----
    Between two uses a machine stays or goes back: the cheapest way over all uses in a row is found
    from the cheapest ways over fewer of them (a shortest path). For one use it may also be rented
    by single days, as many as are ordered. On rent, every day of the calendar counts from the first
    to the last, and as many machines stay as are at work at once. Never dearer than single days,
    each use with its delivery and pick-up.
    """
    pricer = _Pricer(rent, day_rate, shift_hr)
    cost, came_from = [0], [0]
    for last in range(len(uses)):
        ways = {
            begin: cost[begin] + pricer.span(tuple(uses[begin : last + 1])).cents
            for begin in range(last, max(-1, last - MOST_USES_TOGETHER), -1)
            if begin == last or days_on_rent(uses[begin : last + 1]) <= LONGEST_DAYS
        }
        best = min(ways, key=ways.__getitem__)
        cost.append(ways[best])
        came_from.append(best)
    spans: list[RentedSpan] = []
    end = len(uses)
    while end:
        spans.append(pricer.span(tuple(uses[came_from[end] : end])))
        end = came_from[end]
    return tuple(reversed(spans))


@lru_cache(1_000)  # a job is priced with and without each alternate, and by each method
def _cheapest(days: int, tiers: RentalRates, meter_hours: Decimal) -> Rental:
    return cheapest_rental(days, tiers, meter_hours)


class _Pricer:
    def __init__(self, rent: Rent, day_rate: Decimal, shift_hr: Decimal) -> None:
        self.rent, self.day_rate, self.shift_hr = rent, day_rate, shift_hr
        self.tiers = rent.tiers(day_rate)

    def span(self, uses: tuple[MachineUse, ...]) -> RentedSpan:
        """Return what some uses come to if the machine stays from the first to the last."""
        if len(uses) > 1:
            return self.on_rent(uses)
        days = self.by_days(uses[0])
        if days_on_rent(uses) > LONGEST_DAYS:
            return days
        return min(days, self.on_rent(uses), key=lambda one: one.cents)

    def by_days(self, use: MachineUse) -> RentedSpan:
        over = max(Decimal(0), self.shift_hr - self.rent.included_hours) * use.days
        charge = round_to_cent(over * self.rent.over_hour)
        words = f"{counted(f'{use.days.normalize():f}', 'day')} by the day"
        rent = round_to_cent(use.days * self.day_rate)
        return replace(self.charged((use,), rent, over, charge, words), is_by_days=True)

    def on_rent(self, uses: tuple[MachineUse, ...]) -> RentedSpan:
        machines = most_at_once(uses)
        hours = sum((one.days for one in uses), Decimal(0)) * self.shift_hr / machines
        charged = hours if self.rent.over_hour else Decimal(0)
        rental = _cheapest(days_on_rent(uses), self.tiers, charged)
        words = f"{mix_words(rental)} from {uses[0].start} to {last_day(uses)}"
        if machines > 1:
            words = f"{machines} machines for {words}"
        over, charge = rental.over_hours * machines, rental.over_hour_charge * machines
        return self.charged(uses, rental.rent * machines, over, charge, words)

    def charged(
        self,
        uses: tuple[MachineUse, ...],
        rent: Decimal,
        over_hours: Decimal,
        charge: Decimal,
        words: str,
    ) -> RentedSpan:
        """Return a span with what is charged beside its rent."""
        way = (self.rent.delivery + self.rent.pick_up) * machines_to_bring(uses)
        parts = [f"{words}, {cents_money(to_cents(rent))}"]
        if charge:
            parts.append(f"{over_hours.normalize():f} over-hours {cents_money(to_cents(charge))}")
        if way:
            parts.append(f"delivery and pick-up {cents_money(to_cents(way))}")
        return RentedSpan(uses, to_cents(rent + charge + way), ", ".join(parts))


def last_day(uses: Sequence[MachineUse]) -> date:
    """Return the last day of all uses."""
    return max(one.finish for one in uses)


def days_on_rent(uses: Sequence[MachineUse]) -> int:
    """Return the days on the calendar from the first use to the last, both counted [day]."""
    return (last_day(uses) - uses[0].start).days + 1


def most_at_once(uses: Sequence[MachineUse]) -> int:
    """Return how many machines are at work on the day on which most are.

    Notes
    -----
    On the day on which one piece of work ends and another begins, one machine serves both.
    """
    moves = [(one.start, 1, one.machines) for one in uses]
    moves += [(one.finish, 2 if one.start == one.finish else 0, -one.machines) for one in uses]
    there = most = 0
    for *_, change in sorted(moves):
        there += change
        most = max(most, there)
    return most


def machines_to_bring(uses: Sequence[MachineUse]) -> int:
    """Return how many machines need a way beyond what the work of these uses pays for."""
    brought = max((one.machines for one in uses if one.is_brought), default=0)
    return max(0, most_at_once(uses) - brought)


def mix_words(rental: Rental) -> str:
    """Return the tiers of a rental in words.

    Examples
    --------
    >>> from estimator.rates.machines.rental_rates import RentalRates
    >>> rates = RentalRates(Decimal(420), Decimal(1260), Decimal(3150))
    >>> mix_words(cheapest_rental(9, rates)), mix_words(cheapest_rental(29, rates))
    ('1 week + 2 days', '1 four-week month + 1 day')
    """
    tiers = (("four-week month", rental.months), ("week", rental.weeks), ("day", rental.days))
    return " + ".join(
        f"{number} {name}{'s' if number > 1 else ''}" for name, number in tiers if number
    )
