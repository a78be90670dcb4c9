"""Sessions that see the rows of one account only.

The limit to one account is added to every statement by the session, not by whoever writes the
statement. What the session cannot limit (raw SQL, bare tables, bulk updates) it refuses, with a
message for the developer.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any, TypeVar, cast
from uuid import UUID

from sqlalchemy import Connection, Engine, Row, Select, bindparam, event, select
from sqlalchemy.orm import ORMExecuteState, Session, UOWTransaction

from api.store.account_limits import (
    BypassRefused,
    Statement,
    limit_values,
    limited,
    limits_of,
    refuse_all_but_selects,
)
from api.store.caller import Caller
from api.store.errors import NotFound, VersionStale
from api.store.models import Base, table_words
from api.store.refusals import store_errors
from estimator.errors import InputFaulty, fault, quoted

RowType = TypeVar("RowType", bound=Base)


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

    def check_changes(self, changed: Sequence[Any]) -> None:
        """Refuse rows that were added, changed or deleted, before they go to the database."""
        if self.new or self.deleted or changed:
            raise BypassRefused("this session only reads; write in a unit_of_work")

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


@lru_cache
def _with_id(model: Any) -> Select[Any]:
    """Return the statement for one row: written once, it is limited to an account once."""
    return select(model).where(model.id == bindparam("of_id"))


def not_found(model: type[Base], key: UUID) -> InputFaulty:
    """Return the refusal of an id that the account does not have, whether another has it or not."""
    return fault(NotFound, f"there is no {quoted(key)} in {table_words(model.__tablename__)}")


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
    session.check_changes([row for row in session.dirty if session.is_modified(row)])
