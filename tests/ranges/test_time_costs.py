from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import CalendarFaulty, RangeFaulty
from estimator.production.working_calendar import WorkingCalendar, finish
from estimator.ranges.cost_drivers import drivers
from estimator.ranges.distributions import Fixed, Uniform
from estimator.ranges.phase_dates import simulated_dates
from estimator.ranges.phase_order import PhaseDuration
from estimator.ranges.simulation import simulated_totals
from estimator.ranges.time_costs import TimeCost, calendar_days, with_time_costs
from tests.ranges.jobs import job

CALENDAR, START = WorkingCalendar(), date(2026, 3, 5)
RAINY = WorkingCalendar(weather_days=(5.5,) * 12)
PHASES = (PhaseDuration("20", Uniform(5, 15)), PhaseDuration("30", Uniform(2, 4), ("20",)))
TOTALS, DATES = simulated_totals(job()), simulated_dates(PHASES, seed=7, iterations=2_000)


@given(
    st.lists(st.floats(0.01, 90.0), min_size=1, max_size=20),
    st.sampled_from([CALENDAR, RAINY]),
    st.dates(date(2026, 1, 1), date(2027, 12, 31)),
)
def test_calendar_days_are_those_of_the_working_calendar(days, calendar, start):
    found = calendar_days(np.array(days), calendar, start)
    assert found.tolist() == [finish(calendar, start, one).calendar_days for one in days]


def test_overhead_rides_on_the_whole_job_and_a_rental_on_its_phase():
    found = with_time_costs(
        TOTALS, DATES, [TimeCost("overhead", 20_000), TimeCost("pump", 10_000, "30")]
    )
    # Likely 10 and 3 days: 13 x 200 + 3 x 100 dollars.
    assert found.estimate_cents - TOTALS.estimate_cents == 13 * 20_000 + 3 * 10_000
    assert found.mean_cents - TOTALS.mean_cents == pytest.approx(290_000, abs=50)
    assert found.phases == ("20", "30", "10", "")
    assert found.phase_estimates[1] - TOTALS.phase_estimates[1] == 30_000
    assert (found.phase_totals.sum(axis=0) == found.total_cents).all()


def test_interest_runs_on_sundays_too():
    certain = simulated_dates([PhaseDuration("20", Fixed(2.5))], seed=7, iterations=2_000)
    interest = TimeCost("interest", 1_000, by_calendar_day=True)
    found = with_time_costs(TOTALS, certain, [interest], CALENDAR, START)
    assert found.estimate_cents - TOTALS.estimate_cents == 5_000
    assert set((found.total_cents - TOTALS.total_cents).tolist()) == {5_000}


def test_time_is_among_the_drivers_and_shares_still_add_up():
    found = drivers(with_time_costs(TOTALS, DATES, [TimeCost("overhead", 100_000)]))
    assert sum(one.share for one in found) == pytest.approx(1.0, abs=1e-12)
    overhead = next(one for one in found if one.name == "overhead")
    assert overhead.kind == "time"
    assert overhead.share > 0.2


def test_a_job_that_takes_no_time_costs_no_time():
    assert calendar_days(np.zeros(2), CALENDAR, START).tolist() == [0.0, 0.0]


@pytest.mark.parametrize(
    ("make", "error", "said"),
    [
        (
            lambda: TimeCost("interest", 5, "20", by_calendar_day=True),
            RangeFaulty,
            "time cost 'interest': calendar days of a single phase are not simulated",
        ),
        (lambda: TimeCost("interest", 0.5), RangeFaulty, "'0.5' is not in whole cents"),
        (
            lambda: with_time_costs(TOTALS, DATES, [TimeCost("pump", 5, "40")]),
            RangeFaulty,
            "time cost 'pump': '40' is not a phase with a duration",
        ),
        (
            lambda: with_time_costs(TOTALS, DATES, [TimeCost("i", 5, by_calendar_day=True)]),
            RangeFaulty,
            "time cost 'i': needs a calendar; give the calendar and the first day",
        ),
        (
            lambda: with_time_costs(TOTALS, simulated_dates(PHASES, seed=8), []),
            RangeFaulty,
            "dates: were drawn with another seed or number of iterations; use the same",
        ),
        (
            lambda: calendar_days(np.array([20_000.0]), CALENDAR, START),
            CalendarFaulty,
            "is above 10,000",
        ),
    ],
)
def test_time_costs_that_cannot_be_are_refused(make, error, said):
    with pytest.raises(error) as caught:
        make()
    assert said in str(caught.value)
