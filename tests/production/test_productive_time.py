from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import LaborFaulty
from estimator.production.productive_time import (
    PaidTime,
    cost_per_productive_hour,
    delay_factor,
    hour_efficiency,
    production_efficiency,
)

YEAR = PaidTime(Decimal(2100), Decimal(120), Decimal(30), Decimal(8), Decimal(50))


def test_leave_breaks_and_short_hours_leave_three_quarters_of_the_paid_time():
    assert YEAR.hours_at_work == Decimal(1980)
    assert YEAR.efficiency == Decimal("0.78125")
    assert YEAR.productive_hours == Decimal("1546.88")


def test_the_productive_hour_bears_the_cost_of_the_others():
    assert cost_per_productive_hour(Decimal("63909.90"), YEAR) == Decimal("41.3154")


def test_without_losses_the_productive_hour_is_the_paid_hour():
    assert cost_per_productive_hour(Decimal("1200.00"), PaidTime(Decimal(40))) == Decimal("30.0000")


def test_fifty_minutes_are_five_sixths_of_an_hour():
    assert hour_efficiency(50.0) == pytest.approx(5 / 6, rel=1e-15)
    assert hour_efficiency(60.0) == 1.0


def test_the_overall_efficiency_is_the_plain_average():
    assert production_efficiency([0.25, 0.5, 0.75, 1.0]) == 0.625


def test_the_usual_efficiency_delays_nothing():
    assert delay_factor(0.67) == 1.0
    assert delay_factor(1.0) == 0.67


@pytest.mark.parametrize(
    "make",
    [
        lambda: PaidTime(Decimal(0)),
        lambda: PaidTime(Decimal(-1)),
        lambda: PaidTime(Decimal(40), leave_hours=Decimal(41)),
        lambda: PaidTime(Decimal(40), break_minutes_per_day=Decimal(500)),
        lambda: PaidTime(Decimal(40), working_minutes_per_hr=Decimal(61)),
        lambda: PaidTime(Decimal(40), shift_hours=Decimal(0)),
        lambda: cost_per_productive_hour(Decimal(-1), YEAR),
        lambda: cost_per_productive_hour(Decimal(1), PaidTime(Decimal(40), Decimal(40))),
        lambda: hour_efficiency(0.0),
        lambda: hour_efficiency(61.0),
        lambda: production_efficiency([]),
        lambda: production_efficiency([0.5, 1.5]),
        lambda: delay_factor(0.0),
        lambda: delay_factor(1.01),
    ],
)
def test_time_that_cannot_be_is_refused(make):
    with pytest.raises(LaborFaulty):
        make()


@given(st.decimals(0, 300, places=1), st.decimals(0, 120, places=0), st.decimals(30, 60, places=0))
def test_productive_hours_are_never_more_than_paid_ones(leave, breaks, minutes):
    time = PaidTime(Decimal(2080), leave, breaks, Decimal(8), minutes)
    assert 0 < time.productive_hours <= time.hours_at_work <= time.paid_hours
    assert cost_per_productive_hour(Decimal(20800), time) >= 10
