"""What `verify` asks of the books: no entry is missing, and columns say what the entry says."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from sqlalchemy import Connection, select

from api.ledger.rows import BookEntry
from api.store.models import table_of
from api.store.verify import checks_subject, damaged, streamed


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
    said = (row.fields["row"], row.fields["happened"], row.fields.get("reverses"))
    if said != (row.number, row.happened.isoformat(), row.reverses):
        raise damaged(f"book_entries {row.id}", "the entry is not what its columns say")
