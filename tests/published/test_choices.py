"""What a builder decides, own or rent, save or scrap, go on or change, against open libraries."""

import statistics
from decimal import Decimal

import numpy as np
import pytest
from scipy import stats
from scipy.optimize import brentq

from estimator.production.cycle import FlowStep, Load
from estimator.production.lifts import Lift, time_in_lifts
from estimator.production.placed_so_far import days_range, observed_pace, what_now
from estimator.production.working_system import Station, WorkingSystem
from estimator.quantity.takeoff.stone import lift_count
from estimator.rates.machines.rent_or_own import YearlyChoice, break_even_hours
from estimator.studies.comparison.changing_course import changed_course
from estimator.studies.comparison.cost_difference import save_or_scrap
from estimator.studies.comparison.curves import cost_curves
from estimator.studies.comparison.varied import varied_named
from tests.published.source import published
from tests.scope.methods.choices import BY_HAND, DIG, pit_choice, sample_choice

BRENTQ = "scipy.optimize.brentq (R. P. Brent, Algorithms for Minimization, 1973)"
FOUR_DAYS = [38.0, 46.0, 42.0, 50.0]


@published(
    source=BRENTQ,
    section="root of the difference of a year owned and a year rented over the hours",
    status="derived",
)
def test_owning_and_renting_a_year_cost_the_same_at_the_root_of_their_difference():
    choice = YearlyChoice(Decimal(10_550), Decimal("14.40"), Decimal("36.88"), Decimal("7.20"))
    root = brentq(lambda hr: 10_550 + 14.40 * hr - (36.88 + 7.20) * hr, 0.0, 2_000.0)
    assert float(break_even_hours(choice)) == pytest.approx(root, abs=0.01)


@published(
    source=BRENTQ,
    section="root of the difference of saving and wrecking a floor over the recovery",
    status="derived",
)
def test_saving_a_floor_pays_from_the_root_of_the_difference_on():
    comparison = sample_choice("20.010")
    found = save_or_scrap(comparison)
    varied = varied_named(comparison, "recovery")
    save, scrap = (comparison.place(one.method.name) for one in (found.save, found.scrap))

    def difference(share):
        cents = cost_curves(comparison, varied, np.array([share])).cents[:, 0]
        return float(cents[save] - cents[scrap])

    root = brentq(difference, varied.least, varied.most, xtol=1e-6)
    edges = [float(one.first) for one in found.cheapest.intervals[1:]]
    assert any(edge == pytest.approx(root, abs=5e-4) for edge in edges), (root, edges)


@published(
    source="Source not recorded: engineering economy, sunk costs",
    section="what is spent does not count: the way on is chosen by what is still to be paid",
    status="from memory",
    note="a quarter is placed; whatever it cost, each way on costs what the rest costs from here, "
    "and a switch is charged to every other way",
)
def test_what_was_spent_so_far_changes_no_way_on_and_a_switch_is_paid_by_all_others():
    comparison = pit_choice(DIG, BY_HAND)
    slow, fast = (changed_course(comparison, 0, observed_pace(days))
                  for days in ([25.2], [12.6, 12.6]))  # fmt: skip
    assert slow.ways[1].in_all == fast.ways[1].in_all
    dearer = changed_course(comparison, 0, observed_pace([25.2]), Decimal(300))
    assert dearer.ways[1].in_all - slow.ways[1].in_all == Decimal(300)
    assert dearer.going_on.in_all == slow.going_on.in_all


@published(
    source="scipy, stats.t and optimize.brentq",
    section="80 % by Student's t of three degrees: of the mean, and of days to come",
    status="derived",
    note="four days of 38, 46, 42 and 50; 114 of 290 left: the days T for which R - T m lies t "
    "standard deviations off, variance s^2 (T^2 / n + T)",
)
def test_four_days_of_work_leave_2_2_to_3_0_days_of_114_tons():
    pace = observed_pace(FOUR_DAYS)
    mean, deviation = np.mean(FOUR_DAYS), np.std(FOUR_DAYS, ddof=1)
    interval = stats.t.interval(0.8, 3, loc=mean, scale=deviation / 2)
    assert pace.likely_range == pytest.approx(interval, rel=1e-6)
    reach = stats.t.ppf(0.9, 3) * deviation

    def off(days, sign):
        return 114.0 - days * mean - sign * reach * np.sqrt(days**2 / 4 + days)

    fast, slow = (brentq(off, 0.01, 50.0, args=(sign,)) for sign in (1, -1))
    assert days_range(pace, 114.0) == pytest.approx((fast, slow), rel=1e-6)
    now = what_now(pace, 290.0, 58.0)
    assert (now.remaining, now.remaining_days) == (114.0, pytest.approx(114.0 / 44.0))


@published(
    source="Python, statistics.harmonic_mean",
    section="speeds weighted by the shares done at each",
    status="derived",
    note="times add up, speeds do not",
)
def test_the_speed_of_a_fill_is_the_harmonic_mean_of_its_lifts():
    shares, speeds = (0.5, 0.3, 0.2), (1.0, 0.8, 0.5)
    lifts = [Lift(str(speed), share, speed) for share, speed in zip(shares, speeds, strict=True)]
    mean = statistics.harmonic_mean(speeds, weights=shares)
    belt = FlowStep("throw", 10.0, "ton", "opening")
    placing = WorkingSystem("belt", 1, Load(1.0, "ton"), (belt,), (Station("opening"),))
    time = time_in_lifts(100.0, placing, "opening", lifts)
    assert time.at_best.hours == pytest.approx(100.0 / (10.0 * mean))


@published(
    source="US Army FM 5-434, Earthmoving Operations (2000)",
    section="ch. 11, a roller that reaches lifts of 6 in",
    status="derived",
    note="the lift was read (second-hand); 7 ft 3 in in lifts of 6 in are fourteen and a half",
)
def test_seven_feet_and_a_quarter_in_lifts_of_six_inches_are_fifteen():
    assert lift_count(7.25, 0.5) == 15
