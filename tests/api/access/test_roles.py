"""Promise 9: a role does what its table says, and promise 8: nobody sees another's account."""

from __future__ import annotations

from uuid import uuid4

import pytest

from api.access.roles import ALLOWED, OPEN
from tests.api.service import (
    KNOWN_ROUTES,
    ROLES,
    filled_path,
    guarded_routes,
    new_key,
    routes,
)


def test_every_route_is_in_the_table_and_every_row_of_the_table_is_a_route(embedded):
    assert sorted(routes(embedded.app)) == sorted(OPEN | ALLOWED.keys())
    assert not OPEN & ALLOWED.keys()


def test_a_route_that_the_table_forgot_is_refused_to_everybody(embedded):
    embedded.app.add_url_rule("/v1/forgotten", "forgotten", lambda: "secret")
    for role in ROLES:
        answer = embedded.get("/v1/forgotten", role=role)
        assert answer.status_code == 403
        assert "secret" not in answer.text
    assert embedded.get("/v1/forgotten", role="").status_code == 401


@pytest.mark.parametrize("shown", ["", "Bearer", "Bearer ", "Basic b3duZXI6", "Bearer wrong"])
def test_every_route_asks_for_a_token(embedded, shown):
    assert guarded_routes(embedded.app)
    for route in guarded_routes(embedded.app):
        method, path = filled_path(route, str(uuid4()))
        embedded.clock.turn(minutes=1)
        answer = embedded.send(method, path, role="", headers={"Authorization": shown})
        assert (route, answer.status_code) == (route, 401)
        assert answer.headers["WWW-Authenticate"].startswith("Bearer")
        assert answer.json["code"] == "not-signed-in"


@pytest.mark.parametrize("route", KNOWN_ROUTES)
@pytest.mark.parametrize("role", ROLES)
def test_a_role_gets_in_where_its_table_says_so_and_nowhere_else(embedded, route, role):
    method, path = filled_path(route, str(uuid4()))
    body = b"{}" if method != "GET" else None
    answer = embedded.send(method, path, body, role=role, headers=new_key())
    assert (answer.status_code == 403) == (role not in ALLOWED[route])
    if answer.status_code == 403:
        assert answer.json["errors"][0]["what"] == f"the token is that of a {role}"


def test_another_accounts_ids_look_like_ids_that_nobody_has(service):
    """Every route with a parameter, walked with a foreign id and with a made-up one."""
    _, strangers = service.account("Stranger")
    theirs = service.get("/v1/tokens", token=strangers["owner"]).json["tokens"][0]["id"]
    asked = [route for route in guarded_routes(service.app) if "<" in route]
    assert len(asked) >= 3
    for route in asked:
        told = []
        for key in (theirs, str(uuid4())):
            method, path = filled_path(route, key)
            body = {"holder": "me"} if method == "PATCH" else None
            answer = service.send(
                method, path, body, headers={"If-Match": '"1"', "X-Request-Id": "same"}
            )
            assert (route, answer.status_code) == (route, 404)
            told.append(answer.text.replace(key, "ID"))
        assert told[0] == told[1]


def test_a_list_shows_no_row_of_another_account(service):
    _, strangers = service.account("Stranger")
    own = {one["id"] for one in service.get("/v1/tokens").json["tokens"]}
    theirs = {
        one["id"] for one in service.get("/v1/tokens", token=strangers["owner"]).json["tokens"]
    }
    assert len(own) == len(theirs) == 3
    assert not own & theirs
