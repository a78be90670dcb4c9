"""Shapes of a workweek's pay."""

from __future__ import annotations

from decimal import Decimal

from api.calculations import commands
from api.contract.commands import Command
from api.contract.fields import Figure, Money, Quantity, RatePerUnit
from api.contract.schemas import Answer, ListOf, Part

MOST_RATES = 50


class WorkedAsked(Command):
    """Hours at one rate."""

    makes = commands.Worked
    hours = Quantity(required=True, most="168")
    rate_per_hr = RatePerUnit(required=True)


class OvertimeAsked(Command):
    """A workweek of one employee."""

    makes = commands.Workweek
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
