import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import LaborFaulty
from estimator.production.delays import Delays, days_with_slow_start


def test_an_hour_of_fifty_minutes_takes_a_fifth_longer():
    np.testing.assert_allclose(Delays(50.0).hours(np.array([6.0]), 8.0), [7.2])


def test_hard_conditions_count_against_the_usual_67_percent():
    hard = Delays(conditions=(("site", 0.5), ("weather", 0.5)))
    assert hard.factor == pytest.approx(1.34)
    assert list(hard.words()) == [
        "conditions average 50 % (site 50 %, weather 50 %) where 67 % is usual (x 1.34)"
    ]


def test_first_days_are_slow_after_all_other_delays():
    """8 hours at the rate are 9.6; half a day, 4 hours, in 8, and the other 5.6 on the next day."""
    np.testing.assert_allclose(Delays(50.0, (), (0.5,)).hours(np.array([8.0]), 8.0), [13.6])


def test_hours_that_are_no_number_stay_so():
    hours = Delays(50.0, (), (0.5,)).hours(np.array([np.nan, np.inf, 0.0]), 8.0)
    np.testing.assert_array_equal(hours, [np.nan, np.inf, 0.0])


def test_delays_say_each_reason():
    assert list(Delays(50.0, (), (0.5, 0.75)).words()) == [
        "50 minutes of each hour are worked (x 1.2)",
        "the first 2 days bring 50 % and 75 % of a steady day",
    ]


def test_a_slow_start_costs_its_days():
    assert days_with_slow_start(15.0, 20.0, [0.5, 0.75]) == pytest.approx(1 + 5 / 15)
    assert days_with_slow_start(25.0, 20.0, [0.5, 0.75]) == 2.0
    assert days_with_slow_start(65.0, 20.0, [0.5, 0.75]) == 4.0


def test_without_a_slow_start_days_are_quantity_over_rate():
    assert days_with_slow_start(65.0, 20.0, []) == 3.25


def test_no_work_takes_no_day():
    assert days_with_slow_start(0.0, 20.0, [0.5]) == 0.0


def test_quantities_are_taken_together():
    np.testing.assert_allclose(days_with_slow_start([0.0, 10.0, 30.0], 20.0, [0.5]), [0, 1, 2])


@pytest.mark.parametrize(
    "make",
    [
        lambda: Delays(0.0),
        lambda: Delays(61.0),
        lambda: Delays(conditions=(("site", 1.1),)),
        lambda: Delays(first_days=(0.0,)),
        lambda: days_with_slow_start(10.0, 0.0, []),
        lambda: days_with_slow_start(10.0, 20.0, [0.0]),
        lambda: days_with_slow_start(10.0, 20.0, [1.5]),
    ],
)
def test_delays_that_cannot_be_are_refused(make):
    with pytest.raises(LaborFaulty):
        make()


@given(st.floats(0, 1e4), st.lists(st.floats(0.1, 1.0), max_size=5))
def test_a_slow_start_never_takes_less_and_at_most_its_own_days_more(quantity, starts):
    days = days_with_slow_start(quantity, 20.0, starts)
    assert quantity / 20.0 - 1e-9 <= days <= quantity / 20.0 + len(starts) + 1e-9
