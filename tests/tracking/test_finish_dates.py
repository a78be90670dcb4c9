"""When the rest is done at the pace of the record; what is unknown is said to be."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from math import ceil

from hypothesis import given
from hypothesis import strategies as st

from estimator.production.working_calendar import WorkingCalendar, working_days_between
from estimator.tracking.books import Books
from estimator.tracking.books_by_day import daily_books
from estimator.tracking.dates_done import all_done, finish_dates
from estimator.tracking.job_track import track
from estimator.tracking.machine_log import MachineHours
from estimator.tracking.payroll_week import HoursRow
from estimator.tracking.planned_dates import PlannedDates, with_dates
from tests.tracking.rows import MONDAY, NOW, at, progress, ticket
from tests.tracking.test_status import BUDGET

FRIDAY = date(2026, 5, 8)


def hours(row, day, code="20.010", **more):
    return HoursRow(row, day, at(day), "DM", "laborer", code, Decimal(8), Decimal(36), **more)


def daily(*tons):
    """Return books of days from Monday on, each with hours and a measurement."""
    days = [MONDAY + timedelta(n) for n in range(len(tons))]
    sums = [sum(tons[: n + 1]) for n in range(len(tons))]
    return Books(
        hours=[hours(n, day) for n, day in enumerate(days, 1)],
        progress=[progress(20 + n, "20.010", str(own), happened=day)
                  for n, (day, own) in enumerate(zip(days, sums, strict=True))],
    )  # fmt: skip


def finishes(books, as_of=FRIDAY, budget=BUDGET, **more):
    report = track(books, budget, as_of, NOW, more.pop("since", None))
    return {one.code: one for one in finish_dates(daily_books(books, as_of, NOW), report, **more)}


def test_the_rest_is_done_at_the_pace_of_the_days_worked():
    """40 ton a day for five days leave 200 of 400: five days, to the next Friday."""
    fill = finishes(daily(38, 42, 40, 36, 44))["20.010"]
    assert (fill.left, fill.work_days, fill.done_by) == (200, 5.0, date(2026, 5, 15))
    assert fill.between == (date(2026, 5, 15), date(2026, 5, 18))
    assert fill.sentence == (
        "20.010 Stone fill: 200 tons left at 40 a day, that of the 5 days it was worked: 5.0 days "
        "of work; worked every working day from 2026-05-11, it is done on 2026-05-15"
    )


def test_a_day_without_hours_loads_or_machine_is_no_day_of_the_pace():
    """Worked on Monday and Thursday, measured on Friday: 200 ton in two days."""
    books = Books(
        tickets=[ticket(1, 100)],
        machine_hours=[
            MachineHours(2, date(2026, 5, 7), NOW, "loader", "20.010", Decimal(6)),
        ],
        progress=[progress(3, "20.010", "200", happened=FRIDAY)],
    )
    fill = finishes(books)["20.010"]
    assert (fill.work_days, fill.between) == (2.0, None)


def test_the_calendar_says_which_days_are_worked():
    saturdays = WorkingCalendar(frozenset({"Mon", "Tue", "Wed", "Thu", "Fri", "Sat"}))
    closed = WorkingCalendar(days_off=frozenset({date(2026, 5, 11)}))
    books = daily(40, 40, 40, 40, 40)
    ends = [finishes(books, calendar=one)["20.010"].done_by for one in (saturdays, closed)]
    assert ends == [date(2026, 5, 14), date(2026, 5, 18)]


def test_a_window_has_the_pace_of_its_own_days():
    """10 ton a day, then 50: 240 left are 24 days' work of the first pace, 4.8 of the last."""
    books = daily(10, 50, 50, 50)
    late = finishes(books, since=date(2026, 5, 5))["20.010"]
    assert (late.pace.per_day, round(late.work_days, 2)) == (50.0, 4.8)


def test_what_has_no_pace_is_unknown_and_says_why():
    begun = Books(progress=[progress(1, "20.010", "100")])
    ends = finishes(begun)
    assert ends["20.010"].done_by is None
    assert ends["20.010"].sentence == (
        "20.010 Stone fill: no finish date yet: no hours, loads or machine show on which days it "
        "was worked"
    )
    assert ends["40.010"].sentence == ("40.010 Wall: no finish date yet: nothing of it is measured")


def test_hours_that_were_taken_back_make_no_day():
    books = daily(40)
    back = replace(books.hours[0], row=9, hours=Decimal(-8), reverses=1)
    assert finishes(replace(books, hours=[*books.hours, back]))["20.010"].pace is None


def test_the_job_is_done_on_a_known_day_only_if_each_code_is():
    names = {code: one.name for code, one in BUDGET.items()}
    part = tuple(finishes(daily(40, 40)).values())
    assert all_done(part, names) == (
        "The job has no finish date yet: 2 codes have no pace. 20.010 Stone fill has one, and "
        "is done on 2026-05-20."
    )
    twice = (part[0], replace(part[0], code="20.020"), *part[1:])
    assert all_done(twice, {**names, "20.020": "East fill"}) == (
        "The job has no finish date yet: 2 codes have no pace. Of the 2 that have one, 20.010 "
        "Stone fill is the last to be done, on 2026-05-20."
    )
    assert all_done(part[:1], names) == (
        "The job is done on 2026-05-20, when 20.010 Stone fill is, at the pace of each code so far."
    )
    assert all_done((), names) == "Everything is in place."


def test_the_plan_says_its_day_for_what_has_no_pace_and_how_many_it_dates():
    names = {code: one.name for code, one in BUDGET.items()}
    fill, *others = finishes(daily(40, 40)).values()
    days = [date(2026, 6, 19), date(2026, 6, 12)]
    planned = [replace(one, planned=day) for one, day in zip(others, days, strict=True)]
    assert all_done((fill, *planned), names).endswith(
        "has one, and is done on 2026-05-20. The plan dates 2 of the 2, the last on 2026-06-19."
    )
    assert all_done((fill, planned[0], others[1]), names).endswith(
        "The plan dates 1 of the 2, the last on 2026-06-19."
    )


def test_the_planned_day_stands_beside_it():
    """That of the schedule, until one is posted."""
    scheduled = with_dates(BUDGET, {"20.010": (MONDAY, date(2026, 5, 13))})
    assert finishes(daily(40), budget=scheduled)["20.010"].planned == date(2026, 5, 13)
    later = PlannedDates(9, MONDAY, at(MONDAY), "20.010", MONDAY, date(2026, 5, 20))
    posted = replace(daily(40), plans=[later])
    assert finishes(posted, budget=scheduled)["20.010"].planned == date(2026, 5, 20)


@given(st.lists(st.integers(1, 60), min_size=1, max_size=5))
def test_the_days_of_a_sentence_place_what_is_left(tons):
    """Working days to the day it is done, at the pace, reach the rest; one fewer does not."""
    fill = finishes(daily(*tons))["20.010"]
    days = working_days_between(WorkingCalendar(), FRIDAY + timedelta(1), fill.done_by)
    assert days * fill.pace.per_day >= float(fill.left) - 1e-6
    assert (days - 1) * fill.pace.per_day < float(fill.left)
    printed = Fraction(fill.sentence.split(": ")[2].split(" days of work")[0])
    assert days == ceil(printed)


def test_the_days_that_hold_the_end_four_times_in_five_are_those_of_the_spread():
    """At 38, 46, 42 and 50 ton a day 114 more take 2.59 days, 2.23 to 3.03 four times in five."""
    books = daily(38, 46, 42, 50)
    books = replace(books, progress=[
        *books.progress[:-1], replace(books.progress[-1], expected=Decimal(290)),
    ])  # fmt: skip
    fill = finishes(books)["20.010"]
    assert (fill.left, fill.done_by) == (114, date(2026, 5, 13))
    assert fill.between == (date(2026, 5, 13), date(2026, 5, 14))
