"""What entries move, kept beside them: written with the entry, added up when a report asks.

The sums that are kept are those of all entries. A report as of a day in the past, or known on a
time in the past, takes off what happened or was entered later.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import date, datetime
from decimal import Decimal
from typing import Any
from uuid import UUID

from sqlalchemy import BindParameter, ColumnElement, Connection, and_, bindparam, case, func, select

from api.ledger.movement_rows import MONEY_ROWS, hours_of, movement_rows, sum_rows
from api.ledger.plain_rows import library_row
from api.ledger.rows import BookEntry, LedgerMovement, LedgerSum, OpenHours
from api.store.sessions import AccountSession
from api.store.writing_session import WritingSession
from estimator.tracking.books_by_day import CentsByDay, HoursByDay
from estimator.tracking.closed_weeks import LABOR
from estimator.tracking.ledger_lines import MoneyRow
from estimator.tracking.ledger_movements import Movement, movements, named_rows
from estimator.tracking.ledger_sums import NO_AMOUNTS, UNPAID, Amounts, LedgerSums, SumKey
from estimator.tracking.payroll_week import Worked
from estimator.tracking.spent import Place, Spent

# Written once, as those of a desk are: each entry that is posted runs them.
_NUMBERS: BindParameter[list[int]] = bindparam("of_numbers", expanding=True)
_MOVING = select(LedgerMovement.number).where(
    LedgerMovement.project_id == bindparam("of_project"), LedgerMovement.of_number.in_(_NUMBERS)
)
# One after the other and unordered, or SQLite goes through all entries of the project.
_RELATED = [
    select(BookEntry.kind, BookEntry.fields).where(
        BookEntry.project_id == bindparam("of_project"), column.in_(_NUMBERS)
    )
    for column in (BookEntry.number, BookEntry.reverses)
]


def moved_by(row: Any, related: Callable[[Iterable[int]], list[MoneyRow]]) -> list[Movement]:
    """Return what an entry moves; nothing if it is not of money.

    Parameters
    ----------
    row : a row of the library
        Of any kind of entry.
    related : callable
        Returns rows of the books by the numbers that it names: see `related_rows`.
    """
    return movements(row, related(named_rows(row))) if isinstance(row, MoneyRow) else []


def related_rows(
    session: AccountSession, project_id: UUID, numbers: Iterable[int]
) -> list[MoneyRow]:
    """Return rows by their numbers, those that moved their lines, and the reversals of all."""
    named = set(numbers)
    if not named:
        return []
    moving = session.rows(_MOVING, of_project=project_id, of_numbers=list(named))
    related = list(named | {one.number for one in moving})
    rows: dict[int, MoneyRow] = {}
    for statement in _RELATED:
        for one in session.rows(statement, of_project=project_id, of_numbers=related):
            if one.kind in MONEY_ROWS:
                row = library_row(one.fields, MONEY_ROWS[one.kind])
                rows[row.row] = row
    return [rows[number] for number in sorted(rows)]


def store_movements(work: WritingSession, project_id: UUID, moved: Sequence[Movement]) -> None:
    """Write what new entries move, and add it to the sums."""
    of_project = {"account_id": work.caller.account_id, "project_id": project_id}
    entered = {one.row: work.at for one in moved}
    work.add_parts(LedgerMovement, movement_rows(of_project, moved, entered))
    sums, hours = sum_rows(of_project, moved)
    work.add_amounts(LedgerSum, sums)
    work.add_amounts(OpenHours, hours)


_KEY = ("code", "kind", "order_number", "is_once")
_AMOUNTS = ("billed_cents", "net_cents", "accrued_cents", "paid_cents", "hours")


def ledger_sums(
    session: AccountSession | Connection, project_id: UUID, as_of: date, known_on: datetime
) -> LedgerSums:
    """Return the ledger of a project added up, as of a day and known on a time."""
    return LedgerSums(
        _amounts(session, project_id, as_of, known_on),
        _open_hours(session, project_id, as_of, known_on),
    )


def _amounts(
    session: AccountSession | Connection, project_id: UUID, as_of: date, known_on: datetime
) -> dict[SumKey, Amounts]:
    statement = select(*(getattr(LedgerSum, name) for name in (*_KEY, *_AMOUNTS))).where(
        LedgerSum.project_id == project_id
    )
    sums = {SumKey(*row[:4]): _read(row[4:]) for row in session.execute(statement)}
    keys = [getattr(LedgerMovement, name) for name in _KEY]
    added = [func.sum(getattr(LedgerMovement, name)) for name in _AMOUNTS]
    for later in _later(as_of, known_on):
        moved = select(*keys, *added).where(LedgerMovement.project_id == project_id, later)
        for row in session.execute(moved.group_by(*keys)):
            key = SumKey(*row[:4])
            sums[key] = sums.get(key, NO_AMOUNTS).less(_read(row[4:]))
    return sums


def _read(amounts: Sequence[Any]) -> Amounts:
    billed, net, accrued, paid = map(int, amounts[:4])
    return Amounts(billed, net, accrued, paid, hours_of(amounts[4]))


def _open_hours(
    session: AccountSession | Connection, project_id: UUID, as_of: date, known_on: datetime
) -> dict[date, Worked]:
    statement = select(OpenHours.worked_on, OpenHours.hours, OpenHours.accrued_cents).where(
        OpenHours.project_id == project_id
    )
    days = {
        day: Worked(hours_of(hours), int(cents)) for day, hours, cents in session.execute(statement)
    }
    moved = LedgerMovement
    for later in _later(as_of, known_on):
        statement = select(moved.worked_on, func.sum(moved.hours), func.sum(moved.accrued_cents))
        of_hours = (moved.project_id == project_id, moved.hours != 0, moved.kind != UNPAID)
        for day, hours, cents in session.execute(
            statement.where(*of_hours, later).group_by(moved.worked_on)
        ):
            days[day] = days.get(day, Worked()) + Worked(-hours_of(hours), -int(cents))
    return days


def _later(as_of: date, known_on: datetime) -> tuple[ColumnElement[bool], ColumnElement[bool]]:
    """Return what a report leaves out, in two parts, so that each is looked up by its index."""
    happened_later = LedgerMovement.day > as_of
    entered_later = and_(LedgerMovement.day <= as_of, LedgerMovement.entered_at > known_on)
    return happened_later, entered_later


def added_up_by_day(
    session: AccountSession | Connection, project_id: UUID, as_of: date, known_on: datetime
) -> tuple[HoursByDay, CentsByDay]:
    """Return hours and what recurs by code and day of the row: see `DailyBooks`."""
    moved = LedgerMovement
    by = (moved.code, moved.kind, moved.is_once, moved.worked_on)
    statement = (
        select(
            *by,
            func.sum(case((moved.number == moved.of_number, moved.hours), else_=0)),
            func.sum(moved.billed_cents + moved.accrued_cents),
        )
        .where(moved.project_id == project_id, moved.day <= as_of, moved.entered_at <= known_on)
        .group_by(*by)
    )
    hours: dict[str, dict[date, Decimal]] = defaultdict(lambda: defaultdict(Decimal))
    recurring: dict[str, dict[tuple[str, date], int]] = defaultdict(dict)
    for code, kind, is_once, day, micro, cents in session.execute(statement):
        if kind in (LABOR, UNPAID) and micro:
            hours[code][day] += hours_of(micro)
        if kind != UNPAID and not is_once and cents:
            recurring[code][kind, day] = int(cents)
    return hours, recurring


def unpaid_bills(session: AccountSession, project_id: UUID) -> Iterator[tuple[int, int]]:
    """Yield the number of each bill on which something is to pay, and what was paid [0.01 $]."""
    moved = LedgerMovement
    billed, paid = func.sum(moved.billed_cents), func.sum(moved.paid_cents)
    statement = select(moved.of_number, paid).where(moved.project_id == project_id)
    for number, cents in session.execute(statement.group_by(moved.of_number).having(billed > paid)):
        yield number, int(cents)


def spent_of_rows(
    session: AccountSession,
    project_id: UUID,
    numbers: Sequence[int],
    as_of: date,
    known_on: datetime,
) -> Mapping[int, Mapping[Place, Spent]]:
    """Return what each of several rows has billed, accrued and paid, by its code and kind."""
    moved = LedgerMovement
    of = (moved.of_number, moved.code, moved.kind)
    added = (func.sum(one) for one in (moved.billed_cents, moved.accrued_cents, moved.paid_cents))
    statement = select(*of, *added).where(
        moved.project_id == project_id, moved.of_number.in_(numbers), moved.kind != UNPAID,
        moved.day <= as_of, moved.entered_at <= known_on,
    ).group_by(*of)  # fmt: skip
    spent: dict[int, dict[Place, Spent]] = {number: {} for number in numbers}
    for number, code, kind, *cents in session.execute(statement):
        spent[number][code, kind] = Spent(*map(int, cents))
    return spent


def incurred_on_days(
    session: AccountSession | Connection, project_id: UUID, as_of: date, known_on: datetime
) -> dict[date, int]:
    """Return by how much billed and accrued together moved on each day [0.01 $]."""
    moved = LedgerMovement
    statement = (
        select(moved.day, func.sum(moved.billed_cents + moved.accrued_cents))
        .where(
            moved.project_id == project_id,
            moved.kind != UNPAID,
            moved.day <= as_of,
            moved.entered_at <= known_on,
        )
        .group_by(moved.day)
    )
    return {day: int(cents) for day, cents in session.execute(statement)}
