"""Days of an item: its hours over the shift, or what has to wait if that is more."""

from decimal import Decimal

import pytest

from estimator.pricing.estimate import price
from estimator.studies.comparison.comparison import compare
from estimator.studies.risk.phase_durations import phase_durations
from tests.factories import SPRING, item, scope_of
from tests.scope.methods.choices import BY_HAND, PUMP, THROW, pit_scope, sample_choice, shipped


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
    # 444.44 cy at 20 cy/hr are 22.22 hr
    assert estimate.priced.days[0] == pytest.approx(22.2222 / 8, abs=1e-4)


def test_a_phase_lasts_as_long_as_its_items_wait():
    slab = item("010", "curing-and-joints", area="900 sf")
    estimate = price(scope_of(shipped(), {"40": [slab]}), shipped(), SPRING)
    assert estimate.priced.crew_hours[0] < 8
    (phase,) = phase_durations(estimate)
    assert (phase.days.low, phase.days.high) == (5.0, 5.0)


@pytest.mark.parametrize(
    ("pace", "low", "likely", "high"),
    [
        # 4 ft of 80 sf are 11.85 cy, 0.59 hr at 20 cy/hr: two lifts take two days at any pace
        (["50 %", "100 %", "150 %"], 2.0, 2.0, 2.0),
        # at a fiftieth of the pace the hours decide: 0.5926 / 0.02 / 8 = 3.70 days
        (["2 %", "100 %", "150 %"], 2.0, 2.0, 3.7037),
    ],
)
def test_a_slow_pace_stretches_the_hours_and_never_the_waiting(pace, low, likely, high):
    fill = item("010", "flowable-fill-pumped", length="10 ft", width="8 ft", depth="4 ft")
    scope = scope_of(shipped(), {"30": [fill]}, risk={"pace": pace})
    estimate = price(scope, shipped(), SPRING)
    (phase,) = phase_durations(estimate)
    days = (phase.days.low, phase.days.likely, phase.days.high)
    assert days == pytest.approx((low, likely, high), abs=1e-4)


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
    (phase,) = phase_durations(estimate)
    # 4 ft in lifts of 3 ft: two days
    assert result.days == estimate.priced.days[0] == phase.days.high == 2.0


def test_a_call_out_is_taken_once_and_said_so_where_nobody_says_how_many_come():
    """One load of 14 cy takes 1.1 hr; four hours are charged at the least.

    Three trucks would be charged 12 hr, of which the assembly knows nothing.
    """
    two = [item(code, "hauling", volume="14 cy") for code in ("010", "020")]
    estimate = price(scope_of(shipped(), {"50": two}), shipped(), SPRING)
    first = estimate.lines_of("50.010")[0]
    assert (first.net, first.ordered, first.decimals) == (110, 400, 2)
    (note,) = estimate.warnings
    assert note == (
        "the minimum charge of 'haul-truck' is taken once in 50.010, 50.020, on all its hours "
        "together: if several come, or on several days, each may be charged its own; a method "
        "with a working system counts them"
    )


def test_a_call_out_that_a_system_counts_has_nothing_to_say():
    estimate = price(pit_scope(THROW, BY_HAND), shipped(), SPRING)
    assert not any("minimum charge" in note for note in estimate.warnings)
