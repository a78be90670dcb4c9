"""What the books say over HTTP: as of a day, known on a time."""

from __future__ import annotations

from datetime import timedelta

import pytest

from tests.api.ledger.made import STONE, cost, open_books, posted


@pytest.fixture
def books(service):
    return open_books(service)


def code_of(answer, code):
    return next(one for one in answer.json["codes"] if one["code"] == code)


def test_the_report_has_budget_spent_in_place_earned_and_forecast(service, books):
    posted(service, books, "costs", **cost())
    posted(service, books, "payments", cost=1, amount="540.80", means="check")
    posted(service, books, "progress", code="30.020", in_place="60")
    fill = code_of(service.get(f"{books}/tracking"), "30.020")
    assert (fill["incurred"], fill["paid"], fill["open"]) == ("1540.80", "540.80", "1000.00")
    assert (fill["in_place"], fill["unit"], fill["how_earned"]) == ("60", "ton", "measured")
    assert fill["left"]["kinds"]["material"]["basis"] == "observed"


def test_a_report_of_a_past_day_stays_what_it_was(service, books):
    posted(service, books, "costs", **cost())
    known_on = "2026-03-02T12:00:00Z"
    where = f"{books}/tracking?as_of=2026-02-28&known_on={known_on}"
    before = service.get(where).json
    service.clock.now += timedelta(hours=1)
    posted(service, books, "costs", **cost(document="late"))
    posted(service, books, "progress", code="30.020", in_place="60")
    assert service.get(where).json == before
    now = service.get(f"{books}/tracking?as_of=2026-02-28").json
    assert now["project"]["incurred"] == "3081.60"


def test_a_change_draws_on_the_contingency_and_the_budget_stays(service, books):
    before = service.get(f"{books}/tracking").json["project"]["budget"]
    parts = [
        STONE | {"amount": "432.00", "quantity": "18"},
        {"code": "contingency", "amount": "-432.00"},
    ]
    assert posted(service, books, "changes", reason="soft ground", parts=parts).status_code == 201
    report = service.get(f"{books}/tracking")
    assert report.json["project"]["budget"] == before
    assert code_of(report, "30.020")["changes"] == "432.00"
    assert code_of(report, "contingency")["changes"] == "-432.00"


def test_a_time_that_is_none_is_refused(service, books):
    answer = service.get(f"{books}/tracking?known_on=yesterday")
    assert "write it as 2026-03-02T07:30:00Z" in answer.text


def test_what_needs_attention_is_reported_with_its_amount(service, books):
    posted(service, books, "costs", **cost(net="90000.00", tax="0.00"))
    posted(service, books, "progress", code="30.020", in_place="60")
    (worst, *_) = service.get(f"{books}/tracking").json["attention"]
    assert worst["code"] == "30.020"
    assert "over its budget already" in worst["sentence"]
