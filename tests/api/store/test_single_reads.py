"""A single read, limited once and executed for many callers, shows each only their own account."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import pytest
from sqlalchemy import bindparam, delete, func, insert, select, text, update
from sqlalchemy.exc import StatementError

from api.estimates.rows import StoredEstimate
from api.projects.rows import Project
from api.store.account_limits import BypassRefused
from api.store.caller import Caller
from api.store.models import Token
from api.store.store import Store
from tests.api.store.made import AT, NEVER_SEEN, project

COUNTED = select(func.count(Project.id), func.min(Project.name))
BY_ID = select(Project.account_id).where(Project.id == bindparam("key"))
TOKENS = select(func.count(Token.id))


@pytest.fixture(params=["by itself", "in a session"])
def row(request):
    """Return how a row is read: by itself, or in a session, past what that does for models."""

    def in_a_session(store, caller, statement, **values):
        with store.reading(caller) as session:
            return next(iter(session.rows(statement, **values)), None)

    return Store.row if request.param == "by itself" else in_a_session


def test_the_same_statement_shows_each_caller_their_own_account(row, two):
    store, ours, theirs = two
    for _ in range(2):
        for one, other in ((ours, theirs), (theirs, ours)):
            seen = row(store, one.caller, BY_ID, key=one.project_id)
            assert seen.account_id == one.caller.account_id
            assert row(store, one.caller, BY_ID, key=other.project_id) is None


def test_a_lender_reads_what_is_shared_after_an_owner_read_everything(row, two):
    store, ours, _ = two
    stranger = Caller(ours.caller.account_id, "lender", NEVER_SEEN)
    for _ in range(2):
        assert row(store, ours.caller, COUNTED)[0] == 2
        assert row(store, ours.lender, COUNTED) == (1, "Harrow Lane Carbarn")
        assert row(store, stranger, COUNTED) == (0, None)
        assert row(store, ours.caller, TOKENS)[0] > 0
        assert row(store, ours.lender, TOKENS) == (0,)


def test_no_parameter_of_the_statement_takes_the_place_of_the_caller(row, two):
    store, ours, theirs = two
    spoofed = {"key": theirs.project_id, "caller_account_id": theirs.caller.account_id}
    assert row(store, ours.caller, BY_ID, **spoofed) is None


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
def test_what_cannot_be_held_to_one_account_is_refused(row, sqlite_store, statement):
    with pytest.raises(BypassRefused):
        row(sqlite_store, Caller(NEVER_SEEN), statement)


def test_a_single_read_leaves_no_transaction_open_that_would_see_an_old_state(two):
    store, ours, _ = two
    before = store.row(ours.caller, COUNTED)[0]
    with store.unit_of_work(ours.caller, AT) as work:
        work.add(project("Annex"))
        work.commit()
    assert store.row(ours.caller, COUNTED)[0] == before + 1
    assert store.row(ours.caller, select(func.count(StoredEstimate.id)))[0] > 0


def test_threads_that_read_at_once_are_each_given_their_own_row(two):
    store, *accounts = two
    with ThreadPoolExecutor(4) as threads:
        reads = [
            (one, threads.submit(store.row, one.caller, BY_ID, key=one.project_id))
            for one in accounts * 20
        ]
    assert all(read.result().account_id == one.caller.account_id for one, read in reads)


def test_one_row_is_read_on_after_a_read_that_failed_and_after_the_store_was_closed(two):
    store, ours, _ = two
    with pytest.raises(StatementError):
        store.row(ours.caller, BY_ID)
    assert store.row(ours.caller, COUNTED)[0] == 2
    store.close()
    assert store.row(ours.caller, COUNTED)[0] == 2
