"""What falls on which day, and the calendar file that says it: read back, folded, stable."""

from datetime import UTC, date, datetime

import pytest
from icalendar import Calendar

from estimator.production.working_calendar import WorkingCalendar
from estimator.scheduling.dated_estimate import price
from estimator.scheduling.icalendar_file import calendar_file
from estimator.scheduling.job_dates import job_schedule
from estimator.scheduling.noted_days import job_days
from tests.factories import SPRING, item, made_tables, scope_with

MONDAY, WEDNESDAY = date(2026, 4, 6), date(2026, 4, 8)
PIT = {"length": "60 ft", "width": "20 ft", "depth": "24 in"}
PLAIN = WorkingCalendar(country="")
QUOTE = {
    "firm": "Ropewalk (invented)", "amount": "$6,890", "date": "2026-03-15",
    "valid_until": "2026-04-10", "days": "2 day",
}  # fmt: skip


@pytest.fixture(scope="module")
def tables(tmp_path_factory):
    return made_tables(tmp_path_factory.mktemp("made"))


def phase(code, *items, **plan):
    return {"code": code, "name": f"Phase {code}", "items": list(items), **plan}


def cut(code, name="Cut"):
    """Return an item of two days."""
    return {**item(code, "floor-cut", length="480 ft"), "name": name}


def scheduled(tables, *phases, start=MONDAY, **head):
    estimate = price(scope_with(tables, list(phases), **head), tables, SPRING)
    return estimate, job_schedule(estimate, PLAIN, start)


def days_of(jobs, *sorts):
    return [(one.day.day, one.title) for one in job_days(*jobs) if one.sort in sorts]


def test_an_inspection_is_the_working_day_before_or_after_and_its_notice_so_long_before(tables):
    """Cut on Monday and Tuesday, April 6 and 7; filled from Wednesday on."""
    jobs = scheduled(tables, phase("20", cut("010"), cut("020")), calendar={"inspections": [
        {"name": "Trench", "by": "engineer", "before": "20.020", "notice": "2 working days"},
        {"name": "Papers", "before": "20", "notice": "10 days"},
        {"name": "Final", "after": "20"},
    ]})  # fmt: skip
    assert [(one.day.isoformat(), one.title) for one in job_days(*jobs) if one.sort != "start"] == [
        ("2026-03-24", "Call the inspector: Papers, on 2026-04-03"),
        ("2026-04-03", "Call engineer: Trench, on 2026-04-07"),
        ("2026-04-03", "Inspection: Papers"),
        ("2026-04-07", "Inspection: Trench (engineer)"),
        ("2026-04-10", "Inspection: Final"),
    ]


def test_a_rented_machine_comes_with_its_work_and_is_called_off_on_the_last_day(tables):
    jobs = scheduled(tables, phase("20", cut("010"), item("020", "stone-fill", **PIT)))
    (come, off) = [one for one in job_days(*jobs) if one.sort in ("rent", "call-off")]
    assert (come.day, come.title, off.title) == (WEDNESDAY, "On rent: Loader", "Call off: Loader")
    assert off.day == jobs[1].items[1].finish


def test_what_is_rented_without_a_day_is_to_be_dated_and_never_called_off(tables):
    beside = phase("30", item("010", "stone-fill", **PIT), along=["20"])
    jobs = scheduled(tables, phase("20", cut("010")), beside)
    assert days_of(jobs, "rent", "call-off") == [(6, "Rent without dates: Loader")]


def test_a_quote_that_runs_out_before_its_work_says_so(tables):
    bought = {"code": "010", "name": "Scaffold", "subcontract": QUOTE}
    for before, late in ([], False), ([cut("020"), cut("030"), cut("040")], True):
        others = [phase("10", *before)] if before else []
        jobs = scheduled(tables, *others, phase("20", bought))
        (one,) = [one for one in job_days(*jobs) if one.sort == "quote"]
        assert one.title == "Last day of the quote: Subcontract quote, Ropewalk (invented)"
        assert one.day == date(2026, 4, 10)
        assert ("ask for it to hold longer" in one.text) is late


def test_a_calendar_program_reads_all_days_and_long_lines_are_folded(tables):
    long = "Балка, =1+1; the old timber frame of the north bay and its posts " * 3
    jobs = scheduled(tables, phase("20", cut("010", long)))
    content = calendar_file(*jobs)
    assert all(len(line) <= 75 for line in content.split(b"\r\n"))
    events = Calendar.from_ical(content).walk("VEVENT")
    assert [(one["summary"], one["dtstart"].dt) for one in events] == [
        ("Begins: 20 Phase 20", MONDAY),
        (f"Begins: 20.010 {long.strip()}", MONDAY),
    ]
    assert {one["dtstamp"].dt for one in events} == {datetime(2026, 4, 1, tzinfo=UTC)}
    assert {one["dtend"].dt for one in events} == {date(2026, 4, 7)}


def test_an_entry_keeps_its_identifier_when_its_day_moves(tables):
    phases = phase("20", cut("010"), item("020", "stone-fill", **PIT))
    inspected = {"inspections": [{"name": "Trench", "before": "20.020", "notice": "2 days"}]}
    files = [
        calendar_file(*scheduled(tables, phases, start=start, calendar=inspected))
        for start in (MONDAY, MONDAY, WEDNESDAY)
    ]
    assert files[0] == files[1] != files[2]
    uids = [sorted(one["uid"] for one in Calendar.from_ical(file).walk("VEVENT")) for file in files]
    assert len(set(uids[0])) == len(uids[0]) == 7
    assert uids[0] == uids[2]
