"""The books of a project as the library has them: whole, or what a report needs of them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import date, datetime
from itertools import chain
from typing import Any
from uuid import UUID

from sqlalchemy import CTE, ColumnElement, Select, and_, func, literal, or_, select, union

from api.ledger.desk import party_key
from api.ledger.entry_kinds import ENTRY_KINDS
from api.ledger.movement_rows import MONEY_ROWS
from api.ledger.plain_rows import library_row
from api.ledger.rows import IS_PLACED, BookEntry, LedgerMovement
from api.ledger.stored_sums import added_up_by_day, spent_of_rows
from api.store.sessions import AccountSession
from estimator.tracking.books import Books
from estimator.tracking.books_by_day import DailyBooks
from estimator.tracking.ledger_lines import SettledRow
from estimator.tracking.ledger_rows import Cost
from estimator.tracking.payroll_week import HoursRow
from estimator.tracking.placed_loads import with_placed
from estimator.tracking.progress import FIGURES
from estimator.tracking.tickets import Ticket

_PROGRESS = "progress"
_AT_ONCE = 1_000  # as plain JSON rows take several times the room
_SETTLED = ("costs", "tickets", "hours")
FEW = sorted(ENTRY_KINDS.keys() - MONEY_ROWS.keys() - {_PROGRESS})


def books_of(
    session: AccountSession, project_id: UUID, *conditions: ColumnElement[bool]
) -> Books:  # fmt: skip
    """Return rows of the books of a project: all, or those of which conditions hold."""
    return _books(session, [_entries(project_id).where(*conditions)])


def known_by(as_of: date, known_on: datetime) -> ColumnElement[bool]:
    """Return the condition that an entry had happened by a day and was entered by a time."""
    return and_(BookEntry.happened <= as_of, BookEntry.entered_at <= known_on)


def of_kinds(*kinds: str) -> ColumnElement[bool]:
    """Return the condition that an entry is of one of several kinds."""
    return BookEntry.kind.in_(kinds)


def books_to_report(
    session: AccountSession, project_id: UUID, as_of: date, known_on: datetime
) -> Books:
    """Return what a report needs of the books besides the sums of the ledger.

    Of progress it is what was measured last, and of the costs those of vendors of whom something
    is rented; of the tickets those that were placed as they came; no payments and no hours.
    """
    known = known_by(as_of, known_on)
    measured = [*_measured_last(project_id, as_of, known_on), _placed(project_id, known)]
    return _few_books(session, project_id, known, measured)


def daily_books_of(
    session: AccountSession, project_id: UUID, as_of: date, known_on: datetime
) -> DailyBooks:
    """Return what an outlook needs of the books: hours and what recurs are added up by the day."""
    known = known_by(as_of, known_on)
    dated = _entries(project_id).where(known, of_kinds(_PROGRESS, "tickets"))
    rows = _few_books(session, project_id, known, [dated])
    return DailyBooks(rows, *added_up_by_day(session, project_id, as_of, known_on))


def course_books(
    session: AccountSession, project_id: UUID, as_of: date, known_on: datetime
) -> Books:
    """Return what a course by week needs of the books besides what moved on each day."""
    known = known_by(as_of, known_on)
    measured = _entries(project_id).where(known, of_kinds(_PROGRESS))
    return _few_books(session, project_id, known, [measured, _placed(project_id, known)])


def settled_ledger(
    session: AccountSession, project_id: UUID, as_of: date, known_on: datetime
) -> Iterator[SettledRow]:
    """Yield bills, tickets and hours as `settled_rows` does; few are in memory at a time."""
    known = known_by(as_of, known_on)
    listed = select(BookEntry.number).where(
        BookEntry.project_id == project_id, known, of_kinds(*_SETTLED)
    )
    numbers = list(session.scalars(listed.order_by(BookEntry.happened, BookEntry.number)))
    for first in range(0, len(numbers), _AT_ONCE):
        batch = numbers[first : first + _AT_ONCE]
        spent = spent_of_rows(session, project_id, batch, as_of, known_on)
        books = books_of(session, project_id, BookEntry.number.in_(batch))
        settled: Iterable[Cost | Ticket | HoursRow] = chain(books.costs, books.tickets, books.hours)
        rows = {row.row: row for row in settled}
        yield from ((rows[number], spent[number]) for number in batch)


def books_of_code(session: AccountSession, project_id: UUID, code: str) -> Books:
    """Return the rows that add to a cost code, with those that moved them; and all changes."""
    of_project = LedgerMovement.project_id == project_id
    own = select(LedgerMovement.of_number).where(of_project, LedgerMovement.code == code)
    moving = select(LedgerMovement.number).where(of_project, LedgerMovement.of_number.in_(own))
    named = union(own, moving).subquery()
    numbers = select(named.c.of_number)
    back = select(BookEntry.number).where(
        BookEntry.project_id == project_id, BookEntry.reverses.in_(numbers)
    )
    moves_nothing = and_(of_kinds("tickets"), BookEntry.cents == 0)
    measured = and_(of_kinds(_PROGRESS), BookEntry.party == party_key(code))
    of_code = or_(BookEntry.number.in_(numbers), BookEntry.number.in_(back))
    return books_of(
        session, project_id, or_(of_code, moves_nothing, measured, of_kinds("changes"))
    )  # fmt: skip


def _few_books(
    session: AccountSession,
    project_id: UUID,
    known: ColumnElement[bool],
    more: Iterable[Select[Any]],
) -> Books:
    """Return the kinds of which there are few, costs of those who rent out, and what is named."""
    few = books_of(session, project_id, known, of_kinds(*FEW))
    vendors = {party_key(one.vendor) for one in few.rents}
    rented = _entries(project_id).where(
        known, of_kinds("costs"), BookEntry.party.in_(sorted(vendors))
    )
    others = _books(session, [*more, *([rented] if vendors else [])])
    whole = {name: rows or getattr(others, name) for name, rows in vars(few).items()}
    whole["progress"] = with_placed(others.progress, others.tickets)
    return Books(**whole)


def _entries(project_id: UUID) -> Select[Any]:
    """Select kind and fields; unordered, or a database would rather go through all by number."""
    return select(BookEntry.kind, BookEntry.fields).where(BookEntry.project_id == project_id)


def _placed(project_id: UUID, known: ColumnElement[bool]) -> Select[Any]:
    """Select the tickets of loads that were placed as they came, and what takes them back."""
    return _entries(project_id).where(known, IS_PLACED)  # with the kind, SQLite reads all tickets


def _measured_last(project_id: UUID, as_of: date, known_on: datetime) -> Iterator[Select[Any]]:
    """Yield what selects of each code what was measured last, by one way of measuring each.

    The index is entered once for each code: however often it was measured, one entry is read.
    """
    codes = _codes_measured(project_id)
    of_project = _measured(project_id)
    for figure in FIGURES:
        last = (
            select(BookEntry.fields)
            .where(
                *of_project,
                BookEntry.party == codes.c.code,
                BookEntry.cents.is_(None),
                BookEntry.document == figure,
                BookEntry.happened <= as_of,
                BookEntry.entered_at <= known_on,
            )
            .order_by(BookEntry.cents.desc(), BookEntry.happened.desc(), BookEntry.number.desc())
            .limit(1)
            .correlate(codes)
            .scalar_subquery()
        )
        yield select(literal(_PROGRESS), last).select_from(codes)
    # Entries of earlier versions do not say how they were measured.
    yield select(BookEntry.kind, BookEntry.fields).where(
        *of_project,
        BookEntry.document == "",
        BookEntry.happened <= as_of,
        BookEntry.entered_at <= known_on,
    )


def _codes_measured(project_id: UUID) -> CTE:
    """Return the codes of which something was measured, each found behind the one before it."""
    of_project = _measured(project_id)
    codes = select(func.min(BookEntry.party).label("code")).where(*of_project)
    listed = codes.cte("codes", recursive=True)
    following = (
        select(func.min(BookEntry.party))
        .where(*of_project, BookEntry.party > listed.c.code)
        .correlate(listed)
        .scalar_subquery()
    )
    return listed.union_all(select(following).where(listed.c.code.is_not(None)))


def _measured(project_id: UUID) -> tuple[ColumnElement[bool], ...]:
    return BookEntry.project_id == project_id, BookEntry.kind == _PROGRESS


def _books(session: AccountSession, statements: Iterable[Select[Any]]) -> Books:
    rows: dict[str, list[Any]] = defaultdict(list)
    for statement in statements:
        entries = session.execute(statement, execution_options={"yield_per": _AT_ONCE})
        for kind, fields in entries:
            if fields is None:  # nothing of the code was measured that way by then
                continue
            rows[kind].append(library_row(fields, ENTRY_KINDS[kind].row))
    for listed in rows.values():
        listed.sort(key=lambda one: one.row)
    return Books(**rows)
