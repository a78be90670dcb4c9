import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import LaborFaulty
from estimator.production.learning import (
    days_with_slow_start,
    total_hours,
    total_hours_by_average,
    unit_hours,
)

fractions = st.floats(0.5, 1.0)


def test_the_first_unit_takes_what_it_takes():
    assert unit_hours(12.0, 1.0, 0.8) == 12.0


def test_each_doubling_saves_the_same_part():
    np.testing.assert_allclose(unit_hours(10.0, [1, 2, 4, 8], 0.9), [10.0, 9.0, 8.1, 7.29])


def test_who_learns_nothing_takes_the_same_time_for_ever():
    assert unit_hours(10.0, 500.0, 1.0) == 10.0
    assert total_hours(10.0, 5, 1.0) == 50.0


def test_the_total_is_the_sum_of_the_units():
    assert total_hours(10.0, 2, 0.8) == 18.0
    assert total_hours(10.0, 3, 0.8) == pytest.approx(25.0210, abs=5e-5)


def test_where_the_average_learns_the_total_is_lower():
    assert total_hours_by_average(10.0, 2, 0.8) == pytest.approx(16.0, rel=1e-15)


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
        lambda: unit_hours(10.0, 0.0, 0.8),
        lambda: unit_hours(10.0, 0.5, 0.8),
        lambda: unit_hours(0.0, 1.0, 0.8),
        lambda: unit_hours(10.0, 1.0, 0.0),
        lambda: unit_hours(10.0, 1.0, 1.1),
        lambda: total_hours(10.0, 0, 0.8),
        lambda: total_hours_by_average(10.0, 2_000_000, 0.8),
        lambda: days_with_slow_start(10.0, 0.0, []),
        lambda: days_with_slow_start(10.0, 20.0, [0.0]),
        lambda: days_with_slow_start(10.0, 20.0, [1.5]),
    ],
)
def test_learning_that_cannot_be_is_refused(make):
    with pytest.raises(LaborFaulty):
        make()


@given(st.integers(1, 300), fractions)
def test_learning_never_makes_the_work_longer(units, fraction):
    assert total_hours(1.0, units, fraction) <= units * (1 + 1e-12)
    assert total_hours_by_average(1.0, units, fraction) <= total_hours(1.0, units, fraction) + 1e-9


@given(st.floats(0, 1e4), st.lists(st.floats(0.1, 1.0), max_size=5))
def test_a_slow_start_never_takes_less_and_at_most_its_own_days_more(quantity, starts):
    days = days_with_slow_start(quantity, 20.0, starts)
    assert quantity / 20.0 - 1e-9 <= days <= quantity / 20.0 + len(starts) + 1e-9
