"""P50 and P80 of the cost at completion, and what they rest on."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import numpy as np
import pytest

from estimator.ranges.distributions import Triangular, Uniform
from estimator.ranges.events import Event
from estimator.ranges.latin_hypercube import line_generator
from estimator.scope.stated_ranges import Spread
from estimator.tracking.books import Books
from estimator.tracking.books_by_day import daily_books
from estimator.tracking.commitments import Commitment
from estimator.tracking.forecast_ranges import forecast_range
from estimator.tracking.job_track import track
from estimator.tracking.rest_lines import StatedRanges, spread_of_weeks
from estimator.tracking.weekly_costs import WeekOfWork, weeks_of_work
from tests.tracking.estimates import line, printed, rate
from tests.tracking.rows import LATER, MONDAY, NOW, at, cost, progress
from tests.tracking.test_status import BUDGET

STONE = ("20.010", "material")
CREW = ("20.010", "labor")


def ahead(books, stated=None, **more):
    report = track(books, BUDGET, LATER, NOW)
    days = daily_books(books, LATER, NOW)
    ranged = forecast_range(days, report, printed(), stated or StatedRanges(), **more)
    return report, ranged


def weekly(*dollars, tons=40):
    """Return books of a code that each week places so many tons for so many dollars of labor."""
    days = [MONDAY + timedelta(7 * week + 4) for week in range(len(dollars))]
    return Books(
        costs=[cost(n, (*CREW, 100 * one, 0), happened=day)
               for n, (day, one) in enumerate(zip(days, dollars, strict=True), 1)],
        progress=[progress(50 + n, "20.010", str(tons * n), happened=day)
                  for n, day in enumerate(days, 1)],
    )  # fmt: skip


def test_with_nothing_that_varies_both_are_the_forecast_without_the_contingency():
    report, ranged = ahead(weekly(400, 400))
    undrawn = BUDGET["contingency"].cents
    forecast = sum(report.forecast_cents(one) for one in report.status.codes)
    assert ranged.p50_cents == ranged.p80_cents == forecast - undrawn


def test_the_jobs_own_weeks_are_taken_from_five_on_and_said():
    """Five weeks of 40 ton for $2,000 in all leave 200 ton for $2,000.00."""
    _, four = ahead(weekly(380, 420, 390, 410))
    _, five = ahead(weekly(380, 420, 390, 410, 400))
    assert four.p80_cents == four.p50_cents
    assert five.p80_cents > five.p50_cents
    assert "$2,000.00 is ranged by the job's own weeks (5 or more)" in five.statements[0]


def test_what_is_ordered_is_certain_at_its_price():
    order = Commitment(9, MONDAY, at(MONDAY), "7", "Quarry", *STONE, 1_200_000)
    books = replace(weekly(380, 420, 390, 410, 400), commitments=[order])
    _, ranged = ahead(books)
    assert "$2,000.00 incurred and $12,000.00 on order are certain" in ranged.statements[0]


def test_a_stated_quantity_ranges_the_rest_the_more_the_less_of_it_is_left():
    """400 ton, or up to 440: with 80 in place the rest is 320 to 360, an eighth more at most."""
    stated = StatedRanges({"20.010": Spread(quantity=Uniform(1.0, 1.1))})
    _, ranged = ahead(weekly(400, 400), stated, iterations=1000)
    rest = ranged.by_phase["20"][1] - 80_000
    assert rest == pytest.approx(320_000 * (1 + 0.125 * 0.8), rel=1e-3)


def test_a_quantity_that_was_measured_again_is_certain():
    stated = StatedRanges({"20.010": Spread(quantity=Uniform(1.0, 1.1))})
    books = weekly(400, 400)
    again = [replace(one, expected=Decimal(420)) for one in books.progress]
    _, ranged = ahead(replace(books, progress=again), stated)
    assert ranged.by_phase["20"] == (420_000, 420_000)


def test_an_event_counts_until_its_phase_has_begun_and_both_is_said():
    events = (
        Event("a cistern", 0.9, Uniform(9e5, 1e6), phase="20"),
        Event("a rotten post", 0.9, Uniform(9e5, 1e6), phase="40"),
    )
    _, ranged = ahead(weekly(400, 400), StatedRanges(events=events))
    assert ranged.by_phase["20"] == (400_000, 400_000)
    assert ranged.by_phase["40"][0] > 480_000 + 900_000
    assert ranged.statements[-2:] == (
        "Counted with its chance, in phases that have not begun: a rotten post.",
        "Left out, as its phase has begun: a cistern.",
    )


def test_the_same_seed_gives_the_same_figures_and_they_name_it():
    stated = StatedRanges({"40.010": Spread(quantity=Triangular(0.9, 1.0, 1.4))})
    _, one = ahead(weekly(400, 400), stated, seed=7)
    _, again = ahead(weekly(400, 400), stated, seed=7)
    _, other = ahead(weekly(400, 400), stated, seed=8)
    assert one == again
    assert one.p50_cents != other.p50_cents
    assert "10,000 iterations in Latin hypercubes, seed 7." in one.statements


def test_the_chance_that_the_budget_is_enough_counts_the_contingency_in():
    """$26,670.00 of work and overhead has a budget of $29,170.00 with its contingency."""
    stated = StatedRanges({"40.010": Spread(quantity=Uniform(1.0, 2.0))})
    _, ranged = ahead(Books(), stated)
    # the wall costs $4,800 to $9,600; over $7,300 the contingency of $2,500 is used up
    assert ranged.within_budget == pytest.approx(2_500 / 4_800, abs=0.002)
    assert ranged.statements[-1].endswith("with it, is enough is 52 %.")


def test_weeks_hold_all_that_recurs_and_nothing_that_does_not():
    """A week without a measurement goes with the next one, what came last with the last."""
    books = weekly(400, 500, 300)
    late = date(2026, 6, 19)
    costs = [*books.costs, cost(8, (*CREW, 700, 0), happened=late),
             cost(9, (*CREW, 99_900, 0), is_once=True)]  # fmt: skip
    only = [books.progress[0], books.progress[2]]
    known = replace(books, costs=costs, progress=only)
    weeks = weeks_of_work(daily_books(known, LATER, NOW), LATER)["20.010"]
    assert [(one.quantity, dict(one.cents_by_kind)) for one in weeks] == [
        (40.0, {"labor": 40_000}),
        (80.0, {"labor": 80_700}),
    ]


@pytest.mark.parametrize("count", [6, 12])
def test_a_spread_of_weeks_holds_the_rest_as_often_as_it_says(count):
    """2,000 jobs: what 200 ton then cost is below P80 in 80 % of them, give or take 3."""
    chance = line_generator(1906, 0, count)
    tons, held = 25.0, 0
    for _ in range(2_000):
        dollars = 30.0 * tons + chance.normal(0.0, 60.0, count)
        weeks = [WeekOfWork(MONDAY, tons, {"labor": round(100 * one)}) for one in dollars]
        factor = spread_of_weeks(weeks, "labor", 200.0)
        assert factor is not None
        limit = dollars.sum() / (count * tons) * 200.0 * factor.quantile([0.8])[0]
        rest = 30.0 * 200.0 + chance.normal(0.0, 60.0 * np.sqrt(200.0 / tons))
        held += rest <= limit
    assert held / 2_000 == pytest.approx(0.8, abs=0.03)


def test_weeks_that_differ_too_much_say_nothing():
    weeks = [WeekOfWork(MONDAY, 20.0, {"labor": one}) for one in (0, 0, 500_000, 0, 0)]
    assert spread_of_weeks(weeks, "labor", 100.0) is None


def test_with_few_weeks_a_kind_varies_with_the_low_and_high_of_its_rates_and_labor_with_pace():
    """The wall is not begun: $4,800 of labor at $40 an hour, $30 to $60, and a pace of 80 to 100 %.

    Of two triangles the most is 4,800 x 1.5 / 0.8 = $9,000.00, and the least $3,600.00.
    """
    made = printed(
        lines=[line("40.010", "mason", "labor", "hr", 120, 480_000)],
        rates=[rate("mason", "labor", "hr", "40", "30", "60")],
    )
    report = track(Books(), BUDGET, LATER, NOW)
    stated = StatedRanges({"40.010": Spread(pace=Triangular(0.8, 1.0, 1.0))})
    nothing = daily_books(Books(), LATER, NOW)
    rates_only = forecast_range(nothing, report, made, StatedRanges()).by_phase["40"]
    with_pace = forecast_range(nothing, report, made, stated).by_phase["40"]
    # triangle of 0.75, 1, 1.5: P50 is 1.5 - sqrt(.5 x .5 x .75), P80 1.5 - sqrt(.2 x .5 x .75)
    assert rates_only == (
        pytest.approx(480_000 * (1.5 - 0.1875**0.5), rel=1e-3),
        pytest.approx(480_000 * (1.5 - 0.075**0.5), rel=1e-3),
    )
    assert 480_000 * 1.05 < with_pace[0] < with_pace[1] < 900_000
