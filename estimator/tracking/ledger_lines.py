"""The ledger line by line: what each row adds to billed, accrued and paid on a code and kind."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, datetime
from decimal import Decimal
from heapq import merge
from typing import NamedTuple

from estimator.quantity.units import counted
from estimator.tracking.closed_weeks import LABOR, unclosed_hours
from estimator.tracking.ledger_rows import Cost, Payment
from estimator.tracking.machine_log import RentStand
from estimator.tracking.machines_on_rent import EQUIPMENT
from estimator.tracking.payroll_week import HoursRow
from estimator.tracking.spent import Place, Spent, paid_parts
from estimator.tracking.tickets import Ticket, unbilled_tickets

MoneyRow = Cost | Payment | Ticket | HoursRow
"""A row that adds to what was spent."""

SettledRow = tuple[Cost | Ticket | HoursRow, Mapping[Place, Spent]]
"""A bill, a ticket or hours, with what is billed, accrued and paid of it on each code and kind."""

RENT = "rent"
_NOTHING = Spent()


class LedgerLine(NamedTuple):
    """What one row of the books adds to one code and kind.

    Parameters
    ----------
    row : int
        Number in the books.
    happened, entered : date, datetime
        The day it came about; when it was entered [UTC].
    entry : str
        `bill`, `credit`, `reversal`, `payroll`, `ticket`, `hours`, or `rent`.
    party, document, note : str
        Who billed or worked, the number of the paper; a remark, quantity or hours.
    place : (str, str)
        Cost code and kind.
    spent : Spent
        Billed, accrued and paid; nothing of a ticket or of hours that a bill covers.
    net_cents : int
        [0.01 $] Billed before tax.
    covers : tuple of int
        Rows of the tickets, hours and rents whose accrual it replaces.
    payments : tuple of int
        Rows of the payments on it.
    order : str
        Number of the order that it is billed on; may be empty.
    is_once : bool
        True of what does not recur.
    hours : Decimal
        [hr] Of hours that are not closed, and of unpaid ones.
    unpaid_cents : int or None
        [0.01 $] Value of hours that nobody pays: no cash, in no other figure. None of all else.
    """

    row: int
    happened: date
    entered: datetime
    entry: str
    party: str
    document: str
    note: str
    place: Place
    spent: Spent = _NOTHING
    net_cents: int = 0
    covers: tuple[int, ...] = ()
    payments: tuple[int, ...] = ()
    order: str = ""
    is_once: bool = False
    hours: Decimal = Decimal(0)
    unpaid_cents: int | None = None

    @property
    def is_bill(self) -> bool:
        """Whether it is billed: a bill, a credit, a reversal, or payroll."""
        return self.entry in _BILLS


def lines_of(rows: Iterable[MoneyRow]) -> Iterator[LedgerLine]:
    """Yield what each row adds, line by line.

    Parameters
    ----------
    rows : iterable of Cost, Payment, Ticket and HoursRow
        As known: see `as_known`.

    Notes
    -----
    What is paid on a bill is apportioned over its splits by the largest remainder of all that was
    paid on it, so that a bill paid in full is paid in full on every code. A week that was closed
    again may only move cost from one code to another: nothing is to be paid on such a row, so it
    counts as paid.
    """
    bills: list[Cost] = []
    tickets: list[Ticket] = []
    hours: list[HoursRow] = []
    payments: dict[int, list[Payment]] = defaultdict(list)
    for row in rows:
        if isinstance(row, Cost):
            bills.append(row)
        elif isinstance(row, Payment):
            payments[row.cost].append(row)
        elif isinstance(row, Ticket):
            tickets.append(row)
        else:
            hours.append(row)
    for bill in bills:
        yield from _billed(bill, payments.get(bill.row, ()))
    if tickets:
        accrued = {one.row for one in unbilled_tickets(tickets, bills)}
        yield from (_ticket(one, is_accrued=one.row in accrued) for one in tickets)
    if hours:
        accrued = {one.row for one in unclosed_hours(hours, bills)}
        yield from (_worked(one, is_accrued=one.row in accrued) for one in hours)


def own_lines(row: Cost | Ticket | HoursRow) -> list[LedgerLine]:
    """Return what a row adds where no other row bills it, pays it or takes it back.

    Parameters
    ----------
    row : Cost, Ticket or HoursRow
        As `lines_of` has it alone.
    """
    if isinstance(row, Cost):
        return _billed(row, ())
    if isinstance(row, Ticket):
        return [_ticket(row, is_accrued=row.reverses is None)]
    return [_worked(row, is_accrued=not row.is_unpaid)]


def _billed(bill: Cost, payments: Sequence[Payment]) -> list[LedgerLine]:
    paid = paid_parts(bill, sum([one.cents for one in payments]))
    payroll = bill.payroll.hours if bill.payroll else ()
    covers = (*bill.tickets, *payroll, *bill.rents)
    numbers = tuple([one.row for one in payments])
    return [
        LedgerLine(
            bill.row, bill.happened, bill.entered, bill.entry, bill.vendor, bill.document,
            bill.note, (split.code, split.kind), Spent(split.cents, 0, part), split.net_cents,
            covers, numbers, bill.order, bill.is_once,
        )
        for split, part in zip(bill.splits, paid, strict=True)
    ]  # fmt: skip


_BILLS = ("bill", "credit", "reversal", "payroll")


def _ticket(one: Ticket, *, is_accrued: bool) -> LedgerLine:
    return LedgerLine(
        one.row, one.happened, one.entered, "ticket", one.vendor, one.number,
        counted(f"{one.quantity:f}", one.unit), (one.code, one.kind),
        Spent(0, one.cents) if is_accrued else _NOTHING,
    )  # fmt: skip


def _worked(one: HoursRow, *, is_accrued: bool) -> LedgerLine:
    unpaid = ", unpaid" if one.is_unpaid else ""
    return LedgerLine(
        one.row, one.happened, one.entered, "hours", one.person, "",
        f"{one.hours:f} hr at ${one.rate_per_hr:f}{unpaid}", (one.code, LABOR),
        Spent(0, one.cents) if is_accrued else _NOTHING,
        hours=one.hours if is_accrued or one.is_unpaid else Decimal(0),
        unpaid_cents=one.cents if one.is_unpaid else None,
    )  # fmt: skip


def lines_of_rents(rents: Iterable[RentStand]) -> Iterator[LedgerLine]:
    """Yield what each machine on rent adds: what has accrued and is not billed.

    Parameters
    ----------
    rents : iterable of RentStand
        See `rent_stands`.
    """
    for stand in rents:
        rent = stand.rent
        yield LedgerLine(
            rent.row, rent.happened, rent.entered, RENT, rent.vendor, "", rent.machine,
            (rent.code, EQUIPMENT), Spent(0, stand.accrued_cents),
        )  # fmt: skip


def settled_rows(rows: Iterable[MoneyRow]) -> Iterator[SettledRow]:
    """Yield bills, tickets and hours in the order of days, each with what is known of it.

    Parameters
    ----------
    rows : iterable of Cost, Payment, Ticket and HoursRow
        As known: see `Books.known`.
    """
    listed = sorted(rows, key=lambda one: (one.happened, one.row))
    spent: dict[int, dict[Place, Spent]] = defaultdict(dict)
    for line in lines_of(listed):
        spent[line.row][line.place] = line.spent
    yield from ((one, spent[one.row]) for one in listed if not isinstance(one, Payment))


def lines_of_ledger(
    settled: Iterable[SettledRow], rents: Iterable[RentStand]
) -> Iterator[LedgerLine]:
    """Yield the lines that add up to what was spent, in the order of days.

    Parameters
    ----------
    settled : iterable of rows, each with what is known of it
        In the order of days, see `settled_rows`; one after the other, however many there are.
    rents : iterable of RentStand
        What runs on, see `rent_stands`.
    """
    own = (
        line._replace(spent=spent.get(line.place, _NOTHING))
        for row, spent in settled
        for line in own_lines(row)
    )
    running = sorted(lines_of_rents(rents), key=_by_day)
    for line in merge(own, running, key=_by_day):
        if line.is_bill or line.spent != _NOTHING:
            yield line


def _by_day(line: LedgerLine) -> tuple[date, int]:
    return line.happened, line.row
