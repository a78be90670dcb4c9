"""Shapes of what a machine of one's own costs, and whether to rent it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated

from api.contract.commands import LEFT_OUT, NotStated, schema_of, several
from api.contract.fields import Choice, Figure, Fraction, Money, Quantity, RatePerUnit
from api.contract.schemas import Answer, Part

MOST_HOURS = "200000"
FUELS = ("diesel", "gasoline")
_Number = Decimal | NotStated


@dataclass(frozen=True, kw_only=True)
class Machine:
    """A machine, its life, and what is left of it."""

    value: Annotated[
        Decimal | None, Money(), "Price delivered to the yard; null if `bought` gives it."
    ] = None
    life_hours: Annotated[Decimal, Quantity(above="0", most=MOST_HOURS)]
    hours_per_year: Annotated[Decimal, Quantity(above="0", most="8784")]
    salvage_fraction: Annotated[_Number, Fraction(), "Share of value left at the end."] = LEFT_OUT
    tire_cost: Annotated[_Number, Money(), "Cost of the set it came with."] = LEFT_OUT


@dataclass(frozen=True, kw_only=True)
class Bought:
    """How a machine is bought: its value follows, each line in whole dollars."""

    list_price: Annotated[Decimal, Money(above="0"), "List price with accessories."]
    discount_fraction: Annotated[_Number, Fraction(), "Taken off before tax."] = LEFT_OUT
    tax_fraction: Annotated[_Number, Fraction(), "Tax on the discounted price."] = LEFT_OUT
    shipping_weight_cwt: Annotated[
        _Number, Quantity(most="100000"), "In hundredweight of 100 lb."
    ] = LEFT_OUT
    freight_per_cwt: Annotated[_Number, RatePerUnit()] = LEFT_OUT


@dataclass(frozen=True, kw_only=True)
class TireSet:
    """A set of tires of one position."""

    cost: Annotated[Decimal, Money(), "Cost of a set at today's prices."]
    life_hours: Annotated[Decimal, Quantity(above="0", most=MOST_HOURS)]
    wear_factor: Annotated[_Number, Fraction(), "Share of tire life this ground leaves."] = LEFT_OUT


@dataclass(frozen=True, kw_only=True)
class Running:
    """What a machine burns and wears."""

    horsepower: Annotated[Decimal, Quantity(most="10000")]
    power_factor: Annotated[Decimal, Fraction(), "Share of horsepower, on average."]
    fuel: Annotated[str, Choice(*FUELS)]
    fuel_per_gal: Annotated[Decimal, RatePerUnit()]
    service_fraction: Annotated[_Number, Quantity(most="10"), "Share of the fuel cost."] = LEFT_OUT
    repair_fraction: Annotated[_Number, Quantity(most="10"), "Of the value, over life."] = LEFT_OUT
    tires: Annotated[Sequence[TireSet], several(TireSet, 0, 10)] = ()


@dataclass(frozen=True, kw_only=True)
class RentInstead:
    """The same machine rented, over a year."""

    rent_per_hr: Annotated[
        Decimal, RatePerUnit(), "Rent, waiver, fees and hauling, divided by the hours it works."
    ]
    hours: Annotated[Decimal, Quantity(most="8784"), "Hours a year."]
    other_per_year: Annotated[
        _Number, Money(), "For your own machine: insurance, storage, license."
    ] = LEFT_OUT


@dataclass(frozen=True, kw_only=True)
class MachineToOwn:
    """A machine of one's own."""

    machine: Annotated[Machine, Part(schema_of(Machine))]
    bought: Annotated[Bought | None, Part(schema_of(Bought))] = None
    running: Annotated[Running, Part(schema_of(Running))]
    annual_rate_fraction: Annotated[Decimal, Fraction(), "Yearly cost of the money."]
    rent_instead: Annotated[RentInstead | None, Part(schema_of(RentInstead))] = None


class YearAnswer(Answer):
    """A year owned and rented [$]; from how many hours a year owning costs no more."""

    hours = Figure(required=True)
    fixed_per_year = Figure(required=True)
    owned = Figure(required=True)
    rented = Figure(required=True)
    break_even_hours = Figure(
        required=True, allow_none=True, metadata={"description": "Null if owning never pays."}
    )


class MachineAnswer(Answer):
    """The seven elements of a machine hour [$/hr], sums, and the year; no operator."""

    value = Figure(required=True)
    depreciation = Figure(required=True)
    cost_of_money = Figure(required=True)
    fuel = Figure(required=True)
    fuel_gal_per_hr = Figure(required=True)
    filters_oil_grease = Figure(required=True)
    tire_wear = Figure(required=True)
    tire_repair = Figure(required=True)
    repair = Figure(required=True)
    owning = Figure(required=True)
    running = Figure(required=True)
    total = Figure(required=True)
    standby = Figure(required=True)
    year = Part(YearAnswer, required=True, allow_none=True)
