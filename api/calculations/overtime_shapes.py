"""Shapes of a workweek's pay."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated

import marshmallow as ma

from api.contract.commands import several
from api.contract.fields import Figure, Money, Quantity, RatePerUnit, Whole
from api.contract.schemas import Answer

MOST_RATES = 50
MOST_WEEKS = 53


@dataclass(frozen=True, kw_only=True)
class HoursWorked:
    """Hours at one rate."""

    hours: Annotated[Decimal, Quantity(most="168")]
    rate_per_hr: Annotated[Decimal, RatePerUnit()]


@dataclass(frozen=True, kw_only=True)
class Workweek:
    """A workweek of one employee."""

    worked: Annotated[Sequence[HoursWorked], several(HoursWorked, 1, MOST_RATES)]
    bonus: Annotated[Decimal, Money()] = Decimal(0)
    cash_fringe_per_hr: Annotated[Decimal, RatePerUnit()] = Decimal(0)


@dataclass(frozen=True, kw_only=True)
class SalariedWeek:
    """A workweek of one employee on a salary."""

    salary: Annotated[Decimal, Money(), "Salary for one pay period."]
    periods_per_year: Annotated[
        int, Whole(1, 52), "52 weeks, 26 two-week periods, 24 half months or 12 months."
    ] = 52
    salary_hours: Annotated[
        Decimal, Quantity(above="0", most="168"), "Hours a week that the salary is meant to cover."
    ]
    hours: Annotated[Decimal, Quantity(most="168"), "Worked this week."]


@dataclass(frozen=True, kw_only=True)
class LateBonus:
    """A bonus for several workweeks of one employee."""

    bonus: Annotated[Decimal, Money()]
    week_hours: Annotated[
        Sequence[Decimal],
        ma.fields.List(
            Quantity(above="0", most="168"),
            required=True,
            validate=ma.validate.Length(1, MOST_WEEKS),
        ),
        "Hours of each week of the period.",
    ]


class OvertimeAnswer(Answer):
    """What the week pays."""

    hours = Figure(required=True)
    overtime_hours = Figure(required=True)
    regular_rate = Figure(required=True)
    straight_pay = Figure(required=True)
    overtime_premium = Figure(required=True)
    cash_fringe = Figure(required=True)
    total = Figure(required=True)


class BonusAnswer(Answer):
    """What a bonus for several weeks costs: itself and the overtime on it [$]."""

    bonus = Figure(required=True)
    overtime = Figure(required=True)
    total = Figure(required=True)
