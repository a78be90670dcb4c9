"""The day sheet for the clipboard, and the course of the job by week."""

from datetime import date, timedelta
from decimal import Decimal

import pytest

from estimator.pricing.estimate import CautionNote
from estimator.rates.machines.rental_rates import RentalRates
from estimator.tracking.books import Books
from estimator.tracking.job_track import track
from estimator.tracking.machines_on_rent import CalledOff, OnRent
from estimator.tracking.payroll_week import HoursRow
from estimator.tracking.printed_day_sheet import day_sheet_page, plan_of_day
from estimator.tracking.weekly_course import WeekPoint, course_by_week
from tests.tracking.rows import MONDAY, NOW, at, cost, progress
from tests.tracking.test_status import BUDGET

STONE = ("20.010", "material")
LIFT = OnRent(
    2, MONDAY, at(MONDAY), "lift", "Yard", "40.010", RentalRates(day=Decimal(295))
)  # fmt: skip


def plan(books, day, cautions=(), as_of=None):
    report = track(books, BUDGET, as_of or day, NOW)
    return plan_of_day(books, report, BUDGET, cautions, day)


def codes(books, day):
    return [one.code for one in plan(books, day).codes]


def worked(day):
    return HoursRow(1, day, at(day), "AB", "mason", "40.010", Decimal(8), Decimal(20))


@pytest.mark.parametrize(
    ("day", "planned"),
    [(date(2026, 5, 3), False), (MONDAY, True), (date(2026, 5, 13), True),
     (date(2026, 5, 14), False)],
)  # fmt: skip
def test_an_item_is_in_work_from_its_first_planned_day_to_its_last(day, planned):
    """The stone fill is planned from May 4 to May 13."""
    assert codes(Books(), day) == (["20.010"] if planned else [])


@pytest.mark.parametrize(("days", "is_there"), [(-1, False), (0, True), (7, True), (8, False)])
def test_an_item_is_in_work_for_a_week_after_somebody_worked_on_it(days, is_there):
    books = Books(hours=[worked(MONDAY)])
    assert ("40.010" in codes(books, MONDAY + timedelta(days))) is is_there


def test_an_item_that_is_done_is_in_work_no_longer():
    assert codes(Books(progress=[progress(1, "20.010", "399")]), MONDAY) == ["20.010"]
    assert codes(Books(progress=[progress(1, "20.010", "400")]), MONDAY) == []


@pytest.mark.parametrize(("days", "is_there"), [(-1, False), (0, True), (2, True), (3, False)])
def test_a_machine_is_listed_from_its_first_day_on_rent_to_its_last(days, is_there):
    off = CalledOff(3, MONDAY + timedelta(2), at(MONDAY), 2)
    books = Books(rents=[LIFT], called_off=[off])
    day = MONDAY + timedelta(days)
    machines = plan(books, day, as_of=MONDAY + timedelta(5)).machines
    assert machines == (("lift, Yard",) if is_there else ())


def test_cautions_are_those_of_the_items_in_work():
    own, other = CautionNote("dust", ("20.010", "90.010")), CautionNote("lead", ("40.010",))
    assert plan(Books(), MONDAY, (own, other)).cautions == (own,)


def test_the_page_is_eighty_wide_with_room_behind_every_label():
    lines = day_sheet_page(plan(Books(rents=[LIFT]), MONDAY), "Barn").splitlines()
    assert lines[0] == "Barn" + "Day sheet, Monday 2026-05-04".rjust(76)
    blanks = [line for line in lines if "__" in line and not line.startswith("20.010")]
    assert {len(line) for line in blanks} == {80}
    assert "Weather ___" in lines[2]
    assert lines.count("_" * 80) == 6
    (item,) = [line for line in lines if line.startswith("20.010")]
    assert item.split()[:4] == ["20.010", "Stone", "fill", "0"]
    assert "lift, Yard" in lines


def test_the_course_tells_each_sunday_what_was_planned_earned_and_incurred_and_the_day_itself():
    """Planned, earned and incurred to date.

    The fill of $14,600.00 is planned over ten days, May 4 to 13; overhead of $1,070.00 goes with
    the work of $21,400.00: $730.00 with it. 112 of 400 ton are $4,088.00, with overhead $4,292.40.
    """
    books = Books(costs=[cost(1, (*STONE, 400_000, 0))], progress=[progress(2, "20.010", "112")])
    assert course_by_week(books, {MONDAY: 400_000}, BUDGET, date(2026, 5, 12), NOW) == (
        WeekPoint(date(2026, 5, 10), 1_073_100, 429_240, 400_000),
        WeekPoint(date(2026, 5, 12), 1_379_700, 429_240, 400_000),
        WeekPoint(date(2026, 5, 17), 1_533_000),
    )


def test_a_running_rent_is_in_the_course_as_it_accrues():
    """Seven days at $295.00 by the first Sunday: $2,065.00."""
    (week,) = course_by_week(Books(rents=[LIFT]), {}, {}, date(2026, 5, 10), NOW)
    assert (week.day, week.incurred_cents) == (date(2026, 5, 10), 206_500)


def test_the_course_runs_to_the_last_day_of_the_schedule():
    """The fill is scheduled to May 13, and nothing was posted: the plan is shown to its end."""
    course = course_by_week(Books(), {}, BUDGET, MONDAY, NOW)
    assert [(one.day, one.planned_cents) for one in course] == [
        (MONDAY, 153_300), (date(2026, 5, 10), 1_073_100), (date(2026, 5, 17), 1_533_000)
    ]  # fmt: skip
