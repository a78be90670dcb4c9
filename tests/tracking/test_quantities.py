"""What is in place, for those who do the work: quantities and no money."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

from estimator.tracking.books import Books
from estimator.tracking.budget import BudgetCode
from estimator.tracking.job_track import track
from estimator.tracking.quantities import (
    measures_of,
    quantities_fields,
    quantities_in_place,
    row_without_sum,
)
from tests.tracking.rows import MONDAY, NOW, progress

PUTTY = BudgetCode("05.030", "Putty", "05", Decimal(3800), "$", {"fee": 380_000})


def test_an_allowance_is_shown_in_percent_of_its_sum():
    books = Books(progress=[progress(1, "05.030", "950", unit="$")])
    report = track(books, {"05.030": PUTTY}, MONDAY, NOW)
    (item,) = quantities_fields(quantities_in_place({}, report), report)["items"]
    assert (item["in_place"], item["expected"], item["unit"]) == ("25.0", "100", "%")
    (code,) = report.status.codes
    assert measures_of(replace(code, unit="ton")) == (Decimal(950), Decimal(3800), "ton")


def test_rows_of_an_allowance_are_shown_in_percent_of_its_budget():
    """$950 of $3,800 are 25 %; what is a percent stays one; of nothing there is none."""
    whole = Decimal(3800)
    old = {"in_place": "950", "expected": "4000", "is_percent": False, "unit": "$"}
    shown = row_without_sum(old, whole)
    assert (shown["in_place"], shown["expected"], shown["unit"]) == ("25.0", "105.3", "%")
    half = {"in_place": "50", "expected": None, "is_percent": True, "unit": "%"}
    assert row_without_sum(half, whole) == half
    assert row_without_sum({"allowed": "950"}, Decimal(0)) == {"allowed": None}


def test_all_hours_of_an_item_are_shown_without_a_dollar():
    report = track(Books(), {"05.030": PUTTY}, MONDAY, NOW)
    hours = {"05.030": {MONDAY: Decimal("7.5"), MONDAY + timedelta(1): Decimal(2)}}
    (item,) = quantities_fields(quantities_in_place(hours, report), report)["items"]
    assert item["hours"] == "9.5"
    (item,) = quantities_fields(quantities_in_place({}, report), report)["items"]
    assert item["hours"] == "0"
