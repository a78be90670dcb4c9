"""A project is priced into an estimate that stays as it was, with the library's own figures."""

from __future__ import annotations

from uuid import uuid4

import pytest
from sqlalchemy import select

from api.estimates.shown import grounds_json
from api.projects.rows import Project, ProjectItem
from api.store.caller import Caller
from api.store.verify import verify
from tests.api.estimates.made import PITS, QUOTES, SAMPLE, keep_project, path_of, priced
from tests.api.service import new_key
from tests.commands.running import groundsill

DOCUMENT = '{\n  "project": "a \\"rests_on\\": b",\n  %s"lines": ['


@pytest.fixture
def project(service):
    return keep_project(service)


@pytest.fixture
def estimate(service, project):
    return path_of(priced(service, project))


def of_the_command(*arguments):
    """Return what `groundsill price --json` prints."""
    done = groundsill("price", *arguments, "--json")
    assert done.exit_code == 0, done.err
    return done.out


def test_the_document_has_the_bytes_that_the_command_prints(service, project, estimate, tmp_path):
    scope = tmp_path / "scope.yaml"
    scope.write_text(PITS)
    document = service.get(f"{estimate}/document")
    assert document.text == of_the_command(str(scope))
    assert service.get(estimate).json["totals"]["full_cost"] in document.text


def test_the_sample_with_its_quotes_has_the_bytes_that_the_command_prints(embedded):
    project = keep_project(embedded, SAMPLE.read_bytes(), QUOTES)
    estimate = path_of(priced(embedded, project))
    assert embedded.get(f"{estimate}/document").text == of_the_command(str(SAMPLE))


def test_a_summary_tells_totals_as_decimal_text_and_who_priced_when(service, project):
    made = priced(service, project)
    told = service.get(path_of(made)).json
    assert told == made.json
    assert told["number"] == 1
    assert told["on"] == "2026-03-02"
    assert told["created_at"] == "2026-03-02T12:00:00Z"
    assert told["created_by"].startswith("token ")
    assert told["accepted"] is None
    totals = told["totals"]
    assert totals["cash_cost"] == "15115.51"
    assert {name: type(one) for name, one in totals.items()} == dict.fromkeys(totals, str)


def test_a_summary_tells_what_its_totals_rest_on_as_the_document_does(service, project):
    """All of it is priced by the tables that ship: $15,115.51 of $15,115.51."""
    made = priced(service, project)
    told = service.get(path_of(made)).json
    assert told["rests_on"] == service.get(f"{path_of(made)}/document").json["rests_on"]
    assert told["rests_on"]["cash_cost"] == {"illustrative_rates": "15115.51"}
    assert told["rests_on"]["statements"] == [
        "$15,115.51 of $15,115.51 (100 %) rests on illustrative rates: get quotes before you "
        "rely on it."
    ]
    assert service.get(f"{project}/estimates").json["estimates"][0] == told


@pytest.mark.parametrize(
    ("document", "grounds"),
    [
        (DOCUMENT % '"rests_on": {"own_value": {}},\n  ', {"own_value": {}}),
        (DOCUMENT % "", None),
    ],
    ids=["said", "stored before it was said"],
)
def test_what_totals_rest_on_is_read_from_a_document_without_its_lines(document, grounds):
    assert grounds_json(document) == grounds


@pytest.mark.parametrize(
    ("asked", "used"), [({}, "2026-03-02"), ({"on": "2026-05-04"}, "2026-05-04")]
)
def test_the_pricing_date_is_the_requested_one_or_the_projects_own(service, project, asked, used):
    assert priced(service, project, **asked).json["on"] == used


def test_a_note_says_what_an_estimate_is_for_and_changes_no_figure(service, project):
    plain = priced(service, project).json
    noted = priced(service, project, note="Béla's bid, 2′ deeper").json
    assert (plain["note"], noted["note"]) == (None, "Béla's bid, 2′ deeper")
    assert noted["digest"] == plain["digest"]
    listed = service.get(f"{project}/estimates").json["estimates"]
    assert [one["note"] for one in listed] == ["Béla's bid, 2′ deeper", None]


@pytest.mark.parametrize(
    "note",
    ["", " ", "x" * 4001, "a\x00b", None, 7],
    ids=["empty", "blank", "too long", "control character", "null", "number"],
)
def test_a_note_that_is_no_text_is_refused_and_nothing_is_stored(service, project, note):
    refused = service.post(f"{project}/estimates", {"note": note}, headers=new_key())
    assert (refused.status_code, refused.json["errors"][0]["pointer"]) == (422, "#/note")
    assert service.get(f"{project}/estimates").json["estimates"] == []


def test_without_any_date_it_is_priced_today(service):
    scope = PITS.replace("on: 2026-03-02\n", "").encode()
    service.clock.turn(days=10)
    assert priced(service, keep_project(service, scope)).json["on"] == "2026-03-12"


def test_estimates_are_numbered_and_listed_newest_first_in_pages(service, project):
    made = [priced(service, project).json["id"] for _ in range(3)]
    first = service.get(f"{project}/estimates?limit=2").json
    assert [one["id"] for one in first["estimates"]] == made[:0:-1]
    second = service.get(f"{project}/estimates?limit=2&cursor={first['next']}").json
    assert [one["number"] for one in second["estimates"]] == [1]
    assert second["next"] is None
    service.post(f"{project}/estimates/{made[1]}/acceptance", headers=new_key())
    chosen = [
        [
            one["number"]
            for one in service.get(f"{project}/estimates?accepted={said}").json["estimates"]
        ]
        for said in ("true", "false")
    ]
    assert chosen == [[2], [3, 1]]


def test_an_estimate_stays_when_its_project_changes(service, project, estimate):
    before = service.get(f"{estimate}/document").text
    with service.store.unit_of_work(Caller(service.account_id), service.clock.now) as work:
        item = work.scalars(select(ProjectItem).where(ProjectItem.code == "020")).one()
        item.inputs = item.inputs | {"width": "30 ft"}
        work.commit()
    assert service.get(f"{estimate}/document").text == before
    assert priced(service, project).json["totals"] != service.get(estimate).json["totals"]
    steps = service.get(f"{estimate}/explanations?item=30.020").json["explanations"][0]["steps"]
    assert any("22'-4\"" in step for step in steps)


def test_the_same_key_prices_once_even_if_the_project_has_faults_by_then(service, project):
    key = new_key()
    first = service.post(f"{project}/estimates", {}, headers=key)
    with service.store.unit_of_work(Caller(service.account_id), service.clock.now) as work:
        for item in work.scalars(select(ProjectItem)):
            item.assembly = "no-such-assembly"
        work.commit()
    again = service.post(f"{project}/estimates", {}, headers=key)
    assert (again.status_code, again.json) == (201, first.json)
    assert again.headers["Idempotency-Replayed"] == "true"
    assert len(service.get(f"{project}/estimates").json["estimates"]) == 1


def test_a_project_with_faults_is_refused_with_all_of_them_and_nothing_is_stored(service):
    project = keep_project(
        service,
        PITS.replace("2950 sf", "2950 lb").replace("fill-skid-steer", "fil-skid-steer").encode(),
    )
    answer = service.post(f"{project}/estimates", {}, headers=new_key())
    assert (answer.status_code, answer.json["code"]) == (422, "scope-faulty")
    assert [one["where"] for one in answer.json["errors"]] == [
        "scope/phases/0/items/0/inputs/area, item 30.010, area",
        "scope/phases/0/items/1/assembly",
    ]
    assert service.get(f"{project}/estimates").json["estimates"] == []


def test_a_project_without_items_is_refused(service):
    with service.store.unit_of_work(Caller(service.account_id), service.clock.now) as work:
        project = Project(name="Empty", created_at=service.clock.now, markups=None)
        work.add(project)
        work.commit()
    answer = service.post(f"/v1/projects/{project.id}/estimates", {}, headers=new_key())
    assert (answer.status_code, answer.json["errors"][0]["what"]) == (
        422, "the project has no items yet",
    )  # fmt: skip


def test_accepting_makes_it_the_budget_once(service, project, estimate):
    assert service.get(f"{project}/budget").json == {"budget": None, "before": []}
    tag = service.get(estimate).headers["ETag"]
    accepted = service.post(f"{estimate}/acceptance", headers=new_key())
    assert (accepted.status_code, accepted.json["number"]) == (201, 1)
    assert accepted.headers["Location"] == f"{project}/budget"
    again = service.post(f"{estimate}/acceptance", headers=new_key())
    assert (again.status_code, again.json["code"]) == (409, "already-there")
    later = path_of(priced(service, project, on="2026-05-04"))
    service.post(f"{later}/acceptance", headers=new_key())
    told = service.get(f"{project}/budget").json
    assert told["budget"]["on"] == "2026-05-04"
    assert [one["accepted"]["number"] for one in told["before"]] == [1]
    shown = service.get(estimate)
    assert shown.json["accepted"]["at"] == "2026-03-02T12:00:00Z"
    assert shown.headers["ETag"] != tag
    verify(service.store)


def test_who_has_a_summary_already_is_told_so(service, estimate):
    tag = service.get(estimate).headers["ETag"]
    assert service.get(estimate, headers={"If-None-Match": tag}).status_code == 304


@pytest.mark.parametrize("method", ["PUT", "PATCH", "DELETE"])
def test_an_estimate_cannot_be_changed(service, estimate, method):
    answer = service.send(method, estimate, {})
    assert (answer.status_code, answer.headers["Allow"]) == (405, "GET, HEAD, OPTIONS")


def test_a_workbook_is_named_after_the_project_and_is_the_same_each_time(embedded):
    scope = PITS.replace("project: Harrow Lane Carbarn", "project: Töpferei = / 窯").encode()
    estimate = path_of(priced(embedded, keep_project(embedded, scope)))
    first, second = (embedded.get(f"{estimate}/workbook") for _ in range(2))
    assert first.data[:2] == b"PK"
    assert first.data == second.data
    assert (
        "filename*=UTF-8''T%C3%B6pferei%20%3D%20%20%E7%AA%AF.xlsx"
        in (first.headers["Content-Disposition"])
    )


def test_an_estimate_belongs_to_its_project_and_to_its_account(service, project, estimate):
    other = keep_project(service)
    number = estimate.rsplit("/", 1)[1]
    account_id, tokens = service.account("Stranger")
    theirs = keep_project(service, account_id=account_id)
    for rest in ("", "/document", "/workbook", "/lines", "/explanations?item=30.010", "/ranges"):
        for path, token in (
            (f"{other}/estimates/{number}{rest}", None),
            (f"{project}/estimates/{uuid4()}{rest}", None),
            (f"{estimate}{rest}", tokens["owner"]),
            (f"{theirs}/estimates/{number}{rest}", tokens["owner"]),
        ):
            answer = service.get(path, token=token)
            assert (path, answer.status_code) == (path, 404)


def test_a_lender_reads_what_is_shared_and_prices_nothing(service, project, estimate):
    assert service.get(estimate, role="lender").status_code == 404
    share(service, project)
    for rest in ("", "/document", "/workbook", "/lines", "/explanations?item=30.010"):
        assert service.get(f"{estimate}{rest}", role="lender").status_code == 200
    refused = service.post(f"{project}/estimates", {}, role="lender", headers=new_key())
    assert refused.status_code == 403


def test_sales_of_salvage_stand_apart_in_summaries_and_lists(service, project):
    """Half of 1,000 sf x 2.75 bf x 65 % are 893.75 bf, printed 893.8, sold at $1.40."""
    before = service.get(path_of(priced(service, project))).json["totals"]
    assert before["salvage_sales"] == "0.00"
    phase = service.get(f"{project}/phases").json["phases"][0]["id"]
    body = {
        "phase_id": phase, "code": "900", "name": "Planks up", "assembly": "plank-floor-salvage",
        "inputs": {"area": "1,000 sf", "sold_share": "50 %"},
    }  # fmt: skip
    assert service.post(f"{project}/items", body, headers=new_key()).status_code == 201
    made = priced(service, project)
    document = service.get(f"{path_of(made)}/document").json
    assert document["totals"]["salvage_sales"] == "1251.32"
    assert made.json["totals"]["salvage_sales"] == "1251.32"
    share(service, project)
    (newest, _) = service.get(f"{project}/estimates", role="lender").json["estimates"]
    assert newest == made.json | {"rests_on": None}


def share(service, project):
    """Share a project with the lender's token."""
    from uuid import UUID

    from api.store.models import ProjectShare, Token

    with service.store.unit_of_work(Caller(service.account_id), service.clock.now) as work:
        token = work.scalars(select(Token).where(Token.role == "lender")).one()
        key = UUID(project.rsplit("/", 1)[1])
        work.add(ProjectShare(project_id=key, token_id=token.id, created_at=service.clock.now))
        work.commit()
