"""Items over HTTP, one at a time: added, listed, searched, changed, moved, taken away."""

from __future__ import annotations

import pytest

from api.projects.item_shapes import EXAMPLE_CHANGE, EXAMPLE_ITEM
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
    statements,
)
from tests.api.service import new_key


def codes(service, project, query=""):
    path = f"{AT}/{project['id']}/items{query}"
    return [one["cost_code"] for one in service.get(path).json["items"]]


def test_an_item_is_added_shown_changed_and_taken_away(service):
    project = open_project(service)
    phase = open_phase(service, project, "30")
    body = EXAMPLE_ITEM | {"phase_id": phase["id"]}
    answer = service.post(f"{AT}/{project['id']}/items", body, headers=new_key())
    item, path = created(answer), answer.headers["Location"]
    assert {key: item[key] for key in body} == body
    assert (item["cost_code"], item["crew"], item["element"]) == ("30.050", None, None)
    assert (item["methods"], item["version"]) == (None, 1)
    assert (service.get(path).json, service.get(path).headers["ETag"]) == (item, '"1"')
    changed = service.send("PATCH", path, EXAMPLE_CHANGE, headers=at_version(item))
    assert changed.json == item | EXAMPLE_CHANGE | {"version": 2}
    assert service.send("DELETE", path, headers=at_version(item)).status_code == 412
    assert service.send("DELETE", path, headers=at_version(changed.json)).status_code == 204
    assert service.get(path).status_code == 404
    assert service.get(f"{AT}/{project['id']}").json["version"] == 1
    verify(service.store)


def test_methods_crews_and_texts_of_every_script_are_kept(service):
    project = open_project(service)
    phase = open_phase(service, project)
    methods = [
        {"name": "wheeling it in", "risks": ["Ramps wear."]},
        {"name": "throwing it in", "assembly": "stone-fill-conveyor-hired"},
    ]
    said = {
        "name": "Schüttung 砕石 «west»", "note": "Nur bei Trockenheit – ☂", "methods": methods,
        "crew": "owner-and-helper", "element": "A2010",
    }  # fmt: skip
    item = add_item(service, project, phase, **said)
    assert {key: item[key] for key in said} == said
    bare = service.send(
        "PATCH", f"{AT}/{project['id']}/items/{item['id']}",
        dict.fromkeys(("note", "methods", "crew", "element")), headers=at_version(item),
    ).json  # fmt: skip
    assert {bare[key] for key in ("note", "methods", "crew", "element")} == {None}


STONE_FAULTS = [
    ({"inputs": {}}, "#/inputs", "item 20.010 does not give 'length'"),
    ({"inputs": STONE["inputs"] | {"length": "62"}}, "#/inputs/length", "has no unit"),
    ({"inputs": STONE["inputs"] | {"length": "3 cy"}}, "#/inputs/length", "is a volume"),
    ({"inputs": STONE["inputs"] | {"depth": ["1 ft", "7"]}}, "#/inputs/depth", "has no unit"),
    ({"inputs": STONE["inputs"] | {"depth": "9,000 ft"}}, "#/inputs/depth", "is too large"),
    ({"inputs": STONE["inputs"] | {"lenght": "1 ft"}}, "#/inputs/lenght", "does not ask for"),
    ({"inputs": STONE["inputs"] | {"depth": None}}, "#/inputs/depth", "says nothing here"),
    ({"assembly": "stone-fil"}, "#/assembly", "names the unknown assembly 'stone-fil'"),
    ({"crew": "nobody"}, "#/crew", "names the unknown crew 'nobody'"),
    ({"code": "0 1"}, "#/code", "item code '0 1' is not letters and digits"),
    ({"risk": {"pace": "fast"}}, "#/risk/pace", "'fast'"),
    ({"methods": [{"name": "a"}, {"name": "a"}]}, "#/methods/1", "repeats method 'a'"),
    ({"phase_id": NOBODYS}, "#/phase_id", "is not a phase of the project"),
    ({"phase_id": "20"}, "#/phase_id", "is not an id"),
    ({"quantity": "3"}, "#/quantity", "is not a field"),
    ({"inputs": []}, "#/inputs", "is not of that kind"),
]


@pytest.mark.parametrize(("fields", "pointer", "what"), STONE_FAULTS)
def test_the_library_reads_an_item_at_the_door(embedded, fields, pointer, what):
    project = open_project(embedded)
    phase = open_phase(embedded, project)
    path = f"{AT}/{project['id']}/items"
    body = STONE | {"phase_id": phase["id"]} | fields
    told = entries(embedded.post(path, body, headers=new_key()), 422)
    assert told[0][0] == pointer
    assert what in told[0][1]
    assert codes(embedded, project) == []


def test_a_change_is_read_as_a_whole(embedded):
    project = open_project(embedded)
    item = add_item(embedded, project, open_phase(embedded, project))
    path = f"{AT}/{project['id']}/items/{item['id']}"
    body = {"assembly": "plank-floor-wreck"}
    told = entries(embedded.send("PATCH", path, body, headers=at_version(item)), 422)
    assert {pointer for pointer, _ in told} == {
        "#/inputs", "#/inputs/length", "#/inputs/width", "#/inputs/depth",
    }  # fmt: skip
    assert embedded.get(path).json == item


def test_a_code_stands_once_in_a_phase(service):
    project = open_project(service)
    phase, other = open_phase(service, project, "20"), open_phase(service, project, "30")
    add_item(service, project, phase)
    second = add_item(service, project, phase, code="020")
    add_item(service, project, other)
    path = f"{AT}/{project['id']}/items"
    fault = [("#/code", "the phase has an item of that code already")]
    body = STONE | {"phase_id": phase["id"]}
    assert entries(service.post(path, body, headers=new_key()), 409) == fault
    changed = service.send(
        "PATCH", f"{path}/{second['id']}", {"code": "010"}, headers=at_version(second)
    )
    assert entries(changed, 409) == fault


def test_an_item_moves_to_the_end_of_another_phase(service):
    project = open_project(service)
    phase, other = open_phase(service, project, "20"), open_phase(service, project, "30")
    item = add_item(service, project, phase)
    add_item(service, project, other, code="020")
    path = f"{AT}/{project['id']}/items/{item['id']}"
    moved = service.send("PATCH", path, {"phase_id": other["id"]}, headers=at_version(item))
    assert (moved.json["cost_code"], moved.json["version"]) == ("30.010", 2)
    assert codes(service, project) == ["30.020", "30.010"]


def barn(service):
    """Make a project of two phases, the second one standing first."""
    project = open_project(service)
    fill, floor = open_phase(service, project, "20"), open_phase(service, project, "10")
    add_item(service, project, fill, code="020", name="Stone, 50 % wet")
    add_item(service, project, fill, code="010", note="By the Conveyor.")
    wreck = {"assembly": "plank-floor-wreck", "inputs": {"area": "1,640 sq ft"}}
    add_item(service, project, floor, **wreck, name="Plank floor wrecked")
    order = [{"id": one["id"], "version": 1} for one in (floor, fill)]
    service.send("PUT", f"{AT}/{project['id']}/phases/order", {"phases": order})
    return project, fill


def test_items_are_listed_phase_by_phase_in_pages_without_a_gap(service):
    project, _ = barn(service)
    assert codes(service, project) == ["10.010", "20.020", "20.010"]
    path, query, found = f"{AT}/{project['id']}/items", "?limit=1", []
    while query:
        page = service.get(path + query).json
        found += [one["cost_code"] for one in page["items"]]
        query = page["next"] and f"?limit=1&cursor={page['next']}"
    assert found == ["10.010", "20.020", "20.010"]


def test_a_list_takes_the_same_few_statements_however_many_items_and_phases_it_tells(embedded):
    project, _ = barn(embedded)
    path = f"{AT}/{project['id']}/items"
    with statements(embedded.store) as few:
        embedded.get(path)
    for number in range(3):
        phase = open_phase(embedded, project, f"9{number}")
        for code in range(4):
            add_item(embedded, project, phase, code=str(code))
    with statements(embedded.store) as many:
        assert len(embedded.get(path).json["items"]) == 15
    assert len(few) == len(many) <= 6


FOUND = {
    "?assembly=plank-floor-wreck": ["10.010"],
    "?assembly=plank": [],
    "?search=CONVEYOR": ["20.010"],
    "?search=plank": ["10.010"],
    "?search=50 %25": ["20.020"],
    "?search=%25": ["20.020"],
    "?search=_": [],
    "?search=020": ["20.020"],
    "?search=stone&assembly=plank-floor-wreck": [],
}


def test_items_are_found_by_assembly_and_words(service):
    project, _ = barn(service)
    assert {query: codes(service, project, query) for query in FOUND} == FOUND


def test_items_of_one_phase_are_found_and_a_cursor_belongs_to_its_filters(embedded):
    project, fill = barn(embedded)
    assert codes(embedded, project, f"?phase={fill['id']}") == ["20.020", "20.010"]
    assert codes(embedded, project, f"?phase={NOBODYS}") == []
    path = f"{AT}/{project['id']}/items"
    page = embedded.get(f"{path}?limit=1&phase={fill['id']}").json
    assert embedded.get(f"{path}?limit=1&cursor={page['next']}").status_code == 400
    assert entries(embedded.get(f"{path}?phase=20"), 422) == [("", "is not an id")]


def test_items_of_a_phase_are_put_in_order_and_only_what_moves_gets_a_version(service):
    project = open_project(service)
    phase = open_phase(service, project)
    rows = [add_item(service, project, phase, code=code) for code in ("1", "2", "3")]
    path = f"{AT}/{project['id']}/phases/{phase['id']}/items/order"
    asked = [{"id": rows[n]["id"], "version": 1} for n in (1, 0, 2)]
    answer = service.send("PUT", path, {"items": asked})
    told = [(one["code"], one["version"]) for one in answer.json["items"]]
    assert told == [("2", 2), ("1", 2), ("3", 1)]
    assert codes(service, project) == ["20.2", "20.1", "20.3"]
    stale = service.send("PUT", path, {"items": asked})
    assert [pointer for pointer, _ in entries(stale, 412)] == [
        "#/items/0/version", "#/items/1/version",
    ]  # fmt: skip
    missing = service.send("PUT", path, {"items": asked[:1]})
    assert entries(missing, 422) == [("#/items", "leaves out 1, 3")]
    strange = path.replace(phase["id"], NOBODYS)
    assert service.send("PUT", strange, {"items": asked}).status_code == 404
    verify(service.store)


def test_an_item_of_an_accepted_estimate_keeps_its_code_and_stays(service):
    project = open_project(service)
    phase, other = open_phase(service, project, "20"), open_phase(service, project, "30")
    item = add_item(service, project, phase, code="001")
    accept_made(service, project)
    path = f"{AT}/{project['id']}/items/{item['id']}"
    for method, body in (
        ("DELETE", None),
        ("PATCH", {"code": "002"}),
        ("PATCH", {"phase_id": other["id"]}),
    ):
        answer = service.send(method, path, body, headers=at_version(item))
        assert answer.json["code"] == "still-needed"
        (told,) = entries(answer, 409)
        assert told[1] == "item 20.001 is in an accepted estimate"
    noted = service.send("PATCH", path, {"note": "Wet."}, headers=at_version(item))
    assert noted.json == item | {"note": "Wet.", "version": 2}
    verify(service.store)


def test_an_item_belongs_to_its_project_and_account(embedded):
    project, shed = open_project(embedded), open_project(embedded, name="Shed")
    phase = open_phase(embedded, project)
    item = add_item(embedded, project, phase)
    told = entries(
        embedded.post(
            f"{AT}/{shed['id']}/items", STONE | {"phase_id": phase["id"]}, headers=new_key()
        ),
        422,
    )
    assert told == [("#/phase_id", "is not a phase of the project")]
    _, strangers = embedded.account("Stranger")
    for method, body in (("GET", None), ("PATCH", {"name": "Mine"}), ("DELETE", None)):
        paths = [
            f"{AT}/{project['id']}/items/{NOBODYS}",
            f"{AT}/{shed['id']}/items/{item['id']}",
            f"{AT}/{NOBODYS}/items/{item['id']}",
        ]
        headers = {"If-Match": '"7"'}
        answers = [embedded.send(method, path, body, headers=headers) for path in paths]
        own = f"{AT}/{project['id']}/items/{item['id']}"
        answers.append(embedded.send(method, own, body, headers=headers, token=strangers["owner"]))
        assert {one.status_code for one in answers} == {404}


def test_a_change_needs_a_version_and_an_addition_a_key(embedded):
    project = open_project(embedded)
    phase = open_phase(embedded, project)
    item = add_item(embedded, project, phase)
    path = f"{AT}/{project['id']}/items"
    assert embedded.send("PATCH", f"{path}/{item['id']}", {"name": "F"}).status_code == 428
    assert embedded.send("DELETE", f"{path}/{item['id']}").status_code == 428
    body = STONE | {"phase_id": phase["id"], "code": "020"}
    assert embedded.post(path, body).json["code"] == "key-faulty"
    headers = new_key()
    first, second = (embedded.post(path, body, headers=headers) for _ in range(2))
    assert (first.status_code, first.data) == (201, second.data)
    assert codes(embedded, project) == ["20.010", "20.020"]
