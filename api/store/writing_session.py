"""Sessions that write the rows of one account, each change with its audit row."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import Engine, Integer, Table, bindparam, event
from sqlalchemy.orm import UOWTransaction, make_transient_to_detached
from sqlalchemy.orm.attributes import set_committed_value

from api.store.account_limits import BypassRefused
from api.store.bulk import add_amounts, insert_rows
from api.store.caller import Caller
from api.store.engine import locking
from api.store.errors import Unchangeable, VersionStale
from api.store.models import (
    Account,
    AuditEnd,
    AuditRow,
    Base,
    OfAccount,
    StoredSubmission,
    table_of,
    table_words,
)
from api.store.models.trail import CHANGED
from api.store.refusals import store_errors
from api.store.sessions import AccountSession
from api.store.trail import (
    Trail,
    TrailChange,
    canonical_states,
    change_of,
    changes_flushed,
    column_values,
    created,
    open_trail,
    state_before,
    values_before,
    with_json_written,
)
from estimator.errors import fault

Values = dict[str, Any]

_WRITTEN_BY_THE_STORE = (AuditRow, AuditEnd, StoredSubmission)


class WritingSession(AccountSession):
    """Reads and writes the rows of one account; nothing is saved unless `commit` is called.

    Rows that are added or deleted go to the database at once, changes of rows with the next
    statement, so that the audit trail tells them in the order they were made.

    Parameters
    ----------
    engine, caller
        As for reading.
    at : datetime
        When the change is made.
    """

    def __init__(self, engine: Engine, caller: Caller, at: datetime) -> None:
        super().__init__(engine, caller)
        self.at = at
        self.states: dict[int, str] = {}
        self.trail: Trail | None = None

    def open_trail(self) -> None:
        """Find the end of the account's trail and hold it; the first thing a unit does.

        Not done while the session is made, because one that fails here must still be closed.
        """
        with locking():
            connection = self.connection()
        self.trail = open_trail(connection, self.caller.account_id)

    def check_changes(self, changed: Sequence[Any]) -> None:
        """Refuse rows of others, and changes of rows that are final."""
        for row in (*self.new, *changed, *self.deleted):
            _check_owner(self, row)
        for row in (*changed, *self.deleted):
            if row.is_final:
                what = f"{table_words(row.__tablename__)} are final"
                raise fault(Unchangeable, what, "nothing was changed")
            self.states[id(row)] = state_before(row)

    def add(self, instance: object, *, _warn: bool = True) -> None:
        """Add a row, of this account unless it says otherwise."""
        self._own(instance)
        super().add(instance, _warn=_warn)
        self.flush()

    def add_all(self, instances: Iterable[Any]) -> None:
        """Add rows of one model, sent together as `insert_rows` does; the trail has each of them.

        Parameters
        ----------
        instances : iterable of model
            In the order that the trail says them.
        """
        rows = [self._filled(row) for row in instances]
        if not rows:
            return
        self.add_rows(type(rows[0]), [column_values(row) for row in rows])
        for row in rows:
            make_transient_to_detached(row)
            super().add(row)

    def add_rows(self, model: type[Base], rows: Sequence[Mapping[str, Any]]) -> None:
        """Add rows of one model that nobody looks at any more; the trail has each of them.

        Parameters
        ----------
        model, rows : type, sequence of mapping
            With an id; values by column, all of them, in the order that the trail says them.
        """
        self.flush()  # earlier changes go first
        if any(row["account_id"] != self.caller.account_id for row in rows):
            raise BypassRefused(f"a row of {model.__tablename__} belongs to another account")
        written = list(with_json_written(model, rows))
        self.add_parts(model, written)
        self._note(created(model, written) if model.is_audited else ())

    def _filled(self, row: Any) -> Any:
        """Return a new row with what it gets where nothing is said, as a flush would fill it."""
        self._own(row)
        _check_owner(self, row)
        for column in row.__table__.columns:
            if getattr(row, column.key) is None and (default := column.default) is not None:
                setattr(row, column.key, default.arg(None) if default.is_callable else default.arg)
        row.version = 1
        return row

    def _note(self, changes: Iterable[TrailChange | None]) -> None:
        """Write changes to the trail, but for those of rows that it does not have."""
        audited = [change for change in changes if change is not None]
        if audited:
            assert self.trail is not None
            self.trail.add(self.connection(), audited, self.at, self.caller.actor)

    def _own(self, instance: object) -> None:
        if isinstance(instance, OfAccount) and instance.account_id is None:
            instance.account_id = self.caller.account_id

    def add_parts(self, model: type[Base], rows: Sequence[Mapping[str, Any]]) -> None:
        """Add rows that are parts of a whole, whose digest the trail has; as `insert_rows` does."""
        with store_errors():
            insert_rows(self.connection(), table_of(model), rows)

    def add_amounts(self, model: type[Base], rows: Sequence[Mapping[str, Any]]) -> None:
        """Add to sums of rows that the trail has; as `add_amounts` of `bulk` does."""
        with store_errors():
            add_amounts(self.connection(), table_of(model), rows)

    def put_all(self, changes: Iterable[tuple[Any, Mapping[str, Any]]]) -> None:
        """Set columns of rows of one model, in one statement; the trail has them one by one.

        Parameters
        ----------
        changes : iterable of (model, mapping)
            A row as it was read, and columns; those that say the same already stay.
        """
        self.flush()  # earlier changes go first
        rows, were, are, sent = list[Any](), list[Values](), list[Values](), list[Values]()
        for row, columns in changes:
            fresh = {key: value for key, value in columns.items() if getattr(row, key) != value}
            if fresh:
                _check_owner(self, row)
                rows.append(row)
                were.append(values_before(row))
                are.append(were[-1] | fresh | {"version": row.version + 1})
                sent.append({"of_id": row.id, "of_version": row.version, **columns})
                for key in (*fresh, "version"):
                    set_committed_value(row, key, are[-1][key])
        if sent:
            model = type(rows[0])
            self._send(table_of(model), sent)
            states = canonical_states(model, were), canonical_states(model, are)
            self._note([change_of(CHANGED, *one) for one in zip(rows, *states, strict=True)])

    def _send(self, table: Table, sent: list[dict[str, Any]]) -> None:
        here = (table.c.id == bindparam("of_id"), table.c.version == bindparam("of_version"))
        put = table.update().where(*here).values(version=bindparam("of_version", type_=Integer) + 1)
        with store_errors():
            done = self.connection().execute(put, sent)
        if done.rowcount != len(sent):
            raise fault(VersionStale, "it was changed by somebody else", "read it again")

    def delete(self, instance: object) -> None:
        """Delete a row."""
        super().delete(instance)
        self.flush()

    def delete_all(self, instances: Iterable[object]) -> None:
        """Delete rows together; the trail has them one by one."""
        self.flush()  # earlier changes go first
        for row in instances:
            super().delete(row)
        self.flush()

    def commit(self) -> None:
        """Keep everything that was done, with its audit rows; the last thing a unit does."""
        self.flush()
        assert self.trail is not None
        connection = self.connection()
        self.trail.store_end(connection)
        if self.in_transaction():  # of models
            super().commit()
        connection.commit()


def _check_owner(session: AccountSession, row: Any) -> None:
    if isinstance(row, _WRITTEN_BY_THE_STORE):
        raise BypassRefused(f"{row.__tablename__} is written by the store alone")
    owner = row.id if isinstance(row, Account) else row.account_id
    if owner != session.caller.account_id:
        raise BypassRefused(f"a row of {row.__tablename__} belongs to another account")


@event.listens_for(WritingSession, "after_flush")
def _write_trail(session: WritingSession, _context: UOWTransaction) -> None:
    changes = changes_flushed(session.new, session.dirty, session.deleted, session.states)
    session.states.clear()
    session._note(changes)
