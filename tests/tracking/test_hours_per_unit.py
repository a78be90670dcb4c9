"""Hours per unit in place, beside those of the accepted estimate."""

from decimal import Decimal

import pytest

from estimator.tracking.books import Books
from estimator.tracking.books_by_day import daily_books
from estimator.tracking.job_track import track
from estimator.tracking.payroll_week import HoursRow
from estimator.tracking.unit_hours import hours_of_codes, hours_per_unit
from tests.tracking.estimates import line, printed, work
from tests.tracking.rows import LATER, MONDAY, NOW, at, progress
from tests.tracking.test_status import BUDGET

ESTIMATE = printed(
    items=[work("20.010", "400", "ton"), work("40.010", "1", "ea")],
    lines=[line("20.010", "laborer", "labor", "hr", 100, 360_000)],
)


def hours(row, code, count, **more):
    return HoursRow(
        row, MONDAY, at(MONDAY), "DM", "laborer", code, Decimal(count), Decimal(36), **more
    )


def test_hours_paid_or_not_are_divided_by_what_is_in_place():
    """20 hours for 50 ton are 0.4 a ton against 0.25; hours that were taken back are none."""
    books = Books(
        hours=[
            hours(1, "20.010", "12"), hours(2, "20.010", "8", is_unpaid=True),
            hours(3, "20.010", "6"), hours(4, "20.010", "-6", reverses=3), hours(5, "40.010", "3"),
        ],
        progress=[progress(9, "20.010", "50")],
    )  # fmt: skip
    days = daily_books(books, LATER, NOW)
    codes = track(books, BUDGET, LATER, NOW).status.codes
    (fill,) = hours_of_codes(codes, days.hours, ESTIMATE)  # of the wall nothing is measured
    assert (fill.code, fill.hours, fill.quantity) == ("20.010", 20, 50)
    assert (fill.per_unit, fill.planned_per_unit) == (pytest.approx(0.4), 0.25)


def test_an_item_without_hours_or_without_a_quantity_has_no_hours_per_unit():
    estimate = printed(
        items=[work("20.010", "400", "ton"), work("40.010", "1", "ea"), work("50.010", "0", "ea")],
        lines=[line("20.010", "laborer", "labor", "hr", 100, 360_000),
               line("50.010", "laborer", "labor", "hr", 5, 360_000),
               line("40.010", "helper", "labor", "day", 5, 360_000)],
    )  # fmt: skip
    assert hours_per_unit(estimate) == {"20.010": 0.25}
