"""Promise 4 over HTTP: the same submission makes one record and gets one answer."""

from __future__ import annotations

import json
from hashlib import sha256
from threading import Barrier, Thread

import pytest
from sqlalchemy import event

from api.contract.submissions import REPLAYED_HEADER
from api.store.accounts import find_caller
from api.store.submissions import LONGEST_WORK, Submission, claim_submission
from tests.api.figures import tries
from tests.api.service import new_key


def being_worked_on(service, body):
    """Return a key whose request, to issue a token, was begun by a process that still works."""
    key, now = new_key(), service.clock.now
    caller = find_caller(service.store, service.tokens["owner"], now)
    digest = sha256(json.dumps(body).encode()).hexdigest()
    sent = Submission(caller, key["Idempotency-Key"], "POST /v1/tokens", digest, now)
    claim_submission(service.store, sent)
    return key


def count_of(service):
    return len(service.get("/v1/tokens?limit=200").json["tokens"])


@pytest.mark.parametrize("key", [None, "", "a b", "ü", "x" * 256, "a\tb"])
def test_a_request_that_creates_needs_a_key_of_its_own(embedded, key):
    headers = {} if key is None else {"Idempotency-Key": key}
    answer = embedded.post("/v1/tokens", {"holder": "a", "role": "lender"}, headers=headers)
    assert (answer.status_code, answer.json["code"]) == (400, "key-faulty")
    assert answer.json["errors"][0]["header"] == "Idempotency-Key"
    assert count_of(embedded) == 4


def test_every_route_that_answers_201_asks_for_a_key(embedded):
    specification = embedded.get("/v1/openapi.json", role="").json
    creating = [
        operation
        for path in specification["paths"].values()
        for operation in path.values()
        if isinstance(operation, dict) and "201" in operation.get("responses", {})
    ]
    assert creating
    for operation in creating:
        assert "Idempotency-Key" in [one["name"] for one in operation["parameters"]]


def test_the_same_again_is_answered_the_same_and_makes_nothing(service):
    key = new_key()
    first = service.issue(headers=key)
    service.clock.turn(hours=23)
    again = service.issue(headers=key)
    assert count_of(service) == 5
    assert (first.status_code, again.status_code) == (201, 201)
    assert again.json == {name: told for name, told in first.json.items() if name != "token"}
    assert again.headers["ETag"] == first.headers["ETag"]
    assert again.headers["Location"] == first.headers["Location"]
    assert REPLAYED_HEADER not in first.headers
    assert again.headers[REPLAYED_HEADER] == "true"


def test_what_is_made_its_key_its_answer_and_its_audit_row_are_one_commit(embedded):
    commits = []
    note = commits.append
    event.listen(embedded.store.engine, "commit", note)
    try:
        assert embedded.issue().status_code == 201
        assert len(commits) == 1
    finally:
        event.remove(embedded.store.engine, "commit", note)


def test_another_body_under_the_same_key_is_refused(service):
    key = new_key()
    service.issue(headers=key)
    other = service.issue(headers=key, body={"holder": "other"})
    assert (other.status_code, other.json["code"]) == (422, "key-reused")
    assert count_of(service) == 5


def test_a_key_is_free_again_after_a_day(service):
    key = new_key()
    service.issue(headers=key)
    service.clock.turn(days=1, seconds=1)
    assert service.issue(headers=key, body={"holder": "other"}).status_code == 201


def test_what_is_being_worked_on_is_not_begun_again(service):
    key = being_worked_on(service, {"holder": "bank", "role": "lender"})
    answer = service.issue(headers=key)
    assert (answer.status_code, answer.json["code"]) == (409, "still-in-flight")
    assert answer.headers["Retry-After"] == "1"
    assert count_of(service) == 4


def test_another_body_is_refused_while_the_first_is_worked_on(service):
    key = being_worked_on(service, {"holder": "bank", "role": "lender"})
    answer = service.issue(headers=key, body={"holder": "other"})
    assert (answer.status_code, answer.json["code"]) == (422, "key-reused")


def test_what_nobody_finished_is_taken_up_again(service):
    key = being_worked_on(service, {"holder": "bank", "role": "lender"})
    service.clock.turn(seconds=LONGEST_WORK.total_seconds() + 1)
    assert service.issue(headers=key).status_code == 201
    assert count_of(service) == 5


def test_a_refused_request_gives_its_key_back(service):
    key = new_key()
    assert service.issue(headers=key, body={"role": "king"}).status_code == 422
    assert service.issue(headers=key).status_code == 201


@tries("at_once", 8, 50)
def test_many_of_the_same_at_once_make_one_record(service, at_once):
    key, barrier, answers = new_key(), Barrier(at_once), []

    def send():
        barrier.wait()
        answers.append(service.issue(headers=key))

    threads = [Thread(target=send) for _ in range(at_once)]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    assert count_of(service) == 5
    codes = [answer.status_code for answer in answers]
    assert set(codes) <= {201, 409}
    assert len({answer.json["id"] for answer in answers if answer.status_code == 201}) == 1
    assert sum("token" in answer.json for answer in answers) == 1
    assert all(
        answer.headers["Retry-After"] == "1" for answer in answers if answer.status_code == 409
    )
    assert service.issue(headers=key).status_code == 201
