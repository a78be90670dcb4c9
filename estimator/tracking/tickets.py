"""Delivery tickets: what came, how long the truck was there, and what it will be billed at."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from decimal import Decimal
from fractions import Fraction
from typing import Protocol

from estimator.errors import how_many
from estimator.money import whole_half_up
from estimator.quantity.units import counted
from estimator.tracking.ledger_rows import Cost


@dataclass(frozen=True)
class Ticket:
    """One delivery; it is a quantity, hired hours and an accrued cost at once.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        The day of delivery; when it was entered [UTC].
    number, vendor, truck : str
        As printed on the ticket.
    code, kind : str
        What it was for.
    quantity : Decimal
        [unit] Tons or yards, above zero; negative in a reversal.
    unit : str
        Of the quantity.
    cents : int
        [0.01 $] What it will be billed at, with tax: the accrual until the bill comes.
    came, left : time or None
        When the truck came in and went out.
    is_placed : bool
        True where delivery is placing: the quantity counts as in place.
    waited_minutes : int or None
        [min] How much of that time it waited, as the ticket says; None where it does not say.
    reverses : int or None
        Number of the ticket that it takes back.
    """

    row: int
    happened: date
    entered: datetime
    number: str
    vendor: str
    truck: str
    code: str
    kind: str
    quantity: Decimal
    unit: str
    cents: int
    came: time | None = None
    left: time | None = None
    is_placed: bool = False
    waited_minutes: int | None = None
    reverses: int | None = None

    @property
    def minutes(self) -> int:
        """Whole minutes between in and out; nothing where a time is missing."""
        if self.came is None or self.left is None:
            return 0
        return (self.left.hour - self.came.hour) * 60 + self.left.minute - self.came.minute


class Reversible(Protocol):
    """A row that may take another back."""

    @property
    def row(self) -> int:
        """Its number in the books."""

    @property
    def reverses(self) -> int | None:
        """The row that it takes back."""


def standing(rows: Iterable[Reversible]) -> list[int]:
    """Return the numbers of the rows that are no reversals and were not reversed."""
    listed = list(rows)
    reversed_rows = {row.reverses for row in listed}
    return [one.row for one in listed if one.reverses is None and one.row not in reversed_rows]


def unbilled_tickets(tickets: Iterable[Ticket], costs: Iterable[Cost]) -> list[Ticket]:
    """Return the tickets whose bill has not come: the accruals.

    Parameters
    ----------
    tickets, costs : iterables of Ticket and of Cost
        As known: see `as_known`.

    Notes
    -----
    A bill that covers a ticket replaces its accrual; when it is reversed, the accrual is back.
    """
    bills, deliveries = list(costs), list(tickets)
    standing_bills = set(standing(bills))
    billed = {number for one in bills if one.row in standing_bills for number in one.tickets}
    standing_tickets = set(standing(deliveries))
    return [one for one in deliveries if one.row in standing_tickets and one.row not in billed]


def bill_against_tickets(bill: Cost, tickets: Iterable[Ticket], billed_loads: int | None) -> str:
    """Return a sentence where bill and tickets differ in loads or quantity; else nothing.

    Parameters
    ----------
    bill : Cost
        With the rows of its tickets, and its quantity where it has one.
    tickets : iterable of Ticket
        All that are known.
    billed_loads : int or None
        Loads that the bill charges, where it counts loads.

    Examples
    --------
    See the tests: twelve loads billed against eleven tickets.
    """
    own = [one for one in tickets if one.row in bill.tickets]
    delivered = sum((one.quantity for one in own), Decimal(0))
    parts = []
    if billed_loads is not None and billed_loads != len(own):
        loads, tickets_of_them = how_many(billed_loads, "load"), how_many(len(own), "ticket")
        parts.append(f"{loads} billed against {tickets_of_them}")
    if bill.quantity is not None and own and bill.quantity != delivered:
        parts.append(
            f"{counted(str(bill.quantity), bill.unit)} billed against "
            f"{counted(str(delivered), bill.unit)} on tickets"
        )
    return "; ".join(parts)


def priced_like_last(ticket: Ticket, same_vendor: Iterable[Ticket]) -> tuple[Ticket, list[str]]:
    """Return a ticket without an amount at what the load before it came to by the unit.

    Parameters
    ----------
    ticket : Ticket
        Nobody wrote down what it will be billed at.
    same_vendor : iterable of Ticket
        The tickets of its vendor.

    Returns
    -------
    tuple of Ticket and list of str
        The ticket, and a note of where its amount is from.

    Notes
    -----
    The load before it is the last of the same code, kind and unit that has an amount. Without one
    the ticket accrues nothing until its bill comes, and the note says so.
    """
    listed = list(same_vendor)
    live = set(standing(listed))
    like = (ticket.code, ticket.kind, ticket.unit)
    earlier = [
        one
        for one in listed
        if one.row in live and one.cents and (one.code, one.kind, one.unit) == like
    ]
    if not earlier:
        return ticket, ["without an amount: it accrues nothing until its bill comes"]
    last = max(earlier, key=lambda one: (one.happened, one.row))
    each = Fraction(last.cents) / Fraction(last.quantity)
    cents = whole_half_up(each * Fraction(ticket.quantity))
    return replace(ticket, cents=cents), [
        f"without an amount: priced per {ticket.unit} as in row {last.row}"
    ]
