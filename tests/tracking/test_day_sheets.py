"""Day sheets: what they must say, and hours lost summed by reason."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import pytest

from estimator.errors import LedgerFaulty
from estimator.tracking.day_sheets import DaySheet, LostHours, check_day_sheet, lost_hours

TODAY = date(2026, 3, 2)
ENTERED = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)


def sheet(row=1, day=TODAY, **said):
    return DaySheet(row, day, ENTERED, **said)


def lost(*pairs):
    return tuple(LostHours(Decimal(hours), reason) for hours, reason in pairs)


def refused(**said):
    with pytest.raises(LedgerFaulty) as caught:
        check_day_sheet(sheet(**said), [], TODAY)
    return [(one.where, one.what) for one in caught.value.faults]


def test_lost_hours_are_summed_by_reason_whatever_its_letters_the_most_first():
    sheets = [
        sheet(1, date(2026, 2, 27), lost=lost(("4", "engineer late"), ("3.5", "Rain"))),
        sheet(2, lost=lost(("6", " rain "))),
    ]
    assert list(lost_hours(sheets).items()) == [
        ("Rain", Decimal("9.5")),
        ("engineer late", Decimal(4)),
    ]


def test_of_two_sheets_of_a_day_the_last_counts_and_says_so():
    first, second = sheet(1, lost=lost(("8", "rain"))), sheet(2, lost=lost(("2", "rain")))
    assert lost_hours([first, second]) == {"rain": Decimal(2)}
    notes = check_day_sheet(second, [first], TODAY)
    assert notes == ["takes the place of row 1, of the same day"]


def test_every_fault_of_a_sheet_comes_at_once():
    told = refused(
        day=date(2026, 3, 3), people=("AB", "ab"), temperature_f=Decimal(400),
        lost=lost(("49", "rain")),
    )  # fmt: skip
    assert told == [
        ("happened", "2026-03-03 is in the future"),
        ("people", "'ab' is listed twice"),
        ("lost", "49 hours are lost, and 2 people had 48"),
        ("temperature_f", "400 is not an air temperature in degrees Fahrenheit"),
    ]


def test_a_sheet_that_says_nothing_is_refused_and_freezing_is_something():
    assert refused() == [("weather", "is missing, and so is all else")]
    assert check_day_sheet(sheet(temperature_f=Decimal(0)), [], TODAY) == []


def test_a_sheet_of_1900_is_noted():
    notes = check_day_sheet(sheet(day=date(1900, 1, 1), weather="dry"), [], TODAY)
    assert notes == ["1900-01-01 is over a year ago"]


@pytest.mark.parametrize(("days", "notes"), [(365, []), (366, ["2025-03-01 is over a year ago"])])
def test_a_sheet_of_over_a_year_ago_is_noted(days, notes):
    day = TODAY - timedelta(days)
    assert check_day_sheet(sheet(day=day, weather="rain"), [], TODAY) == notes
