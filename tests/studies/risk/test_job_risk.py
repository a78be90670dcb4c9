"""From an estimate to how sure it is: the same cents as the estimate, contingency counted once."""

from datetime import date
from functools import cache

import numpy as np
import pytest

from estimator.errors import RangeFaulty
from estimator.money import to_cents
from estimator.ranges.item_range import ItemRange
from estimator.scheduling.dated_estimate import price
from estimator.studies.risk.estimate_ranges import job_ranges, markups_without_contingency
from estimator.studies.risk.job_risk import job_risk
from estimator.studies.risk.risk_json import risk_fields
from tests.factories import SPRING, item, scope_with
from tests.scope.methods.choices import PIT, sample, shipped

FILL = item("010", "stone-fill-skid-steer", **PIT)
FLOOR = item("010", "plank-floor-wreck", area="800 sf")


def estimate_of(*phases, **more):
    listed = [{"code": f"{n}0", "name": f"Phase {n}", **phase} for n, phase in enumerate(phases, 2)]
    return price(scope_with(shipped(), listed, **more), shipped(), SPRING)


@cache
def sample_estimate():
    scope, tables = sample()
    return price(scope, tables, scope.on)


@cache
def sample_risk():
    return job_risk(sample_estimate(), iterations=2000)


def test_the_simulated_estimate_is_the_cash_cost_without_contingency():
    risk = sample_risk()
    # 404,836.92 less the contingency of 41,782.76
    assert risk.totals.estimate_cents == 36_305_416
    assert sum(one.amount_cents for one in markups_without_contingency(risk.estimate)) == (
        36_305_416 - to_cents(risk.estimate.direct_cost)
    )


def test_every_phase_carries_its_lines_with_their_markups():
    risk = sample_risk()
    estimates = dict(zip(risk.totals.phases, risk.totals.phase_estimates, strict=True))
    cash = risk.estimate.items.groupby("phase")["cash_cents"].sum()
    # 6,973.26 of interest bear none; 4,098.57 bear 6 % of overhead, and 1.2 % of insurance on both
    assert estimates.pop("75") == 697_326 + 439_662
    for code, cents in cash.drop("75").items():
        assert cents * 1.05 < estimates[code] < cents * 1.16


def test_own_labor_is_no_part_of_it():
    own = {"items": [FILL | {"crew": "owner-alone"}]}
    paid = estimate_of({"items": [FILL]}, markups=[])
    unpaid = estimate_of(own, markups=[])
    names = [line.name for line in job_ranges(unpaid).lines]
    assert "20.010 crew" in [line.name for line in job_ranges(paid).lines]
    assert "20.010 crew" not in names
    assert sum(line.estimate_cents for line in job_ranges(unpaid).lines) == to_cents(
        unpaid.direct_cost
    )


def test_the_crew_of_an_item_is_one_line_whose_pace_varies():
    job = job_ranges(estimate_of({"items": [FILL]}, risk={"pace": ["50 %", "125 %"]}))
    crew = next(line for line in job.lines if line.name == "20.010 crew")
    assert (crew.production.low, crew.production.high) == (0.5, 1.25)
    stone = next(line for line in job.lines if "stone" in line.name.lower())
    assert stone.production.low == stone.production.high == 1.0
    assert crew.kind == "labor"


def test_a_rate_varies_between_the_low_and_high_of_its_row():
    job = job_ranges(estimate_of({"items": [FILL]}))
    stone = next(line for line in job.lines if "stone" in line.name.lower())
    # 23.00, 26.00 and 32.00 a ton
    assert stone.rate.low == pytest.approx(23 / 26)
    assert stone.rate.high == pytest.approx(32 / 26)


def test_all_lines_of_an_item_stand_on_one_quantity():
    job = job_ranges(estimate_of({"items": [FILL]}, risk={"quantity": ["90 %", "130 %"]}))
    (fill,) = (line for line in job.lines if isinstance(line, ItemRange))
    assert len(fill.parts) == 2  # the stone; the crew with its fuel
    assert fill.kind == "material"


def test_an_item_that_states_its_own_range_leaves_the_usual_one():
    stated = FILL | {"risk": {"pace": ["60 %", "110 %"]}}
    found = estimate_of({"items": [stated]}, risk={"pace": ["50 %", "125 %"]})
    crew = next(line for line in job_ranges(found).lines if line.name.endswith("crew"))
    assert crew.production.low == 0.6


def test_contingency_by_percentage_is_left_out_and_reported():
    told = [one for one in sample_risk().statements if "counted once" in one]
    assert len(told) == 1
    assert "Contingency of $41,782.76 in the estimate is left out" in told[0]


def test_items_without_ranges_are_reported():
    told = job_risk(estimate_of({"items": [FILL]}), iterations=200).statements
    assert any("1 of 1 item without a range for quantity" in one for one in told)
    assert not any("without a range for" in one for one in sample_risk().statements)


def test_more_confidence_needs_more():
    needed = [
        job_risk(sample_estimate(), share, iterations=500).needed.amount_cents
        for share in (0.5, 0.8, 0.95)
    ]
    assert needed == sorted(needed)
    assert sum(sample_risk().needed.by_phase.values()) == sample_risk().needed.amount_cents


def test_events_only_add():
    event = {"name": "cistern", "probability": "50 %", "cost": ["$1,000", "$2,000", "$3,000"]}
    risk = job_risk(estimate_of({"items": [FILL]}, risk={"events": [event]}), iterations=4000)
    plain = job_risk(estimate_of({"items": [FILL]}), iterations=4000)
    added = risk.totals.mean_cents - plain.totals.mean_cents
    assert added == pytest.approx(100_000, rel=0.02)
    assert risk.drivers[0].name == "cistern"


def test_phases_take_the_crew_hours_of_their_items_one_after_the_other():
    pace = {"low": "50 %", "high": "125 %", "shape": "uniform"}
    two = estimate_of({"items": [FILL, FLOOR | {"code": "020"}]}, risk={"pace": pace})
    (phase,) = job_risk(two, iterations=1000).dates.phases
    # 100.8 ton at 14 ton/hr and 800 sf at 55 sf/hr: 7.2 + 14.545 hr, over 8 hr a day
    assert phase.days.likely == pytest.approx((100.8 / 14 + 800 / 55) / 8, abs=0.02)
    assert 1.5 * phase.days.likely < phase.days.high <= phase.days.likely / 0.5
    assert phase.days.low >= phase.days.likely / 1.25 - 0.02


def test_a_phase_waits_for_the_one_before_it_unless_it_says_otherwise():
    found = estimate_of(
        {"items": [FILL]}, {"items": [FILL]}, {"items": [FILL], "after": []},
        {"items": [FILL], "after": ["20", "40"]},
    )  # fmt: skip
    assert [phase.after for phase in job_risk(found, iterations=100).dates.phases] == [
        (),
        ("20",),
        (),
        ("20", "40"),
    ]


def test_waits_and_what_runs_along_count_in_the_dates_too():
    """Ten days to a Tuesday, a week of curing to the next, five days; cleaning ends with them."""
    phases = [
        {"items": [FLOOR], "duration": "10 day"},
        {"items": [FLOOR], "duration": "5 day", "wait": "7 days"},
        {"items": [FLOOR], "along": ["20", "30"]},
    ]
    found = job_risk(estimate_of(*phases), iterations=200)
    assert found.dates.likely.finishes == {"20": 10.0, "30": 19.0, "40": 19.0}
    assert dict(found.dates.criticality) == {"20": 1.0, "30": 1.0, "40": 0.0}


@pytest.mark.parametrize("confidence", [0.0, 1.0, -0.1, 1.5, float("nan")])
def test_a_confidence_of_none_or_all_is_refused(confidence):
    with pytest.raises(RangeFaulty, match="confidence"):
        job_risk(estimate_of({"items": [FILL]}), confidence, iterations=200)


def test_the_same_seed_gives_the_same_fields_and_another_seed_others():
    first, again, other = (
        risk_fields(job_risk(sample_estimate(), seed=seed, iterations=300)) for seed in (7, 7, 8)
    )
    assert first == again
    assert first != other


def test_fields_are_decimal_strings():
    fields = risk_fields(sample_risk())
    assert fields["estimate"] == f"{sample_risk().totals.estimate_cents / 100:.2f}"
    assert list(fields["percentiles"]) == [
        "P10", "P20", "P30", "P40", "P50", "P60", "P70", "P80", "P90", "P95",
    ]  # fmt: skip
    assert sum(float(one["share"]) for one in fields["drivers"]) == pytest.approx(1.0, abs=0.01)
    assert fields["dates"]["phases"][0]["code"] == "05"
    assert fields["class"]["number"] == 3


def test_progress_is_reported_up_to_the_end():
    told = []
    job_risk(sample_estimate(), iterations=200, progress=told.append)
    assert told == sorted(told)
    assert told[-1] == pytest.approx(1.0)


def test_hired_trucks_take_as_long_as_the_crew_that_they_serve():
    """At half the pace crew and truck cost twice as much; the stone costs what it did."""
    fill = item("010", "stone-fill-conveyor-truck", **PIT) | {"risk": {"pace": ["50 %", "100 %"]}}
    estimate = estimate_of({"items": [fill]}, markups=[])
    by_hours = ("labor", "equipment")
    cents = sum(one.cents for one in estimate.cost_lines if one.kind in by_hours)
    lines = {line.name: line for line in job_ranges(estimate).lines}
    assert lines["20.010 crew"].estimate_cents == cents
    assert "20.010 Conveyor truck with driver" not in lines
    slow = job_ranges(estimate).lines[0]
    assert slow.production.low == 0.5


def test_the_chance_of_staying_within_a_budget_of_ones_own():
    risk = job_risk(sample_estimate(), iterations=2000, budget_cents=40_000_000)
    assert risk.within_budget == risk.totals.probability_within(40_000_000)
    assert 0.51 < risk.within_budget < 0.63
    (said,) = [one for one in risk.statements if "a budget of $400" in one]
    assert said.startswith("The chance of staying within a budget of $400,000.00 is 5")
    assert risk_fields(risk)["budget"] == {
        "amount": "400000.00", "within": f"{risk.within_budget:.4f}"
    }  # fmt: skip
    assert "budget" not in risk_fields(sample_risk())


LATE = {"name": "late steel", "probability": "100 %", "phase": "30", "days": "4 day"}


def test_a_phase_is_critical_where_any_of_its_work_is_though_it_ends_early():
    """The job waits for item 010 of phase 20; its item 020 runs beside and ends long before."""
    long = FLOOR | {"duration": "10 day"}
    beside = FLOOR | {"code": "020", "duration": "1 day", "after": []}
    after = {"items": [FLOOR | {"duration": "10 day"}], "after": ["20.010"]}
    short = {"items": [FLOOR | {"duration": "1 day"}], "after": []}
    late = beside | {"after": ["010"], "duration": "2 day"}
    found = estimate_of({"items": [long, beside, late | {"code": "030"}]}, after, short)
    dates = job_risk(found, iterations=100).dates
    assert dict(dates.criticality) == {"20": 1.0, "30": 1.0, "40": 0.0}
    assert dates.likely.critical == ("20", "30")


def test_an_event_in_days_puts_off_its_phase_and_all_after_it():
    """Ten days, then five that wait four for the steel, then five: 24, and 20 are likely."""
    phases = [{"items": [FLOOR], "duration": f"{days} day"} for days in (10, 5, 5)]
    dates = job_risk(estimate_of(*phases, risk={"events": [LATE]}), iterations=200).dates
    assert dates.likely.finish_days == 20.0
    assert [dates.percentile_days(0.5, code) for code in ("20", "30", "40")] == [10.0, 19.0, 24.0]
    assert set(dates.durations[1].tolist()) == {9.0}


def test_days_go_by_as_often_as_the_event_happens_and_where_it_costs():
    event = {**LATE, "probability": "30 %", "cost": ["$1,000", "$2,000", "$6,000"],
             "days": ["2 day", "4 day", "12 day"]}  # fmt: skip
    phases = [{"items": [FLOOR], "duration": "10 day"}] * 2
    risk = job_risk(estimate_of(*phases, risk={"events": [event]}), iterations=1000)
    late = risk.dates.finish_days > 20.0
    assert late.mean() == pytest.approx(0.3, abs=0.002)
    job = risk.totals.job
    costs = job.costs(len(job.lines), job.ranks())
    assert ((costs > 0) == late).all()
    order = costs[late].argsort()
    assert (np.diff(risk.dates.finish_days[late][order]) >= 0.0).all()  # a long one is dear


def along_job(days, more=None):
    toilet = item("010", "site-facilities", months="along", fence_panels="30 ea")
    return estimate_of(
        {"items": [FLOOR], "duration": days},
        {"items": [toilet], "along": ["20"]},
        calendar={"start": "2026-04-06", "week": "5 days of 8 hr", "holidays": "none"},
        risk={"quantity": ["80 %", "150 %"], **(more or {})},
        markups=[],
    )


def test_what_stands_along_other_work_costs_the_days_that_it_lasts_counted_once():
    """Always four days late: 10 working days are 12 on the calendar, 14 are 18."""
    late = job_risk(along_job("10 day", {"events": [{**LATE, "phase": "20"}]}), iterations=200)
    (time,) = [one for one in late.totals.added if one.name.startswith("30.010")]
    costs = [
        sum(line.cents for line in along_job(f"{days} day").cost_lines if line.item == "30.010")
        for days in (10, 14)
    ]
    assert time.cents.min() == time.cents.max() == pytest.approx(costs[1] - costs[0], abs=150)
    facilities = [one for one in late.totals.job.lines if one.item == "30.010"]
    assert all(one.is_certain or one.rate.low < one.rate.high for one in facilities)
    assert not any(isinstance(one, ItemRange) for one in facilities)  # its time is drawn, once
    assert any("Times of 30.010 are as long as" in one for one in late.statements)


def test_what_stands_until_other_work_is_done_stands_longer_when_that_is_late():
    """30 working days from a Monday are 40 on the calendar, 54 are 74: 34 days more of ten bays."""
    stands = item("010", "scaffold", bays="10 ea", weeks="until 30")
    late = {**LATE, "days": "24 day"}
    risk = job_risk(
        estimate_of(
            {"items": [stands], "duration": "5 day"}, {"items": [FLOOR], "duration": "25 day"},
            calendar={"start": "2026-04-06", "week": "5 days of 8 hr", "holidays": "none"},
            risk={"quantity": ["80 %", "150 %"], "events": [late]}, markups=[],
        ),
        iterations=200,
    )  # fmt: skip
    (time,) = risk.totals.added
    assert time.name.startswith("20.010")
    assert time.cents.min() == time.cents.max() == pytest.approx(680_00, abs=20)  # $14.00 a week
    assert any(isinstance(one, ItemRange) for one in risk.totals.job.lines if one.item == "20.010")


def test_interest_and_a_watchman_cost_the_days_that_the_job_lasts_and_only_one_bears_markups():
    """Four days late, 12 days on the calendar are 18: six more of interest, 30 / 7 more paid."""
    interest = item("010", "loan-interest", days="along", average_balance="$36,500",
                    yearly_rate="10 %")  # fmt: skip
    watch = item("020", "daily-cost", days="along", days_a_week="5 day/week", per_day="$70/day")
    phases = [
        {"items": [FLOOR], "duration": "10 day"},
        {"items": [interest, watch], "along": ["20"]},
    ]
    risk = job_risk(
        estimate_of(
            *phases, risk={"events": [{**LATE, "phase": "20"}]},
            calendar={"start": "2026-04-06", "week": "5 days of 8 hr", "holidays": "none"},
        ),
        iterations=200,
    )  # fmt: skip
    cash = risk.estimate.items.groupby("item")["cash_cents"].sum()
    assert (cash["30.010"], cash["30.020"]) == (120_00, 600_00)
    more = [set(one.cents.tolist()) for one in risk.totals.added]
    # 300.00 of the watchman bear 6 % of overhead, and 1.2 % of insurance on both
    assert more == [{60_00}, {321_82}]
    assert risk.finish(0.8) == date(2026, 4, 23)


def test_the_likely_days_of_what_stands_along_cost_what_the_estimate_has():
    risk = job_risk(along_job(["5 day", "10 day", "10 day"]), iterations=400)
    (time,) = [one for one in risk.totals.added if one.name.startswith("30.010")]
    assert time.cents.min() < 0
    assert time.cents.max() == 0
    assert sum(line.estimate_cents for line in risk.totals.job.lines) == to_cents(
        risk.estimate.direct_cost
    )


def test_items_that_a_matrix_names_move_together_in_cost_and_days():
    """Two fills, one after the other, of one quantity range: opposite ones spread less."""

    def spreads(r):
        items = [FILL, FILL | {"code": "020"}]
        correlation = {"items": ["20.010", "20.020"], "between": "0 %",
                       "matrix": [["1", r], [r, "1"]]}  # fmt: skip
        risk = {"quantity": ["70 %", "130 %"], "correlation": correlation}
        found = job_risk(estimate_of({"items": items}, risk=risk), iterations=1000)
        return found.totals.sd_cents, float(np.std(found.dates.finish_days))

    with_it, alone, against = spreads("90 %"), spreads("0 %"), spreads("-90 %")
    for place in (0, 1):
        assert with_it[place] > 1.3 * alone[place] > 3.0 * against[place]
