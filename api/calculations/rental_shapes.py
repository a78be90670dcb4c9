"""Shapes of a rental."""

from __future__ import annotations

from decimal import Decimal

import marshmallow as ma

from api.calculations import commands
from api.contract.commands import Command
from api.contract.fields import Figure, Fraction, Money, Quantity, RatePerUnit, Whole
from api.contract.schemas import Answer, Part

LONGEST_DAYS = 1096
MOST_PER_HOUR = "100000"


class RentalRatesAsked(Command):
    """Prices of a machine; one tier at least."""

    makes = commands.MachinePrices
    day = Money(metadata={"description": "[$]"})
    week = Money(metadata={"description": "Seven days [$]."})
    month = Money(metadata={"description": "Four weeks [$]."})
    over_hour = RatePerUnit(
        most=MOST_PER_HOUR, metadata={"description": "Each meter hour beyond the included [$/hr]."}
    )
    minimum_days = Whole(1, LONGEST_DAYS)
    days_in_week = Whole(2, 7)
    days_in_month = Whole(3, 31)
    hours_in_day = Quantity(most="24")
    hours_in_week = Quantity(most="168")
    hours_in_month = Quantity(most="744")


class RentalTermsAsked(Command):
    """What the yard charges beside the rent."""

    makes = commands.YardTerms
    delivery = Money()
    pick_up = Money()
    damage_waiver_fraction = Fraction()
    environmental_fee_fraction = Fraction()
    environmental_fee_most = Money()
    fuel_per_hr = RatePerUnit(metadata={"description": "[$ per meter hour]"})


class RentalAsked(Command):
    """A span, and what the machine costs."""

    makes = commands.Rental
    days = Whole(1, LONGEST_DAYS, required=True)
    meter_hours = Quantity(load_default=Decimal(0), most="26304")
    rates = Part(RentalRatesAsked, required=True)
    terms = Part(RentalTermsAsked, load_default=commands.YardTerms)


class RentalBillAnswer(Answer):
    """Lines of the bill [$], each rounded to the cent; sales tax is not among them."""

    rent = Figure(required=True)
    over_hours = Figure(required=True)
    damage_waiver = Figure(required=True)
    environmental_fee = Figure(required=True)
    delivery = Figure(required=True)
    pick_up = Figure(required=True)
    fuel = Figure(required=True)
    total = Figure(required=True)


class BreakEvenAnswer(Answer):
    """From how many of the shorter tier the longer one costs no more."""

    shorter = ma.fields.String(required=True)
    longer = ma.fields.String(required=True)
    count = Whole(1, 10**9, required=True)


class RentalAnswer(Answer):
    """The cheapest mix and its bill."""

    span_days = Whole(1, LONGEST_DAYS, required=True)
    months = Whole(0, LONGEST_DAYS, required=True)
    weeks = Whole(0, LONGEST_DAYS, required=True)
    days = Whole(0, LONGEST_DAYS, required=True)
    over_hours = Figure(required=True)
    rent = Figure(required=True)
    over_hour_charge = Figure(required=True)
    cost = Figure(required=True)
    bill = Part(RentalBillAnswer, required=True)
    break_even = ma.fields.List(ma.fields.Nested(BreakEvenAnswer), required=True)
