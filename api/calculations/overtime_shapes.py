"""Shapes of a workweek's pay."""

from __future__ import annotations

from decimal import Decimal

from api.contract.fields import Figure, Money, Quantity, RatePerUnit
from api.contract.schemas import Answer, ListOf, Part, Schema

MOST_RATES = 50


class WorkedAsked(Schema):
    """Hours at one rate."""

    hours = Quantity(required=True, most="168")
    rate_per_hr = RatePerUnit(required=True)


class OvertimeAsked(Schema):
    """A workweek of one employee."""

    worked = ListOf(Part(WorkedAsked), 1, MOST_RATES, required=True)
    bonus = Money(load_default=Decimal(0))
    cash_fringe_per_hr = RatePerUnit(load_default=Decimal(0))


class OvertimeAnswer(Answer):
    """What the week pays."""

    hours = Figure(required=True)
    overtime_hours = Figure(required=True)
    regular_rate = Figure(required=True)
    straight_pay = Figure(required=True)
    overtime_premium = Figure(required=True)
    cash_fringe = Figure(required=True)
    total = Figure(required=True)
