"""The audit trail: what each change was, chained by digest, in the change's own transaction.

The digest of a row is the SHA-256 of the digest before it, a line feed, and the row as canonical
JSON: account, number, time, actor, action, subject, its id, before, after; ids without hyphens.
The first row follows 64 zeros.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from functools import cache, partial
from json.encoder import encode_basestring_ascii
from typing import Any, NamedTuple
from uuid import UUID

from sqlalchemy import (
    Connection,
    FromClause,
    String,
    bindparam,
    func,
    inspect,
    select,
    type_coerce,
    update,
)
from sqlalchemy.orm import InstanceState
from sqlalchemy.orm.base import NO_VALUE

from api.store.bulk import each, insert_rows
from api.store.columns import DIGEST_LENGTH, Json, JsonText, canonical_json, utc_text
from api.store.engine import SQLITE
from api.store.models import AuditEnd, AuditRow, Base, table_of
from api.store.models.trail import CHANGED, CREATED, DELETED

START = "0" * DIGEST_LENGTH
_ROWS, _ENDS = table_of(AuditRow), table_of(AuditEnd)
_END_OF_ACCOUNT = _ENDS.c.account_id == bindparam("of_account")
_END = select(_ENDS.c.number, _ENDS.c.digest).where(_END_OF_ACCOUNT).with_for_update()
_MOVE_END = update(_ENDS).where(_END_OF_ACCOUNT)
_BY_DIGEST = "by_digest"
# Marks a column that came later: rows without it stand in the trail as before.
_LATER = "later"
# Marks a column that had another name, under which older rows stand in the trail.
_FORMERLY = "formerly"
_TEXT, _NULL = encode_basestring_ascii, "null"
_NOTHING = JsonText("[]")  # the notes of most entries


class TrailChange(NamedTuple):
    """One change of one row: what was done, to what, and its state before and after."""

    action: str
    subject: str
    subject_id: UUID
    before: str | None
    after: str | None


@dataclass
class Trail:
    """The end of an account's trail, to which changes are added.

    Parameters
    ----------
    account_id : UUID
        Whose.
    number, digest : int, str
        Of the last row; 0 and 64 zeros before the first.
    is_new : bool
        Whether no end of the account's trail is stored yet.
    """

    account_id: UUID
    number: int
    digest: str
    is_new: bool

    def add(
        self, connection: Connection, changes: list[TrailChange], at: datetime, actor: str
    ) -> None:
        """Write changes as the next rows of the trail."""
        rows, account, moment = [], self.account_id.hex, utc_text(at)
        for change in changes:
            self.number += 1
            self.digest = chained(
                self.digest,
                [
                    account, self.number, moment, actor, change.action,
                    change.subject, change.subject_id.hex, change.before, change.after,
                ],
            )  # fmt: skip
            rows.append(
                {
                    "account_id": self.account_id,
                    "number": self.number,
                    "at": at,
                    "actor": actor,
                    "action": change.action,
                    "subject": change.subject,
                    "subject_id": change.subject_id,
                    "before": change.before,
                    "after": change.after,
                    "digest": self.digest,
                }
            )
        insert_rows(connection, _ROWS, rows)

    def store_end(self, connection: Connection) -> None:
        """Write where the trail ends now."""
        end = {"number": self.number, "digest": self.digest}
        if self.is_new:
            connection.execute(_ENDS.insert(), {"account_id": self.account_id, **end})
            self.is_new = False
        else:
            connection.execute(_MOVE_END, {"of_account": self.account_id, **end})


def open_trail(connection: Connection, account_id: UUID) -> Trail:
    """Return the end of an account's trail, held so that no other writer of it gets in between."""
    end = connection.execute(_END, {"of_account": account_id}).first()
    if end is None:
        return Trail(account_id, 0, START, is_new=True)
    return Trail(account_id, end.number, end.digest, is_new=False)


def chained(previous: str, row: Sequence[Any]) -> str:
    """Return the digest of a row that follows another."""
    account, number, at, actor, action, subject, subject_id, before, after = row
    content = (
        f"{_TEXT(account)},{number},{_TEXT(at)},{_TEXT(actor)},{_TEXT(action)},{_TEXT(subject)},"
        f"{_TEXT(subject_id)},{_NULL if before is None else _TEXT(before)},"
        f"{_NULL if after is None else _TEXT(after)}"
    )
    return hashlib.sha256(f"{previous}\n[{content}]".encode()).hexdigest()


def chained_columns(dialect: str) -> list[Any]:
    """Return the columns of the trail as the digest takes them, made by the database itself."""
    c = _ROWS.c
    ids: list[Any] = [type_coerce(one, String) for one in (c.account_id, c.subject_id)]
    at: Any = type_coerce(c.at, String)
    if dialect != SQLITE:
        ids = [func.encode(func.uuid_send(one), "hex") for one in (c.account_id, c.subject_id)]
        at = func.to_char(func.timezone("UTC", c.at), 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"')
    account, subject = ids
    content = [account, c.number, at, c.actor, c.action, c.subject, subject, c.before, c.after]
    return [*content, c.digest]


def with_json_written(
    model: type[Base], rows: Iterable[Mapping[str, Any]]
) -> Iterator[dict[str, Any]]:
    """Yield rows with their JSON written: once for the database and for the trail."""
    names = [one.key for one in model.__table__.columns if isinstance(one.type, Json)]
    for row in rows:
        written = {
            name: _NOTHING if value == [] else JsonText(canonical_json(value))
            for name in names
            if (value := row[name]) is not None
        }
        yield {**row, **written}


def change_of(action: str, row: Any, before: str | None, after: str | None) -> TrailChange | None:
    """Return the change of a row; None where the trail does not have its rows."""
    return TrailChange(action, row.__tablename__, row.id, before, after) if row.is_audited else None


def changes_flushed(
    new: Iterable[Any], dirty: Iterable[Any], deleted: Iterable[Any], states: Mapping[int, str]
) -> list[TrailChange | None]:
    """Return the changes of a flush.

    Parameters
    ----------
    new, dirty, deleted : iterables of model
        As the session has them.
    states : mapping of int to str
        What rows said before, by their identity in memory; a row without is not changed.
    """
    return [
        *(change_of(CREATED, row, None, state_after(row)) for row in new),
        *(
            change_of(CHANGED, row, states[id(row)], state_after(row))
            for row in dirty
            if id(row) in states
        ),
        *(change_of(DELETED, row, states[id(row)], None) for row in deleted),
    ]


def created(model: type[Base], rows: Sequence[Mapping[str, Any]]) -> list[TrailChange]:
    """Return the changes that new rows are, from their values by column."""
    subject, content = model.__tablename__, canonical_states(model, rows)
    return [
        TrailChange(CREATED, subject, row["id"], None, after)
        for row, after in zip(rows, content, strict=True)
    ]


def state_after(row: Base) -> str:
    """Return what a row says now, as the trail tells it."""
    return canonical_state(row, column_values(row))


def state_before(row: Base) -> str:
    """Return what a row said when it was read, as the trail tells it."""
    return canonical_state(row, values_before(row))


def values_before(row: Base) -> dict[str, Any]:
    """Return what a row said when it was read, by column."""
    state: InstanceState[Any] = inspect(row)
    was = column_values(row) | state.committed_state
    for key, value in state.committed_state.items():
        if value is NO_VALUE:  # it was set without being read
            was[key] = next(iter(state.attrs[key].load_history().deleted or ()), None)
    return was


def column_values(row: Base) -> dict[str, Any]:
    """Return what a row says now, by column."""
    return {column.key: getattr(row, column.key) for column in row.__table__.columns}


def canonical_state(model: Base | type[Base], values: Mapping[str, Any]) -> str:
    """Return the values of a row's columns as canonical JSON."""
    return canonical_states(model, [values])[0]


def former_state(model: Base | type[Base], values: Mapping[str, Any]) -> str:
    """Return the values of a row's columns as the trail has them, by their former names."""
    return canonical_states(model, [values], is_former=True)[0]


def canonical_states(
    model: Base | type[Base], rows: Sequence[Mapping[str, Any]], *, is_former: bool = False
) -> list[str]:
    """Return the values of the columns of rows, each as canonical JSON."""
    columns = [
        each(partial(_part, opening, info), [row[key] for row in rows])
        for key, opening, info in _columns(model.__table__, is_former=is_former)
    ]
    return [f"{{{','.join(filter(None, content))}}}" for content in zip(*columns, strict=True)]


def _part(opening: str, info: Mapping[Any, Any], value: Any) -> str:
    """Return what a row says in a column, as JSON begins with it; nothing of a later one."""
    if info and value is None and _LATER in info:
        return ""
    return opening + _json(_by_digest(value) if _BY_DIGEST in info else value)


@cache
def _columns(
    table: FromClause, *, is_former: bool
) -> tuple[tuple[str, str, Mapping[Any, Any]], ...]:
    """Return the columns in the order of JSON, each as JSON begins with it and with its marks."""
    named = {
        one.info.get(_FORMERLY, one.key) if is_former else one.key: one for one in table.columns
    }
    return tuple(
        (named[name].key, f"{canonical_json(name)}:", named[name].info) for name in sorted(named)
    )


def plain(value: Any) -> Any:
    """Return a value of a column as JSON can say it."""
    way = _PLAIN.get(type(value))
    return value if way is None else way(value)


def _json(value: Any) -> str:
    """Return a value of a column as canonical JSON."""
    way = _JSON.get(type(value))
    return canonical_json(plain(value)) if way is None else way(value)


_PLAIN: Mapping[type, Callable[[Any], str]] = {
    UUID: str, datetime: utc_text, date: date.isoformat,
}  # fmt: skip
_JSON: Mapping[type, Callable[[Any], str]] = {
    str: _TEXT, int: str, type(None): lambda _: _NULL, JsonText: str,
    UUID: '"{}"'.format,
}  # fmt: skip


def _by_digest(value: str | None) -> str | None:
    return None if value is None else "sha256 " + hashlib.sha256(value.encode()).hexdigest()
