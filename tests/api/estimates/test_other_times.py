"""A start, a week and a crew of a body go before those of a stored scope, in price and in dates."""

from decimal import Decimal

from tests.api.estimates.made import keep_project, path_of, priced


def operator_rate(service, answer):
    lines = service.get(f"{path_of(answer)}/lines?resource=equipment-operator").json["lines"]
    return Decimal(lines[0]["rate"])


def test_an_estimate_is_stored_as_if_its_scope_had_the_week(service):
    """Five days of ten hours are paid as 55 hours, a tenth more for each; four of ten as forty."""
    project = keep_project(service)
    plain, long, four = (
        priced(service, project, **body)
        for body in ({}, {"week": "5 days of 10 hr"}, {"week": "4 days of 10 hr"})
    )
    rates = [operator_rate(service, one) for one in (plain, four, long)]
    assert rates == [rates[0], rates[0], Decimal("1.1") * rates[0]]
    again = service.post(f"{path_of(long)}/schedule", {})
    assert again.status_code == 200, again.text


def test_the_dates_of_a_stored_estimate_follow_another_week(service):
    estimate = path_of(priced(service, keep_project(service), start="2026-04-06"))
    body = {"week": "4 days of 10 hr", "crew": {"laborer": 2}}
    plain, four = (service.post(f"{estimate}/schedule", one).json for one in ({}, body))
    assert plain["start"] == four["start"] == "2026-04-06"
    assert Decimal(four["days"]) < Decimal(plain["days"])


def test_a_week_that_cannot_be_is_refused_at_its_place(service):
    project = keep_project(service)
    estimate = path_of(priced(service, project))
    for path in (f"{project}/estimates", f"{estimate}/schedule"):
        refused = service.post(path, {"week": "9 days of 10 hr"}, headers={"Idempotency-Key": path})
        assert refused.status_code == 422, refused.text
        assert refused.json["errors"][0]["pointer"] == "#/week"
