"""The books of a project as the library has them: whole, or what a report needs of them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from datetime import date, datetime
from typing import Any
from uuid import UUID

from sqlalchemy import Select, func, or_, select

from api.ledger.desk import party_key
from api.ledger.entry_kinds import ENTRY_KINDS
from api.ledger.movement_rows import MONEY_ROWS
from api.ledger.plain_rows import library_row
from api.ledger.rows import BookEntry
from api.store.sessions import AccountSession
from estimator.tracking.books import Books

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
    more = [_measured_last(project_id, as_of, known_on)]
    if vendors:
        rented = known.where(BookEntry.kind == "costs", BookEntry.party.in_(sorted(vendors)))
        more.append(rented)
    others = _books(session, more)
    return Books(**vars(few) | {"progress": others.progress, "costs": others.costs})


def _entries(project_id: UUID) -> Select[Any]:
    """Select kind and fields; unordered, or a database would rather go through all by number."""
    return select(BookEntry.kind, BookEntry.fields).where(BookEntry.project_id == project_id)


def _measured_last(project_id: UUID, as_of: date, known_on: datetime) -> Select[Any]:
    """Select of each code what was measured last by each way of measuring."""
    measured = (
        select(
            BookEntry.number,
            BookEntry.document,
            func.row_number()
            .over(
                partition_by=(BookEntry.party, BookEntry.document),
                order_by=(BookEntry.happened.desc(), BookEntry.number.desc()),
            )
            .label("place"),
        )
        .where(
            BookEntry.project_id == project_id,
            BookEntry.kind == _PROGRESS,
            BookEntry.happened <= as_of,
            BookEntry.entered_at <= known_on,
        )
        .subquery()
    )
    # Entries of earlier versions do not say how they were measured.
    last = select(measured.c.number).where(or_(measured.c.place == 1, measured.c.document == ""))
    return _entries(project_id).where(BookEntry.number.in_(last))


def _books(session: AccountSession, statements: Iterable[Select[Any]]) -> Books:
    rows: dict[str, list[Any]] = defaultdict(list)
    for statement in statements:
        for kind, fields in session.execute(statement):
            rows[kind].append(library_row(fields, ENTRY_KINDS[kind].row))
    for listed in rows.values():
        listed.sort(key=lambda one: one.row)
    return Books(**rows)
