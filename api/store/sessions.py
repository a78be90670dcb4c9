"""Sessions that see one account only, and those that write, each change with its audit row.

The limit to one account is added to every statement by the session, not by whoever writes the
statement. What the session cannot limit (raw SQL, bare tables, bulk updates) it refuses, with a
message for the developer.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from functools import lru_cache
from typing import Any, TypeVar, cast
from uuid import UUID

from sqlalchemy import Connection, Engine, Integer, Row, Select, Table, bindparam, event, select
from sqlalchemy.orm import ORMExecuteState, Session, UOWTransaction, make_transient_to_detached
from sqlalchemy.orm.attributes import set_committed_value

from api.store.account_limits import (
    BypassRefused,
    Statement,
    limit_values,
    limited,
    limits_of,
    refuse_all_but_selects,
)
from api.store.bulk import add_amounts, insert_rows
from api.store.caller import Caller
from api.store.engine import locking
from api.store.errors import NotFound, Unchangeable, VersionStale
from api.store.models import Account, AuditEnd, AuditRow, Base, OfAccount, Submission, table_of
from api.store.models.trail import CHANGED
from api.store.refusals import store_errors
from api.store.trail import (
    Change,
    Trail,
    change_of,
    changes_flushed,
    column_values,
    created,
    open_trail,
    state_after,
    state_before,
    with_json_written,
)
from estimator.errors import InputFaulty, fault, quoted

RowType = TypeVar("RowType", bound=Base)

_WRITTEN_BY_THE_STORE = (AuditRow, AuditEnd, Submission)


class AccountSession(Session):
    """Reads the rows of one account, as they were at one moment.

    Parameters
    ----------
    engine : Engine
        The store's, or from `for_reading`.
    caller : Caller
        Whose rows are seen.
    """

    def __init__(self, engine: Engine, caller: Caller) -> None:
        super().__init__(expire_on_commit=False, join_transaction_mode="rollback_only")
        self.engine = engine
        self.caller = caller
        self.limit_values = limit_values(caller)
        self.is_getting = False
        self._open: Connection | None = None

    def of_whole_account(self) -> AccountSession:
        """Return a session that sees what no lender is shown, to check or explain what they are."""
        return AccountSession(self.engine, Caller(self.caller.account_id))

    def connection(self, *_of: Any, **_options: Any) -> Connection:
        """Return the connection of the transaction, the same until the session is closed."""
        if self._open is None:
            self._open = self.engine.connect()
            self._open.begin()
        return self._open

    def get_bind(self, *_of: Any, **_options: Any) -> Connection:
        """Return the connection of the transaction: models use the same."""
        return self.connection()

    def close(self) -> None:
        """Undo what was not committed, and give the connection back."""
        super().close()
        if self._open is not None:
            self._open.close()
            self._open = None

    def flush(self, objects: Sequence[Any] | None = None) -> None:
        """Send changes to the database; what it refuses is raised as an error of the store."""
        with store_errors():
            super().flush(objects)

    def get(self, *statement: Any, **options: Any) -> Any:
        """Return the row with an id, or None if the account has none."""
        self.is_getting = True  # a statement of SQLAlchemy's own, in words it alone may use
        try:
            return super().get(*statement, **options)
        finally:
            self.is_getting = False

    def rows(self, statement: Statement, **values: object) -> Sequence[Row[Any]]:
        """Return the rows that a select of columns yields in the caller's account.

        Parameters
        ----------
        statement : Select
            Written once: it is limited once, and executed without what a session does for models,
            which takes three times as long.
        **values
            Its parameters.
        """
        self.flush()  # it sees what was done so far
        of_account = limited(statement, self.caller)
        return self.connection().execute(of_account, {**values, **self.limit_values}).all()

    def existing(self, model: type[RowType], key: UUID, **of: object) -> RowType:
        """Return the row with an id.

        Parameters
        ----------
        model, key : type, UUID
            Which row.
        **of
            What it must belong to, such as `project_id`.

        Raises
        ------
        NotFound
            If the account has none there; the answer is the same where another account has one.
        """
        row: RowType | None = self.scalar(_with_id(model), {"of_id": key})
        if row is None or any(getattr(row, name) != owner for name, owner in of.items()):
            raise not_found(model, key)
        return row

    def expect(self, row: Any, version: int) -> None:
        """Refuse to go on if a row is no longer what the caller has read.

        Raises
        ------
        VersionStale
            If its version differs.
        """
        if row.version != version:
            raise fault(
                VersionStale,
                f"it is at version {row.version}, and version {version} was given",
                "read it again",
            )


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

    def _note(self, changes: Iterable[Change | None]) -> None:
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
        noted, sent = [], []
        for row, columns in changes:
            fresh = {key: value for key, value in columns.items() if getattr(row, key) != value}
            if fresh:
                _check_owner(self, row)
                before = state_before(row)
                for key, value in (fresh | {"version": row.version + 1}).items():
                    set_committed_value(row, key, value)
                noted.append(change_of(CHANGED, row, before, state_after(row)))
                sent.append({"of_id": row.id, "of_version": row.version - 1, **columns})
        if sent:
            self._send(table_of(type(row)), sent)
            self._note(noted)

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


@lru_cache
def _with_id(model: Any) -> Select[Any]:
    """Return the statement for one row: written once, it is limited to an account once."""
    return select(model).where(model.id == bindparam("of_id"))


def not_found(model: type[Base], key: UUID) -> InputFaulty:
    """Return the refusal of an id that the account does not have, whether another has it or not."""
    return fault(NotFound, f"there is no {quoted(key)} in {model.__tablename__}")


@event.listens_for(AccountSession, "do_orm_execute")
def _hold_to_account(state: ORMExecuteState) -> None:
    session = state.session
    assert isinstance(session, AccountSession)
    refuse_all_but_selects(state.statement)
    values = cast("Mapping[str, Any]", state.parameters or {})
    state.parameters = {**values, **session.limit_values}
    if state.is_column_load or state.is_relationship_load:
        return
    if session.is_getting:
        limits = limits_of(session.caller.role)
        state.statement = state.statement.options(*limits)
    else:
        state.statement = limited(state.statement, session.caller)


@event.listens_for(AccountSession, "before_flush")
def _check_changes(session: AccountSession, _context: UOWTransaction, _objects: object) -> None:
    changed = [row for row in session.dirty if session.is_modified(row)]
    if not isinstance(session, WritingSession):
        if session.new or session.deleted or changed:
            raise BypassRefused("this session only reads; write in a unit_of_work")
        return
    for row in (*session.new, *changed, *session.deleted):
        _check_owner(session, row)
    for row in (*changed, *session.deleted):
        if row.is_final:
            raise fault(Unchangeable, f"{row.__tablename__} are final, nothing was done")
        session.states[id(row)] = state_before(row)


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
