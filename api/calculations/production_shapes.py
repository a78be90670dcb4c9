"""Shapes of a working system and of its output."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated

import marshmallow as ma

from api.contract.commands import schema_of, several
from api.contract.fields import Figure, Fraction, Quantity, Whole, Words
from api.contract.schemas import Answer, Part

NAME_LENGTH = 100
UNIT_LENGTH = 20
MOST_STEPS = 50
MOST_CARRIERS = 500


_Positive = Annotated[Decimal | None, Quantity(above="0")]


@dataclass(frozen=True, kw_only=True)
class CarrierLoad:
    """What a carrier brings at a time."""

    size: Annotated[Decimal, Quantity(above="0")]
    unit: Annotated[str, Words(UNIT_LENGTH), "Such as ton or cy."]


@dataclass(frozen=True, kw_only=True)
class TimedStep:
    """A step: minutes, or distance and speed, or a flow; at a station or at none."""

    step: Annotated[str, Words(NAME_LENGTH)]
    minutes: _Positive = None
    distance_ft: _Positive = None
    speed_mph: _Positive = None
    rate_per_hr: _Positive = None
    unit: Annotated[str | None, Words(UNIT_LENGTH), "Of the flow."] = None
    station: Annotated[str, Words(NAME_LENGTH)] = ""


@dataclass(frozen=True, kw_only=True)
class SharedPlace:
    """What only so many carriers can use at once."""

    name: Annotated[str, Words(NAME_LENGTH)]
    places: Annotated[int, Whole(1, MOST_CARRIERS)] = 1
    taken_by_others: Annotated[Decimal, Fraction()] = Decimal(0)


@dataclass(frozen=True, kw_only=True)
class SystemToRun:
    """A working system."""

    name: Annotated[str, Words(NAME_LENGTH)] = "the system"
    carriers: Annotated[int, Whole(1, MOST_CARRIERS)]
    load: Annotated[CarrierLoad, Part(schema_of(CarrierLoad))]
    cycle: Annotated[Sequence[TimedStep], several(TimedStep, 1, MOST_STEPS)]
    stations: Annotated[Sequence[SharedPlace], several(SharedPlace, 0, MOST_STEPS)] = ()
    efficiency: Annotated[Decimal, Fraction(above="0")] = Decimal(1)
    shift_hr: Annotated[Decimal, Quantity(above="0", most="24")] = Decimal(8)


class PartAnswer(Answer):
    """What a part could do alone."""

    name = ma.fields.String(required=True)
    capacity_per_hr = Figure(required=True)
    idle_share = Figure(required=True)


class LineAnswer(Answer):
    """Who waits at a station."""

    station = ma.fields.String(required=True)
    present = Figure(required=True)
    waiting = Figure(required=True)
    wait_minutes = Figure(required=True)


class ProductionAnswer(Answer):
    """The output of a working system."""

    name = ma.fields.String(required=True)
    unit = ma.fields.String(required=True)
    cycle_minutes = Figure(required=True)
    at_best_per_hr = Figure(required=True)
    bottlenecks = ma.fields.List(ma.fields.String(), required=True)
    parts = ma.fields.List(ma.fields.Nested(PartAnswer), required=True)
    with_waiting_per_hr = Figure(required=True)
    cycle_with_waiting_minutes = Figure(required=True)
    lines = ma.fields.List(ma.fields.Nested(LineAnswer), required=True)
    under_way = Figure(required=True)
