"""Phases over HTTP: added, listed, changed, put in order, taken away."""

from __future__ import annotations

import pytest

from api.projects.phase_shapes import EXAMPLE_CHANGE, EXAMPLE_PHASE
from api.store.verify import verify
from tests.api.projects.made import (
    AT,
    NOBODYS,
    STONE,
    accept_made,
    add_item,
    at_version,
    created,
    entries,
    open_phase,
    open_project,
)
from tests.api.service import new_key


def codes(service, project, **options):
    path = f"{AT}/{project['id']}/phases"
    return [one["code"] for one in service.get(path, **options).json["phases"]]


def test_a_phase_is_added_shown_changed_and_taken_away(service):
    project = open_project(service)
    answer = service.post(f"{AT}/{project['id']}/phases", EXAMPLE_PHASE, headers=new_key())
    phase, path = created(answer), answer.headers["Location"]
    assert {key: phase[key] for key in EXAMPLE_PHASE} == EXAMPLE_PHASE
    assert (service.get(path).json, service.get(path).headers["ETag"]) == (phase, '"1"')
    changed = service.send("PATCH", path, EXAMPLE_CHANGE, headers=at_version(phase))
    assert changed.json == phase | EXAMPLE_CHANGE | {"version": 2}
    assert service.send("DELETE", path, headers=at_version(phase)).status_code == 412
    assert service.send("DELETE", path, headers=at_version(changed.json)).status_code == 204
    assert service.get(path).status_code == 404
    verify(service.store)


def test_phases_stand_in_the_order_they_were_added_and_page_without_a_gap(service):
    project = open_project(service)
    for code in ("90", "10", "50"):
        open_phase(service, project, code)
    assert codes(service, project) == ["90", "10", "50"]
    path = f"{AT}/{project['id']}/phases?limit=2"
    first = service.get(path).json
    second = service.get(f"{path}&cursor={first['next']}").json
    assert [one["code"] for one in first["phases"] + second["phases"]] == ["90", "10", "50"]
    strange = f"{AT}/{open_project(service)['id']}/phases?limit=2&cursor={first['next']}"
    assert service.get(strange).json["code"] == "cursor-faulty"


@pytest.mark.parametrize(
    ("fields", "pointer", "what"),
    [
        ({"code": "3 0"}, "#/code", "phase code '3 0' is not letters and digits"),
        ({"code": "x" * 13}, "#/code", "phase code 'xxxxxxxxxxxxx' is not letters and digits"),
        ({"after": "20"}, "#/after", "is not of that kind"),
        ({"duration": "12 ft"}, "#/duration", "'12 ft' is a length, not calendar time"),
        ({"duration": ["9 day", "8 day", "12 day"]}, "#/duration", None),
        ({"duration": {"low": "1 day", "hgih": "2 day"}}, "#/duration/hgih", None),
        ({"items": []}, "#/items", "is not a field"),
    ],
)
def test_a_field_that_is_wrong_is_named(embedded, fields, pointer, what):
    project = open_project(embedded)
    body = {"code": "30", "name": "Fill"} | fields
    told = entries(embedded.post(f"{AT}/{project['id']}/phases", body, headers=new_key()), 422)
    assert told[0][0] == pointer
    assert what is None or told[0][1] == what
    assert codes(embedded, project) == []


def test_a_code_stands_once_in_a_project(service):
    project = open_project(service)
    open_phase(service, project, "20")
    phase = open_phase(service, project, "30")
    path = f"{AT}/{project['id']}/phases"
    sentence = "the project has a phase of that code already; choose another."
    body = {"code": "20", "name": "Again"}
    for answer in (
        service.post(path, body, headers=new_key()),
        service.send("PATCH", f"{path}/{phase['id']}", {"code": "20"}, headers=at_version(phase)),
    ):
        assert (answer.status_code, answer.json["detail"]) == (409, sentence)
    open_phase(service, open_project(service, name="Shed"), "20")


def in_order(*phases):
    return {"phases": [{"id": one["id"], "version": one["version"]} for one in phases]}


def test_only_what_moves_gets_a_new_version(service):
    project = open_project(service)
    one, two, three, four = (open_phase(service, project, code) for code in "1234")
    path = f"{AT}/{project['id']}/phases/order"
    answer = service.send("PUT", path, in_order(one, three, two, four))
    assert answer.status_code == 200
    told = [(row["code"], row["version"]) for row in answer.json["phases"]]
    assert told == [("1", 1), ("3", 2), ("2", 2), ("4", 1)]
    assert codes(service, project) == ["1", "3", "2", "4"]
    stale = service.send("PUT", path, in_order(two, one, three, four))
    assert entries(stale, 412) == [
        ("#/phases/0/version", "2 is at version 2, and 1 was given"),
        ("#/phases/2/version", "3 is at version 2, and 1 was given"),
    ]
    assert codes(service, project) == ["1", "3", "2", "4"]
    assert service.get(f"{AT}/{project['id']}").json["version"] == 1
    verify(service.store)


def test_an_order_names_all_phases_once_and_no_others(embedded):
    project, shed = open_project(embedded), open_project(embedded, name="Shed")
    one, two, three = (open_phase(embedded, project, code) for code in "123")
    foreign = open_phase(embedded, shed, "1")
    path = f"{AT}/{project['id']}/phases/order"
    told = entries(embedded.send("PUT", path, in_order(one, foreign, one)), 422)
    assert told == [
        ("#/phases/1/id", "is not one of the phases here"),
        ("#/phases/2/id", "is listed twice"),
        ("#/phases", "leaves out 2, 3"),
    ]
    assert embedded.send("PUT", path, {"phases": []}).status_code == 422
    assert codes(embedded, project) == ["1", "2", "3"]
    assert two["version"] == three["version"] == 1


def test_a_phase_that_others_name_keeps_its_code_and_stays(embedded):
    event = {"name": "cistern", "probability": "15 %", "cost": "$900", "phase": "20"}
    project = open_project(embedded)
    phase = open_phase(embedded, project, "20")
    open_phase(embedded, project, "30", after=["20"])
    path = f"{AT}/{project['id']}"
    alike = {"items": ["20.010", "30.010"], "matrix": [["1", "0.6"], ["0.6", "1"]]}
    risk = {"events": [event], "correlation": alike}
    risky = embedded.send("PATCH", path, {"risk": risk}, headers=at_version(project))
    assert risky.status_code == 200
    one = f"{path}/phases/{phase['id']}"
    for answer in (
        embedded.send("PATCH", one, {"code": "25"}, headers=at_version(phase)),
        embedded.send("DELETE", one, headers=at_version(phase)),
    ):
        assert [what for _, what in entries(answer, 409)] == [
            "the project's risk, under events, names phase 20",
            "the project's risk, under correlation, names phase 20",
            "phase 30, under after, names phase 20",
        ]
    renamed = embedded.send("PATCH", one, {"name": "Fill"}, headers=at_version(phase))
    assert renamed.json["name"] == "Fill"


def test_a_phase_goes_with_its_items_unless_an_accepted_estimate_has_one(service):
    project = open_project(service)
    phase = open_phase(service, project)
    item = add_item(service, project, phase)
    path = f"{AT}/{project['id']}"
    gone = service.send("DELETE", f"{path}/phases/{phase['id']}", headers=at_version(phase))
    assert gone.status_code == 204
    assert service.get(f"{path}/items/{item['id']}").status_code == 404
    phase = open_phase(service, project)
    add_item(service, project, phase, code="001")
    accept_made(service, project)
    one = f"{path}/phases/{phase['id']}"
    for answer in (
        service.send("DELETE", one, headers=at_version(phase)),
        service.send("PATCH", one, {"code": "25"}, headers=at_version(phase)),
    ):
        assert entries(answer, 409)[0] == ("", "item 20.001 is in an accepted estimate")
    assert (
        service.send("PATCH", one, {"name": "Pits"}, headers=at_version(phase)).json["version"] == 2
    )
    assert service.get(path).json == project
    verify(service.store)


def test_a_phase_belongs_to_its_project_and_account(embedded):
    project, shed = open_project(embedded), open_project(embedded, name="Shed")
    phase = open_phase(embedded, project)
    _, strangers = embedded.account("Stranger")
    for method, body in (("GET", None), ("PATCH", {"name": "Mine"}), ("DELETE", None)):
        paths = [
            f"{AT}/{project['id']}/phases/{NOBODYS}",
            f"{AT}/{shed['id']}/phases/{phase['id']}",
            f"{AT}/{NOBODYS}/phases/{phase['id']}",
        ]
        headers = {"If-Match": '"7"'}
        answers = [embedded.send(method, path, body, headers=headers) for path in paths]
        own = f"{AT}/{project['id']}/phases/{phase['id']}"
        answers.append(embedded.send(method, own, body, headers=headers, token=strangers["owner"]))
        assert {one.status_code for one in answers} == {404}
    for path in (f"{AT}/{NOBODYS}/phases", f"{AT}/{project['id']}/phases"):
        assert embedded.get(path, token=strangers["owner"]).status_code == 404
        body = {"code": "1", "name": "Mine"}
        answer = embedded.post(path, body, headers=new_key(), token=strangers["owner"])
        assert answer.status_code == 404


def test_a_change_needs_a_version_and_an_addition_a_key(embedded):
    project = open_project(embedded)
    phase = open_phase(embedded, project)
    path = f"{AT}/{project['id']}/phases"
    assert embedded.send("PATCH", f"{path}/{phase['id']}", {"name": "F"}).status_code == 428
    assert embedded.send("DELETE", f"{path}/{phase['id']}").status_code == 428
    assert embedded.post(path, EXAMPLE_PHASE).json["code"] == "key-faulty"
    headers = new_key()
    first, second = (embedded.post(path, EXAMPLE_PHASE, headers=headers) for _ in range(2))
    assert first.data == second.data
    assert codes(embedded, project) == ["20", "60"]


def of_so_many(phases):
    items = [STONE | {"code": "010"}]
    return {
        "project": "Large",
        "phases": [{"code": f"{n:04d}", "name": "Fill", "items": items} for n in range(phases)],
    }


def test_a_project_holds_five_hundred_phases_however_they_come(embedded):
    path = f"{AT}/from-scope"
    refused = embedded.post(path, {"scope": of_so_many(501)}, headers=new_key())
    assert (refused.status_code, refused.json["code"]) == (413, "body-too-large")
    told = "the scope has more than 500 phases; put more items in a phase."
    assert refused.json["detail"] == told
    full = created(embedded.post(path, {"scope": of_so_many(500)}, headers=new_key()))
    at = f"{AT}/{full['id']}/phases"
    refused = embedded.post(at, EXAMPLE_PHASE, headers=new_key())
    assert (refused.status_code, refused.json["code"]) == (413, "body-too-large")
    last = embedded.get(f"{at}?limit=1").json["phases"][0]
    tag = {"If-Match": '"1"'}
    assert embedded.send("DELETE", f"{at}/{last['id']}", headers=tag).status_code == 204
    created(embedded.post(at, EXAMPLE_PHASE, headers=new_key()))
