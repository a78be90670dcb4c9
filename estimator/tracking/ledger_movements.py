"""What an entry moves when it is posted: by how much, on which line of the ledger, from which day.

Movements only add up: those that happened by a day and were entered by a time come to the sums
of the ledger as of that day, known on that time. So a bill that names a ticket moves the ticket's
accrual down from the day of the bill on, and a reversal moves it up again.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from types import MappingProxyType
from typing import NamedTuple

from estimator.tracking.ledger_lines import MoneyRow, lines_of, own_lines
from estimator.tracking.ledger_rows import Cost, Payment
from estimator.tracking.ledger_sums import (
    NO_AMOUNTS,
    UNPAID,
    Amounts,
    LedgerSums,
    SumKey,
    amounts_of,
    key_of,
)
from estimator.tracking.payroll_week import HoursRow, Worked
from estimator.tracking.spent import paid_parts


class Movement(NamedTuple):
    """By how much an entry moves a line of the ledger from a day on.

    Parameters
    ----------
    row, of_row : int
        The entry, and the row whose line it moves: its own, or one that it names.
    day, worked_on : date
        From which day; the day on which that row came about.
    key : SumKey
        What the line is added up by.
    amounts : Amounts
        By how much.
    """

    row: int
    of_row: int
    day: date
    worked_on: date
    key: SumKey
    amounts: Amounts


_Line = tuple[int, date, SumKey]


def movements(row: MoneyRow, related: Iterable[MoneyRow] = ()) -> list[Movement]:
    """Return what an entry moves.

    Parameters
    ----------
    row : Cost, Payment, Ticket or HoursRow
        As it is posted.
    related : iterable of rows
        The rows that it names (see `named_rows`), the rows that moved their lines before, and the
        reversals of all of these. Others may be among them; they change nothing.

    Notes
    -----
    On each day on which one of the rows came about, the difference between the lines with and
    without the entry is worked out; what it is more than on the day before is moved.
    """
    earlier = list(related)
    if not earlier:
        return list(_alone(row))
    if isinstance(row, Payment) and all(one.happened <= row.happened for one in earlier):
        return list(_paid(row, earlier))
    moved: list[Movement] = []
    so_far: dict[_Line, Amounts] = {}
    for day in sorted({row.happened, *(one.happened for one in earlier)}):
        if day < row.happened:
            continue
        then = [one for one in earlier if one.happened <= day]
        difference = _amounts([*then, row])
        if then:
            for line, own in _amounts(then).items():
                difference[line] = difference.get(line, NO_AMOUNTS).less(own)
        for line in dict.fromkeys([*difference, *so_far]):
            step = difference.get(line, NO_AMOUNTS).less(so_far.get(line, NO_AMOUNTS))
            if step != NO_AMOUNTS:
                moved.append(_movement(row, day, line, step))
        so_far = difference
    return moved


def _alone(row: MoneyRow) -> Iterator[Movement]:
    """Yield what a row moves on its own lines; a payment has none."""
    for line in () if isinstance(row, Payment) else own_lines(row):
        if (amounts := amounts_of(line)) != NO_AMOUNTS:
            yield Movement(row.row, row.row, row.happened, row.happened, key_of(line), amounts)


def _paid(row: Payment, earlier: Iterable[MoneyRow]) -> Iterator[Movement]:
    """Yield what a payment moves on the lines of its bill; it is the last of them to come about."""
    bill = next((one for one in earlier if isinstance(one, Cost) and one.row == row.cost), None)
    if bill is None:
        return
    before = sum(one.cents for one in earlier if isinstance(one, Payment) and one.cost == row.cost)
    then, now = paid_parts(bill, before), paid_parts(bill, before + row.cents)
    for split, was, is_now in zip(bill.splits, then, now, strict=True):
        if is_now != was:
            key = SumKey(split.code, split.kind, bill.order, bill.is_once)
            amounts = Amounts(paid_cents=is_now - was)
            yield Movement(row.row, bill.row, row.happened, bill.happened, key, amounts)


def _movement(row: MoneyRow, day: date, line: _Line, amounts: Amounts) -> Movement:
    of_row, worked_on, key = line
    return Movement(row.row, of_row, day, worked_on, key, amounts)


def _amounts(rows: Iterable[MoneyRow]) -> dict[_Line, Amounts]:
    return {(one.row, one.happened, key_of(one)): amounts_of(one) for one in lines_of(rows)}


def named_rows(row: MoneyRow) -> tuple[int, ...]:
    """Return the rows whose lines an entry may move besides its own."""
    if isinstance(row, Payment):
        return (row.cost,)
    named = () if row.reverses is None else (row.reverses,)
    if isinstance(row, Cost):
        return (*named, *row.tickets, *(row.payroll.hours if row.payroll else ()))
    return () if isinstance(row, HoursRow) else named


def all_movements(rows: Iterable[MoneyRow]) -> Iterator[Movement]:
    """Yield what each entry of a ledger moved when it was posted.

    Parameters
    ----------
    rows : iterable of Cost, Payment, Ticket and HoursRow
        All of a project, in any order.
    """
    known: dict[int, MoneyRow] = {}
    movers: dict[int, set[int]] = defaultdict(set)
    for row in sorted(rows, key=lambda one: one.row):
        numbers = set(named_rows(row))
        for _ in range(2):  # whoever moved what is named, and whoever took that back
            numbers |= {one for number in numbers for one in movers[number]}
        for one in movements(row, [known[number] for number in sorted(numbers & known.keys())]):
            movers[one.of_row].add(row.row)
            yield one
        if row.reverses is not None:
            movers[row.reverses].add(row.row)
        known[row.row] = row


def sums_of_movements(moved: Iterable[Movement]) -> LedgerSums:
    """Return movements added up.

    Parameters
    ----------
    moved : iterable of Movement
        Those of the entries that are known, by the last day that counts.
    """
    amounts: dict[SumKey, Amounts] = {}
    days: dict[date, Worked] = defaultdict(Worked)
    for one in moved:
        amounts[one.key] = amounts.get(one.key, NO_AMOUNTS).plus(one.amounts)
        if one.amounts.hours and one.key.kind != UNPAID:
            days[one.worked_on] += Worked(one.amounts.hours, one.amounts.accrued_cents)
    return LedgerSums(MappingProxyType(amounts), MappingProxyType(days))


def incurred_by_day(moved: Iterable[Movement]) -> Mapping[date, int]:
    """Return by how much billed and accrued together moved on each day [0.01 $].

    Parameters
    ----------
    moved : iterable of Movement
        As known.
    """
    cents: dict[date, int] = defaultdict(int)
    for one in moved:
        if one.key.kind != UNPAID:
            cents[one.day] += one.amounts.billed_cents + one.amounts.accrued_cents
    return MappingProxyType(cents)
