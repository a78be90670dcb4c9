"""Promise 4: the same submission makes one record, however often and wherever it arrives."""

from __future__ import annotations

from contextlib import ExitStack
from datetime import timedelta

import pytest
from sqlalchemy import func, select

from api.projects.rows import Project
from api.store.accounts import open_account
from api.store.caller import Caller
from api.store.errors import KeyReused, StillInFlight
from api.store.store import open_store
from api.store.submissions import (
    LONGEST_WORK,
    STORED_FOR,
    Claim,
    StoredAnswer,
    Submission,
    answer_submission,
    claim_submission,
    release_submission,
)
from tests.api.figures import tries
from tests.api.store.made import AT, NEVER_SEEN, project
from tests.api.store.writer import started

BODY, OTHER_BODY = "a" * 64, "b" * 64
ROUTE = "POST /v1/projects"
ANSWER = StoredAnswer(201, {"ETag": '"1"'}, b'{"name":"\xc3\xa9\x00"}')


@pytest.fixture
def caller(store):
    return Caller(open_account(store, "Submitting", AT))


def claimed(store, caller, at=AT, body=BODY, key="key", route=ROUTE):
    return claim_submission(store, Submission(caller, key, route, body, at))


def answered(store, caller, claim, at=AT):
    with store.unit_of_work(caller, at) as work:
        work.add(project("Submitted"))
        answer_submission(work, claim, ANSWER)
        work.commit()


def count_of(store, caller):
    with store.reading(caller) as session:
        return session.scalar(select(func.count()).select_from(Project))


@tries("at_once", 6, 50)
def test_identical_submissions_at_once_and_after_a_restart_make_one_record(
    store, caller, url, at_once
):
    with ExitStack() as stack:
        processes = [started(stack, "submit", url, caller, "key", BODY) for _ in range(at_once)]
        for one in processes:
            one.go()
        results = [process.told() for process in processes]
    made = [one for result in results for one in result.get("made", [])]
    assert len(made) == 1
    assert {one for result in results for one in result.get("again", [])} <= set(made)
    assert sum(len(lines) for result in results for lines in result.values()) == at_once
    again = open_store(url)
    with ExitStack() as stack:
        process = started(stack, "submit", url, caller, "key", BODY)
        other = started(stack, "submit", url, caller, "key", OTHER_BODY)
        process.go()
        other.go()
        assert process.told() == {"again": made}
        assert other.told() == {"reused": [""]}
    assert count_of(again, caller) == 1
    again.close()


def test_an_answer_comes_back_to_the_byte(store, caller):
    answered(store, caller, claimed(store, caller))
    assert claimed(store, caller, AT + STORED_FOR - timedelta(seconds=1)) == ANSWER
    assert count_of(store, caller) == 1


@pytest.mark.parametrize("other", [{"body": OTHER_BODY}, {"route": "POST /v1/tokens"}])
def test_a_key_that_was_used_for_something_else_is_refused(store, caller, other):
    answered(store, caller, claimed(store, caller))
    with pytest.raises(KeyReused, match="the key 'key' was used for something else"):
        claimed(store, caller, **other)


def test_a_key_belongs_to_whoever_holds_the_token(store, caller):
    answered(store, caller, claimed(store, caller))
    other = Caller(caller.account_id, "lender", NEVER_SEEN)
    stranger = Caller(open_account(store, "Stranger", AT))
    assert isinstance(claimed(store, other), Claim)
    assert isinstance(claimed(store, stranger), Claim)


def test_a_submission_in_flight_is_not_begun_again(store, caller):
    claimed(store, caller)
    with pytest.raises(StillInFlight):
        claimed(store, caller, AT + LONGEST_WORK - timedelta(seconds=1))


def test_a_claim_whose_holder_died_is_taken_over_and_the_late_holder_keeps_nothing(store, caller):
    late = claimed(store, caller)
    taken = claimed(store, caller, AT + LONGEST_WORK)
    assert isinstance(taken, Claim)
    with pytest.raises(StillInFlight):
        answered(store, caller, late)
    assert count_of(store, caller) == 0
    answered(store, caller, taken)
    with pytest.raises(StillInFlight):
        answered(store, caller, taken)
    assert count_of(store, caller) == 1


def test_a_refused_request_gives_its_key_back(store, caller):
    release_submission(store, claimed(store, caller))
    assert isinstance(claimed(store, caller, body=OTHER_BODY), Claim)


def test_an_answer_cannot_be_taken_back(store, caller):
    claim = claimed(store, caller)
    answered(store, caller, claim)
    release_submission(store, claim)
    assert claimed(store, caller) == ANSWER


def test_a_key_is_forgotten_after_a_day(store, caller):
    answered(store, caller, claimed(store, caller))
    later = AT + STORED_FOR + timedelta(seconds=1)
    assert isinstance(claimed(store, caller, later, body=OTHER_BODY), Claim)


def test_what_is_over_is_cleared_now_and_then_and_where_its_key_comes_again(store, caller):
    answered(store, caller, claimed(store, caller))
    over = AT + STORED_FOR + timedelta(seconds=1)

    def stored():
        with store.across_accounts() as connection:
            return connection.exec_driver_sql("SELECT count(*) FROM submissions").scalar()

    claimed(store, caller, over + timedelta(microseconds=1), key="another")
    assert stored() == 2
    claimed(store, caller, over + timedelta(microseconds=16), key="a third")
    assert stored() == 2
    answered(store, caller, claimed(store, caller, over + timedelta(seconds=1), key="fourth"))
    later = over + STORED_FOR + timedelta(seconds=2, microseconds=1)
    assert isinstance(claimed(store, caller, later, body=OTHER_BODY, key="fourth"), Claim)


def test_old_submissions_are_found_by_account_and_time_not_among_all_of_the_day(sqlite_store):
    old = "DELETE FROM submissions WHERE account_id = '' AND created_at < ''"
    with sqlite_store.across_accounts() as connection:
        plan = connection.exec_driver_sql(f"EXPLAIN QUERY PLAN {old}").all()
    assert "(account_id=? AND created_at<?)" in str(plan)
