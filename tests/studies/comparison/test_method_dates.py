"""Methods have dates beside their days, where the scope has a calendar."""

import json
from datetime import date

from estimator.studies.comparison.changing_course import course_so_far
from estimator.studies.comparison.comparison import compare
from estimator.studies.comparison.comparison_json import comparison_json
from estimator.studies.comparison.findings import findings_of
from estimator.studies.comparison.method_dates import date_sentences
from tests.factories import SPRING
from tests.scope.methods.choices import DIG, THROW, pit_choice, pit_scope, sample_choice, shipped

CALENDAR = {"start": "2026-04-06", "holidays": "none"}


def compared(calendar=CALENDAR):
    return compare(pit_scope(DIG, THROW, calendar=calendar), shipped(), SPRING, "30.010")


def test_each_method_has_its_last_day_from_the_day_that_the_schedule_has_it_begin():
    """From Wednesday, May 27, 2026; weather takes 2 of 20 working days in May, 1 of 21 in June.

    Three days of May do 0.9 each, those of June 0.952: 2.70 by Friday, May 29, 3.65 by Monday, June
    1, 4.60 by the 2nd, 5.56 by the 3rd, 11.27 by the 11th, 12.22 by the 12th.
    """
    comparison = sample_choice("30.020")
    methods = json.loads(comparison_json(comparison, findings_of(comparison)))["methods"]
    assert {one["start"] for one in methods} == {"2026-05-27"}
    assert [(one["days"], one["finish"]) for one in methods] == [
        ("4.15", "2026-06-02"), ("4.87", "2026-06-03"), ("2.32", "2026-05-29"),
        ("3.00", "2026-06-01"), ("11.52", "2026-06-12"),
    ]  # fmt: skip
    dates, by_dates, _ = date_sentences(comparison, None)
    assert "throwing it in by conveyor truck, by 2026-05-29" in dates
    assert "lowering it in by telehandler $17,421.61, $805.35 less" in by_dates


def test_days_off_put_the_dates_off_and_the_days_stay():
    off = compared({**CALENDAR, "days_off": ["2026-04-07"]})
    assert [one.days for one in off.results] == [one.days for one in compared().results]
    assert off.start.finish(1.5) == date(2026, 4, 8)


def test_the_rest_of_work_that_is_under_way_has_dates_too():
    comparison = compared()
    course = course_so_far(comparison, "40 ton in 2 days", comparison.results[0].method.name)
    (rest,) = (one for one in date_sentences(comparison, course) if one.startswith("the rest"))
    assert rest.startswith("the rest, with 2 days worked from that morning on: ")
    assert str(comparison.start.finish(2 + course.going_on.days)) in rest


def test_without_a_calendar_nothing_is_said_of_dates():
    comparison = pit_choice()
    assert list(date_sentences(comparison, None)) == []
    fields = json.loads(comparison_json(comparison, findings_of(comparison)))
    assert "dates" not in fields
    assert "finish" not in fields["methods"][0]
