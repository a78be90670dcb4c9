"""Machines over HTTP: on rent, billed, called off, and the hours they ran."""

from __future__ import annotations

import pytest

from tests.api.ledger.made import cost, open_books, posted
from tests.api.service import new_key

RENT = {
    "machine": "lift", "vendor": "Yard", "code": "30.020", "day": "295.00", "week": "1040.00",
}  # fmt: skip
LIFT_BILL = {
    "vendor": "Yard", "net": "885.00", "tax": "0.00", "document": "Y-1", "rents": [1],
    "splits": [{"code": "30.020", "kind": "equipment"}],
}  # fmt: skip


@pytest.fixture
def books(service):
    books = open_books(service)
    assert posted(service, books, "rents", **RENT | {"happened": "2026-02-09"}).status_code == 201
    return books


def money(service, books, as_of):
    project = service.get(f"{books}/tracking?as_of={as_of}").json["project"]
    return project["billed"], project["accrued"]


def test_rent_accrues_is_billed_and_ends(service, books):
    assert money(service, books, "2026-02-11") == ("0.00", "885.00")
    bill = posted(service, books, "costs", **cost(**LIFT_BILL), happened="2026-02-11")
    assert bill.status_code == 201, bill.text
    assert money(service, books, "2026-02-11") == ("885.00", "0.00")
    assert money(service, books, "2026-02-15") == ("885.00", "155.00")
    posted(service, books, "call-offs", rent=1, happened="2026-02-13")
    (rent,) = service.get(f"{books}/tracking").json["rents"]
    assert rent == {
        "row": 1, "machine": "lift", "vendor": "Yard", "code": "30.020", "since": "2026-02-09",
        "called_off": "2026-02-13", "so_far": "1040.00", "accrued": "155.00",
        "billed_through": "2026-02-11", "same_through": None, "then": None,
    }  # fmt: skip


def test_a_bill_over_a_rent_of_somebody_else_is_refused(service, books):
    answer = posted(service, books, "costs", **cost(rents=[1, 9]))
    assert [one["what"] for one in answer.json["errors"]] == [
        "the machine in row 1 is from 'Yard'", "there is no rent in row 9, or it is reversed",
    ]  # fmt: skip


def test_a_rent_that_was_logged_wrongly_is_taken_back(service, books):
    (entry,) = service.get(f"{books}/entries").json["entries"]
    where = f"{books}/entries/{entry['id']}/reversal"
    assert service.post(where, {"happened": "2026-02-20"}, headers=new_key()).status_code == 201
    assert money(service, books, "2026-02-15") == ("0.00", "0.00")
    answer = posted(service, books, "call-offs", rent=1)
    assert "there is no rent in row 1, or it is reversed" in answer.text


def test_a_call_off_before_the_rent_is_refused(service, books):
    answer = posted(service, books, "call-offs", rent=1, happened="2026-02-08")
    assert "2026-02-08 is before its first day, 2026-02-09" in answer.text


def test_hours_run_and_standing_are_shown(service, books):
    hours = {"machine": "lift", "code": "30.020", "run": "6.5", "standing": "1.5"}
    assert posted(service, books, "machine-hours", **hours).status_code == 201
    report = service.get(f"{books}/tracking").json
    assert report["machines"] == {"lift": {"run": "6.5", "standing": "1.5"}}
    assert posted(service, books, "machine-hours", **hours | {"run": "20"}).status_code == 422
