"""What is prepared shows what a session would show, and no other account's row."""

from __future__ import annotations

from pathlib import Path
from uuid import UUID

import pytest
from sqlalchemy import bindparam, select, text
from sqlalchemy.exc import ProgrammingError

from api.estimates.rows import StoredEstimate
from api.projects.rows import Project
from api.store.account_limits import BypassRefused
from api.store.caller import Caller
from api.store.errors import NotKept, StoreFaulty, StoreUnfit
from api.store.models import Token, table_of
from api.store.prepared import Prepared, PreparedAcross
from tests.api.store.made import NEVER_SEEN, SPRING, filled

ESTIMATE = Prepared(
    StoredEstimate,
    select(
        StoredEstimate.id,
        StoredEstimate.number,
        StoredEstimate.created_at,
        StoredEstimate.pricing_date,
        StoredEstimate.cash_cents,
    ).where(
        StoredEstimate.id == bindparam("key"),
        StoredEstimate.project_id == bindparam("project_id"),
    ),
)
PROJECT = Prepared(
    Project,
    select(Project.name, Project.markups, Project.rate_set_id).where(
        Project.id == bindparam("key")
    ),
)


@pytest.fixture
def made(store):
    return filled(store)


def test_it_tells_what_a_session_tells(store, made):
    for caller in (made.caller, made.lender):
        found = ESTIMATE.existing(store, caller, made.estimate_id, project_id=made.project_id)
        with store.reading(caller) as session:
            row = session.existing(StoredEstimate, made.estimate_id)
        assert found == {name: getattr(row, name) for name in found}
        assert found["pricing_date"] == SPRING


def test_values_of_every_kind_come_back_as_models_have_them(store, made):
    assert PROJECT.existing(store, made.caller, made.unshared_id) == {
        "name": "Shed",
        "markups": None,
        "rate_set_id": None,
    }
    barn = PROJECT.existing(store, made.caller, made.project_id)
    assert barn["markups"] == ["overhead"]
    assert isinstance(barn["rate_set_id"], UUID)


def test_another_accounts_row_looks_like_none(store, made):
    stranger = filled(store, "Stranger")
    told = []
    for key in (stranger.project_id, NEVER_SEEN):
        for caller in (made.caller, made.lender):
            with pytest.raises(NotKept) as refused:
                PROJECT.existing(store, caller, key)
            told.append(str(refused.value).replace(str(key), "ID"))
    assert set(told) == {"there is no 'ID' in projects"}


def test_a_lender_sees_only_what_is_shared_with_them(store, made):
    assert PROJECT.existing(store, made.lender, made.project_id)["name"] == "Harrow Lane Carbarn"
    assert PROJECT.first(store, made.lender, key=made.unshared_id) is None
    other = Caller(made.caller.account_id, "lender", made.caller.token_id)
    assert PROJECT.first(store, other, key=made.project_id) is None


def test_a_lender_sees_nothing_of_what_is_private(store, made):
    tokens = Prepared(Token, select(Token.holder).where(Token.id == bindparam("key")))
    assert tokens.existing(store, made.caller, made.lender.token_id) == {"holder": "bank"}
    assert tokens.first(store, made.lender, key=made.lender.token_id) is None


def test_a_bare_table_cannot_be_held_to_one_account(store, made):
    table = table_of(Project)
    asked = Prepared(Project, select(table.c.name).where(table.c.id == bindparam("key")))
    with pytest.raises(BypassRefused):
        asked.existing(store, made.caller, made.project_id)


def test_what_the_database_refuses_is_told_as_everywhere(store, made):
    with store.engine.begin() as connection:
        connection.execute(text("ALTER TABLE tokens RENAME TO gone"))
    asked = PreparedAcross(select(table_of(Token).c.role))
    with pytest.raises((StoreUnfit, ProgrammingError)):
        asked.first(store)
    assert PROJECT.first(store, made.caller, key=made.unshared_id) is not None


def test_a_database_that_went_away_is_told_as_such(sqlite_store, sqlite_url):
    made = filled(sqlite_store)
    sqlite_store.close()
    file = Path(sqlite_url.removeprefix("sqlite:///"))
    file.write_bytes(b"no database at all".ljust(8_192))
    with pytest.raises(StoreFaulty, match="damaged"):
        PROJECT.first(sqlite_store, made.caller, key=made.project_id)
