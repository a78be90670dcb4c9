"""Shapes of what an hour of hired labor costs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated

import marshmallow as ma

from api.contract.commands import LEFT_OUT, NotStated, schema_of, several
from api.contract.fields import Figure, Fraction, Money, Quantity, RatePerUnit, Whole, Words, YesNo
from api.contract.schemas import Answer, Part
from api.store.models.base import NAME_LENGTH

MOST_RATES = 20
MOST_HOURS = "100000"
_Number = Decimal | NotStated


@dataclass(frozen=True, kw_only=True)
class Wage:
    """What an employee is promised for an hour."""

    wage_per_hr: Annotated[Decimal, RatePerUnit(), "Straight-time wage, the base of overtime."]
    cash_fringe_per_hr: Annotated[
        _Number, RatePerUnit(), "Paid in cash instead of a plan: taxed, no base for overtime."
    ] = LEFT_OUT
    plan_fringe_per_hr: Annotated[
        _Number, RatePerUnit(), "Paid into a benefit plan: not taxed."
    ] = LEFT_OUT


@dataclass(frozen=True, kw_only=True)
class Tax:
    """What the employer pays on wages."""

    name: Annotated[str, Words(NAME_LENGTH)]
    fraction: Annotated[Decimal, Fraction(), "Of the wages: 0.062 is 6.2 %."]
    wage_base: Annotated[
        Decimal | None, Money(), "Per person and year; wages above it are not taxed."
    ] = None


@dataclass(frozen=True, kw_only=True)
class Insurance:
    """What is rated on the payroll."""

    name: Annotated[str, Words(NAME_LENGTH)]
    per_100: Annotated[Decimal, RatePerUnit(), "Dollars per $100 of pay."]
    modifier: Annotated[Decimal, Quantity(above="0"), "Experience modifier."] = Decimal(1)
    premium: Annotated[bool, YesNo(), "True if the overtime premium is rated, too."] = False


@dataclass(frozen=True, kw_only=True)
class TimeOff:
    """What of the paid time is no work."""

    leave_hours: Annotated[_Number, Quantity(most=MOST_HOURS)] = LEFT_OUT
    break_minutes_per_day: Annotated[_Number, Quantity(most="1440")] = LEFT_OUT
    shift_hours: Annotated[_Number, Quantity(above="0", most="24")] = LEFT_OUT
    working_minutes_per_hr: Annotated[_Number, Quantity(most="60")] = LEFT_OUT


@dataclass(frozen=True, kw_only=True)
class HiredLabor:
    """One employee over some hours: a week, or a whole year."""

    wage: Annotated[Wage, Part(schema_of(Wage))]
    straight_hours: Annotated[Decimal, Quantity(most=MOST_HOURS)]
    overtime_hours: Annotated[_Number, Quantity(most=MOST_HOURS)] = LEFT_OUT
    paid_before: Annotated[
        _Number, Money(), "Gross pay earlier in the year; it counts toward the wage bases."
    ] = LEFT_OUT
    tax_year: Annotated[
        int | None,
        Whole(2000, 2100),
        "Uses the public table's taxes; one in `taxes` replaces the one of the same name.",
    ] = None
    state: Annotated[
        str | None, Words(NAME_LENGTH), "Name or code, for its unemployment tax; needs `tax_year`."
    ] = None
    taxes: Annotated[Sequence[Tax], several(Tax, 0, MOST_RATES)] = ()
    insurance: Annotated[Sequence[Insurance], several(Insurance, 0, MOST_RATES)] = ()
    time_off: Annotated[TimeOff | None, Part(schema_of(TimeOff))] = None


class BurdenLineAnswer(Answer):
    """One tax or policy [$]."""

    name = ma.fields.String(required=True)
    base = Figure(required=True)
    amount = Figure(required=True)


class PaidHourAnswer(Answer):
    """The cost of a paid hour in its parts [$/hr]."""

    wage = Figure(required=True)
    overtime_premium = Figure(required=True)
    fringe = Figure(required=True)
    taxes = Figure(required=True)
    insurance = Figure(required=True)
    total = Figure(required=True)


class LaborAnswer(Answer):
    """What the employee costs [$], line by line, and what an hour of it costs [$/hr]."""

    paid_hours = Figure(required=True)
    straight_pay = Figure(required=True)
    overtime_premium = Figure(required=True)
    cash_fringe = Figure(required=True)
    plan_fringe = Figure(required=True)
    taxes = ma.fields.List(ma.fields.Nested(BurdenLineAnswer), required=True)
    tax_sources = ma.fields.List(
        ma.fields.String(),
        required=True,
        metadata={"description": "Where each tax of the `tax_year` comes from."},
    )
    insurance = ma.fields.List(ma.fields.Nested(BurdenLineAnswer), required=True)
    gross_pay = Figure(required=True)
    burden = Figure(required=True)
    cost = Figure(required=True)
    paid_hour = Part(PaidHourAnswer, required=True)
    productive_hours = Figure(required=True, allow_none=True)
    productive_hour = Figure(
        required=True, allow_none=True, metadata={"description": "Null without time off."}
    )
