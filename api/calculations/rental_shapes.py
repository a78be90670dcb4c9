"""Shapes of a rental."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated

import marshmallow as ma

from api.contract.commands import LEFT_OUT, NotStated, schema_of
from api.contract.fields import Figure, Fraction, Money, Quantity, RatePerUnit, Whole
from api.contract.schemas import Answer, Part

LONGEST_DAYS = 1096
MOST_PER_HOUR = "100000"


# Left out, the library's own default holds.
_Days = int | NotStated
_Number = Decimal | NotStated
_OVER_HOUR = "Each meter hour beyond those included [$/hr]."


@dataclass(frozen=True, kw_only=True)
class MachinePrices:
    """Prices of a machine; one tier at least."""

    day: Annotated[_Number, Money(), "[$]"] = LEFT_OUT
    week: Annotated[_Number, Money(), "Seven days [$]."] = LEFT_OUT
    month: Annotated[_Number, Money(), "Four weeks [$]."] = LEFT_OUT
    over_hour: Annotated[_Number, RatePerUnit(most=MOST_PER_HOUR), _OVER_HOUR] = LEFT_OUT
    minimum_days: Annotated[_Days, Whole(1, LONGEST_DAYS)] = LEFT_OUT
    days_in_week: Annotated[_Days, Whole(2, 7)] = LEFT_OUT
    days_in_month: Annotated[_Days, Whole(3, 31)] = LEFT_OUT
    hours_in_day: Annotated[_Number, Quantity(most="24")] = LEFT_OUT
    hours_in_week: Annotated[_Number, Quantity(most="168")] = LEFT_OUT
    hours_in_month: Annotated[_Number, Quantity(most="744")] = LEFT_OUT


@dataclass(frozen=True, kw_only=True)
class YardTerms:
    """What the yard charges beside the rent."""

    delivery: Annotated[_Number, Money()] = LEFT_OUT
    pick_up: Annotated[_Number, Money()] = LEFT_OUT
    damage_waiver_fraction: Annotated[_Number, Fraction()] = LEFT_OUT
    environmental_fee_fraction: Annotated[_Number, Fraction()] = LEFT_OUT
    environmental_fee_most: Annotated[_Number, Money()] = LEFT_OUT
    fuel_per_hr: Annotated[_Number, RatePerUnit(), "[$ per meter hour]"] = LEFT_OUT


@dataclass(frozen=True, kw_only=True)
class RentalCost:
    """A span, and what the machine costs."""

    days: Annotated[int, Whole(1, LONGEST_DAYS)]
    meter_hours: Annotated[Decimal, Quantity(most="26304")] = Decimal(0)
    rates: Annotated[MachinePrices, Part(schema_of(MachinePrices))]
    terms: Annotated[YardTerms | None, Part(schema_of(YardTerms))] = None


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


class TierStartAnswer(Answer):
    """From how many days on a tier is in the cheapest mix, hours not counted."""

    tier = ma.fields.String(required=True)
    days = Whole(1, LONGEST_DAYS, required=True)


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
    tiers_from = ma.fields.List(ma.fields.Nested(TierStartAnswer), required=True)
