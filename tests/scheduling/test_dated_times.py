"""What stands along other work is paid as long as that lasts, and longer when it does."""

from datetime import date
from decimal import Decimal

import pytest

from estimator.errors import ScopeFaulty
from estimator.scheduling.dated_estimate import price
from estimator.scheduling.dated_times import planned_days
from estimator.scheduling.job_dates import job_schedule
from estimator.scheduling.rent_by_dates import rent_spans
from tests.factories import SPRING, item, scope_with
from tests.scope.methods.choices import shipped

CALENDAR = {"start": "2026-04-06", "week": "5 days of 8 hr", "holidays": "none"}
TOILET = item("010", "site-facilities", months="along", fence_panels="0 ea")
FLOOR = item("010", "plank-floor-wreck", area="800 sf")


def job(days, toilet=TOILET, along=("20", "30")):
    phases = [
        {"code": "20", "name": "Out", "items": [FLOOR], "duration": f"{days} day"},
        {"code": "30", "name": "In", "items": [FLOOR], "duration": "5 day"},
        {"code": "40", "name": "Site", "items": [toilet], "along": list(along)},
    ]
    phases = [one if one.get("along") != [] else {**one, "along": []} for one in phases]
    return scope_with(shipped(), phases, calendar=CALENDAR)


def toilets(estimate):
    (line,) = [one for one in estimate.cost_lines if one.resource == "portable-toilet"]
    return Decimal(line.ordered) / 10**line.decimals


@pytest.mark.parametrize(("days", "months"), [(15, "0.93"), (35, "1.93")])
def test_a_toilet_is_rented_until_the_last_of_the_work_it_stands_for(days, months):
    """15 + 5 working days from a Monday are 26 of the 28 of a month; 20 more are 54."""
    estimate = price(job(days), shipped(), SPRING)
    assert toilets(estimate) == Decimal(months)
    assert "along from 2026-04-06 to" in " ".join(estimate.explain("40.010/1").steps)


def test_a_time_along_no_work_is_refused():
    phases = [{"code": "20", "name": "Site", "items": [TOILET]}]
    with pytest.raises(ScopeFaulty, match=r"item 20\.010, months: it runs along no other work"):
        scope_with(shipped(), phases)


def test_only_a_time_lasts_as_long_as_other_work():
    wrong = item("010", "plank-floor-wreck", area="along")
    phases = [{"code": "20", "name": "Out", "items": [wrong]}]
    with pytest.raises(ScopeFaulty, match="'along' is not a measure in sf"):
        scope_with(shipped(), phases)


def interest(hands, calendar):
    """Interest of two floors that take the same laborers: $100 for each day that the job lasts."""
    floors = [{**FLOOR, "code": code, "inputs": {"area": "4,000 sf"}} for code in ("010", "020")]
    loan = item("010", "loan-interest", days="along", average_balance="$365,000",
                yearly_rate="10 %")  # fmt: skip
    phases = [
        {"code": "20", "name": "Out", "items": [{**one, "after": []} for one in floors]},
        {"code": "30", "name": "Money", "items": [loan], "along": ["20"]},
    ]
    scope = scope_with(shipped(), phases, calendar=CALENDAR | calendar, crew={"laborer": hands})
    estimate = price(scope, shipped(), SPRING)
    (line,) = [one for one in estimate.cost_lines if one.resource == "loan-interest"]
    return line.cents // 100_00


def test_longer_days_one_more_crew_and_a_later_start_move_what_time_costs():
    """Each floor takes 4,000 / 55 sf/hr, 9.09 days: one after the other up to the 19th workday."""
    assert interest(3, {}) == 25
    assert interest(3, {"week": "5 days of 10 hr"}) == 19  # 14.55 days
    assert interest(6, {}) == 12  # side by side
    assert interest(3, {"start": "2026-04-09"}) == 27  # one more weekend


def scaffold(weeks, *more, days=35):
    stands = item("010", "scaffold", bays="10 ea", weeks=weeks)
    phases = [
        {"code": "10", "name": "Up", "items": [stands, *more]},
        {"code": "20", "name": "Out", "items": [FLOOR], "duration": f"{days} day"},
        {"code": "30", "name": "In", "items": [FLOOR], "duration": "5 day"},
    ]
    return scope_with(shipped(), phases, calendar=CALENDAR)


@pytest.mark.parametrize(("until", "rented"), [("20", "72.86"), ("30", "82.86"), ("10", "40.00")])
def test_a_scaffold_takes_its_hands_and_stands_until_the_work_it_is_for_is_done(until, rented):
    """Up in 1.25 days from a Monday; 35 more end on the 37th workday, a Tuesday: 51 days, or 58."""
    estimate = price(scaffold(f"until {until}"), shipped(), SPRING)
    (rent,) = [one for one in estimate.cost_lines if one.resource == "scaffold-bay"]
    assert Decimal(rent.ordered) / 10**rent.decimals == Decimal(rented)
    (hands,) = [one for one in estimate.cost_lines if one.resource == "carpenter"]
    assert hands.ordered > 0


def test_what_is_measured_by_the_time_that_it_stands_is_planned_until_then():
    """A toilet by its months, until phase 30 is done; a scaffold while it is put up."""
    toilet = item("020", "site-facilities", months="until 30", fence_panels="0 ea")
    scope = scaffold("until 30", toilet)
    estimate = price(scope, shipped(), SPRING)
    planned = planned_days(estimate, job_schedule(estimate))
    assert planned["10.020"] == (date(2026, 4, 7), date(2026, 6, 2))
    assert planned["10.010"] == (date(2026, 4, 6), date(2026, 4, 7))


@pytest.mark.parametrize(("weeks", "last", "is_dated"), [
    ("until 30", date(2026, 6, 2), True), ("8 week", date(2026, 4, 7), False),
])  # fmt: skip
def test_what_stands_until_other_work_is_done_is_on_rent_until_then(weeks, last, is_dated):
    """Of a stated time nobody has said from which day on it runs."""
    estimate = price(scaffold(weeks), shipped(), SPRING)
    spans = rent_spans(estimate, job_schedule(estimate))
    (bays,) = [one for one in spans if one.resource == "scaffold-bay"]
    assert (bays.first, bays.last, bays.is_dated) == (date(2026, 4, 6), last, is_dated)


def test_what_ends_a_time_must_be_there():
    with pytest.raises(ScopeFaulty, match="until names '99', which does not exist"):
        scaffold("until 99")
