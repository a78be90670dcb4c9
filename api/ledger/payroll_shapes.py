"""What payroll is worked out by, and the workweek that is closed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, Any

import marshmallow as ma

from api.calculations.labor_shapes import MOST_RATES, Insurance, Tax
from api.contract.commands import several
from api.contract.fields import Choice, Day, Money
from api.contract.schemas import Answer
from api.ledger.entry_fields import Name, NewEntry
from estimator.tracking.overtime_rules import AVERAGE_RATE, RATE_IN_EFFECT

MOST_PEOPLE = 200
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")

EXAMPLE_PAYROLL: dict[str, Any] = {
    "happened": "2026-01-01",
    "week_ends": "sunday",
    "taxes": [
        {"name": "social security", "fraction": "0.062", "wage_base": "184500.00"},
        {"name": "Medicare", "fraction": "0.0145"},
        {"name": "federal unemployment", "fraction": "0.006", "wage_base": "7000.00"},
    ],
    "insurance": [{"name": "workers' compensation", "per_100": "9.00"}],
    "elsewhere": [{"person": "AB", "amount": "2150.00"}],
}
EXAMPLE_WEEK: dict[str, Any] = {"ends": "2026-02-15"}


@dataclass(frozen=True, kw_only=True)
class Elsewhere:
    """What a person was paid earlier in the year outside these books, before deductions."""

    person: Name
    amount: Annotated[Decimal, Money()]


@dataclass(frozen=True, kw_only=True)
class NewPayroll(NewEntry):
    """How payroll is figured, starting on a day."""

    week_ends: Annotated[str, Choice(*WEEKDAYS), "Last day of the workweek."] = "sunday"
    overtime: Annotated[
        str,
        Choice(AVERAGE_RATE, RATE_IN_EFFECT),
        "Weighted average: 29 CFR 778.115. Rate in effect: 778.419, if agreed before the work.",
    ] = AVERAGE_RATE
    taxes: Annotated[Sequence[Tax], several(Tax, 0, MOST_RATES)] = ()
    insurance: Annotated[Sequence[Insurance], several(Insurance, 0, MOST_RATES)] = ()
    elsewhere: Annotated[Sequence[Elsewhere], several(Elsewhere, 0, MOST_PEOPLE)] = ()


@dataclass(frozen=True, kw_only=True)
class Week:
    """The workweek to close."""

    ends: Annotated[date, Day(), "Its last day; its payroll rows are dated that day."]


class WeekAnswer(Answer):
    """The rows of payroll that closed a workweek, one for each person."""

    ends = ma.fields.String(required=True)
    entries = ma.fields.List(ma.fields.Dict(), required=True)
