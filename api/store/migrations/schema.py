"""What the steps do to the schema: tables with the checks of their columns, guards, rebuilding."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any

import sqlalchemy as sa
from alembic import op
from alembic.operations import BatchOperations
from sqlalchemy.schema import CreateColumn, SchemaItem

from api.store.columns import IntRange, column_checks
from api.store.errors import StillNeeded
from api.store.migrations.guards import Guard, create_guards, drop_guards
from api.store.models import Base
from estimator.errors import fault


def key_columns(*, of_project: bool = False) -> list[sa.Column[Any]]:
    """Return the columns of a row with an id that belongs to an account, or to a project."""
    columns = [sa.Column("id", sa.Uuid(), nullable=False), account_column()]
    return [*columns, project_column()] if of_project else columns


def account_column() -> sa.Column[Any]:
    """Return the column that says whose a row is."""
    return sa.Column("account_id", sa.Uuid(), sa.ForeignKey("accounts.id"), nullable=False)


def project_column() -> sa.Column[Any]:
    """Return the column that says of which project a row is."""
    return sa.Column("project_id", sa.Uuid(), nullable=False)


def version_column() -> sa.Column[Any]:
    """Return the column that every change of a row raises."""
    return required("version", IntRange(1, 10**9))


def required(name: str, kind: Any) -> sa.Column[Any]:
    """Return a column that always holds something."""
    return sa.Column(name, kind, nullable=False)


def of_project() -> sa.ForeignKeyConstraint:
    """Return the key that keeps a row in a project of its own account."""
    return sa.ForeignKeyConstraint(
        ["account_id", "project_id"], ["projects.account_id", "projects.id"]
    )


def of_estimate() -> sa.ForeignKeyConstraint:
    """Return the key that keeps a row with an estimate of its own project."""
    columns = ("account_id", "project_id", "id")
    return sa.ForeignKeyConstraint(
        ["account_id", "project_id", "estimate_id"], [f"estimates.{one}" for one in columns]
    )


def create_table(name: str, *parts: SchemaItem) -> sa.Table:
    """Create a table with the checks that the kinds of its columns ask for, and return it."""
    checks = [
        check for part in parts if isinstance(part, sa.Column) for check in column_checks(part)
    ]
    return op.create_table(name, *parts, *checks)


def drop_empty_tables(*names: str) -> None:
    """Drop tables, or refuse if one of them holds a row: nothing is lost by a step down.

    Raises
    ------
    StillNeeded
        Naming the first table that holds something.
    """
    for name in names:
        if op.get_bind().scalar(sa.select(sa.literal(1)).select_from(sa.table(name)).limit(1)):
            raise fault(
                StillNeeded,
                f"table {name} holds rows that going back a step would lose",
                "make a backup and restore it with the older program",
            )
    for name in names:
        op.drop_table(name)


def add_columns(table: str, kinds: Mapping[str, Any]) -> None:
    """Add columns that may be null, with the checks that their kinds ask for.

    Both databases take a column with its checks, so that SQLite need not build the table anew.

    Parameters
    ----------
    table : str
        Its name.
    kinds : mapping of str to a kind of column
        By the name of each new column.
    """
    names = sa.MetaData(naming_convention=Base.metadata.naming_convention)
    of_table = sa.Table(table, names)
    for name, kind in kinds.items():
        column = sa.Column(name, kind, *_checks_here(sa.Column(name, kind)))
        of_table.append_column(column)
        definition = CreateColumn(column).compile(dialect=op.get_bind().dialect)
        op.execute(f"ALTER TABLE {table} ADD COLUMN {definition}")


def drop_empty_columns(
    kinds_of: Mapping[str, Mapping[str, Any]], guards: Sequence[Guard] = ()
) -> None:
    """Drop columns of tables, or refuse if one of them holds something.

    Parameters
    ----------
    kinds_of : mapping of str to mapping of str to a kind of column
        By table.
    guards : sequence of Guard
        All triggers that watch one of the tables.

    Raises
    ------
    StillNeeded
        Naming the first column that is not null in some row.
    """
    for table, kinds in kinds_of.items():
        for name in kinds:
            _refuse_filled_column(table, name)
    for table, kinds in kinds_of.items():
        with rebuilt(table, [one for one in guards if one.table == table]) as batch:
            for name, kind in kinds.items():
                for check in _checks_here(sa.Column(name, kind)):
                    batch.drop_constraint(str(check.name), type_="check")
                batch.drop_column(name)


def rename_column(table: str, name: str, new_name: str, kind: Any, guards: Sequence[Guard]) -> None:
    """Rename a column of a table that guards watch, and the checks of its kind with it."""
    with rebuilt(table, guards) as batch:
        for check in _checks_here(sa.Column(name, kind)):
            batch.drop_constraint(str(check.name), type_="check")
        batch.alter_column(name, new_column_name=new_name)
        for check in _checks_here(sa.Column(new_name, kind)):
            batch.create_check_constraint(str(check.name), check.sqltext)


def checked_anew(table: str, name: str, kind: Any) -> None:
    """Put the checks of a kind in the place of those of the same names on a column."""
    with rebuilt(table) as batch:
        for check in _checks_here(sa.Column(name, kind)):
            batch.drop_constraint(str(check.name), type_="check")
            batch.create_check_constraint(str(check.name), check.sqltext)


def _checks_here(column: sa.Column[Any]) -> list[sa.CheckConstraint]:
    """Return the checks of a column that the database in hand takes."""
    here = op.get_bind().dialect.name
    checks = column_checks(column)
    return [one for one in checks if one._ddl_if is None or one._ddl_if.dialect == here]


def _refuse_filled_column(table: str, name: str) -> None:
    filled = (
        sa.select(sa.literal(1)).select_from(sa.table(table)).where(sa.column(name).is_not(None))
    )
    if op.get_bind().scalar(filled.limit(1)):
        raise fault(
            StillNeeded,
            f"column {name} of table {table} holds data that going back a step would lose",
            "make a backup and restore it with the older program",
        )


def guard(guards: Sequence[Guard]) -> None:
    """Create triggers."""
    create_guards(op.get_bind(), guards)


@contextmanager
def rebuilt(table: str, guards: Sequence[Guard] = ()) -> Iterator[BatchOperations]:
    """Change a table in batch mode; SQLite builds it anew, so its triggers are made again after."""
    drop_guards(op.get_bind(), guards)
    with op.batch_alter_table(table) as batch:
        yield batch
    create_guards(op.get_bind(), guards)
