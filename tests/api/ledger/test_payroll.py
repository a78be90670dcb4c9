"""Payroll over HTTP: hours accrue, a week is closed, late hours are a difference."""

from __future__ import annotations

import pytest

from tests.api.ledger.made import open_books, posted
from tests.api.service import new_key

TERMS = {
    "happened": "2026-01-01",
    "taxes": [{"name": "Medicare", "fraction": "0.0145"}],
    "insurance": [{"name": "workers' compensation", "per_100": "9.00"}],
}


@pytest.fixture
def books(service):
    books = open_books(service)
    assert posted(service, books, "payroll-terms", **TERMS).status_code == 201
    return books


def hours(service, books, worked, day="2026-02-11", **more):
    body = {"person": "AB", "trade": "laborer", "code": "30.020", "hours": worked, "rate": "24.00"}
    return posted(service, books, "hours", **(body | {"happened": day} | more))


def close(service, books, ends="2026-02-15"):
    return service.post(f"{books}/weeks", {"ends": ends}, headers=new_key())


def project(service, books):
    report = service.get(f"{books}/tracking").json
    return report["project"]["accrued"], report["project"]["billed"], report["accrued_hours"]


def test_hours_accrue_at_straight_time_and_the_closed_week_takes_their_place(service, books):
    """8 hr at $24: $192.00; Medicare $2.78 (2.784), insurance $17.28; $212.06."""
    hours(service, books, "8")
    accrued = {"hours": "8", "amount": "192.00"}
    assert project(service, books) == ("192.00", "0.00", accrued)
    answer = close(service, books)
    assert answer.status_code == 201
    (entry,) = answer.json["entries"]
    assert service.get(answer.headers["Location"]).json == entry
    assert (entry["number"], entry["amount"], entry["happened"]) == (3, "212.06", "2026-02-15")
    assert entry["row"]["vendor"] == "AB"
    assert project(service, books) == ("0.00", "212.06", {"hours": "0", "amount": "0.00"})
    paid = posted(service, books, "payments", happened="2026-02-20", cost=3, amount="192.00",
                  means="check 9")  # fmt: skip
    assert paid.status_code == 201


def test_late_hours_are_noted_and_the_week_closed_again_posts_the_difference(service, books):
    """2 hr more: $48.00; Medicare on $240.00 is $3.48, $0.70 more; insurance $4.32."""
    hours(service, books, "8")
    close(service, books)
    late = hours(service, books, "2", "2026-02-12")
    assert late.json["notes"] == [
        "the workweek to 2026-02-15 is closed; close it again to post the difference"
    ]
    (entry,) = close(service, books).json["entries"]
    assert (entry["amount"], entry["happened"]) == ("53.02", "2026-02-15")
    again = close(service, books)
    assert "there are no hours to close in the workweek to 2026-02-15" in again.text


def test_hours_taken_back_belong_to_the_day_they_were_worked(service, books):
    where = hours(service, books, "8").headers["Location"]
    close(service, books)
    back = service.post(f"{where}/reversal", {"happened": "2026-02-25"}, headers=new_key())
    assert back.json["happened"] == "2026-02-11"
    (entry,) = close(service, books).json["entries"]
    assert entry["amount"] == "-212.06"
    assert project(service, books)[:2] == ("0.00", "0.00")


def test_a_payroll_that_is_taken_back_lets_its_hours_accrue_again(service, books):
    hours(service, books, "8")
    where = close(service, books).headers["Location"]
    back = service.post(f"{where}/reversal", {"happened": "2026-02-25"}, headers=new_key())
    assert back.json["happened"] == "2026-02-15"
    assert project(service, books)[:2] == ("192.00", "0.00")
    assert close(service, books).json["entries"][0]["amount"] == "212.06"


@pytest.mark.parametrize(
    ("ends", "what"),
    [
        ("2026-02-14", "2026-02-14 is a Saturday"),
        ("2026-03-08", "2026-03-08 is in the future"),
        ("2025-12-28", "nothing says how payroll is worked out on 2025-12-28"),
    ],
)
def test_a_week_that_cannot_be_closed_is_refused(service, books, ends, what):
    hours(service, books, "8")
    assert what in close(service, books, ends).text


def test_a_trade_that_is_near_to_one_of_the_estimate_is_noted(service, books):
    noted = ["the estimate has no trade 'labourer': did you mean 'laborer'?"]
    assert hours(service, books, "2", trade="labourer").json["notes"] == noted
    assert hours(service, books, "2", trade="laborer").json["notes"] == []


def test_unpaid_hours_are_shown_apart_and_never_closed(service, books):
    hours(service, books, "8", unpaid=True)
    report = service.get(f"{books}/tracking").json
    assert report["unpaid_hours"] == {"hours": "8", "amount": "192.00"}
    assert report["project"]["incurred"] == "0.00"
    assert close(service, books).status_code == 422


def test_a_report_stands_with_a_machine_on_rent(service, books):
    rent = {"machine": "lift", "vendor": "Yard", "code": "30.020", "day": "295.00"}
    assert posted(service, books, "rents", **rent).status_code == 201
    assert service.get(f"{books}/tracking").status_code == 200
