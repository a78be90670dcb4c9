"""Shares: a lender sees a project while it is shared, and nothing else."""

from __future__ import annotations

import pytest

from api.store.verify import verify
from tests.api.projects.made import (
    AT,
    NOBODYS,
    add_item,
    created,
    entries,
    open_phase,
    open_project,
)
from tests.api.service import new_key


def lender_of(service):
    """Return the token row of the lender whose text the service knows."""
    (row,) = service.get("/v1/tokens?role=lender").json["tokens"]
    return row


def shared(service, project, token):
    path = f"{AT}/{project['id']}/shares"
    return service.post(path, {"token_id": token["id"]}, headers=new_key())


def test_a_lender_reads_a_project_from_the_share_on_and_no_longer_than_it(service):
    project = open_project(service)
    phase = open_phase(service, project)
    item = add_item(service, project, phase)
    path, own = f"{AT}/{project['id']}", open_project(service, name="Shed")
    paths = [path, f"{path}/phases/{phase['id']}", f"{path}/items/{item['id']}", f"{path}/items"]
    assert {service.get(one, role="lender").status_code for one in paths} == {404}
    answer = shared(service, project, lender_of(service))
    share = created(answer)
    assert (share["holder"], share["created_at"]) == ("lender", "2026-03-02T12:00:00Z")
    for one in paths:
        assert service.get(one, role="lender").json == service.get(one).json
    assert [one["id"] for one in service.get(AT, role="lender").json["projects"]] == [project["id"]]
    assert service.get(f"{AT}/{own['id']}", role="lender").status_code == 404
    assert service.get(answer.headers["Location"]).json == share
    assert service.get(f"{path}/shares").json == {"shares": [share], "next": None}
    assert service.send("DELETE", answer.headers["Location"]).status_code == 204
    assert {service.get(one, role="lender").status_code for one in paths} == {404}
    assert service.get(AT, role="lender").json["projects"] == []
    assert service.send("DELETE", answer.headers["Location"]).status_code == 404
    verify(service.store)


def test_a_project_is_shared_once_with_a_lender(service):
    project, token = open_project(service), lender_of(service)
    created(shared(service, project, token))
    again = shared(service, project, token)
    assert (again.status_code, again.json["code"]) == (409, "already-there")
    assert again.json["detail"] == "the project is shared with that token already."


@pytest.mark.parametrize("role", ["owner", "bookkeeper"])
def test_a_project_is_shared_with_lenders_and_crews_only(embedded, role):
    (token,) = embedded.get(f"/v1/tokens?role={role}").json["tokens"]
    told = entries(shared(embedded, open_project(embedded), token), 422)
    assert told == [("#/token_id", f"the role of the token is {role}")]


def test_a_token_that_opens_nothing_gets_no_share(embedded):
    project, token = open_project(embedded), embedded.issue(body={"expires_in_days": 1}).json
    embedded.clock.turn(days=2)
    told = entries(shared(embedded, project, token), 422)
    assert told == [("#/token_id", "the token opens nothing any more")]


def test_a_token_of_another_account_is_not_there(embedded):
    _, strangers = embedded.account("Stranger")
    theirs = embedded.get("/v1/tokens?role=lender", token=strangers["owner"]).json["tokens"][0]
    project = open_project(embedded)
    for key in (theirs["id"], NOBODYS):
        told = entries(shared(embedded, project, {"id": key}), 422)
        assert told == [("#/token_id", f"there is no {key} in tokens")]


def test_a_share_belongs_to_its_project(embedded):
    project, shed = open_project(embedded), open_project(embedded, name="Shed")
    share = created(shared(embedded, project, lender_of(embedded)))
    for method in ("GET", "DELETE"):
        for key, of in ((share["id"], shed), (NOBODYS, project)):
            path = f"{AT}/{of['id']}/shares/{key}"
            assert embedded.send(method, path).status_code == 404
    assert embedded.get(f"{AT}/{NOBODYS}/shares").status_code == 404
    assert shared(embedded, {"id": NOBODYS}, lender_of(embedded)).status_code == 404


@pytest.mark.parametrize("role", ["bookkeeper", "lender"])
def test_only_the_owner_shares_and_sees_shares(embedded, role):
    project = open_project(embedded)
    created(shared(embedded, project, lender_of(embedded)))
    path = f"{AT}/{project['id']}/shares"
    assert embedded.get(path, role=role).status_code == 403
    body = {"token_id": NOBODYS}
    assert embedded.post(path, body, role=role, headers=new_key()).status_code == 403
    assert embedded.send("DELETE", f"{path}/{NOBODYS}", role=role).status_code == 403
