"""The rows of money in the books, a line for each code and kind, for whoever keeps the accounts."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from estimator.tracking.books import Books
from estimator.tracking.ledger_lines import lines_of, lines_of_rents
from estimator.tracking.ledger_rows import Cost
from estimator.tracking.machine_log import rent_stands
from estimator.tracking.machines_on_rent import running_rents
from estimator.tracking.spent import Spent

_NOTHING = Spent()


@dataclass(frozen=True)
class MoneyLine:
    """One row of the books, or the share of one code and kind in it.

    Parameters
    ----------
    row : int
        Its number in the books.
    entry : str
        `bill`, `credit`, `payroll`, `payment`, `receipt`, `ticket`, `hours`, `own hours`, `rent`,
        `order` or `change`.
    happened, entered : date, datetime
        The day; when it was entered [UTC].
    party, document, note : str
        Who billed, was paid or worked; the number of the paper; a remark or the means.
    code, kind : str
        Cost code and kind; empty where a row has none.
    quantity : Decimal or None
        [unit] On the first line of a row.
    unit : str
        Of the quantity.
    net_cents, tax_cents : int or None
        [0.01 $] Where the tax is known apart.
    cents : int
        [0.01 $] With tax; of an order, before tax.
    reverses : int or None
        Number of the row that it takes back.
    pays : int or None
        Of a payment: number of the bill.
    bank_line : str
        The line of a statement that it comes from.
    spent : Spent
        What it adds to billed, accrued, paid and open: the lines add up to the report of the day.
    """

    row: int
    entry: str
    happened: date
    entered: datetime
    party: str
    document: str
    note: str
    code: str
    kind: str
    quantity: Decimal | None
    unit: str
    net_cents: int | None
    tax_cents: int | None
    cents: int
    reverses: int | None = None
    pays: int | None = None
    bank_line: str = ""
    spent: Spent = _NOTHING


def lines_of_money(known: Books, as_of: date) -> list[MoneyLine]:
    """Return the lines of all rows of money, in the order of the books.

    Parameters
    ----------
    known : Books
        See `Books.known`.
    as_of : date
        The day up to which machines on rent accrue.
    """
    spent: dict[int, deque[Spent]] = defaultdict(deque)
    for line in lines_of(known.money):
        spent[line.row].append(line.spent)
    lines = [*_costs(known, spent), *_paid_and_received(known)]
    lines += [*_delivered_and_worked(known, spent), *_rented(known, as_of), *_promised(known)]
    return sorted(lines, key=lambda one: one.row)


def _costs(known: Books, spent: Mapping[int, deque[Spent]]) -> Iterator[MoneyLine]:
    for one in known.costs:
        for place, split in enumerate(one.splits):
            yield MoneyLine(
                one.row, _entry(one), one.happened, one.entered, one.vendor, one.document,
                one.note, split.code, split.kind, None if place else one.quantity,
                "" if place else one.unit, split.net_cents, split.tax_cents, split.cents,
                one.reverses, None, one.bank_line, spent[one.row].popleft(),
            )  # fmt: skip


def _entry(cost: Cost) -> str:
    if cost.payroll is not None:
        return "payroll"
    return "credit" if cost.is_credit else "bill"


def _paid_and_received(known: Books) -> Iterator[MoneyLine]:
    bills = {one.row: one for one in known.costs}
    for paid in known.payments:
        bill = bills.get(paid.cost)
        party, document = (bill.vendor, bill.document) if bill else ("", "")
        yield MoneyLine(
            paid.row, "payment", paid.happened, paid.entered, party, document, paid.means,
            "", "", None, "", None, None, paid.cents, paid.reverses, paid.cost, paid.bank_line,
        )  # fmt: skip
    for one in known.receipts:
        yield MoneyLine(
            one.row, "receipt", one.happened, one.entered, one.payer, "", one.reason, "", "",
            None, "", None, None, one.cents, one.reverses, None, one.bank_line,
        )  # fmt: skip


def _delivered_and_worked(known: Books, spent: Mapping[int, deque[Spent]]) -> Iterator[MoneyLine]:
    for one in known.tickets:
        yield MoneyLine(
            one.row, "ticket", one.happened, one.entered, one.vendor, one.number, "", one.code,
            one.kind, one.quantity, one.unit, None, None, one.cents, one.reverses,
            spent=spent[one.row].popleft(),
        )  # fmt: skip
    for worked in known.hours:
        entry = "own hours" if worked.is_unpaid else "hours"
        yield MoneyLine(
            worked.row, entry, worked.happened, worked.entered, worked.person, "", worked.trade,
            worked.code, "labor", worked.hours, "hr", None, None, worked.cents, worked.reverses,
            spent=spent[worked.row].popleft(),
        )  # fmt: skip


def _rented(known: Books, as_of: date) -> Iterator[MoneyLine]:
    stands = rent_stands(running_rents(known.rents, known.called_off), known.costs, as_of)
    for line in lines_of_rents(stands):
        yield MoneyLine(
            line.row, line.entry, line.happened, line.entered, line.party, "", line.note,
            *line.place, None, "", None, None, line.spent.accrued_cents, spent=line.spent,
        )  # fmt: skip


def _promised(known: Books) -> Iterator[MoneyLine]:
    for one in known.commitments:
        yield MoneyLine(
            one.row, "order", one.happened, one.entered, one.vendor, one.number, "", one.code,
            one.kind, None, "", one.cents, None, one.cents,
        )  # fmt: skip
    for change in known.changes:
        for part in change.parts:
            for kind, cents in part.cents_by_kind.items() or [("", 0)]:
                yield MoneyLine(
                    change.row, "change", change.happened, change.entered, "", "",
                    change.reason, part.code, kind, None, "", None, None, cents,
                )  # fmt: skip
