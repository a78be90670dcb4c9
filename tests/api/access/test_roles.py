"""Promise 9: a role does what its table says, and promise 8: nobody sees another's account."""

from __future__ import annotations

import re
import shutil
from uuid import uuid4

import pytest

from api.access.roles import OPEN
from api.store.copying import contents
from api.store.engine import read_url
from api.subjects import ALLOWED
from tests.api.projects.made import STONE as ITEM
from tests.api.service import (
    KNOWN_ROUTES,
    ROLES,
    Service,
    filled_path,
    guarded_routes,
    new_key,
    routes,
)
from tests.api.world import World, through


def test_every_route_is_in_the_table_and_every_row_of_the_table_is_a_route(embedded):
    assert sorted(routes(embedded.app)) == sorted(OPEN | ALLOWED.keys())
    assert not OPEN & ALLOWED.keys()


def test_a_route_that_the_table_forgot_is_refused_to_everybody(sqlite_store, tmp_path):
    embedded = Service(sqlite_store, tmp_path, is_shared=False)
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
        answer = embedded.send(method, path, role="", headers={"Authorization": shown})
        assert (route, answer.status_code) == (route, 401)
        assert answer.headers["WWW-Authenticate"].startswith("Bearer")
        assert answer.json["code"] == "not-signed-in"


@pytest.mark.parametrize("role", ROLES)
def test_a_role_gets_in_where_its_table_says_so_and_nowhere_else(embedded, role):
    refused = {}
    for route in KNOWN_ROUTES:
        method, path = filled_path(route, str(uuid4()))
        body = b"{}" if method != "GET" else None
        answer = embedded.send(method, path, body, role=role, headers=new_key())
        if answer.status_code == 403:
            refused[route] = answer.json["errors"][0]["what"]
    assert refused == {
        route: f"the role of the token is {role}"
        for route in KNOWN_ROUTES
        if role not in ALLOWED[route]
    }


WITH_IDS = [route for route in KNOWN_ROUTES if "<uuid:" in route]


def copy_of(request, url, folder):
    """Return the URL of a copy of a database."""
    if url.startswith("sqlite"):
        return f"sqlite:///{shutil.copy(read_url(url).database, folder / 'groundsill.sqlite3')}"
    return request.getfixturevalue("server").migrated(read_url(url).database)


@pytest.fixture(scope="module", params=["sqlite", "postgresql"])
def inhabited(request, tmp_path_factory):
    """Two accounts with one of everything each, made once; the second is a stranger's."""
    moving = request.getfixturevalue(f"moving_{request.param}_account")
    folder = tmp_path_factory.mktemp("inhabited")
    url = copy_of(request, moving.first, folder)
    store = moving.at(url)
    service = Service(store, folder, own=moving.account)
    _, strangers = service.account("Stranger")
    tokens = service.tokens["owner"], strangers["owner"]
    ids = [World(through(service, token)).make().ids for token in tokens]
    store.close()
    return moving, url, tokens, ids


@pytest.fixture
def neighbors(request, inhabited, tmp_path):
    """The service on a copy of that database, and the worlds of the two accounts."""
    moving, url, tokens, ids = inhabited
    store = moving.at(copy_of(request, url, tmp_path))
    service = Service(store, tmp_path, own=moving.account)
    own, theirs = (
        World(through(service, token), dict(known))
        for token, known in zip(tokens, ids, strict=True)
    )
    yield service, own, theirs
    store.close()


def body_for(specification, world, method, path):
    """Return a body that the route takes, of its example."""
    told = specification["paths"][re.sub("<(?:uuid:)?(.+?)>", r"{\1}", path)][method.lower()]
    content = told.get("requestBody", {}).get("content", {})
    if not content:
        return None, {}
    kind = "application/json" if "application/json" in content else next(iter(content))
    body = world.body_of(content[kind]["example"]) if "example" in content[kind] else b"PK"
    return body, {"Content-Type": kind}


def test_another_accounts_ids_look_like_ids_that_nobody_has(neighbors):
    """Promise 8: every route, each of its ids in turn a foreign one and one that nobody has."""
    service, own, theirs = neighbors
    specification = service.get("/v1/openapi.json", role="").json
    asked = 0
    for route in WITH_IDS:
        body, kind = body_for(specification, own, *route.split(" ", 1))
        sent = kind | {"If-Match": '"1"', "X-Request-Id": "same"}
        for name in re.findall("<uuid:(.+?)>", route):
            told = []
            for key in (theirs.ids_for(route)[name], str(uuid4())):
                method, path = own.filled(route, **{name: key})
                answer = service.send(method, path, body, headers=sent | new_key())
                assert (route, name, answer.status_code) == (route, name, 404), answer.text
                told.append(answer.text.replace(key, "ID"))
            assert told[0] == told[1]
            asked += 1
    assert asked >= 70


def test_nothing_of_another_account_was_changed_by_trying(neighbors):
    """The same walk with the stranger's whole path leaves what is theirs as it was."""
    service, _, theirs = neighbors
    specification = service.get("/v1/openapi.json", role="").json
    with service.store.across_accounts() as connection:
        before = contents(connection)
    for route in WITH_IDS:
        body, kind = body_for(specification, theirs, *route.split(" ", 1))
        method, path = theirs.filled(route)
        sent = new_key() | kind | {"If-Match": '"1"'}
        answer = service.send(method, path, body, headers=sent)
        assert (route, answer.status_code) == (route, 404)
    with service.store.across_accounts() as connection:
        assert contents(connection) == before


def test_ids_that_stand_in_bodies_are_looked_for_in_the_own_account_only(neighbors):
    service, own, theirs = neighbors
    project = f"/v1/projects/{own.ids['project_id']}"
    for path, body, name, kind in (
        (f"{project}/shares", {}, "token_id", "token_id"),
        ("/v1/projects", {"name": "Shed"}, "rate_set_id", "rate_set_id"),
        (f"{project}/items", ITEM, "phase_id", "phase_id"),
    ):
        told = []
        for key in (theirs.ids[kind], str(uuid4())):
            headers = new_key() | {"X-Request-Id": "same"}
            answer = service.post(path, body | {name: key}, headers=headers)
            assert (path, answer.status_code) == (path, 422), answer.text
            assert answer.json["errors"][0]["pointer"] == f"#/{name}"
            told.append(answer.text.replace(key, "ID"))
        assert told[0] == told[1]


def test_a_list_shows_no_row_of_another_account(service):
    _, strangers = service.account("Stranger")
    own = {one["id"] for one in service.get("/v1/tokens").json["tokens"]}
    theirs = {
        one["id"] for one in service.get("/v1/tokens", token=strangers["owner"]).json["tokens"]
    }
    assert len(own) == len(theirs) == 4
    assert not own & theirs
