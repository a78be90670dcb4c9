"""What was spent on each cost code and kind: billed, accrued, paid and open, in exact cents."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from types import MappingProxyType

from estimator.money import apportion
from estimator.tracking.closed_weeks import LABOR, unclosed_hours
from estimator.tracking.ledger_rows import Cost, Payment, as_known
from estimator.tracking.machines_on_rent import (
    EQUIPMENT,
    OnRent,
    billed_through,
    unbilled_rent_cents,
)
from estimator.tracking.payroll_week import HoursRow
from estimator.tracking.tickets import Ticket, unbilled_tickets

Place = tuple[str, str]
"""A cost code and a kind."""


@dataclass(frozen=True)
class Spent:
    """What a code and kind has cost.

    Parameters
    ----------
    billed_cents : int
        [0.01 $] Bills less vendors' credits, with tax.
    accrued_cents : int
        [0.01 $] Known from tickets and running rents; the bill is not here yet.
    paid_cents : int
        [0.01 $] Money that left.
    """

    billed_cents: int = 0
    accrued_cents: int = 0
    paid_cents: int = 0

    @property
    def incurred_cents(self) -> int:
        """Billed and accrued [0.01 $]."""
        return self.billed_cents + self.accrued_cents

    @property
    def open_cents(self) -> int:
        """Incurred and not yet paid [0.01 $]."""
        return self.incurred_cents - self.paid_cents

    def __add__(self, other: Spent) -> Spent:
        """Return both together."""
        return Spent(
            self.billed_cents + other.billed_cents,
            self.accrued_cents + other.accrued_cents,
            self.paid_cents + other.paid_cents,
        )


def spent_by_place(
    costs: Iterable[Cost],
    payments: Iterable[Payment],
    tickets: Iterable[Ticket],
    as_of: date,
    known_on: datetime,
    hours: Iterable[HoursRow] = (),
    rents: Iterable[OnRent] = (),
) -> Mapping[Place, Spent]:
    """Return what each cost code and kind has cost, of what was known.

    Parameters
    ----------
    costs, payments, tickets : iterables of rows
        All of the project.
    as_of : date
        Happened by.
    known_on : datetime
        [UTC] Entered by.
    hours : iterable of HoursRow
        Those that are paid are accrued at straight time until their week is closed.
    rents : iterable of OnRent
        As they run, see `running_rents`: accrued until they are billed.

    Notes
    -----
    What is paid on a bill is apportioned over its splits by the largest remainder of all that was
    paid on it, so that a bill paid in full is paid in full on every code. A week that was closed
    again may only move cost from one code to another: nothing is to be paid on such a row, so it
    counts as paid.
    """
    bills = list(as_known(costs, as_of, known_on))
    billed: dict[Place, int] = defaultdict(int)
    accrued: dict[Place, int] = defaultdict(int)
    for bill in bills:
        for split in bill.splits:
            billed[split.code, split.kind] += split.cents
    for ticket in unbilled_tickets(as_known(tickets, as_of, known_on), bills):
        accrued[ticket.code, ticket.kind] += ticket.cents
    for worked in unclosed_hours(as_known(hours, as_of, known_on), bills):
        accrued[worked.code, LABOR] += worked.cents
    for rent in as_known(rents, as_of, known_on):
        through = billed_through(rent, bills)
        accrued[rent.code, EQUIPMENT] += unbilled_rent_cents(rent, through, as_of)
    paid = _paid_by_place(bills, as_known(payments, as_of, known_on))
    places = dict.fromkeys([*billed, *accrued, *paid])
    return MappingProxyType(
        {
            place: Spent(billed.get(place, 0), accrued.get(place, 0), paid.get(place, 0))
            for place in places
        }
    )


def _paid_by_place(bills: Iterable[Cost], payments: Iterable[Payment]) -> Mapping[Place, int]:
    paid: dict[Place, int] = defaultdict(int)
    for bill, parts in paid_by_split(bills, payments):
        for split, part in zip(bill.splits, parts, strict=True):
            paid[split.code, split.kind] += part
    return paid


def paid_by_split(
    bills: Iterable[Cost], payments: Iterable[Payment]
) -> Iterator[tuple[Cost, list[int]]]:
    """Yield each bill with what was paid on each of its splits [0.01 $].

    Parameters
    ----------
    bills, payments : iterables of Cost and of Payment
        As known: see `as_known`.
    """
    paid_on: dict[int, int] = defaultdict(int)
    for payment in payments:
        paid_on[payment.cost] += payment.cents
    for bill in bills:
        yield bill, paid_parts(bill, paid_on.get(bill.row, 0))


def paid_parts(bill: Cost, paid_cents: int) -> list[int]:
    """Return what each split of a bill has paid [0.01 $]; all once the bill is paid in full.

    Parameters
    ----------
    bill : Cost
        With its splits.
    paid_cents : int
        [0.01 $] All that was paid on it.
    """
    if paid_cents == bill.cents:
        return [split.cents for split in bill.splits]
    if not paid_cents:
        return [0] * len(bill.splits)
    return apportion(paid_cents, [abs(split.cents) for split in bill.splits])
