"""The ledger line by line: what each row adds to billed, accrued and paid on a code and kind."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from estimator.tracking.books import Books
from estimator.tracking.closed_weeks import LABOR, unclosed_hours
from estimator.tracking.ledger_rows import Cost
from estimator.tracking.spent import Place, Spent, paid_by_split
from estimator.tracking.status import JobStatus
from estimator.tracking.tickets import unbilled_tickets


@dataclass(frozen=True)
class LedgerLine:
    """What one row of the books adds to one code and kind.

    Parameters
    ----------
    row : int or None
        Number in the books; None of what runs on without a row of its own.
    happened : date
        The day of the cost.
    entry : str
        `bill`, `credit`, `reversal`, `payroll`, `ticket`, `hours`, or `running`.
    party, document, note : str
        Who billed or worked, the number of the paper, a remark.
    place : (str, str)
        Cost code and kind.
    spent : Spent
        Billed, accrued and paid; of a bill, what was paid on it up to the day of the report.
    """

    row: int | None
    happened: date
    entry: str
    party: str
    document: str
    note: str
    place: Place
    spent: Spent


def lines_of_ledger(known: Books, status: JobStatus) -> list[LedgerLine]:
    """Return the lines that add up to what a status says was spent, in the order of days.

    Parameters
    ----------
    known : Books
        What the status was made of: see `Books.known`.
    status : JobStatus
        Where the job stands.

    Notes
    -----
    What is accrued without a row of its own (a machine on rent) comes last, one line for each code
    and kind, so that the lines always add up to the status.
    """
    lines = sorted([*_billed(known), *_accrued(known)], key=lambda one: (one.happened, one.row))
    return [*lines, *_running(lines, status)]


def _billed(known: Books) -> Iterator[LedgerLine]:
    for bill, paid in paid_by_split(known.costs, known.payments):
        for split, part in zip(bill.splits, paid, strict=True):
            yield LedgerLine(
                bill.row, bill.happened, _entry(bill), bill.vendor, bill.document, bill.note,
                (split.code, split.kind), Spent(split.cents, 0, part),
            )  # fmt: skip


def _entry(bill: Cost) -> str:
    if bill.reverses is not None:
        return "reversal"
    if bill.payroll is not None:
        return "payroll"
    return "credit" if bill.is_credit else "bill"


def _accrued(known: Books) -> Iterator[LedgerLine]:
    for one in unbilled_tickets(known.tickets, known.costs):
        yield LedgerLine(
            one.row, one.happened, "ticket", one.vendor, one.number, f"{one.quantity} {one.unit}",
            (one.code, one.kind), Spent(0, one.cents),
        )  # fmt: skip
    for worked in unclosed_hours(known.hours, known.costs):
        yield LedgerLine(
            worked.row, worked.happened, "hours", worked.person, "", f"{worked.hours} hr",
            (worked.code, LABOR), Spent(0, worked.cents),
        )  # fmt: skip


def _running(lines: Iterable[LedgerLine], status: JobStatus) -> Iterator[LedgerLine]:
    counted: dict[Place, int] = {}
    for line in lines:
        counted[line.place] = counted.get(line.place, 0) + line.spent.accrued_cents
    for code in status.codes:
        for kind, spent in code.spent_by_kind.items():
            rest = spent.accrued_cents - counted.get((code.code, kind), 0)
            if rest:
                yield LedgerLine(
                    None, status.as_of, "running", "", "", "on rent, no bill yet",
                    (code.code, kind), Spent(0, rest),
                )  # fmt: skip
