"""What `verify` asks of the books: no entry is missing or altered, and the kept sums are right."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING, Any
from uuid import UUID

from sqlalchemy import Connection, select

from api.ledger.rows import BookEntry
from api.store.models import table_of
from api.store.verify import checks_subject, damaged, streamed

if TYPE_CHECKING:
    from estimator.tracking.ledger_lines import MoneyRow

_LAST = datetime.max.replace(tzinfo=UTC)


@checks_subject
def check_books(connection: Connection) -> None:
    """Compare each entry with its columns, and look for gaps in the numbers."""
    entries = table_of(BookEntry)
    ordered = select(entries).order_by(entries.c.project_id, entries.c.number)
    last: tuple[UUID | None, int] = (None, 0)
    with streamed(connection, ordered) as rows:
        for row in rows:
            expected = last[1] + 1 if row.project_id == last[0] else 1
            if row.number != expected:
                where = f"book_entries of project {row.project_id}"
                raise damaged(where, f"entry {expected} is missing")
            _check_columns(row)
            last = (row.project_id, row.number)


def _check_columns(row: Any) -> None:
    stated = (row.fields["row"], row.fields["happened"], row.fields.get("reverses"))
    if stated != (row.number, row.happened.isoformat(), row.reverses):
        raise damaged(f"book_entries {row.id}", "the entry is not what its columns say")


@checks_subject
def check_sums(connection: Connection) -> None:
    """Compare the sums that are kept with those of the movements, and with the plain sums."""
    from api.ledger.stored_sums import ledger_sums
    from estimator.tracking.ledger_lines import lines_of
    from estimator.tracking.ledger_sums import LedgerSums, sums_of

    projects = select(table_of(BookEntry).c.project_id).distinct()
    for project_id in connection.scalars(projects).all():
        where = f"ledger_sums of project {project_id}"
        sums = ledger_sums(connection, project_id, date.max, _LAST)
        if sums.something() != sums_of(lines_of(_money_rows(connection, project_id))).something():
            raise damaged(where, "the sums are not those of the entries")
        rest = ledger_sums(connection, project_id, date.min, _LAST)  # less all that ever moved
        if rest.something() != LedgerSums({}, {}):
            raise damaged(where, "the sums are not those of the movements")


def _money_rows(connection: Connection, project_id: UUID) -> Iterator[MoneyRow]:
    from api.ledger.movement_rows import MONEY_ROWS
    from api.ledger.plain_rows import library_row

    entries = table_of(BookEntry)
    statement = select(entries.c.kind, entries.c.fields).where(
        entries.c.project_id == project_id, entries.c.kind.in_(MONEY_ROWS)
    )
    with streamed(connection, statement) as rows:
        for row in rows:
            yield library_row(row.fields, MONEY_ROWS[row.kind])
