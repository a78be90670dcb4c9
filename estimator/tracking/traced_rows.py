"""From a dollar of the report back to rows, documents, and the line of the budget."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from estimator.errors import LedgerFaulty, did_you_mean, fault, quoted
from estimator.pricing.cost_line import CostLine
from estimator.rates.kinds import SALVAGE
from estimator.tracking.books import Books, Track
from estimator.tracking.budget import Change, approved_changes
from estimator.tracking.closed_weeks import LABOR, unclosed_hours
from estimator.tracking.ledger_rows import Cost, Payment
from estimator.tracking.machines_on_rent import EQUIPMENT
from estimator.tracking.payroll_week import HoursRow
from estimator.tracking.progress import Progress
from estimator.tracking.spent import paid_parts
from estimator.tracking.status import CodeStatus
from estimator.tracking.tickets import Ticket, unbilled_tickets


@dataclass(frozen=True)
class TracedRow:
    """A row of the books, and what it adds to a cost code.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        The day it came about; when it was entered [UTC].
    what : str
        `bill`, `credit`, `reversal`, `payroll`, `ticket`, `hours` or `rent`.
    party, document, kind : str
        Whose it is, number of the document, kind of cost.
    billed_cents, accrued_cents, paid_cents : int
        [0.01 $]
    covers : tuple of int
        Rows of the tickets, hours and rents whose accrual it replaces.
    payments : tuple of int
        Rows of the payments on it.
    note : str
        Remark, quantity or hours of the row.
    """

    row: int
    happened: date
    entered: datetime
    what: str
    party: str
    document: str
    kind: str
    billed_cents: int = 0
    accrued_cents: int = 0
    paid_cents: int = 0
    covers: tuple[int, ...] = ()
    payments: tuple[int, ...] = ()
    note: str = ""


@dataclass(frozen=True)
class Trace:
    """Where the figures of a cost code come from.

    Parameters
    ----------
    status : CodeStatus
        What the report says of it.
    rows : tuple of TracedRow
        In the order of the books; they add up to what is billed, accrued and paid.
    changes : tuple of (Change, int)
        Those that touch the code, and by how much [0.01 $].
    measured : tuple of Progress
        What was measured of it, our own and the inspector's.
    lines_cents, spread_cents : int
        [0.01 $] The baseline: the paid lines of the accepted estimate, and the markups on named
        kinds that are spread over them.
    """

    status: CodeStatus
    rows: tuple[TracedRow, ...]
    changes: tuple[tuple[Change, int], ...]
    measured: tuple[Progress, ...]
    lines_cents: int
    spread_cents: int


def trace(books: Books, report: Track, code: str, lines: Iterable[CostLine]) -> Trace:
    """Return where the figures of a cost code come from.

    Parameters
    ----------
    books : Books
        All rows of the project.
    report : Track
        What they say: see `track`; the same day and time hold.
    code : str
        Cost code.
    lines : iterable of CostLine
        Of the accepted estimate, of that code; none of a markup.

    Raises
    ------
    LedgerFaulty
        If there is no such code.
    """
    codes = {one.code: one for one in report.status.codes}
    if code not in codes:
        what = f"there is no cost code {quoted(code)}"
        raise fault(LedgerFaulty, what, did_you_mean(code, codes), "code")
    known, status = books.known(report.as_of, report.known_on), codes[code]
    lines_cents = sum(one.cents for one in lines if one.is_paid and one.kind != SALVAGE)
    if not status.phase:
        lines_cents = status.baseline_cents
    rows = [*_bills(known, code), *_tickets(known, code), *_hours(known, code)]
    rows += _rents(report, code)
    return Trace(
        status=status,
        rows=tuple(sorted(rows, key=lambda one: one.row)),
        changes=tuple(_changes(approved_changes(known.changes), code)),
        measured=tuple(one for one in known.progress if one.code == code),
        lines_cents=lines_cents,
        spread_cents=status.baseline_cents - lines_cents,
    )


def _bills(known: Books, code: str) -> Iterator[TracedRow]:
    payments: dict[int, list[Payment]] = defaultdict(list)
    for payment in known.payments:
        payments[payment.cost].append(payment)
    for cost in known.costs:
        if any(split.code == code for split in cost.splits):
            yield from _splits(cost, code, payments[cost.row])


def _splits(cost: Cost, code: str, payments: Sequence[Payment]) -> Iterator[TracedRow]:
    paid = paid_parts(cost, sum(one.cents for one in payments))
    payroll = cost.payroll.hours if cost.payroll else ()
    for split, part in zip(cost.splits, paid, strict=True):
        if split.code == code:
            yield TracedRow(
                cost.row, cost.happened, cost.entered, _what(cost), cost.vendor, cost.document,
                split.kind, billed_cents=split.cents, paid_cents=part,
                covers=(*cost.tickets, *payroll, *cost.rents),
                payments=tuple(one.row for one in payments), note=cost.note,
            )  # fmt: skip


def _what(cost: Cost) -> str:
    if cost.reverses is not None:
        return "reversal"
    if cost.payroll is not None:
        return "payroll"
    return "credit" if cost.is_credit else "bill"


def _tickets(known: Books, code: str) -> Iterator[TracedRow]:
    accrued = {one.row for one in unbilled_tickets(known.tickets, known.costs)}
    return (_ticket(one, accrued) for one in known.tickets if one.code == code)


def _ticket(ticket: Ticket, accrued: set[int]) -> TracedRow:
    return TracedRow(
        ticket.row, ticket.happened, ticket.entered, "ticket", ticket.vendor, ticket.number,
        ticket.kind, accrued_cents=ticket.cents if ticket.row in accrued else 0,
        note=f"{ticket.quantity:f} {ticket.unit}",
    )  # fmt: skip


def _hours(known: Books, code: str) -> Iterator[TracedRow]:
    accrued = {one.row for one in unclosed_hours(known.hours, known.costs)}
    return (_worked(one, accrued) for one in known.hours if one.code == code)


def _worked(hours: HoursRow, accrued: set[int]) -> TracedRow:
    unpaid = ", unpaid" if hours.is_unpaid else ""
    return TracedRow(
        hours.row, hours.happened, hours.entered, "hours", hours.person, "", LABOR,
        accrued_cents=hours.cents if hours.row in accrued else 0,
        note=f"{hours.hours:f} hr at ${hours.rate_per_hr:f}{unpaid}",
    )  # fmt: skip


def _rents(report: Track, code: str) -> Iterator[TracedRow]:
    for stand in report.rents:
        rent = stand.rent
        if rent.code == code:
            yield TracedRow(
                rent.row, rent.happened, rent.entered, "rent", rent.vendor, "", EQUIPMENT,
                accrued_cents=stand.accrued_cents, note=rent.machine,
            )  # fmt: skip


def _changes(changes: Iterable[Change], code: str) -> Iterator[tuple[Change, int]]:
    for change in changes:
        parts = [one for one in change.parts if one.code == code]
        if parts:
            yield change, sum(sum(one.cents_by_kind.values()) for one in parts)
