"""A single read, limited once and executed for many callers, shows each only their own account."""

from __future__ import annotations

import pytest
from sqlalchemy import bindparam, delete, func, insert, select, text, update

from api.estimates.rows import StoredEstimate
from api.projects.rows import Project
from api.store.account_limits import BypassRefused
from api.store.caller import Caller
from api.store.models import Token
from tests.api.store.made import AT, NEVER_SEEN, filled, project

COUNTED = select(func.count(Project.id), func.min(Project.name))
BY_ID = select(Project.account_id).where(Project.id == bindparam("key"))
TOKENS = select(func.count(Token.id))


@pytest.fixture
def two(store):
    return store, filled(store, "Ours"), filled(store, "Theirs")


def test_the_same_statement_shows_each_caller_their_own_account(two):
    store, ours, theirs = two
    for _ in range(2):
        for one, other in ((ours, theirs), (theirs, ours)):
            seen = store.row(one.caller, BY_ID, key=one.project_id)
            assert seen.account_id == one.caller.account_id
            assert store.row(one.caller, BY_ID, key=other.project_id) is None


def test_a_lender_reads_what_is_shared_after_an_owner_read_everything(two):
    store, ours, _ = two
    stranger = Caller(ours.caller.account_id, "lender", NEVER_SEEN)
    for _ in range(2):
        assert store.row(ours.caller, COUNTED)[0] == 2
        assert store.row(ours.lender, COUNTED) == (1, "Harrow Lane Carbarn")
        assert store.row(stranger, COUNTED) == (0, None)
        assert store.row(ours.caller, TOKENS)[0] > 0
        assert store.row(ours.lender, TOKENS) == (0,)


def test_no_parameter_of_the_statement_takes_the_place_of_the_caller(two):
    store, ours, theirs = two
    spoofed = {"key": theirs.project_id, "caller_account_id": theirs.caller.account_id}
    assert store.row(ours.caller, BY_ID, **spoofed) is None


@pytest.mark.parametrize(
    "statement",
    [
        text("SELECT name FROM projects"),
        select(Project.__table__),
        select(Project).from_statement(text("SELECT * FROM projects")),
        update(Project).values(name="x"),
        delete(Project),
        insert(Project).values(name="x"),
    ],
    ids=str,
)
def test_what_cannot_be_held_to_one_account_is_refused(sqlite_store, statement):
    with pytest.raises(BypassRefused):
        sqlite_store.row(Caller(NEVER_SEEN), statement)


def test_a_single_read_leaves_no_transaction_open_that_would_see_an_old_state(two):
    store, ours, _ = two
    before = store.row(ours.caller, COUNTED)[0]
    with store.unit_of_work(ours.caller, AT) as work:
        work.add(project("Annex"))
        work.commit()
    assert store.row(ours.caller, COUNTED)[0] == before + 1
    assert store.row(ours.caller, select(func.count(StoredEstimate.id)))[0] > 0
