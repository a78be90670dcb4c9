"""Promise 6: what is final cannot be changed, not by raw SQL either."""

# ruff: noqa: S608 -- the SQL of these tests is what a tamperer would write

from __future__ import annotations

import pytest
from sqlalchemy import select, text

from api.store.account_limits import BypassRefused
from api.store.copying import contents
from api.store.errors import Unchangeable
from api.store.models import Base, table_of
from api.store.refusals import store_errors
from api.store.verify import verify
from tests.api.store.made import AT

FINAL = sorted((one.class_ for one in Base.registry.mappers if one.class_.is_final), key=str)


def is_refused(store, statement):
    """Whether a statement is refused, as a whole."""
    try:
        with store_errors(), store.engine.begin() as connection:
            connection.execute(text(statement))
    except Unchangeable:
        return True
    return False


def refused(store, statement):
    """Assert that it is."""
    assert is_refused(store, statement), statement


def hexed(store, key):
    return key.hex if store.engine.dialect.name == "sqlite" else str(key)


OTHER_ID = f"'{'f' * 32}'"


def copy_of(table, **changed):
    """Return the SQL that puts the rows of a table in again, with other values in some columns."""
    names = [column.name for column in Base.metadata.tables[table].columns]
    selected = ", ".join(str(changed.get(name, f'"{name}"')) for name in names)
    columns = ", ".join(f'"{name}"' for name in names)
    return f"INTO {table} ({columns}) SELECT {selected} FROM {table}"


@pytest.fixture
def unchanged(one):
    """A store and its account, in which nothing may have changed when the test ends."""
    store, _ = one
    with store.across_accounts() as connection:
        before = contents(connection)
    yield one
    verify(store)
    with store.across_accounts() as connection:
        assert contents(connection) == before


def changes_of(store, table):
    """Return every statement that would change, delete or replace the rows of a table."""
    updates = [f'UPDATE {table.name} SET "{one.name}" = "{one.name}"' for one in table.columns]
    if store.engine.dialect.name == "sqlite":
        replacements = [
            f"{verb} INTO {table.name} SELECT * FROM {table.name}"
            for verb in ("INSERT OR REPLACE", "REPLACE")
        ]
    else:
        replacements = [f"TRUNCATE {table.name} CASCADE"]
    return [*updates, f"DELETE FROM {table.name}", *replacements]


def test_every_final_table_refuses_update_delete_and_replacement_by_sql(unchanged):
    store, _ = unchanged
    statements = [one for model in FINAL for one in changes_of(store, table_of(model))]
    assert [one for one in statements if not is_refused(store, one)] == []


def test_no_session_deletes_a_row_of_a_final_table(unchanged):
    store, made = unchanged
    deleted = []
    for model in FINAL:
        with store.unit_of_work(made.caller, AT) as work:
            row = work.scalars(select(model)).first()
            try:
                work.delete(row)
            except (Unchangeable, BypassRefused):  # the trail is the store's alone
                continue
        deleted.append(model)
    assert deleted == []


def test_a_final_row_is_not_replaced_through_any_of_its_unique_rules(one_sqlite):
    store, made = one_sqlite
    refused(store, f"INSERT OR REPLACE {copy_of('estimates', id=OTHER_ID)}")
    refused(store, f"INSERT OR REPLACE {copy_of('estimate_lines', position='position + 100')}")
    refused(store, f"REPLACE {copy_of('accepted_estimates', id=OTHER_ID)}")
    published = f"WHERE id = '{made.published_id.hex}'"
    refused(store, f"REPLACE {copy_of('rate_versions', id=OTHER_ID)} {published}")


def test_a_published_version_and_its_rows_are_final(unchanged):
    store, made = unchanged
    published, draft = hexed(store, made.published_id), hexed(store, made.draft_id)
    of_published = f"WHERE rate_version_id = '{published}'"
    for statement in (
        f"UPDATE rate_versions SET note = 'x' WHERE id = '{published}'",
        f"UPDATE rate_versions SET published_at = NULL WHERE id = '{published}'",
        f"DELETE FROM rate_versions WHERE id = '{published}'",
        f"UPDATE rate_rows SET cells = '{{}}' {of_published}",
        f"UPDATE rate_rows SET rate_version_id = '{draft}' {of_published}",
        f"UPDATE rate_rows SET rate_version_id = '{published}' WHERE rate_version_id = '{draft}'",
        f"DELETE FROM rate_rows {of_published}",
    ):
        refused(store, statement)
    refused(store, f"INSERT {copy_of('rate_rows', id=OTHER_ID)} {of_published}")


def test_a_draft_cannot_take_the_place_of_a_published_version(one_sqlite):
    store, made = one_sqlite
    published, draft = made.published_id.hex, made.draft_id.hex
    is_draft = f"WHERE id = '{draft}'"
    refused(store, f"UPDATE OR REPLACE rate_versions SET number = 1 {is_draft}")
    refused(store, f"UPDATE OR REPLACE rate_versions SET id = '{published}' {is_draft}")
    refused(
        store,
        "UPDATE OR REPLACE rate_rows SET id = (SELECT id FROM rate_rows WHERE rate_version_id = "
        f"'{published}' LIMIT 1) WHERE rate_version_id = '{draft}'",
    )
    refused(store, f"REPLACE {copy_of('rate_rows', rate_version_id=repr(draft))}")


def test_a_draft_may_still_be_changed(one):
    store, made = one
    draft = hexed(store, made.draft_id)
    with store.engine.begin() as connection:
        changed = connection.execute(
            text(f"UPDATE rate_rows SET position = 5 WHERE rate_version_id = '{draft}'")
        )
        assert changed.rowcount == 1


SUMS = [
    ("estimates", {"cash_cents": 1, "direct_cents": 2, "markup_cents": 0}, "adds_up"),
    ("estimate_lines", {"ordered": 5, "net": 1, "waste": 1, "left_over": 1}, "order_adds_up"),
]


@pytest.mark.parametrize(("table", "values", "rule"), SUMS)
def test_the_database_itself_adds_up(unchanged, table, values, rule):
    store, _ = unchanged
    other = {"id": OTHER_ID, "position": 999, "number": 999, "line": 999}
    statement = text(f"INSERT {copy_of(table, **other, **values)} LIMIT 1")
    with pytest.raises(Exception, match=rule), store.engine.begin() as connection:
        connection.execute(statement)


WRONG_VALUES = [
    ("items", "position", "'first'"),
    ("items", "position", "1.5"),
    ("items", "position", "-1"),
    ("items", "code", "'" + "x" * 41 + "'"),
    ("items", "inputs", "'{'"),
    ("tokens", "role", "'king'"),
    ("tokens", "digest", "'abc'"),
    ("projects", "created_at", "'yesterday'"),
    ("projects", "created_at", "'2026-03-02 07:30:00'"),
]


@pytest.mark.parametrize(("table", "column", "value"), WRONG_VALUES)
def test_sqlite_keeps_no_value_of_another_kind(one_sqlite, table, column, value):
    sqlite_store, _ = one_sqlite
    statement = text(f"UPDATE {table} SET {column} = {value}")
    with pytest.raises(Exception, match="CHECK constraint"), sqlite_store.engine.begin() as one:
        one.execute(statement)
