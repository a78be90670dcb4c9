"""Indexes of a part of the rows, said so that SQLite loads nothing of PostgreSQL."""

from __future__ import annotations

from typing import Any

from sqlalchemy import ColumnElement, Index, Table, TextClause, event

_CONDITION = "condition"


def partial_index(
    name: str, *columns: str, condition: TextClause | ColumnElement[bool], is_unique: bool = False
) -> Index:
    """Return an index of the rows for which a condition holds, on either kind of database.

    Parameters
    ----------
    name : str
        Of the index.
    *columns : str
        That it is over.
    condition : TextClause or ColumnElement
        On columns of the row.
    is_unique : bool
        Whether no two of those rows may have the same values.

    Notes
    -----
    PostgreSQL gets the condition when the table is made: SQLAlchemy would load its dialect where
    an index names it, which takes each command 50 ms and the service 5 MB.
    """
    own = {_CONDITION: condition}
    return Index(name, *columns, unique=is_unique, sqlite_where=condition, info=own)


@event.listens_for(Table, "before_create")
def _name_conditions(table: Table, connection: Any, **_options: Any) -> None:
    if connection.dialect.name == "postgresql":
        for index in table.indexes:
            if _CONDITION in index.info:
                index.dialect_options["postgresql"]["where"] = index.info[_CONDITION]
