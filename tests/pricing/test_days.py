"""Days of an item: its hours over the shift, or what has to wait if that is more."""

from dataclasses import replace
from decimal import Decimal

import numpy as np
import pytest

from estimator.assemblies.needs import line_need
from estimator.assemblies.ordering import order_of
from estimator.quantity.formulas import read_formula
from estimator.quantity.units import unit
from estimator.scheduling.dated_estimate import price
from estimator.studies.comparison.comparison import compare
from estimator.studies.risk.job_risk import job_risk
from tests.factories import SPRING, item, scope_of
from tests.scope.methods.choices import BY_HAND, PUMP, pit_scope, sample_choice, shipped


def test_a_pumped_fill_takes_no_fewer_days_than_lifts():
    """6 ft 6 in at 3 ft a lift are three lifts, one a day: three days, and not 2.02 by the hours.

    A pit of 2 ft to 6 ft 6 in is 4.125 ft deep on average, which would be two lifts: the deepest
    counts.
    """
    pumped = sample_choice("30.020").result("pumping")
    assert pumped.days == 3.0
    assert pumped.hours / 8 == pytest.approx(2.02, abs=0.005)


@pytest.mark.parametrize(
    ("depth", "lift_days", "days"),
    [("4 ft", "1 day/visit", 2.0), ("9 ft", "1 day/visit", 3.0), ("9 ft", "2 day/visit", 6.0)],
)
def test_each_lift_waits_until_the_one_below_carries_it(depth, lift_days, days):
    fill = item("010", "flowable-fill-pumped", length="10 ft", width="8 ft", depth=depth)
    fill["inputs"] |= {"lift_days": lift_days}
    estimate = price(scope_of(shipped(), {"30": [fill]}), shipped(), SPRING)
    assert estimate.priced.days[0] == days


def test_hours_that_take_longer_than_the_lifts_count():
    fill = item("010", "flowable-fill-pumped", length="100 ft", width="40 ft", depth="3 ft")
    estimate = price(scope_of(shipped(), {"30": [fill]}), shipped(), SPRING)
    # 444.44 cy at 20 cy/hr are 22.22 hr, and one set-up of 1.25 hr
    assert estimate.priced.days[0] == pytest.approx(23.4722 / 8, abs=1e-4)


def test_a_phase_lasts_as_long_as_its_items_wait():
    slab = item("010", "curing-and-joints", area="900 sf")
    estimate = price(scope_of(shipped(), {"40": [slab]}), shipped(), SPRING)
    assert estimate.priced.crew_hours[0] < 8
    (phase,) = job_risk(estimate).dates.phases
    assert (phase.days.low, phase.days.high) == (5.0, 5.0)


@pytest.mark.parametrize(
    ("pace", "low", "likely", "high"),
    [
        # 4 ft of 80 sf are 11.85 cy, 0.59 hr at 20 cy/hr and 2.5 hr to set up twice: two days
        ("50 %", 2.0, 2.0, 2.0),
        # at a fiftieth of the pace the hours decide: 3.0926 / 0.02 / 8 = 19.33 days
        ("2 %", 2.0, 2.0, 19.3287),
    ],
)
def test_a_slow_pace_stretches_the_hours_and_never_the_waiting(pace, low, likely, high):
    fill = item("010", "flowable-fill-pumped", length="10 ft", width="8 ft", depth="4 ft")
    scope = scope_of(
        shipped(), {"30": [fill]}, risk={"pace": {"low": pace, "high": "150 %", "shape": "uniform"}}
    )
    estimate = price(scope, shipped(), SPRING)
    (phase,) = job_risk(estimate).dates.phases
    days = (phase.days.low, phase.days.likely, phase.days.high)
    assert days == pytest.approx((low, likely, high), rel=0.01)


def test_the_worth_of_days_follows_the_waiting():
    """Two lifts, two days at $500, though the hours at the pump are a part of one day only."""
    scope = pit_scope(PUMP, BY_HAND)
    result = compare(scope, shipped(), SPRING, "30.010", Decimal(500)).results[0]
    assert result.hours < 8
    assert result.day_cost == 1000


def test_the_estimate_the_comparison_and_the_dates_have_the_same_days():
    scope = pit_scope(PUMP, BY_HAND)
    estimate = price(scope, shipped(), SPRING)
    result = compare(scope, shipped(), SPRING, "30.010").results[0]
    (phase,) = job_risk(estimate).dates.phases
    # 4 ft in lifts of 3 ft: two days
    assert result.days == estimate.priced.days[0] == phase.days.high == 2.0


def test_three_trucks_of_a_quarter_hour_each_are_paid_their_own_call_out():
    """10 x 8 x 1 ft at 1.3 ton/cy and 5 % settlement are 4.0444 ton, at 15 ton/hr 0.27 hr.

    Three trucks are there 0.81 hr together; at 2 hr the least for each they are paid 6 hr.
    """
    size = {"length": "10 ft", "width": "8 ft", "depth": "1 ft", "production_rate": "15 ton/hr"}
    fill = item("010", "stone-fill-conveyor-hired", **size, trucks="3 ea")
    estimate = price(scope_of(shipped(), {"30": [fill]}), shipped(), SPRING)
    trucks = estimate.lines_of("30.010")[2]
    assert (trucks.net, trucks.ordered, trucks.cents) == (81, 600, 111_000)
    assert (
        "each of 3 is called out on one day, paid by its own minimum and multiple: 6.00 hr, with "
        "5.19 hr of it not worked"
    ) in estimate.explain("30.010/3").steps


def test_a_truck_is_paid_its_minimum_on_every_day_it_comes():
    """310 cy are 23 loads, at 1.1 hr 25.3 hr: three days of 8 hr, and 1.3 hr for 4 hr: 28 hr.

    One load is 1.1 hr, for which 4 hr are paid. To be done in two days, two trucks come:
    12.65 hr each, 8 hr and 4.65 hr, which are paid as 4.75 hr: 25.5 hr.
    """
    hauls = [item("010", "hauling", volume="14 cy"), item("020", "hauling", volume="310 cy")]
    fast = item("030", "hauling", volume="310 cy") | {
        "methods": [
            {"name": "in two days", "days": "2 day"},
            {"name": "in a week", "days": "5 day"},
        ]
    }
    scope = scope_of(shipped(), {"50": [*hauls, fast]})
    estimate = price(scope, shipped(), SPRING)
    trucks = [estimate.lines_of(f"50.{code}")[0].ordered for code in ("010", "020", "030")]
    assert trucks == [400, 2800, 2550]
    assert not any("minimum" in note for note in estimate.warnings)
    by_name = {one.method.name: one for one in compare(scope, shipped(), SPRING, "50.030").results}
    assert by_name["in two days"].by_kind["haul"] == Decimal("2677.50")
    assert by_name["in a week"].by_kind["haul"] == Decimal("2940.00")


def test_trucks_that_come_with_the_crew_come_on_every_day_of_it():
    """19 hr of the crew are 2.375 days: 8, 8 and 3 hr each of two trucks, 4 hr the least: 40 hr.

    Trucks with 25 hr of their own keep up with the crew: two, 12.5 hr each, 8 and 4.5 hr, 25 hr.
    """
    line = next(x for x in shipped().catalogue.assemblies["hauling"].lines if x.minimum)
    values = {
        "crew_hours": np.array([19.0]), "shift": np.array([8.0]), "own": np.array([25.0]),
    }  # fmt: skip
    paid = []
    for formula in ("2 * crew_hours", "own"):
        need = line_need(replace(line, formula=read_formula(formula)), values, unit("hr"), 1)
        paid.append(order_of(need, 2).ordered.tolist())
    assert paid == [[4000], [2500]]
