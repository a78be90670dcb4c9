"""The books of a project as the library has them: whole, or what a report needs of them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import date, datetime
from typing import Any
from uuid import UUID

from sqlalchemy import CTE, ColumnElement, Select, func, literal, select

from api.ledger.desk import party_key
from api.ledger.entry_kinds import ENTRY_KINDS
from api.ledger.movement_rows import MONEY_ROWS
from api.ledger.plain_rows import library_row
from api.ledger.rows import BookEntry
from api.store.sessions import AccountSession
from estimator.tracking.books import Books
from estimator.tracking.progress import FIGURES

_PROGRESS = "progress"
_FEW = sorted(ENTRY_KINDS.keys() - MONEY_ROWS.keys() - {_PROGRESS})


def books_of(session: AccountSession, project_id: UUID) -> Books:
    """Return all rows of the books of a project."""
    return _books(session, [_entries(project_id)])


def books_to_report(
    session: AccountSession, project_id: UUID, as_of: date, known_on: datetime
) -> Books:
    """Return what a report needs of the books besides the sums of the ledger.

    Of progress it is what was measured last, and of the costs those of vendors of whom something
    is rented; no payments, tickets or hours.
    """
    known = _entries(project_id).where(
        BookEntry.happened <= as_of, BookEntry.entered_at <= known_on
    )
    few = _books(session, [known.where(BookEntry.kind.in_(_FEW))])
    vendors = {party_key(one.vendor) for one in few.rents}
    more = list(_measured_last(project_id, as_of, known_on))
    if vendors:
        rented = known.where(BookEntry.kind == "costs", BookEntry.party.in_(sorted(vendors)))
        more.append(rented)
    others = _books(session, more)
    return Books(**vars(few) | {"progress": others.progress, "costs": others.costs})


def _entries(project_id: UUID) -> Select[Any]:
    """Select kind and fields; unordered, or a database would rather go through all by number."""
    return select(BookEntry.kind, BookEntry.fields).where(BookEntry.project_id == project_id)


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
        for kind, fields in session.execute(statement):
            if fields is None:  # nothing of the code was measured that way by then
                continue
            rows[kind].append(library_row(fields, ENTRY_KINDS[kind].row))
    for listed in rows.values():
        listed.sort(key=lambda one: one.row)
    return Books(**rows)
