"""Changes that compete: one winner a version, one item a code, and nothing lost."""

from __future__ import annotations

from collections import Counter
from concurrent.futures import ThreadPoolExecutor

from api.store.verify import verify
from tests.api.projects.made import AT, STONE, add_item, at_version, open_phase, open_project
from tests.api.service import new_key

RIVALS = 6


def at_once(send):
    """Return the statuses of requests that are sent at once."""
    with ThreadPoolExecutor(RIVALS) as pool:
        return Counter(answer.status_code for answer in pool.map(send, range(RIVALS)))


def test_one_of_several_changes_of_a_version_wins(service):
    project = open_project(service)
    item = add_item(service, project, open_phase(service, project))
    path = f"{AT}/{project['id']}/items/{item['id']}"

    def send(number):
        body = {"note": f"Rival {number}"}
        return service.send("PATCH", path, body, headers=at_version(item))

    assert at_once(send) == {200: 1, 412: RIVALS - 1}
    assert service.get(path).json["version"] == 2
    verify(service.store)


def test_one_of_several_items_of_a_code_is_stored(service):
    project = open_project(service)
    phase = open_phase(service, project)
    path, body = f"{AT}/{project['id']}/items", STONE | {"phase_id": phase["id"]}
    found = at_once(lambda _: service.post(path, body, headers=new_key()))
    assert found == {201: 1, 409: RIVALS - 1}
    assert len(service.get(path).json["items"]) == 1
    verify(service.store)


def test_items_that_are_added_at_once_get_places_of_their_own(service):
    project = open_project(service)
    phase = open_phase(service, project)
    path, body = f"{AT}/{project['id']}/items", STONE | {"phase_id": phase["id"]}
    found = at_once(lambda n: service.post(path, body | {"code": f"{n}"}, headers=new_key()))
    assert found == {201: RIVALS}
    rows = service.get(path).json["items"]
    order = {"items": [{"id": row["id"], "version": 1} for row in rows]}
    told = service.send("PUT", f"{AT}/{project['id']}/phases/{phase['id']}/items/order", order)
    assert {row["version"] for row in told.json["items"]} == {1}


def test_one_of_several_orders_wins(service):
    project = open_project(service)
    phases = [open_phase(service, project, code) for code in "123"]
    path = f"{AT}/{project['id']}/phases/order"
    turned = [{"id": one["id"], "version": 1} for one in reversed(phases)]
    found = at_once(lambda _: service.send("PUT", path, {"phases": turned}))
    assert found == {200: 1, 412: RIVALS - 1}
    verify(service.store)
