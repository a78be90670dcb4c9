"""Two weeks of a job: by day who works where, what must be there, who is called, cautions."""

from datetime import date

import pytest

from estimator.production.working_calendar import WorkingCalendar
from estimator.scheduling.dated_estimate import price
from estimator.scheduling.job_dates import job_schedule
from estimator.scheduling.two_weeks import look_ahead, weather_sentences
from tests.factories import SPRING, item, made_tables, scope_with

MONDAY = date(2026, 4, 6)
PIT = {"length": "60 ft", "width": "20 ft", "depth": "24 in"}
PLAIN = WorkingCalendar(country="")


@pytest.fixture(scope="module")
def tables(tmp_path_factory):
    return made_tables(tmp_path_factory.mktemp("made"))


def phase(code, *items, **plan):
    return {"code": code, "name": f"Phase {code}", "items": list(items), **plan}


def cut(code, feet=480):
    """Return an item of one owner's hand, two days as it stands."""
    return {**item(code, "floor-cut", length=f"{feet} ft"), "name": "Cut"}


def ahead(tables, *phases, first=None, **head):
    estimate = price(scope_with(tables, list(phases), **head), tables, SPRING)
    return look_ahead(estimate, job_schedule(estimate, PLAIN, MONDAY), first)


def work(shown):
    return {one.day.day: [work.words for work in one.work] for one in shown.filled_days if one.work}


def test_each_day_says_who_works_where_and_the_name_once(tables):
    shown = ahead(tables, phase("20", cut("010", 720), cut("020", 240)))
    assert (shown.first, shown.last) == (MONDAY, date(2026, 4, 19))
    assert work(shown) == {
        6: ["20.010 Cut: 1 owner hand; begins"],
        7: ["20.010 goes on: 1 owner hand"],
        8: ["20.010 ends: 1 owner hand"],
        9: ["20.020 Cut: 1 owner hand; begins and ends"],
    }


def test_work_that_began_earlier_is_named_on_the_first_of_the_days(tables):
    shown = ahead(tables, phase("20", cut("010", 720)), first=date(2026, 4, 7))
    assert work(shown)[7] == ["20.010 Cut: 1 owner hand"]


def test_what_must_be_there_stands_on_the_day_that_its_work_begins(tables):
    shown = ahead(tables, phase("20", cut("010"), item("020", "stone-fill", **PIT)))
    here = {one.day.day: one.beside_work for one in shown.filled_days if one.beside_work}
    assert here[8][:2] == ("On rent: Loader", "Call off: Loader")
    assert here[8][2].startswith("To be here for 20.020: ")
    assert here[8][2].endswith(" tons Stone")


def test_an_inspection_before_earlier_work_is_done_says_so(tables):
    """A day and a half, then a half: the trench is still open on the morning before."""
    inspections = [{"name": "Trench", "before": "20.020"}]
    shown = ahead(
        tables,
        phase("20", cut("010", 600), cut("020", 240)),
        calendar={"inspections": inspections},
    )
    (words,) = [line for one in shown.days for line in one.beside_work]
    assert words.endswith("20.010 will not be done by then: let 20.020 wait a day.")
    (words,) = [
        line
        for one in ahead(
            tables,
            phase("20", cut("010"), cut("020")),
            calendar={"inspections": inspections},
        ).days
        for line in one.beside_work
    ]
    assert words == "Inspection: Trench. It is before 20.020 Cut."


def test_what_runs_along_may_be_done_on_any_day_and_keeps_its_cautions(tables):
    beside = phase("30", {**item("010", "stone-fill", **PIT), "name": "Yard"}, along=["20"])
    shown = ahead(tables, phase("20", cut("010")), beside)
    assert [one.words for one in shown.beside] == ["30.010 Yard: 2 laborers, 1 loader"]
    assert {code for one in shown.cautions for code in one.items} == {"30.010"}


def test_days_after_the_job_are_idle_and_a_quote_on_a_sunday_is_still_said(tables):
    shown = ahead(tables, phase("20", cut("010")), first=date(2026, 5, 4))
    assert shown.is_idle
    assert shown.filled_days == ()
    quote = {"firm": "Ropewalk (invented)", "amount": "$90", "date": "2026-03-15",
             "valid_until": "2026-04-12", "days": "2 day"}  # fmt: skip
    bought = {"code": "010", "name": "Scaffold", "subcontract": quote}
    shown = ahead(tables, phase("20", bought))
    assert work(shown)[6] == ["20.010 Scaffold: Ropewalk (invented); begins"]
    assert shown.filled_days[-1].heading == "Sun 2026-04-12, not worked"


def test_weather_takes_its_share_of_the_working_days_of_each_month():
    """April 2026 has 22 working days, May 21: 2 x 4/22 and 3 x 6/21 from April 27 to May 10."""
    rainy = WorkingCalendar(country="", weather_days=(0, 0, 0, 2, 3, *(0,) * 7))
    assert [*weather_sentences(rainy, date(2026, 4, 27), date(2026, 5, 10))] == [
        "Of the working days of Apr, weather is expected to take 2: 0.4 of the 4 here. On which "
        "days, nobody knows.",
        "Of the working days of May, weather is expected to take 3: 0.9 of the 6 here. On which "
        "days, nobody knows.",
    ]
    assert [*weather_sentences(PLAIN, date(2026, 4, 27), date(2026, 5, 10))] == []
