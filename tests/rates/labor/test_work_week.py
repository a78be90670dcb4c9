"""Overtime of a week of long days, by the federal rule and by those of states."""

from datetime import date
from decimal import Decimal

import pytest

from estimator.errors import LaborFaulty
from estimator.quantity.units import unit
from estimator.rates.labor import OvertimeRule, WorkWeek
from estimator.rates.resources import ResourceRate
from estimator.rates.rows import Origin


def rate(kind="labor", per="hr", is_paid=True):
    return ResourceRate(
        "mason", "Mason", kind, unit(per), Decimal(58), Decimal(52), None, date(2026, 1, 15), None,
        is_paid, "invented", "", Origin("made", "resources.csv", 2),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("hours", "days", "what"),
    [
        (8.0, 5, "hours_in_day: is not an exact number"),
        (Decimal("NaN"), 5, "hours_in_day: is not a finite number"),
        ("25 hr", 5, "hours_in_day: is above 24"),
        (8, 8, "days: is above 7"),
        (8, True, "days: is not an exact number"),
    ],
)
def test_a_week_that_cannot_be_is_refused(hours, days, what):
    with pytest.raises(LaborFaulty, match=what):
        WorkWeek(hours, days)


@pytest.mark.parametrize("wrong", [True, Decimal("NaN"), -8, 8.0, "8 ft"])
def test_a_rule_counts_from_hours_that_can_be(wrong):
    for name in ("week_hr", "day_hr", "double_hr"):
        with pytest.raises(LaborFaulty, match=f"^{name}: "):
            OvertimeRule("a law", **{name: wrong})
    rule = OvertimeRule("a law", week_hr=None, day_hr="480 min")
    assert (rule.week_hr, rule.day_hr, rule.double_hr) == (None, 8, None)


def test_a_week_is_the_same_however_it_is_written():
    assert WorkWeek("600 min", "5") == WorkWeek(Decimal(10), 5)


@pytest.mark.parametrize(
    ("hours", "days", "rule", "premium"),
    [
        (8, 5, "federal", 0),
        (10, 4, "federal", 0),
        (10, 5, "federal", 5),  # 10 hr over 40, half of each
        (12, 6, "federal", 16),  # 32 hr over 40
        (10, 4, "California", 4),  # 2 hr a day over 8, on four days
        (10, 6, "California", 10),  # 12 hr over the days, and 48 - 40 straight ones
        (13, 3, "California", 9),  # 5 hr a day by half, 1 hr a day by half more
        (8, 7, "California", 8),  # 48 - 40 of six days by half, and all 8 of the seventh
        (9, 7, "California", 12),  # six days 3 + 4; the seventh 8 by half and 1 by a whole
        (9, 5, "Alaska", Decimal("2.5")),
        (13, 3, "Colorado", Decimal("1.5")),
        (13, 5, "Colorado", Decimal("12.5")),  # 25 over the week are more than 5 over the days
        (12, 7, "none", 0),
    ],
)
def test_what_a_week_is_paid_beyond_its_hours(hours, days, rule, premium):
    assert WorkWeek(Decimal(hours), days, rule).premium_hours == premium


def test_five_days_of_ten_hours_bear_a_tenth_more_on_every_hour():
    """29 CFR 778: 50 hours are paid as 55; $58 becomes $63.80."""
    paid = WorkWeek(Decimal(10), 5).paid(rate())
    assert (paid.rate, paid.low, paid.high) == (Decimal("63.8000"), Decimal("57.2000"), None)
    assert paid.source == (
        "invented; $58 with overtime: 5 days of 10 hr a week are paid as 55 hr, 29 CFR 778.101"
    )


@pytest.mark.parametrize("other", [rate("equipment"), rate(per="day"), rate(is_paid=False)])
def test_machines_and_the_owners_own_hours_bear_none(other):
    assert WorkWeek(Decimal(10), 5).paid(other) == other


def test_a_rule_that_is_not_known_is_refused():
    with pytest.raises(LaborFaulty, match="'Californa' is not an overtime rule; did you mean 'Cal"):
        WorkWeek(Decimal(8), 5, "Californa")
