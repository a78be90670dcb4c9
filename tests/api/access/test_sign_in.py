"""Promise 17: tokens are shown once, kept as digests, expire, and are revoked at once."""

from __future__ import annotations

import base64
import logging

import pytest
from sqlalchemy import text

from api.contract.submissions import REPLAYED_HEADER
from tests.api.service import ROLES, Service, new_key


def test_the_account_of_a_token_is_shown(service):
    for role in ROLES:
        told = service.get("/v1/account", role=role).json
        assert (told["id"], told["name"]) == (str(service.account_id), "Rail & Kiln")
        assert told["role"] == role


def test_a_new_token_opens_the_account_until_it_runs_out(service):
    issued = service.issue(body={"role": "bookkeeper", "expires_in_days": 2})
    assert issued.status_code == 201
    assert issued.json["expires_at"] == "2026-03-04T12:00:00Z"
    assert issued.headers["Location"] == f"/v1/tokens/{issued.json['id']}"
    token = issued.json["token"]
    assert len(base64.urlsafe_b64decode(token + "=")) == 32
    assert service.get("/v1/account", token=token).json["role"] == "bookkeeper"
    service.clock.turn(days=2)
    assert service.get("/v1/account", token=token).status_code == 401


def test_a_revoked_token_opens_nothing_from_the_next_request_on(service):
    issued = service.issue()
    token, path = issued.json["token"], issued.headers["Location"]
    assert service.get("/v1/account", token=token).status_code == 200
    revoked = service.post(f"{path}/revocation", headers={"If-Match": issued.headers["ETag"]})
    assert revoked.json["revoked_at"] == "2026-03-02T12:00:00Z"
    answer = service.get("/v1/account", token=token)
    assert (answer.status_code, answer.json["code"]) == (401, "not-signed-in")
    assert service.get(path).json["revoked_at"] == "2026-03-02T12:00:00Z"


def test_revoking_twice_keeps_the_first_time(service):
    issued = service.issue()
    path = f"{issued.headers['Location']}/revocation"
    first = service.post(path, headers={"If-Match": '"1"'})
    service.clock.turn(hours=1)
    second = service.post(path, headers={"If-Match": first.headers["ETag"]})
    assert second.json == first.json


def test_an_unknown_an_expired_and_a_revoked_token_are_answered_alike(embedded):
    expired = embedded.issue(body={"expires_in_days": 1}).json["token"]
    embedded.clock.turn(days=1)
    issued = embedded.issue()
    embedded.post(f"{issued.headers['Location']}/revocation", headers={"If-Match": '"1"'})
    told = [
        embedded.get("/v1/account", token=token, headers={"X-Request-Id": "same"}).text
        for token in (expired, issued.json["token"], "nobodys")
    ]
    assert len(set(told)) == 1


def test_the_text_of_a_token_is_shown_once_and_stored_nowhere(service, caplog):
    caplog.set_level(logging.DEBUG)
    key = new_key()
    issued = service.issue(headers=key)
    token = issued.json["token"]
    again = service.issue(headers=key)
    assert again.headers[REPLAYED_HEADER] == "true"
    assert again.json == {name: told for name, told in issued.json.items() if name != "token"}
    assert token not in service.get(issued.headers["Location"]).text
    assert token not in service.get("/v1/tokens").text
    assert token not in everything_kept(service)
    assert service.get("/v1/account", token=token).status_code == 200
    assert all(shown not in caplog.text for shown in (token, *service.tokens.values()))


def everything_kept(service: Service) -> str:
    """Return every value of every table, whatever it is, as text."""
    from api.store.models import Base

    with service.store.across_accounts() as connection:
        return "\n".join(
            repr(row)
            for table in Base.metadata.sorted_tables
            for row in connection.execute(text(f"SELECT * FROM {table.name}"))  # noqa: S608
        )


@pytest.mark.parametrize("shown", ["é" * 40, "a" * 5000, "a b", "\tx"])
def test_a_strange_token_is_just_a_wrong_one(embedded, shown):
    answer = embedded.get("/v1/account", role="", headers={"Authorization": f"Bearer {shown}"})
    assert answer.status_code == 401


def test_the_scheme_is_read_whatever_its_capitals(embedded):
    headers = {"Authorization": f"bEARER {embedded.tokens['owner']}"}
    assert embedded.get("/v1/account", role="", headers=headers).status_code == 200
