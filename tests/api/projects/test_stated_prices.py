"""Items of a project that state their price: stored, read, priced and explained over HTTP."""

import pytest

from tests.api.estimates.made import keep_project, path_of, priced
from tests.api.service import new_key

BID = {
    "firm": "Millrace Electric", "amount": "$18,400", "date": "2026-02-20",
    "valid_until": "2026-05-20", "includes": ["service", "panel"], "days": "6 day",
}  # fmt: skip


@pytest.fixture
def project(service):
    return keep_project(service)


def phase_of(service, project):
    return service.get(f"{project}/phases").json["phases"][0]["id"]


def add(service, project, **more):
    body = {"phase_id": phase_of(service, project), "code": "900", "name": "Power", **more}
    return service.post(f"{project}/items", body, headers=new_key())


def test_a_bid_is_stored_as_it_is_written_and_priced(service, project):
    before = service.get(path_of(priced(service, project))).json
    made = add(service, project, subcontract=BID)
    assert made.status_code == 201, made.text
    assert made.json["subcontract"] == BID
    assert (made.json["lump_sum"], made.json["assembly"]) == (None, "")
    path = path_of(priced(service, project))
    after = service.get(path).json
    direct = [float(one["totals"]["direct_cost"]) for one in (before, after)]
    assert round(direct[1] - direct[0], 2) == 18400.00
    document = service.get(f"{path}/document").json
    assert document["rests_on"]["direct_cost"]["quotes"] == "18400.00"


def test_a_bid_is_explained_as_it_was_stored(service, project):
    item = add(service, project, subcontract=BID).json["cost_code"]
    estimate = path_of(priced(service, project))
    (told,) = service.get(f"{estimate}/explanations?item={item}").json["explanations"]
    assert "valid until 2026-05-20" in told["steps"]


def test_an_item_with_neither_assembly_nor_sum_says_so(service, project):
    refused = add(service, project)
    assert refused.status_code == 422
    assert "assembly is missing" in refused.text


def test_a_fault_of_a_bid_stands_at_its_place(service, project):
    refused = add(service, project, subcontract=BID | {"valid_until": "2026-02-19"})
    assert refused.status_code == 422
    assert "#/subcontract/valid_until" in refused.text


def test_alternates_of_a_project_are_stored_and_priced(service, project):
    alternates = [{"code": "A1", "name": "No lamps"}]
    head = service.get(project)
    changed = service.send(
        "PATCH", project, {"alternates": alternates}, headers={"If-Match": head.headers["ETag"]}
    )
    assert (changed.status_code, changed.json["alternates"]) == (200, alternates), changed.text
    made = add(service, project, lump_sum={"deduct": "$1,900"}, alternate="A1")
    assert (made.status_code, made.json["alternate"]) == (201, "A1"), made.text
    document = service.get(f"{path_of(priced(service, project))}/document").json
    (told,) = document["alternates"]
    assert float(told["change"]) < -1900
    assert "A1" not in [line["item"] for line in document["lines"]]


def test_an_item_of_an_alternate_that_the_project_does_not_list_is_refused(service, project):
    refused = add(service, project, lump_sum={"amount": "$1,900"}, alternate="A9")
    assert refused.status_code == 422
    assert "names the unknown alternate" in refused.text
