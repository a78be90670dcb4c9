"""Checking that stored data is consistent: chain, states, sums, triggers; names the first fault.

A trail that was rewritten from end to end would still hold together: whoever must rule that out
notes the digest that a check returns, and compares.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import groupby
from operator import itemgetter
from typing import Any
from uuid import UUID

from sqlalchemy import Connection, Row, Select, Table, inspect, select

from api.store.columns import canonical_json
from api.store.engine import SQLITE
from api.store.errors import StoreFaulty
from api.store.migrations.current_step import check_step
from api.store.migrations.final import guards
from api.store.models import AuditEnd, AuditRow, Base, StoredSubmission, table_of
from api.store.models.trail import ANSWERED, DELETED
from api.store.store import Store
from api.store.submissions import StoredAnswer
from api.store.trail import START, canonical_state, chained, chained_columns, former_state
from estimator.errors import fault

LastStates = dict[str, dict[str, tuple[str, str | None]]]
"""What each changed row became last: action and state, by table and id without hyphens."""

_AT_ONCE = 2_000
SUBJECT_CHECKS: list[Callable[[Connection], None]] = []
_ROWS, _ENDS = table_of(AuditRow), table_of(AuditEnd)


@dataclass(frozen=True)
class Verified:
    """What a check went over.

    Parameters
    ----------
    accounts, audit_rows : int
        How many.
    digest : str
        SHA-256 over the ends of all trails: the same again if nothing was written since.
    """

    accounts: int
    audit_rows: int
    digest: str


def verify(store: Store) -> Verified:
    """Return what was checked, if everything holds together.

    Raises
    ------
    StoreFaulty
        With the first thing that does not, and where it is.
    StoreUnfit
        If the database is not at the newest step.
    """
    with store.across_accounts() as connection:
        return verify_connection(connection)


def verify_connection(connection: Connection) -> Verified:
    """Return what was checked of the database on a connection."""
    check_step(connection)
    is_file = connection.dialect.name == SQLITE
    if is_file:
        _check_file(connection)
    _check_tables(connection)
    _check_guards(connection)
    if is_file:
        _check_rows_of_file(connection)
    try:
        last_states: LastStates = {}
        verified = _check_chains(connection, last_states)
        for model in _audited():
            _check_states(connection, model, last_states.pop(model.__tablename__, {}))
        _check_answers(connection)
        for check in SUBJECT_CHECKS:
            check(connection)
    except (ValueError, TypeError) as error:  # a stored value is not even a date, an id, JSON
        raise damaged("database", f"a value cannot be read: {error}") from error
    return verified


def checks_subject(check: Callable[[Connection], None]) -> Callable[[Connection], None]:
    """Make a subject's check a part of every verification; it raises `damaged` at a fault."""
    SUBJECT_CHECKS.append(check)
    return check


def damaged(where: str, what: str) -> Exception:
    """Return the error of what does not hold together, with where it is."""
    return fault(StoreFaulty, what, "restore the newest backup that verifies", where)


def _check_file(connection: Connection) -> None:
    """Have SQLite check its own file: its pages, its indexes, that every key leads somewhere."""
    connection.exec_driver_sql("PRAGMA ignore_check_constraints=ON")
    try:
        result = connection.exec_driver_sql("PRAGMA integrity_check(1)").scalar()
    finally:
        connection.exec_driver_sql("PRAGMA ignore_check_constraints=OFF")
    if result != "ok":
        raise damaged("database file", f"it is damaged: {result}")
    broken = connection.exec_driver_sql("PRAGMA foreign_key_check").first()
    if broken is not None:
        raise damaged(broken[0], f"a row names one of {broken[2]} that is not there")


def _check_rows_of_file(connection: Connection) -> None:
    """Have SQLite put its rows to their checks, but the trail's: its digests cover each letter."""
    for name in sorted(Base.metadata.tables.keys() - {_ROWS.name}):
        result = connection.exec_driver_sql(f"PRAGMA integrity_check({name})").scalar()
        if result != "ok":
            raise damaged(name, f"it is damaged: {result}")


def _check_tables(connection: Connection) -> None:
    """Refuse to go over less than there is: a table that no model of this process knows."""
    tables = set(inspect(connection).get_table_names()) - {"alembic_version"}
    for name in sorted(tables ^ Base.metadata.tables.keys()):
        raise damaged("schema", f"table {name} is missing or unknown")


def _check_guards(connection: Connection) -> None:
    """Look for each trigger that keeps final rows as they are, with its very words."""
    if connection.dialect.name == SQLITE:
        statement = "SELECT name, sql FROM sqlite_master WHERE type = 'trigger'"
        standing = {row[0]: row[1] for row in connection.exec_driver_sql(statement)}
        wanted = {
            one.name: f"CREATE TRIGGER {one.name} {one.sqlite}" for one in guards() if one.sqlite
        }
    else:
        statement = "SELECT tgname, tgenabled FROM pg_trigger WHERE NOT tgisinternal"
        standing = {name: "on" if state in ("O", b"O", "A", b"A") else "off"
                    for name, state in connection.exec_driver_sql(statement)}  # fmt: skip
        wanted = {one.name: "on" for one in guards() if one.postgresql}
    for name in sorted(standing.keys() | wanted.keys()):
        if standing.get(name) != wanted.get(name):
            state = "is missing" if name not in standing else "is not ours"
            raise damaged("schema", f"trigger {name} {state}")


def _check_chains(connection: Connection, last_states: LastStates) -> Verified:
    ends = {end.account_id.hex: end for end in connection.execute(select(_ENDS))}
    total, seen = 0, set()
    statement = select(*chained_columns(connection.dialect.name))
    with streamed(connection, statement.order_by(_ROWS.c.account_id, _ROWS.c.number)) as rows:
        for account_id, trail in groupby(rows, key=itemgetter(0)):
            number, digest = _chain_end(account_id, trail, last_states)
            end = ends.get(account_id)
            if end is None or (end.number, end.digest) != (number, digest):
                what = _other_end(number, None if end is None else end.number)
                raise damaged(f"audit trail of account {account_id}", what)
            total += number
            seen.add(account_id)
    for account_id in [one for one, end in ends.items() if one not in seen]:
        raise damaged(f"audit trail of account {account_id}", "all its rows are missing")
    all_ends = [[one, ends[one].number, ends[one].digest] for one in sorted(ends)]
    digest = hashlib.sha256(canonical_json(all_ends).encode()).hexdigest()
    return Verified(len(ends), total, digest)


def _other_end(number: int, noted: int | None) -> str:
    """Return what is wrong with the last row of a trail: its end is noted on its own, too."""
    if noted is None:
        return f"it ends with row {number}, but no end is noted for it"
    if noted == number:
        return f"its last row, {number}, is not the one noted as its end"
    return f"it ends with row {number}, but row {noted} is noted as its end"


def _chain_end(
    account_id: str, rows: Iterable[Row[Any]], last_states: LastStates
) -> tuple[int, str]:
    """Return number and digest of the last row of a trail, each row following the one before.

    What each changed row became last is noted on the way: the trail is read once.
    """
    number, digest = 0, START
    for row in rows:
        cells: tuple[Any, ...] = row[:-1]
        number += 1
        if cells[1] != number:
            where = f"audit trail of account {account_id}, row {number}"
            raise damaged(where, f"it is missing; row {cells[1]} follows")
        digest = chained(digest, cells)
        if row[-1] != digest:
            where = f"audit trail of account {account_id}, row {number}"
            raise damaged(where, "it was altered, or does not follow the row before it")
        last_states.setdefault(cells[5], {})[cells[6]] = cells[4], cells[8]
    return number, digest


def _audited() -> list[type[Base]]:
    models = [mapper.class_ for mapper in Base.registry.mappers if _is_audited(mapper.class_)]
    return sorted(models, key=lambda model: model.__tablename__)


def _is_audited(model: type[Base]) -> bool:
    return model.is_audited and not model.is_part


def _check_states(
    connection: Connection, model: type[Base], last_states: dict[str, tuple[str, str | None]]
) -> None:
    """Compare each row of a table with what the trail says it became last."""
    name, table = model.__tablename__, table_of(model)
    with streamed(connection, select(table)) as rows:
        for row in rows:
            where = f"{name} {row.id}"
            last = last_states.pop(row.id.hex, None)
            if last is None or last[0] == DELETED:
                raise damaged(where, "no audit row mentions it")
            values = dict(row._mapping)
            if all(last[1] != state(model, values) for state in (canonical_state, former_state)):
                raise damaged(where, "it is not what the audit trail says it became")
    for row_id, (action, _) in last_states.items():
        if action != DELETED:
            raise damaged(f"{name} {UUID(row_id)}", "it is missing, but no deletion is on record")


def _check_answers(connection: Connection) -> None:
    """Compare what is answered to a submission that comes again with its digest."""
    table = table_of(StoredSubmission)
    answered = select(table).where(table.c.state == ANSWERED)
    with streamed(connection, answered) as rows:
        for row in rows:
            if StoredAnswer(row.status, row.headers, row.body).digest != row.answer_digest:
                raise damaged(f"submissions {row.id}", "its answer was altered")


@contextmanager
def grouped(connection: Connection, table: Table, by: str, *order: str) -> Iterator[Any]:
    """Give the rows of a table as dictionaries, those of one whole together."""
    columns = [table.c[name] for name in (by, *order)]
    with streamed(connection, select(table).order_by(*columns)) as rows:
        yield groupby((dict(row._mapping) for row in rows), key=lambda row: row[by])


@contextmanager
def streamed(
    connection: Connection, statement: Select[Any], at_once: int = _AT_ONCE
) -> Iterator[Iterable[Row[Any]]]:
    """Give rows as they come, so many at once, and close the cursor whatever happens."""
    with connection.execute(statement, execution_options={"yield_per": at_once}) as rows:
        yield rows
