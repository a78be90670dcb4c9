"""A crew logs the work of the projects that are shared with it, and never sees a dollar."""

from __future__ import annotations

import json

import pytest

from api.ledger.site_entry_shapes import EXAMPLE_MACHINE_HOURS, EXAMPLE_POINT, EXAMPLE_READING
from tests.api.estimates.made import PITS
from tests.api.ledger.made import cost, open_books, posted
from tests.api.projects.made import AT, open_project
from tests.api.service import new_key

HOURS = {"person": "AB", "trade": "laborer", "code": "30.020", "hours": "7.5"}
TICKET = {
    "number": "T-1", "vendor": "Ridge Road Quarry", "code": "30.020", "kind": "material",
    "quantity": "20", "unit": "ton",
}  # fmt: skip
MONEY = {"amount", "rate", "cents", "rate_per_hr", "net", "billed", "incurred", "budget"}


def share(service, books, role="crew"):
    (token,) = service.get(f"/v1/tokens?role={role}").json["tokens"]
    path = f"{books.removesuffix('/books')}/shares"
    assert service.post(path, {"token_id": token["id"]}, headers=new_key()).status_code == 201


@pytest.fixture
def books(service):
    """Open books with money in them, shared with the crew."""
    books = open_books(service)
    share(service, books)
    assert posted(service, books, "costs", **cost()).status_code == 201
    assert posted(service, books, "hours", rate="24.00", **HOURS).status_code == 201
    assert posted(service, books, "tickets", amount="540.00", **TICKET).status_code == 201
    return books


def by_crew(service, books, path, **body):
    sent = {"happened": "2026-02-13"} | body
    return service.post(f"{books}/{path}", sent, role="crew", headers=new_key())


def test_a_crew_logs_hours_at_the_last_rate_of_the_person_and_sees_none(service, books):
    answer = by_crew(service, books, "hours", **HOURS)
    assert answer.status_code == 201, answer.text
    assert (answer.json["amount"], "rate_per_hr" in answer.json["row"]) == (None, False)
    row = service.get(answer.headers["Location"]).json
    assert (row["amount"], row["row"]["rate_per_hr"]) == ("180.00", "24.00")
    unknown = by_crew(service, books, "hours", **HOURS | {"person": "ZZ"})
    assert unknown.json["errors"][0]["pointer"] == "#/rate"
    assert "the owner or the bookkeeper states it the first time" in unknown.text


def test_a_ticket_of_a_crew_accrues_at_the_unit_price_of_the_load_before_it(service, books):
    """20 tons for $540.00 are $27.00 a ton: 15.5 tons are $418.50."""
    told = by_crew(service, books, "tickets", **TICKET | {"number": "T-2", "quantity": "15.5"}).json
    assert (told["amount"], told["notes"]) == (
        None,
        ["without an amount: priced per ton as in row 3"],
    )
    kept = service.get(f"{books}/entries/{told['id']}").json
    assert kept["amount"] == "418.50"
    other = by_crew(service, books, "tickets", **TICKET | {"number": "T-3", "unit": "cy"}).json
    assert other["notes"] == [
        "in cy, while 30.020 is measured in ton",
        "without an amount: it accrues nothing until its bill comes",
    ]


@pytest.mark.parametrize(("path", "body"), [
    ("hours", HOURS | {"rate": "99.00"}), ("tickets", TICKET | {"number": "9", "amount": "1.00"}),
])  # fmt: skip
def test_a_crew_states_no_money(service, books, path, body):
    refused = by_crew(service, books, path, **body)
    assert (refused.status_code, refused.json["errors"][0]["what"]) == (
        422,
        "may not come from a crew",
    )


def test_a_crew_logs_progress_machines_readings_and_days(service, books):
    assert posted(service, books, "points", **EXAMPLE_POINT).status_code == 201
    for path, body in (
        ("progress", {"code": "30.020", "in_place": "20", "unit": "ton"}),
        ("machine-hours", EXAMPLE_MACHINE_HOURS), ("readings", EXAMPLE_READING),
        ("days", {"weather": "dry", "people": ["AB"]}),
    ):  # fmt: skip
        assert by_crew(service, books, path, **body).status_code == 201


def test_nothing_that_a_crew_reads_has_money_in_it(service, books):
    project = books.removesuffix("/books")
    told = service.get(f"{books}/entries", role="crew").json["entries"]
    assert {one["kind"] for one in told} == {"hours", "tickets"}
    for path in (f"{books}/quantities", f"{books}/day-sheet", project, AT):
        answer = service.get(path, role="crew")
        assert answer.status_code == 200
        assert "$" not in answer.text
        assert not MONEY & (names(answer.json) if answer.is_json else set())
    (bill,) = service.get(f"{books}/entries?kind=costs").json["entries"]
    assert service.get(f"{books}/entries/{bill['id']}", role="crew").status_code == 404


def names(told):
    """Return every key of an answer that is not null, at any depth."""
    if isinstance(told, list):
        return set().union(*map(names, told))
    if isinstance(told, dict):
        return {key for key, value in told.items() if value is not None} | names([*told.values()])
    return set()


def test_a_hold_of_a_code_that_is_a_sum_of_money_allows_a_crew_percents_of_it(embedded):
    pipes = """\
      - code: "030"
        name: Pipes
        assembly: plumbing-rough
        inputs: {fixtures: 1 ea, per_fixture: $3800/ea}
"""
    books = open_books(embedded, PITS + pipes)
    share(embedded, books)
    hold = {"code": "30.030", "name": "sample", "needs": "a yes", "decides": "owner"}
    where = posted(embedded, books, "holds", **hold, allowed="950").headers["Location"]
    half = {"code": "30.030", "in_place": "20", "percent": True, "expected": "4000"}
    assert by_crew(embedded, books, "progress", **half).status_code == 201
    of_hold, of_work = embedded.get(f"{books}/entries", role="crew").json["entries"]
    assert of_hold["row"]["allowed"] == "25.0"
    assert (of_work["row"]["in_place"], of_work["row"]["expected"]) == ("20", "105.3")
    assert embedded.get(where, role="crew").json["row"]["allowed"] == "25.0"
    assert embedded.get(where).json["row"]["allowed"] == "950"


def test_the_quantities_have_what_is_in_place_and_the_hours_on_it(service, books):
    by_crew(service, books, "progress", code="30.020", in_place="20", unit="ton")
    told = service.get(f"{books}/quantities", role="crew").json
    of = {one["code"]: one for one in told["items"]}["30.020"]
    assert (of["in_place"], of["unit"], of["hours"], of["is_measured"]) == (
        "20",
        "ton",
        "7.5",
        True,
    )
    assert json.loads(json.dumps(told))["lost_hours"] == {}


def test_measured_points_are_read_and_drawn(service, books):
    assert service.get(f"{books}/points/chart").status_code == 422
    assert posted(service, books, "points", **EXAMPLE_POINT).status_code == 201
    by_crew(service, books, "readings", **EXAMPLE_READING)
    (point,) = service.get(f"{books}/points", role="crew").json["points"]
    assert (point["name"], point["readings"][0]["value"]) == (
        EXAMPLE_POINT["name"],
        EXAMPLE_READING["value"],
    )
    chart = service.get(f"{books}/points/chart", role="crew")
    assert EXAMPLE_POINT["name"] in chart.text
    assert chart.headers["Content-Disposition"].startswith("attachment")


def test_what_is_not_shared_is_not_there_for_a_crew(service, books):
    other = open_project(service, name="Shed")
    assert service.get(f"{AT}/{other['id']}", role="crew").status_code == 404
    assert by_crew(service, f"{AT}/{other['id']}/books", "hours", **HOURS).status_code == 404
    assert [one["id"] for one in service.get(AT, role="crew").json["projects"]] == [
        books.split("/")[3]
    ]
