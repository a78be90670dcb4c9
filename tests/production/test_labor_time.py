import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import LaborFaulty
from estimator.production.labor_time import (
    crew_days,
    crew_hours,
    labor_numbers,
    man_days,
    man_hours,
    whole_workdays,
)

positive = st.floats(0.1, 1e4)
fraction = st.floats(0.05, 1.0)


def test_man_hours_go_by_the_size_of_the_tables_unit():
    assert man_hours(2500.0, 33.0, unit_size=1000.0) == 82.5


def test_a_delay_factor_lengthens_the_work():
    assert man_hours(1000.0, 33.0, unit_size=1000.0, delay_factor=1.5) == 49.5


def test_no_work_takes_no_time():
    assert man_hours(0.0, 33.0) == 0.0
    assert crew_hours(0.0, 10.0) == 0.0
    assert crew_days(0.0, 4.0) == 0.0


def test_an_hour_of_fifty_minutes_takes_a_fifth_longer():
    assert crew_hours(60.0, 10.0, efficiency=50.0 / 60.0) == pytest.approx(7.2, rel=1e-15)


def test_man_days_are_of_eight_hours_unless_said_otherwise():
    assert man_days(96.0) == 12.0
    assert man_days(96.0, hours_per_man_day=6.0) == 16.0


def test_a_longer_workday_needs_fewer_days():
    assert crew_days(45.0, 4.0, man_days_per_workday=9.0 / 8.0) == 10.0


def test_a_started_day_is_a_day():
    assert whole_workdays(8.05) == 9.0
    assert whole_workdays(9.0) == 9.0


def test_items_are_taken_together():
    np.testing.assert_allclose(crew_hours([100.0, 0.0], [10.0, 20.0], 0.5), [20.0, 0.0])
    np.testing.assert_array_equal(whole_workdays([0.2, 3.0]), [1.0, 3.0])


@pytest.mark.parametrize("efficiency", [0.0, -0.5, 1.2, float("nan")])
def test_an_efficiency_outside_nothing_to_one_is_refused(efficiency):
    with pytest.raises(LaborFaulty, match="efficiency: is"):
        crew_hours(100.0, 10.0, efficiency=efficiency)


def test_one_bad_efficiency_of_many_is_refused():
    with pytest.raises(LaborFaulty, match="efficiency: is above 1"):
        crew_hours(100.0, 10.0, efficiency=[0.5, 1.5])


@pytest.mark.parametrize(
    "make",
    [
        lambda: man_hours(-1.0, 33.0),
        lambda: man_hours(100.0, 0.0),
        lambda: man_hours(100.0, 33.0, unit_size=0.0),
        lambda: crew_hours(100.0, 0.0),
        lambda: man_days(-1.0),
        lambda: crew_days(10.0, 0.0),
        lambda: crew_days(10.0, 4.0, availability=1.5),
        lambda: whole_workdays(float("inf")),
        lambda: labor_numbers(hours="many"),
    ],
)
def test_work_that_cannot_be_is_refused(make):
    with pytest.raises(LaborFaulty):
        make()


@given(positive, positive, fraction)
def test_a_lower_efficiency_never_takes_less_time(quantity, rate, efficiency):
    assert crew_hours(quantity, rate, efficiency) >= crew_hours(quantity, rate)


@given(positive, positive, fraction)
def test_twice_the_crew_needs_half_the_days(work, crew, availability):
    days = crew_days(work, crew, availability)
    assert crew_days(work, 2.0 * crew, availability) == pytest.approx(days / 2.0, rel=1e-12)
