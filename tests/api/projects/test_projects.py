"""Projects over HTTP: begun, listed, changed, taken away."""

from __future__ import annotations

import pytest
from sqlalchemy import select

from api.contract.example_ids import RATE_SET
from api.estimates.rows import StoredEstimate
from api.projects.project_shapes import EXAMPLE_CHANGE, EXAMPLE_PROJECT
from api.projects.rows import Project
from api.rates.rows import RateSet
from api.rates.stored_tables import publish, start_draft
from api.store.caller import Caller
from api.store.models import AuditRow
from api.store.verify import verify
from tests.api.projects.made import (
    AT,
    NOBODYS,
    STONE,
    add_item,
    at_version,
    created,
    entries,
    open_phase,
    open_project,
)
from tests.api.service import NOON, new_key


def test_a_project_is_begun_shown_changed_and_taken_away(service):
    body = EXAMPLE_PROJECT | {"rate_set_id": None}
    answer = service.post(AT, body, headers=new_key())
    project = created(answer)
    path = answer.headers["Location"]
    assert path == f"{AT}/{project['id']}"
    assert answer.headers["ETag"] == '"1"'
    assert {key: project[key] for key in body} == body
    assert project["created_at"] == "2026-03-02T12:00:00Z"
    shown = service.get(path)
    assert (shown.json, shown.headers["ETag"]) == (project, '"1"')
    changed = service.send("PATCH", path, EXAMPLE_CHANGE, headers=at_version(project))
    assert changed.json == project | EXAMPLE_CHANGE | {"version": 2}
    assert changed.headers["ETag"] == '"2"'
    gone = service.send("DELETE", path, headers={"If-Match": '"2"'})
    assert (gone.status_code, gone.data) == (204, b"")
    assert service.get(path).status_code == 404
    verify(service.store)


def test_what_is_not_said_of_a_project_is_null(embedded):
    project = open_project(embedded)
    said = ("pricing_date", "shift", "day_worth", "markups", "risk", "rate_set_id")
    assert {project[key] for key in said} == {None}
    assert project["assumptions"] == []


def test_no_markups_are_not_all_markups(embedded):
    project = open_project(embedded, markups=[])
    assert project["markups"] == []
    path = f"{AT}/{project['id']}"
    changed = embedded.send("PATCH", path, {"markups": None}, headers=at_version(project))
    assert changed.json["markups"] is None


def test_names_of_every_script_are_kept(service):
    name = "Töpferei «Ofen» 窯 – Ğ 🧱"
    assert open_project(service, name=name)["name"] == name


def test_the_library_reads_a_head_at_the_door_and_tells_all_faults_at_once(embedded):
    body = {
        "name": "Barn", "shift": "30 hr/day", "day_worth": "12 ft", "markups": ["overhaed"],
        "risk": {"pace": ["80 %"], "events": [{"name": "cistern"}]},
    }  # fmt: skip
    answer = embedded.post(AT, body, headers=new_key())
    assert answer.json["code"] == "scope-faulty"
    told = entries(answer, 422)
    assert told == [
        ("#/shift", "shift '30 hr/day' is not 1 to 24 hr/day"),
        ("#/markups", "unknown markup 'overhaed'"),
        ("#/day_worth", "'12 ft' is a length, not day**-1 * $"),
        ("#/risk/pace", "pace has 1 values"),
        ("#/risk/events/0", "probability is missing"),
        ("#/risk/events/0", "event 'cistern' has neither cost nor days"),
    ]
    assert embedded.get(AT).json["projects"] == []


@pytest.mark.parametrize(
    ("fields", "pointer", "what"),
    [
        ({"name": " "}, "#/name", "is blank"),
        ({"name": "x" * 201}, "#/name", "has 201 letters"),
        ({"pricing_date": "2026-02-30"}, "#/pricing_date", "is not a date"),
        ({"shift": 8}, "#/shift", "is not text"),
        ({"markups": "tax"}, "#/markups", "is not a list"),
        ({"assumptions": None}, "#/assumptions", "is null"),
        ({"risk": []}, "#/risk", "is not of that kind"),
        ({"risk": {"start": None}}, "#/risk/start", "says nothing here"),
        ({"rate_set_id": 7}, "#/rate_set_id", "is not an id"),
        ({"rate_set_id": NOBODYS}, "#/rate_set_id", f"there is no {NOBODYS} in rate sets"),
        ({"colour": "red"}, "#/colour", "is not a field"),
    ],
)
def test_a_field_that_is_wrong_is_named(embedded, fields, pointer, what):
    answer = embedded.post(AT, {"name": "Barn"} | fields, headers=new_key())
    assert entries(answer, 422) == [(pointer, what)]


def test_a_name_is_needed(embedded):
    assert entries(embedded.post(AT, {}, headers=new_key()), 422) == [("#/name", "is missing")]


def valley(service):
    """Publish a rate set with a markup of its own."""
    owner = Caller(service.account_id)
    with service.store.unit_of_work(owner, NOON) as work:
        rate_set = RateSet(name="Valley", created_at=NOON)
        work.add(rate_set)
        row = {"code": "valley-fee", "name": "Fee", "order": "9", "percent": "5", "on": "labor"}
        draft = start_draft(work, rate_set, {"markups.csv": [row | {"source": "invented"}]})
        publish(work, draft)
        work.commit()
        return str(rate_set.id)


def test_markups_of_the_projects_own_rate_set_are_known(embedded):
    body = {"name": "Barn", "markups": ["valley-fee"]}
    told = entries(embedded.post(AT, body, headers=new_key()), 422)
    assert told == [("#/markups", "unknown markup 'valley-fee'")]
    rate_set_id = valley(embedded)
    project = created(embedded.post(AT, body | {"rate_set_id": rate_set_id}, headers=new_key()))
    path = f"{AT}/{project['id']}"
    both = {"rate_set_id": None, "markups": ["sales-tax"]}
    changed = embedded.send("PATCH", path, both, headers=at_version(project))
    assert {key: changed.json[key] for key in both} == both


def test_a_rate_set_of_another_account_is_not_there(embedded):
    _, strangers = embedded.account("Stranger")
    theirs = created(
        embedded.post(AT, {"name": "Theirs"}, headers=new_key(), token=strangers["owner"])
    )
    for key in (theirs["id"], NOBODYS, RATE_SET):
        body = {"name": "Barn", "rate_set_id": key}
        told = entries(embedded.post(AT, body, headers=new_key()), 422)
        assert told == [("#/rate_set_id", f"there is no {key} in rate sets")]


def test_the_newest_project_stands_first_and_pages_join_without_a_gap(service):
    for number in range(5):
        service.clock.turn(minutes=1)
        open_project(service, name=f"Barn {number}")
    first = service.get(f"{AT}?limit=2").json
    second = service.get(f"{AT}?limit=2&cursor={first['next']}").json
    third = service.get(f"{AT}?limit=2&cursor={second['next']}").json
    names = [one["name"] for page in (first, second, third) for one in page["projects"]]
    assert names == ["Barn 4", "Barn 3", "Barn 2", "Barn 1", "Barn 0"]
    assert third["next"] is None


def test_the_same_key_begins_one_project(service):
    headers = new_key()
    first, second = (service.post(AT, {"name": "Barn"}, headers=headers) for _ in range(2))
    assert first.data == second.data
    assert second.headers["Idempotency-Replayed"] == "true"
    assert len(service.get(AT).json["projects"]) == 1
    other = service.post(AT, {"name": "Shed"}, headers=headers)
    assert (other.status_code, other.json["code"]) == (422, "key-reused")


def test_a_change_names_the_version_it_changes(embedded):
    project = open_project(embedded)
    path = f"{AT}/{project['id']}"
    assert embedded.send("PATCH", path, {"name": "Shed"}).status_code == 428
    stale = embedded.send("PATCH", path, {"name": "Shed"}, headers={"If-Match": '"2"'})
    assert (stale.status_code, stale.json["code"]) == (412, "version-stale")
    assert embedded.send("DELETE", path).status_code == 428
    assert embedded.send("DELETE", path, headers={"If-Match": '"9"'}).status_code == 412
    assert embedded.get(path).json == project


def test_a_change_of_nothing_keeps_the_version(embedded):
    project = open_project(embedded, shift="8 hr/day")
    path = f"{AT}/{project['id']}"
    same = embedded.send("PATCH", path, {"shift": "8 hr/day"}, headers=at_version(project))
    assert same.json == project


def test_risk_may_name_only_phases_that_there_are(embedded):
    event = {"name": "cistern", "probability": "15 %", "cost": "$900", "phase": "30"}
    project = open_project(embedded)
    path, risk = f"{AT}/{project['id']}", {"events": [event]}
    answer = embedded.send("PATCH", path, {"risk": risk}, headers=at_version(project))
    assert entries(answer, 422) == [("#/risk", "'cistern' names the unknown phase '30'")]
    open_phase(embedded, project, "30")
    answer = embedded.send("PATCH", path, {"risk": risk}, headers=at_version(project))
    assert answer.json["risk"] == risk


def test_a_project_goes_with_all_that_is_in_it_each_with_its_audit_row(service):
    project = open_project(service)
    phase = open_phase(service, project)
    add_item(service, project, phase)
    token = service.issue().json
    share = {"token_id": token["id"]}
    created(service.post(f"{AT}/{project['id']}/shares", share, headers=new_key()))
    gone = service.send("DELETE", f"{AT}/{project['id']}", headers=at_version(project))
    assert gone.status_code == 204
    with service.store.reading(Caller(service.account_id)) as session:
        rows = session.scalars(select(AuditRow).where(AuditRow.action == "deleted")).all()
        assert sorted(row.subject for row in rows) == [
            "items", "phases", "project_shares", "projects",
        ]  # fmt: skip
    verify(service.store)


def test_a_project_with_an_estimate_stays(embedded):
    from tests.api.store.made import filled

    made = filled(embedded.store)
    with embedded.store.reading(made.caller) as session:
        assert session.scalar(select(StoredEstimate.project_id)) == made.project_id
        version = session.existing(Project, made.project_id).version
    path = f"{AT}/{made.project_id}"
    headers = {"If-Match": f'"{version}"'}
    answer = embedded.send("DELETE", path, headers=headers, token=made.token)
    assert (answer.status_code, answer.json["code"]) == (409, "still-needed")
    assert answer.json["detail"] == (
        "Harrow Lane Carbarn has estimates, which are kept for good; leave it, or rename it."
    )


def test_another_accounts_project_is_as_one_that_nobody_has(embedded):
    project = open_project(embedded)
    _, strangers = embedded.account("Stranger")
    for method, body in (("GET", None), ("PATCH", {"name": "Mine"}), ("DELETE", None)):
        answers = [
            embedded.send(
                method, f"{AT}/{key}", body, headers={"If-Match": '"1"'}, token=strangers["owner"]
            )
            for key in (project["id"], NOBODYS)
        ]
        assert [one.status_code for one in answers] == [404, 404]
        told = [one.json["detail"].replace(project["id"], NOBODYS) for one in answers]
        assert told[0] == told[1]


def test_bookkeepers_and_lenders_read_and_change_nothing(embedded):
    project = open_project(embedded, rate_set_id=valley(embedded))
    path = f"{AT}/{project['id']}"
    assert embedded.get(path, role="bookkeeper").json == project
    assert embedded.get(path, role="lender").status_code == 404
    for role in ("bookkeeper", "lender"):
        for answer in (
            embedded.post(AT, {"name": "Barn"}, headers=new_key(), role=role),
            embedded.send("PATCH", path, {"name": "B"}, headers=at_version(project), role=role),
            embedded.send("DELETE", path, headers=at_version(project), role=role),
            embedded.post(f"{path}/items", STONE, headers=new_key(), role=role),
        ):
            assert answer.status_code == 403
