"""Triggers that keep final rows as they are, against raw SQL too.

On SQLite an `INSERT OR REPLACE` deletes the old row without any delete trigger, so there an
insert is refused when it would replace a final row. On PostgreSQL `TRUNCATE` has a trigger of
its own. Whoever owns the database can drop a trigger: `verify` looks for every one of them.
"""

# ruff: noqa: S608 -- every name in this SQL is written in a migration

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, text

MARK = "groundsill final"
OVERDRAWN = "groundsill overdrawn"
_REFUSE = "groundsill_refuse"
_REFUSE_PUBLISHED_ROW = "groundsill_refuse_published_row"
_REFUSE_OVERDRAWN = "groundsill_refuse_overdrawn"
_OTHERS_ROWS = "rate_rows"

_FUNCTIONS = f"""
CREATE OR REPLACE FUNCTION {_REFUSE}() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION '{MARK}: %', TG_TABLE_NAME USING ERRCODE = 'restrict_violation';
END $$;
CREATE OR REPLACE FUNCTION {_REFUSE_PUBLISHED_ROW}() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF (TG_OP <> 'INSERT' AND EXISTS (SELECT 1 FROM rate_versions
        WHERE id = OLD.rate_version_id AND published_at IS NOT NULL))
     OR (TG_OP <> 'DELETE' AND EXISTS (SELECT 1 FROM rate_versions
        WHERE id = NEW.rate_version_id AND published_at IS NOT NULL))
  THEN
    RAISE EXCEPTION '{MARK}: %', TG_TABLE_NAME USING ERRCODE = 'restrict_violation';
  END IF;
  IF TG_OP = 'DELETE' THEN RETURN OLD; END IF;
  RETURN NEW;
END $$;
CREATE OR REPLACE FUNCTION {_REFUSE_OVERDRAWN}() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE drawn bigint; lowest bigint; highest bigint; entry json;
BEGIN
  SELECT fields::json INTO entry FROM book_entries WHERE id = NEW.entry_id FOR UPDATE;
  SELECT coalesce(sum(cents), 0) INTO drawn FROM draw_backup WHERE entry_id = NEW.entry_id;
  SELECT coalesce(sum(least(part.cents, 0)), 0), coalesce(sum(greatest(part.cents, 0)), 0)
    INTO lowest, highest FROM (
      SELECT (one->>'net_cents')::bigint + (one->>'tax_cents')::bigint AS cents
      FROM json_array_elements(entry->'splits') AS one) AS part;
  IF drawn + NEW.cents BETWEEN lowest AND highest THEN RETURN NEW; END IF;
  RAISE EXCEPTION '{OVERDRAWN}: %', TG_TABLE_NAME USING ERRCODE = 'restrict_violation';
END $$;
"""


@dataclass(frozen=True)
class Guard:
    """A trigger, as SQL of either database.

    Parameters
    ----------
    name, table : str
        What it is called, and what it watches.
    sqlite, postgresql : str
        Behind `CREATE TRIGGER name`; empty where that database needs none.
    """

    name: str
    table: str
    sqlite: str = ""
    postgresql: str = ""

    def body(self, dialect: str) -> str:
        """Return the SQL for one database, or nothing."""
        return self.sqlite if dialect == "sqlite" else self.postgresql


def final_guards(table: str, *keys: Sequence[str]) -> list[Guard]:
    """Return the guards of a table whose rows are never changed, deleted or replaced.

    Parameters
    ----------
    table : str
        The table.
    *keys : sequence of str
        Columns of its primary key and of each unique constraint.
    """
    taken = " OR ".join(f"EXISTS (SELECT 1 FROM {table} WHERE {_same(key)})" for key in keys)
    every_row = f"ON {table} FOR EACH ROW EXECUTE FUNCTION {_REFUSE}()"
    every_statement = f"ON {table} FOR EACH STATEMENT EXECUTE FUNCTION {_REFUSE}()"
    return [
        Guard(f"{table}_no_update", table, _sqlite("UPDATE", table), f"BEFORE UPDATE {every_row}"),
        Guard(f"{table}_no_delete", table, _sqlite("DELETE", table), f"BEFORE DELETE {every_row}"),
        Guard(f"{table}_no_replace", table, _sqlite("INSERT", table, taken)),
        Guard(f"{table}_no_truncate", table, "", f"BEFORE TRUNCATE {every_statement}"),
    ]


def published_version_guards() -> list[Guard]:
    """Return the guards of published versions of rate tables and of their rows."""
    return [*_version_guards("rate_versions"), *_row_guards(_OTHERS_ROWS)]


def backup_guards() -> list[Guard]:
    """Return the guard that holds what all draws take of an entry to what the entry comes to.

    An entry is a row of costs: its splits are all charges or all credits, but for a week of payroll
    that was closed again, which may move cost from one code to another.
    """
    part = "json_extract(one.value, '$.net_cents') + json_extract(one.value, '$.tax_cents')"
    of_entry = (
        f"SELECT coalesce(sum({{}}({part}, 0)), 0) FROM json_each(e.fields, '$.splits') AS one"
    )
    drawn = "SELECT coalesce(sum(cents), 0) FROM draw_backup WHERE entry_id = NEW.entry_id"
    within = (
        "EXISTS (SELECT 1 FROM book_entries AS e WHERE e.id = NEW.entry_id AND "
        f"NEW.cents + ({drawn}) BETWEEN ({of_entry.format('min')}) AND ({of_entry.format('max')}))"
    )
    abort = f"BEGIN SELECT RAISE(ABORT, '{OVERDRAWN}: draw_backup'); END"
    return [
        Guard(
            "draw_backup_within_entry",
            "draw_backup",
            f"BEFORE INSERT ON draw_backup WHEN NOT {within} {abort}",
            f"BEFORE INSERT ON draw_backup FOR EACH ROW EXECUTE FUNCTION {_REFUSE_OVERDRAWN}()",
        )
    ]


def create_guards(connection: Connection, guards: Sequence[Guard]) -> None:
    """Create triggers, with the functions they call."""
    dialect = connection.dialect.name
    if dialect != "sqlite":
        connection.execute(text(_FUNCTIONS))
    for guard in guards:
        if guard.body(dialect):
            connection.execute(text(f"CREATE TRIGGER {guard.name} {guard.body(dialect)}"))


def drop_guards(connection: Connection, guards: Sequence[Guard]) -> None:
    """Drop triggers, so that a migration can rebuild or a copy can fill what they watch."""
    dialect = connection.dialect.name
    for guard in guards:
        if guard.body(dialect):
            of_table = "" if dialect == "sqlite" else f" ON {guard.table}"
            connection.execute(text(f"DROP TRIGGER {guard.name}{of_table}"))


def _version_guards(table: str) -> list[Guard]:
    moved = " OR ".join(f"NEW.{column} <> OLD.{column}" for column in ("id", "number"))
    published = "OLD.published_at IS NOT NULL"
    taken = " OR ".join(
        f"EXISTS (SELECT 1 FROM {table} WHERE {_same(key)} AND published_at IS NOT NULL)"
        for key in (("id",), ("rate_set_id", "number"))
    )
    row = f"FOR EACH ROW WHEN ({{}}) EXECUTE FUNCTION {_REFUSE}()"
    changed = f"{published} OR {moved} OR NEW.rate_set_id <> OLD.rate_set_id"
    return [
        Guard(
            f"{table}_no_update", table, _sqlite("UPDATE", table, changed),
            f"BEFORE UPDATE ON {table} {row.format(changed)}",
        ),
        Guard(
            f"{table}_no_delete", table, _sqlite("DELETE", table, published),
            f"BEFORE DELETE ON {table} {row.format(published)}",
        ),
        Guard(f"{table}_no_replace", table, _sqlite("INSERT", table, taken)),
        Guard(f"{table}_no_truncate", table, "", _no_truncate(table)),
    ]  # fmt: skip


def _row_guards(table: str) -> list[Guard]:
    of_old = _of_published("OLD.rate_version_id")
    of_new = _of_published("NEW.rate_version_id")
    replaced = (
        f"EXISTS (SELECT 1 FROM {table} AS r JOIN rate_versions AS v ON v.id = r.rate_version_id "
        "WHERE r.id = NEW.id AND v.published_at IS NOT NULL)"
    )
    function = f"FOR EACH ROW EXECUTE FUNCTION {_REFUSE_PUBLISHED_ROW}()"
    return [
        Guard(
            f"{table}_no_update", table,
            _sqlite("UPDATE", table, f"{of_old} OR {of_new} OR NEW.id <> OLD.id"),
            f"BEFORE UPDATE ON {table} {function}",
        ),
        Guard(
            f"{table}_no_delete", table, _sqlite("DELETE", table, of_old),
            f"BEFORE DELETE ON {table} {function}",
        ),
        Guard(
            f"{table}_no_insert", table, _sqlite("INSERT", table, f"{of_new} OR {replaced}"),
            f"BEFORE INSERT ON {table} {function}",
        ),
        Guard(f"{table}_no_truncate", table, "", _no_truncate(table)),
    ]  # fmt: skip


def _of_published(version: str) -> str:
    return f"EXISTS (SELECT 1 FROM rate_versions WHERE id = {version} AND published_at IS NOT NULL)"


def _no_truncate(table: str) -> str:
    return f"BEFORE TRUNCATE ON {table} FOR EACH STATEMENT EXECUTE FUNCTION {_REFUSE}()"


def _same(key: Sequence[str]) -> str:
    return " AND ".join(f"{column} = NEW.{column}" for column in key)


def _sqlite(verb: str, table: str, condition: str = "") -> str:
    when = f" WHEN {condition}" if condition else ""
    return f"BEFORE {verb} ON {table}{when} BEGIN SELECT RAISE(ABORT, '{MARK}: {table}'); END"
