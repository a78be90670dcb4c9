"""Many items in one request: all of it or nothing, every fault of every item told."""

from __future__ import annotations

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from api.store.verify import verify
from tests.api.projects.made import (
    AT,
    NOBODYS,
    STONE,
    accept_made,
    add_item,
    created,
    entries,
    open_phase,
    open_project,
    statements,
)
from tests.api.service import new_key


def add_all(service, project, items, **options):
    path = f"{AT}/{project['id']}/items/additions"
    headers = options.pop("headers", None) or new_key()
    return service.post(path, {"items": items}, headers=headers, **options)


def change_all(service, project, items, **options):
    path = f"{AT}/{project['id']}/items/changes"
    return service.post(path, {"items": items}, **options)


def all_items(service, project):
    return service.get(f"{AT}/{project['id']}/items?limit=200").json["items"]


def test_many_are_added_in_their_order_and_answered(service):
    project = open_project(service)
    one, two = open_phase(service, project, "20"), open_phase(service, project, "30")
    add_item(service, project, one, code="900")
    bodies = [
        STONE | {"phase_id": phase["id"], "code": f"{number:03d}"}
        for number in range(4)
        for phase in (one, two)
    ]
    answer = add_all(service, project, bodies)
    told = created(answer)["items"]
    assert [row["cost_code"] for row in told[:4]] == ["20.000", "30.000", "20.001", "30.001"]
    assert answer.headers["Location"] == f"{AT}/{project['id']}/items"
    assert [row["cost_code"] for row in all_items(service, project)] == [
        "20.900", "20.000", "20.001", "20.002", "20.003", "30.000", "30.001", "30.002", "30.003",
    ]  # fmt: skip
    verify(service.store)


def test_every_fault_of_every_new_item_is_reported_and_none_is_stored(embedded):
    project = open_project(embedded)
    phase = open_phase(embedded, project)
    good = STONE | {"phase_id": phase["id"]}
    answer = add_all(
        embedded, project,
        [
            good,
            good | {"code": "020", "assembly": "stone"},
            good | {"code": "030", "inputs": good["inputs"] | {"length": "62"}},
            good | {"code": "040", "inputs": good["inputs"] | {"depth": ["1 ft", "x"]}},
            good,
        ],
    )  # fmt: skip
    told = entries(answer, 422)
    assert [pointer for pointer, _ in told] == [
        "#/items/1/assembly", "#/items/2/inputs/length", "#/items/3/inputs/depth", "#/items/4",
    ]  # fmt: skip
    assert told[3][1] == "repeats item '20.010' of #/items/0"
    assert all_items(embedded, project) == []


def test_fields_phases_and_codes_that_are_taken_are_reported_each_at_its_place(embedded):
    project = open_project(embedded)
    phase = open_phase(embedded, project)
    add_item(embedded, project, phase)
    good = STONE | {"phase_id": phase["id"]}
    told = entries(add_all(embedded, project, [good | {"name": ""}, good | {"kind": "x"}]), 422)
    assert sorted(pointer for pointer, _ in told) == ["#/items/0/name", "#/items/1/kind"]
    told = entries(add_all(embedded, project, [good, good | {"phase_id": NOBODYS}]), 422)
    assert told == [("#/items/1/phase_id", "is not a phase of the project")]
    told = entries(add_all(embedded, project, [good | {"code": "9"}, good]), 409)
    assert told == [("#/items/1/code", "the phase has an item of that code already")]
    assert len(all_items(embedded, project)) == 1
    assert entries(add_all(embedded, project, []), 422)[0][0] == "#/items"


def test_the_same_key_adds_them_once(embedded):
    project = open_project(embedded)
    phase = open_phase(embedded, project)
    bodies = [STONE | {"phase_id": phase["id"], "code": str(n)} for n in range(3)]
    headers = new_key()
    first, second = (add_all(embedded, project, bodies, headers=headers) for _ in range(2))
    assert (first.status_code, first.data) == (201, second.data)
    assert len(all_items(embedded, project)) == 3


def three(service):
    project = open_project(service)
    phase = open_phase(service, project)
    return project, phase, [add_item(service, project, phase, code=code) for code in "123"]


def test_many_are_changed_moved_and_taken_away_at_once(service):
    project, _, (one, two, third) = three(service)
    other = open_phase(service, project, "30")
    answer = change_all(
        service, project,
        [
            {"id": one["id"], "version": 1, "name": "Deep stone", "code": "2"},
            {"id": two["id"], "version": 1, "removed": True},
            {"id": third["id"], "version": 1, "phase_id": other["id"], "note": "Last."},
        ],
    )  # fmt: skip
    assert answer.status_code == 200, answer.text
    told = [(row["cost_code"], row["name"], row["version"]) for row in answer.json["items"]]
    assert told == [("20.2", "Deep stone", 2), ("30.3", STONE["name"], 2)]
    assert all_items(service, project) == answer.json["items"]
    verify(service.store)


def test_many_are_changed_and_reordered_in_as_many_statements_as_two(service):
    project = open_project(service)
    few, many = open_phase(service, project, "20"), open_phase(service, project, "30")
    counts = []
    for phase, count in ((few, 2), (many, 30)):
        new = [STONE | {"phase_id": phase["id"], "code": f"{n:03d}"} for n in range(count)]
        rows = created(add_all(service, project, new))["items"]
        with statements(service.store) as sent:
            changes = [{"id": row["id"], "version": 1, "name": "Deep"} for row in rows]
            assert change_all(service, project, changes).status_code == 200
            order = [{"id": row["id"], "version": 2} for row in reversed(rows)]
            path = f"{AT}/{project['id']}/phases/{phase['id']}/items/order"
            assert service.send("PUT", path, {"items": order}).status_code == 200
        counts.append(len(sent))
    assert counts[0] == counts[1]
    assert [one["version"] for one in all_items(service, project)] == [3] * 32
    verify(service.store)


def test_one_stale_version_stops_all(service):
    project, _, (one, two, third) = three(service)
    before = all_items(service, project)
    answer = change_all(
        service, project,
        [
            {"id": one["id"], "version": 1, "name": "Deep stone"},
            {"id": two["id"], "version": 2, "removed": True},
            {"id": third["id"], "version": 7},
        ],
    )  # fmt: skip
    assert entries(answer, 412) == [
        ("#/items/1/version", "2 is at version 1, and 2 was given"),
        ("#/items/2/version", "3 is at version 1, and 7 was given"),
    ]
    assert all_items(service, project) == before


def test_unknown_and_repeated_items_are_reported(embedded):
    project, _, (one, *_) = three(embedded)
    shed = open_project(embedded, name="Shed")
    foreign = add_item(embedded, shed, open_phase(embedded, shed))
    at_one = {"id": one["id"], "version": 1}
    asked = [at_one, {"id": foreign["id"], "version": 1}, {"id": NOBODYS, "version": 1}]
    assert entries(change_all(embedded, project, asked), 404) == [
        ("#/items/1/id", f"there is no '{foreign['id']}' in items"),
        ("#/items/2/id", f"there is no '{NOBODYS}' in items"),
    ]
    told = entries(change_all(embedded, project, [at_one, at_one]), 422)
    assert told == [("#/items/1/id", "is listed twice")]
    told = entries(change_all(embedded, project, [at_one | {"removed": 1}]), 422)
    assert told == [("#/items/0/removed", "is neither true nor false")]


def test_every_fault_of_every_change_is_reported_and_none_is_stored(embedded):
    project, _, rows = three(embedded)
    before = all_items(embedded, project)
    asked = [{"id": one["id"], "version": 1} for one in rows]
    asked[0] |= {"name": "Fine"}
    asked[1] |= {"inputs": {"length": "1 ft"}}
    asked[2] |= {"crew": "nobody"}
    told = entries(change_all(embedded, project, asked), 422)
    assert {pointer for pointer, _ in told} == {"#/items/1/inputs", "#/items/2/crew"}
    assert all_items(embedded, project) == before


def test_items_of_accepted_estimates_stay_and_all_of_them_are_reported(embedded):
    project = open_project(embedded)
    phase = open_phase(embedded, project)
    rows = [add_item(embedded, project, phase, code=code) for code in ("001", "002", "900")]
    accept_made(embedded, project)
    gone = [{"id": row["id"], "version": 1, "removed": True} for row in rows]
    told = entries(change_all(embedded, project, gone), 409)
    assert told == [
        ("#/items/0", "item 20.001 is in an accepted estimate"),
        ("#/items/1", "item 20.002 is in an accepted estimate"),
    ]
    renamed = [{"id": row["id"], "version": 1, "code": f"9{row['code']}"} for row in rows]
    told = entries(change_all(embedded, project, renamed), 409)
    assert [pointer for pointer, _ in told] == ["#/items/0", "#/items/1"]
    assert all_items(embedded, project) == rows


def test_a_thousand_items_are_the_most_of_one_request(embedded):
    project = open_project(embedded)
    phase = open_phase(embedded, project)
    bodies = [STONE | {"phase_id": phase["id"], "code": f"{n}"} for n in range(1_001)]
    told = entries(add_all(embedded, project, bodies), 422)
    assert told == [("#/items", "has too few or too many entries")]
    assert entries(add_all(embedded, project, []), 422) == told
    assert len(created(add_all(embedded, project, bodies[:-1]))["items"]) == 1_000


ASKED = st.lists(
    st.tuples(
        st.sampled_from(["same", "name", "remove", "bad", "stale"]), st.integers(0, 3)
    ),
    min_size=1, max_size=4, unique_by=lambda one: one[1],
)  # fmt: skip


@settings(
    max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(asked=ASKED)
def test_a_request_for_many_items_is_carried_out_whole_or_not_at_all(embedded, asked):
    embedded.clock.turn(minutes=1)
    project = open_project(embedded)
    phase = open_phase(embedded, project)
    rows = [add_item(embedded, project, phase, code=code) for code in "1234"]
    told = {
        "same": {},
        "name": {"name": "Other"},
        "remove": {"removed": True},
        "bad": {"assembly": "none"},
        "stale": {"version": 5},
    }
    body = [{"id": rows[n]["id"], "version": 1} | told[kind] for kind, n in asked]
    before = all_items(embedded, project)
    answer = change_all(embedded, project, body)
    kinds = {kind for kind, _ in asked}
    after = {one["code"]: (one["name"], one["version"]) for one in all_items(embedded, project)}
    if kinds & {"bad", "stale"}:
        assert answer.status_code == (412 if "stale" in kinds else 422)
        assert all_items(embedded, project) == before
    else:
        gone = {rows[n]["code"] for kind, n in asked if kind == "remove"}
        named = {rows[n]["code"] for kind, n in asked if kind == "name"}
        assert after == {
            code: ("Other", 2) if code in named else (STONE["name"], 1)
            for code in "1234"
            if code not in gone
        }
