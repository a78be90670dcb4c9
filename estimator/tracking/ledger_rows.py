"""Rows of the ledger: what was billed, paid, received, delivered; never changed, only reversed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from functools import cached_property
from typing import Protocol, TypeVar

from estimator.errors import LedgerFaulty, fault
from estimator.money import apportion, cents_money


class Entered(Protocol):
    """A row of the books, with its two dates."""

    @property
    def happened(self) -> date:
        """The day on which it came about."""

    @property
    def entered(self) -> datetime:
        """When it was written into the books, in UTC; always the server's clock."""


EnteredRow = TypeVar("EnteredRow", bound=Entered)


def as_known(rows: Iterable[EnteredRow], as_of: date, known_on: datetime) -> Iterator[EnteredRow]:
    """Yield the rows that had happened by a day and had been entered by a time, in their order.

    Parameters
    ----------
    rows : iterable of rows with `happened` and `entered`
        Any rows of the books.
    as_of : date
        The last day that counts.
    known_on : datetime
        [UTC] The last time of entry that counts.

    Notes
    -----
    Rows are only ever added, each with a later time of entry, so what comes out for a day and a
    time in the past is the same for ever.
    """
    return (row for row in rows if row.happened <= as_of and row.entered <= known_on)


@dataclass(frozen=True)
class CostSplit:
    """The share of a cost that one cost code and kind bears.

    Parameters
    ----------
    code : str
        Cost code `phase.item`, or the code of a markup.
    kind : str
        One of `KINDS`.
    net_cents, tax_cents : int
        [0.01 $] Before tax, and the tax on it.
    """

    code: str
    kind: str
    net_cents: int
    tax_cents: int

    @property
    def cents(self) -> int:
        """What the code bears: net and tax [0.01 $]."""
        return self.net_cents + self.tax_cents


@dataclass(frozen=True)
class PayrollPart:
    """What a row of payroll consists of: a person's workweek, or what late hours add to it.

    Parameters
    ----------
    hours : tuple of int
        Rows of the hours that it covers: their accrual ends with it.
    straight_cents, premium_cents : int
        [0.01 $] Straight pay, and the extra half of overtime.
    tax_cents, insurance_cents : int
        [0.01 $] What the employer pays on top.
    """

    hours: tuple[int, ...]
    straight_cents: int
    premium_cents: int
    tax_cents: int
    insurance_cents: int

    @property
    def gross_cents(self) -> int:
        """Pay before deductions [0.01 $]."""
        return self.straight_cents + self.premium_cents


@dataclass(frozen=True)
class Cost:
    """A bill, a receipt from the till, a vendor's credit, or the reversal of one of these.

    Parameters
    ----------
    row : int
        Its number in the books of the project, from 1.
    happened, entered : date, datetime
        The day the cost was incurred; when it was entered [UTC].
    vendor, document, note : str
        Who billed it, the number of the bill (may be empty), a remark.
    splits : tuple of CostSplit
        What each cost code and kind bears of it; negative in a credit and in a reversal.
    quantity : Decimal or None
        [unit] What was bought, where there is a quantity.
    unit : str
        Of the quantity; empty without one.
    is_once : bool
        True of what does not recur (a set-up fee): it is left out of unit costs of what is left.
    is_credit : bool
        True of a vendor's credit, with a number and a date of its own.
    reverses : int or None
        Number of the row that it takes back in full.
    tickets : tuple of int
        Rows of the delivery tickets that the bill covers.
    order : str
        Number of the order or subcontract that it is billed on; may be empty.
    payroll : PayrollPart or None
        Of a closed workweek; the vendor is the person then.
    rents : tuple of int
        Rows of the rents that the bill charges.
    rent_through : date or None
        Last day of rent that it charges; the day of the bill without one.
    bank_line : str
        The line of a statement that it comes from: account and mark; else empty.
    """

    row: int
    happened: date
    entered: datetime
    vendor: str
    document: str
    note: str
    splits: tuple[CostSplit, ...]
    quantity: Decimal | None = None
    unit: str = ""
    is_once: bool = False
    is_credit: bool = False
    reverses: int | None = None
    tickets: tuple[int, ...] = ()
    order: str = ""
    payroll: PayrollPart | None = None
    rents: tuple[int, ...] = ()
    rent_through: date | None = None
    bank_line: str = ""

    @cached_property
    def cents(self) -> int:
        """Net and tax of all splits [0.01 $]."""
        return sum(split.cents for split in self.splits)

    @property
    def entry(self) -> str:
        """What it is: `reversal`, `payroll`, `credit` or `bill`."""
        if self.reverses is not None:
            return "reversal"
        if self.payroll is not None:
            return "payroll"
        return "credit" if self.is_credit else "bill"

    @property
    def net_cents(self) -> int:
        """All splits before tax [0.01 $]."""
        return sum(split.net_cents for split in self.splits)


@dataclass(frozen=True)
class Payment:
    """Money that went out on a cost; negative where it bounced or was moved.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        The day of payment; when it was entered [UTC].
    cost : int
        Row of the cost that it pays.
    cents : int
        [0.01 $]
    means : str
        How: check, card, transfer, cash.
    reverses : int or None
        Number of the payment that it takes back.
    bank_line : str
        The line of a statement that it comes from: account and mark; else empty.
    """

    row: int
    happened: date
    entered: datetime
    cost: int
    cents: int
    means: str
    reverses: int | None = None
    bank_line: str = ""


@dataclass(frozen=True)
class Receipt:
    """Money that came in: a sale of salvage, a refund, insurance; a source, never a smaller cost.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        The day the money came; when it was entered [UTC].
    payer, reason : str
        Who paid, and what for.
    cents : int
        [0.01 $]
    reverses : int or None
        Number of the receipt that it takes back.
    bank_line : str
        The line of a statement that it comes from: account and mark; else empty.
    """

    row: int
    happened: date
    entered: datetime
    payer: str
    reason: str
    cents: int
    reverses: int | None = None
    bank_line: str = ""


def split_cost(
    net_cents: int, tax_cents: int, shares: Iterable[tuple[str, str, int]]
) -> tuple[CostSplit, ...]:
    """Return a bill split over cost codes and kinds; net and tax each add up to the cent.

    Parameters
    ----------
    net_cents, tax_cents : int
        [0.01 $] Of the whole bill; negative of a credit.
    shares : iterable of (code, kind, weight)
        Weights are whole numbers: cents, or percents.

    Raises
    ------
    AmountFaulty
        If there is no share, or the weights are negative or all zero.

    Notes
    -----
    Each by the largest remainder, ties by order; a credit is split as the bill that it credits.

    Examples
    --------
    >>> halves = split_cost(10001, 700, [("20.010", "material", 1), ("20.020", "material", 1)])
    >>> [(split.code, split.net_cents, split.tax_cents) for split in halves]
    [('20.010', 5001, 350), ('20.020', 5000, 350)]
    """
    ordered = list(shares)
    weights = [weight for _, _, weight in ordered]
    nets, taxes = apportion(net_cents, weights), apportion(tax_cents, weights)
    return tuple(
        CostSplit(code, kind, net, tax)
        for (code, kind, _), net, tax in zip(ordered, nets, taxes, strict=True)
    )


def split_by_amounts(
    net_cents: int, tax_cents: int, parts: Iterable[tuple[str, str, int]]
) -> tuple[CostSplit, ...]:
    """Return a bill whose net amounts were written down for each cost code and kind.

    Parameters
    ----------
    net_cents, tax_cents : int
        [0.01 $] Of the whole bill; negative of a credit.
    parts : iterable of (code, kind, net cents)
        What each bears; the tax follows by the largest remainder.

    Raises
    ------
    LedgerFaulty
        If the parts do not add up to the bill, or are not all of its sign.

    Examples
    --------
    >>> parts = [("20.010", "material", 900), ("20.020", "haul", 100)]
    >>> [split.tax_cents for split in split_by_amounts(1000, 75, parts)]
    [68, 7]
    """
    listed = list(parts)
    nets = [cents for _, _, cents in listed]
    if sum(nets) != net_cents:
        what = f"add up to {cents_money(sum(nets))}, not to the net of {cents_money(net_cents)}"
        raise fault(LedgerFaulty, what, "correct a split or the net amount", "splits")
    if min(nets) < 0 < max(nets):
        what = "mix charges and credits"
        raise fault(LedgerFaulty, what, "post the credit as a row of its own", "splits")
    weights = [abs(net) for net in nets] if any(nets) else [1] * len(nets)
    taxes = apportion(tax_cents, weights)
    return tuple(
        CostSplit(code, kind, net, tax)
        for (code, kind, net), tax in zip(listed, taxes, strict=True)
    )
