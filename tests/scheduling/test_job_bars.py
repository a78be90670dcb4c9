"""A job as bars: stated waits, crews at work, rented machines, letters for a terminal."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from estimator.production.working_calendar import WorkingCalendar
from estimator.scheduling.bar_marks import (
    bar_letters,
    day_columns,
    load_letters,
    month_letters,
    rent_letters,
)
from estimator.scheduling.dated_estimate import price
from estimator.scheduling.hands_at_work import crew_load
from estimator.scheduling.job_bars import assumed_calendar, bars_of
from estimator.scheduling.job_dates import job_schedule
from estimator.scheduling.rent_by_dates import RentSpan, ordered_quantities, rent_spans
from estimator.scheduling.stated_waits import wait_spans
from tests.factories import SPRING, item, made_tables, scope_with
from tests.scope.methods.choices import sample

MONDAY = date(2026, 4, 6)
PIT = {"length": "60 ft", "width": "20 ft", "depth": "24 in"}
PLAIN = WorkingCalendar(country="")


@pytest.fixture(scope="module")
def tables(tmp_path_factory):
    return made_tables(tmp_path_factory.mktemp("made"))


def phase(code, *items, **plan):
    return {"code": code, "name": f"Phase {code}", "items": list(items), **plan}


def cut(code, feet):
    """Return an item of the solo crew: 30 ft an hour, eight hours a day."""
    return item(code, "floor-cut", length=f"{feet} ft")


def scheduled(tables, *phases, start=MONDAY, **head):
    estimate = price(scope_with(tables, list(phases), **head), tables, SPRING)
    return estimate, job_schedule(estimate, PLAIN, start)


def april(*days):
    return [date(2026, 4, day) for day in days]


@pytest.mark.parametrize(
    ("plan", "days"),
    [
        ({"wait": "7 days"}, (8, 13)),  # done on Tuesday: free again on Tuesday
        ({"wait": "3 working days"}, (8, 12)),  # and the weekend: free on Monday
        ({"starts_with": ["20"], "wait": "4 days"}, (7, 9)),  # begun on Monday: free on Friday
    ],
)
def test_a_stated_wait_is_the_days_on_which_work_may_not_begin(tables, plan, days):
    jobs = scheduled(tables, phase("20", cut("010", 480)), phase("30", cut("010", 240), **plan))
    (wait,) = wait_spans(*jobs)
    assert (wait.code, wait.after) == ("30", "20")
    assert [wait.first, wait.last] == april(*days)
    assert jobs[1].phases[1].start > wait.last


def test_a_wait_of_one_day_leaves_no_whole_day_between(tables):
    jobs = scheduled(
        tables, phase("20", cut("010", 480)), phase("30", cut("010", 240), wait="1 day")
    )
    assert wait_spans(*jobs) == ()


def test_one_who_goes_from_one_work_to_the_next_on_a_day_is_counted_once(tables):
    """A day and a half, then a half: the same hand until Tuesday evening."""
    jobs = scheduled(tables, phase("20", cut("010", 360), cut("020", 120)))
    (load,) = crew_load(*jobs)
    assert dict(load.by_day) == dict.fromkeys(april(6, 7), Decimal(1))
    assert load.words == "up to 1"


def test_two_at_once_are_two_and_what_runs_along_takes_nobody(tables):
    jobs = scheduled(
        tables,
        phase("20", cut("010", 480)),
        phase("30", cut("010", 240), after=[]),
        phase("40", cut("010", 60), along=["20"]),
        crew={"owner-hand": "3"},
    )
    (load,) = crew_load(*jobs)
    assert [int(load.by_day[day]) for day in april(6, 7)] == [2, 1]
    assert load.words == "up to 2 of 3"


def test_a_machine_stays_while_its_work_goes_on_and_comes_again_after_a_break(tables):
    """88.9 cy x 1.35 = 120 ton at 16 an hour are 7.5 hr, a day of the loader each."""
    fill = [item(f"0{n}0", "stone-fill", **PIT) for n in (1, 2)]
    jobs = scheduled(tables, phase("20", *fill), phase("30", cut("010", 480)), phase("40", fill[0]))
    first, second = rent_spans(*jobs)
    assert (first.items, second.items) == (("20.010", "20.020"), ("40.010",))
    assert first.first == MONDAY
    assert first.last < second.first
    assert (first.quantity, second.quantity) == (2, 1)
    assert all(one.is_dated for one in (first, second))
    assert ordered_quantities((first, second)).endswith(" days")


def test_a_machine_of_the_crew_is_no_rent_and_one_along_other_work_has_no_days(tables):
    fill = phase("20", item("010", "stone-fill", **PIT))
    own = scheduled(tables, fill, crew={"loader": "1", "laborer": "2"})
    assert rent_spans(*own) == ()
    beside = phase("30", item("010", "stone-fill", **PIT), along=["20"])
    spans = rent_spans(*scheduled(tables, fill, beside))
    assert {one.items: one.is_dated for one in spans} == {("20.010",): True, ("30.010",): False}


def test_the_letters_of_a_job(tables):
    """Three phases from Monday: two days, a wait until Tuesday, two days; one day beside them."""
    bars = bars_of(
        *scheduled(
            tables,
            phase("20", cut("010", 480)),
            phase("30", cut("010", 480), wait="7 days"),
            phase("40", cut("010", 240), after=[]),
            phase("50", cut("010", 60), along=["20"]),
        )
    )
    columns = day_columns(bars, 20)
    assert (columns.days, columns.count) == (1, 10)
    letters = {row.work.code: bar_letters(row, columns) for row in bars.rows}
    assert letters["20"] == letters["20.010"] == "##........"
    assert letters["30"] == "..~~~~~~##"
    assert letters["30.010"] == "........##"
    assert letters["40"] == "=........."
    assert letters["50"] == "--........"
    assert "50.010" not in letters  # it has the days of its phase
    assert [row.words for row in bars.rows if row.is_phase] == [
        "critical", "critical", "float 7.0 days", "along 20",
    ]  # fmt: skip
    (load,) = bars.load
    assert load_letters(load, columns) == "21......11"


def test_a_long_job_has_more_days_in_a_column_and_its_shortest_work_is_seen(tables):
    long = {**cut("010", 240), "duration": "500 day"}
    bars = bars_of(*scheduled(tables, phase("20", long), phase("30", cut("010", 30))))
    columns = day_columns(bars, 42)
    assert bars.is_one_year is False
    assert (columns.count <= 42, columns.days) == (True, 17)
    assert bar_letters(bars.rows[-1], columns).endswith(".#")
    weeks = day_columns(bars, 60, 7)
    assert (weeks.begin(0).weekday(), weeks.days) == (0, 14)
    assert month_letters(weeks).startswith("Apr")


def test_a_machine_on_some_days_has_a_mark_of_its_own(tables):
    fill = phase("20", item("010", "stone-fill", **PIT))
    beside = phase("30", item("010", "stone-fill", **PIT), along=["20"])
    bars = bars_of(*scheduled(tables, fill, beside))
    columns = day_columns(bars, 20)
    (spans,) = bars.rents_by_machine
    assert set(rent_letters(spans, columns)) == {"="}
    beside_only = [one for one in spans if one.items == ("30.010",)]
    assert set(rent_letters(beside_only, columns)) == {":"}


def test_a_machine_that_the_price_keeps_between_two_works_stays():
    """The sample's mixer: 2 four-week months and 3 days, from 2026-06-08 to 2026-08-05."""
    scope, shipped = sample()
    estimate = price(scope, shipped, scope.on)
    spans = rent_spans(estimate, job_schedule(estimate))
    (mixer,) = [one for one in spans if one.resource == "mortar-mixer"]
    assert (mixer.first, mixer.last) == (date(2026, 6, 8), date(2026, 8, 5))
    assert mixer.items == ("50.030", "50.050", "50.060")
    (line,) = [one for one in estimate.lines_of("50.050") if one.resource == "mortar-mixer"]
    assert "from 2026-06-08 to 2026-08-05" in line.source


@pytest.mark.parametrize(
    ("head", "start", "words"),
    [
        ({}, None, "No calendar is stated: work is on Monday to Friday, except federal holidays, "
                   "from 2026-04-01 on, as it is priced on 2026-04-01."),
        ({}, MONDAY,
         "No calendar is stated: work is on Monday to Friday, except federal holidays."),
        ({"calendar": {"week": "4 days of 10 hr"}}, None,
         "No first day is stated: work is from 2026-04-01 on, as it is priced on 2026-04-01."),
        ({"calendar": {"week": "4 days of 10 hr"}}, MONDAY, ""),
    ],
)  # fmt: skip
def test_what_is_assumed_of_the_calendar_is_said_where_the_scope_states_none(
    tables, head, start, words
):
    scope = scope_with(tables, [phase("10", cut("010", 30))], **head)
    estimate = price(scope, tables, SPRING)
    schedule = job_schedule(estimate, scope.working_calendar, start or SPRING)
    assert assumed_calendar(estimate, schedule) == words


def test_what_is_ordered_of_a_machine_is_listed_span_by_span():
    span = RentSpan("lift", "lift", "day", SPRING, MONDAY, (), Decimal("1.0"))
    assert ordered_quantities([span]) == "1 day"
    assert ordered_quantities([replace(span, quantity=Decimal("3.50")), span]) == "3.5 + 1 days"
