"""A whole scope over HTTP: in as JSON, YAML and workbook, out as each, the same to the byte."""

from __future__ import annotations

from datetime import date
from tempfile import gettempdir
from uuid import UUID

import pytest
import yaml

from api.calculations.scopes import WORKBOOK_TYPE, YAML_TYPE
from api.projects.rows import Project
from api.projects.scope_shapes import EXAMPLE_FROM_SCOPE, EXAMPLE_UPLOAD
from api.projects.written_scope import read_written
from api.rates.project_tables import project_files, tables_of
from api.store.caller import Caller
from api.store.verify import verify
from estimator.assemblies.tables import load_tables
from estimator.pricing.estimate_json import estimate_json
from estimator.rates.folders import shipped_tables
from estimator.scheduling.dated_estimate import price
from estimator.scope.located import without_places
from estimator.scope.scope_digest import scope_digest
from estimator.scope.scope_reader import read_scope
from estimator.scope.scope_yaml import read_yaml
from estimator.workbook.scope.scope_reader import read_scope_workbook
from tests.api.projects.made import (
    AT,
    NOBODYS,
    QUOTES,
    SAMPLE,
    STONE,
    accept_made,
    add_item,
    as_read,
    created,
    entries,
    open_phase,
    open_project,
)
from tests.api.service import new_key
from tests.commands.running import groundsill

ENDINGS = {"application/json": "", YAML_TYPE: "-file", WORKBOOK_TYPE: "-workbook"}
TEXT = EXAMPLE_UPLOAD["scope"]
SENT = {"scope": SAMPLE.read_text(encoding="utf-8"), "quotes": QUOTES}


def from_scope(service, body, **options):
    headers = options.pop("headers", None) or new_key()
    return service.post(f"{AT}/from-scope", body, headers=headers, **options)


def put_scope(service, project, body, kind="application/json", tag=None, **options):
    named = {"If-Match": tag} if tag else as_read(service, project)
    headers = named | {"Content-Type": kind}
    path = f"{AT}/{project['id']}/scope{ENDINGS.get(kind, '')}"
    return service.send("PUT", path, body, headers=headers, **options)


def scope_of(service, project):
    return service.get(f"{AT}/{project['id']}/scope").json["scope"]


def items_of(service, project):
    return service.get(f"{AT}/{project['id']}/items?limit=200").json["items"]


def test_the_sample_is_stored_and_prices_to_the_byte_as_its_files_do(service, tmp_path):
    project = created(from_scope(service, SENT))
    written = without_places(read_yaml(SAMPLE.read_bytes(), "sample"))
    del written["quotes"]
    assert scope_of(service, project) == written
    with service.store.reading(Caller(service.account_id)) as session:
        row = session.existing(Project, UUID(project["id"]))
        tables = tables_of(project_files(session, row))
    scope = read_written(written, tables)
    posted = service.post("/v1/calculations/estimate", SENT)
    assert estimate_json(price(scope, tables, date(2026, 3, 2))) == posted.data.decode()
    file = service.get(f"{AT}/{project['id']}/scope-file")
    assert file.content_type == YAML_TYPE
    assert file.headers["Content-Disposition"].startswith(
        'attachment; filename="Harrow Lane Carbarn.yaml"'
    )
    assert without_places(read_yaml(file.data, "file")) == written
    path = tmp_path / "barn.yaml"
    path.write_bytes(file.data)
    rates = str(SAMPLE.parent / "harrow-lane-quotes")
    ran = groundsill("price", str(path), "--rates", rates, "--json")
    assert ran.exit_code == 0, ran.err
    verify(service.store)


def test_what_a_read_of_the_scope_gives_is_taken_back_as_it_is(service):
    """The sample has methods and ranges."""
    path = f"{AT}/{created(from_scope(service, SENT))['id']}/scope"
    read = service.get(path)
    (method, *_), *_ = [
        item["methods"]
        for phase in read.json["scope"]["phases"]
        for item in phase["items"]
        if "methods" in item
    ]
    assert method["name"]
    assert read.json["scope"]["risk"]
    answer = service.send("PUT", path, read.json, headers={"If-Match": read.headers["ETag"]})
    assert answer.status_code == 200, answer.text
    assert service.get(path).json == read.json


def test_a_scope_puts_itself_in_the_place_of_all_there_was(service):
    project = open_project(service, name="Old", shift="10 hr/day", assumptions=["Dry."])
    phase = open_phase(service, project, "30")
    kept = add_item(service, project, phase, code="020")
    add_item(service, project, open_phase(service, project, "90"))
    answer = put_scope(service, project, EXAMPLE_UPLOAD)
    assert answer.status_code == 200, answer.text
    changed = answer.json
    assert (changed["name"], changed["version"]) == ("Harrow Lane Carbarn", 2)
    assert (changed["shift"], changed["assumptions"], changed["markups"]) == (None, [], [])
    assert answer.headers["ETag"] == as_read(service, project)["If-Match"]
    (item,) = items_of(service, project)
    assert (item["id"], item["phase_id"]) == (kept["id"], phase["id"])
    assert [one["name"] for one in item["methods"]] == [
        "wheeling it in by skid steer", "throwing it in by conveyor truck",
    ]  # fmt: skip
    again = put_scope(service, changed, EXAMPLE_UPLOAD)
    assert again.json["version"] == 3
    assert items_of(service, project) == [item]
    verify(service.store)


def test_the_version_rises_also_where_only_an_item_changed(embedded):
    project = created(from_scope(embedded, EXAMPLE_FROM_SCOPE))
    changed = put_scope(embedded, project, {"scope": TEXT.replace("62 ft 6 in", "64 ft")}).json
    assert changed == project | {"version": 2}


def test_what_somebody_added_since_the_scope_was_read_is_not_dropped(service):
    project = created(from_scope(service, EXAMPLE_FROM_SCOPE))
    phase = service.get(f"{AT}/{project['id']}/phases").json["phases"][0]
    changes = (
        lambda: add_item(service, project, phase, code="777"),
        lambda: open_phase(service, project, "88"),
        lambda: put_scope(service, project, EXAMPLE_UPLOAD),
    )
    for change in changes:
        tag = as_read(service, project)["If-Match"]
        change()
        before = scope_of(service, project), items_of(service, project)
        stale = put_scope(service, project, EXAMPLE_UPLOAD, tag=tag)
        assert (stale.status_code, stale.json["code"]) == (412, "version-stale")
        assert (scope_of(service, project), items_of(service, project)) == before
    path = f"{AT}/{project['id']}/scope"
    assert service.send("PUT", path, EXAMPLE_UPLOAD).status_code == 428
    assert (
        service.get(
            path, headers={"If-None-Match": as_read(service, project)["If-Match"]}
        ).status_code
        == 304
    )


def test_json_yaml_and_workbook_say_the_same(service, tmp_path):
    text = TEXT
    as_object = yaml.load(text, yaml.BaseLoader)  # noqa: S506
    project = created(from_scope(service, {"scope": as_object}))
    told = scope_of(service, project)
    assert told == as_object
    workbook = service.get(f"{AT}/{project['id']}/scope-workbook")
    assert workbook.content_type == WORKBOOK_TYPE
    for body, kind in (
        (text.encode(), YAML_TYPE),
        (workbook.data, WORKBOOK_TYPE),
        ({"scope": text}, "application/json"),
    ):
        shed = open_project(service, name="Shed")
        answer = put_scope(service, shed, body, kind)
        assert answer.status_code == 200, answer.text
        assert scope_of(service, shed) == told
    read = read_scope_workbook(workbook.data, "barn.xlsx")
    tables = load_tables([shipped_tables()])
    assert scope_digest(read_scope(read, tables)) == scope_digest(read_written(told, tables))
    path = tmp_path / "barn.xlsx"
    path.write_bytes(workbook.data)
    assert groundsill("price", str(path)).exit_code == 0


def test_a_project_without_items_has_a_scope_without_phases(embedded):
    project = open_project(embedded, name="Ofen 窯")
    open_phase(embedded, project)
    assert scope_of(embedded, project) == {"project": "Ofen 窯", "phases": []}
    file = embedded.get(f"{AT}/{project['id']}/scope-file")
    assert "filename*=UTF-8''Ofen%20%E7%AA%AF.yaml" in file.headers["Content-Disposition"]
    answer = embedded.get(f"{AT}/{project['id']}/scope-workbook")
    assert entries(answer, 422) == [("#/phases", "phases is not a list, or is empty")]


def test_every_fault_of_a_scope_is_reported_at_its_place_and_nothing_is_stored(service):
    project = created(from_scope(service, EXAMPLE_FROM_SCOPE))
    before = scope_of(service, project)
    faulty = TEXT.replace("62 ft 6 in", "62").replace("stone-fill-skid", "stone-fil")
    in_text = put_scope(service, project, {"scope": faulty})
    assert {pointer for pointer, _ in entries(in_text, 422)} == {"#/scope"}
    assert in_text.json["errors"][0]["where"].startswith("scope line 10")
    as_object = yaml.load(faulty, yaml.BaseLoader)  # noqa: S506
    in_object = put_scope(service, project, {"scope": as_object})
    assert entries(in_object, 422)[0][0] == "#/scope/phases/0/items/0/assembly"
    in_file = put_scope(service, project, faulty.encode(), YAML_TYPE)
    assert in_file.json["errors"][0]["where"].startswith("scope.yaml line 10")
    assert from_scope(service, {"scope": faulty}).status_code == 422
    assert scope_of(service, project) == before
    assert len(service.get(AT).json["projects"]) == 1
    assert service.get(f"{AT}/{project['id']}").json == project


def test_texts_too_long_to_be_stored_are_reported_all_of_them(embedded):
    scope = yaml.load(TEXT, yaml.BaseLoader)  # noqa: S506
    scope["project"] = "x" * 201
    scope["phases"][0]["items"][0]["element"] = "A" * 41
    answer = from_scope(embedded, {"scope": scope})
    assert answer.json["code"] == "value-refused"
    assert entries(answer, 422) == [
        ("#/scope/project", "project is longer than 200 letters"),
        ("#/scope/phases/0/items/0/element", "element is longer than 40 letters"),
    ]


def test_items_of_an_accepted_estimate_stay_in_the_scope(service):
    project = open_project(service)
    phase = open_phase(service, project, "20")
    for code in ("001", "002"):
        add_item(service, project, phase, code=code)
    accept_made(service, project)
    answer = put_scope(service, project, EXAMPLE_UPLOAD)
    assert answer.json["code"] == "still-needed"
    assert [what for _, what in entries(answer, 409)] == [
        "item 20.001 is in an accepted estimate", "item 20.002 is in an accepted estimate",
    ]  # fmt: skip
    assert len(items_of(service, project)) == 2


@pytest.mark.parametrize(
    ("body", "pointer", "what"),
    [
        ({}, "#/scope", "is missing"),
        ({"scope": 5}, "#/scope", "is not a scope"),
        ({"scope": TEXT, "on": "2026-03-02"}, "#/on", "is not a field"),
        ({"scope": TEXT, "quotes": {"prices.csv": ""}}, "#/quotes", "'prices.csv' is not a rate"),
        ({"scope": TEXT, "quotes": {"../x.csv": ""}}, "#/quotes", "'../x.csv' is not a rate"),
        ({"scope": TEXT, "quotes": {"resources.csv": "code\nx\n"}}, "#/quotes", "has no column"),
        ({"scope": f"quotes: ours\n{TEXT}"}, "#/scope", "the scope names the quotes 'ours'"),
    ],
)
def test_what_is_wrong_with_a_body_is_reported_at_its_place(embedded, body, pointer, what):
    project = open_project(embedded)
    for answer in (put_scope(embedded, project, body), from_scope(embedded, body)):
        told = entries(answer, 422)
        assert told[0][0] == pointer
        assert what in told[0][1]
        assert gettempdir() not in answer.text
    assert embedded.get(f"{AT}/{project['id']}").json == project


def test_a_scope_may_name_quotes_that_the_project_has(service):
    project = created(from_scope(service, SENT))
    without = put_scope(service, project, {"scope": SENT["scope"]})
    assert without.status_code == 200
    taken = put_scope(service, without.json, {"scope": TEXT, "quotes": {}})
    assert taken.status_code == 200
    again = put_scope(service, taken.json, {"scope": SENT["scope"]})
    assert "which did not come with it" in entries(again, 422)[0][1]
    verify(service.store)


@pytest.mark.parametrize("kind", ["text/plain", "application/xml", "text/csv"])
def test_other_kinds_of_body_are_not_taken(embedded, kind):
    answer = put_scope(embedded, open_project(embedded), b"x", kind)
    assert (answer.status_code, answer.json["code"]) == (415, "media-type-unfit")


def test_the_same_key_begins_one_project(service):
    headers = new_key()
    first, second = (from_scope(service, EXAMPLE_FROM_SCOPE, headers=headers) for _ in range(2))
    assert (first.status_code, first.data) == (201, second.data)
    assert len(service.get(AT).json["projects"]) == 1


def test_another_accounts_scope_is_as_one_that_nobody_has(embedded):
    project = created(from_scope(embedded, EXAMPLE_FROM_SCOPE))
    _, strangers = embedded.account("Stranger")
    owner = strangers["owner"]
    for one in (project, project | {"id": NOBODYS}):
        token = owner if one is project else None
        assert put_scope(embedded, one, EXAMPLE_UPLOAD, token=token).status_code == 404
        for path in ("scope", "scope-file", "scope-workbook"):
            assert embedded.get(f"{AT}/{one['id']}/{path}", token=token).status_code == 404
    for role in ("bookkeeper", "lender"):
        assert put_scope(embedded, project, EXAMPLE_UPLOAD, role=role).status_code == 403
        assert from_scope(embedded, EXAMPLE_FROM_SCOPE, role=role).status_code == 403
    assert embedded.get(f"{AT}/{project['id']}/scope", role="lender").status_code == 404
    assert embedded.get(f"{AT}/{project['id']}/scope", role="bookkeeper").status_code == 200


def large_scope(count):
    items = [STONE | {"code": f"{number:06d}"} for number in range(count)]
    return {"project": "Large", "phases": [{"code": "20", "name": "Fill", "items": items}]}


def test_more_items_than_a_request_may_have_are_refused(embedded):
    most = embedded.settings.most_rows
    answer = from_scope(embedded, {"scope": large_scope(most + 1)})
    assert (answer.status_code, answer.json["code"]) == (413, "body-too-large")
    assert embedded.get(AT).json["projects"] == []


def test_the_title_block_goes_in_and_out_and_into_the_stored_estimate(embedded):
    stated = {"address": "14 Harrow Lane", "prepared_for": "Kiln Cooperative", "revision": "B"}
    body = {"scope": f"{TEXT}\n" + "".join(f"{key}: {text}\n" for key, text in stated.items())}
    project = from_scope(embedded, body).json
    assert {key: project[key] for key in stated} == stated
    assert project["prepared_by"] is None
    shown = embedded.get(f"{AT}/{project['id']}/scope").json["scope"]
    assert {key: shown[key] for key in stated} == stated
    path = f"{AT}/{project['id']}"
    headers = {"If-Match": embedded.get(path).headers["ETag"]}
    changed = embedded.send("PATCH", path, {"revision": "C", "address": None}, headers=headers)
    assert (changed.json["revision"], changed.json["address"]) == ("C", None)
    estimate = embedded.post(f"{path}/estimates", {}, headers=new_key()).json
    document = embedded.get(f"{path}/estimates/{estimate['id']}/document").json
    assert document["title_block"] == {"prepared_for": "Kiln Cooperative", "revision": "C"}
