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
MOST_LIFTS = 10


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
    unit: Annotated[str | None, Words(UNIT_LENGTH), "Unit of the flow."] = None
    station: Annotated[str, Words(NAME_LENGTH)] = ""


@dataclass(frozen=True, kw_only=True)
class SharedPlace:
    """What only so many carriers can use at once."""

    name: Annotated[str, Words(NAME_LENGTH)]
    places: Annotated[int, Whole(1, MOST_CARRIERS)] = 1
    taken_by_others: Annotated[Decimal, Fraction()] = Decimal(0)


@dataclass(frozen=True, kw_only=True)
class KindBeside:
    """A second kind of carrier at the same stations."""

    name: Annotated[str, Words(NAME_LENGTH)]
    carriers: Annotated[int, Whole(1, MOST_CARRIERS)]
    load: Annotated[CarrierLoad, Part(schema_of(CarrierLoad))]
    cycle: Annotated[Sequence[TimedStep], several(TimedStep, 1, MOST_STEPS)]


@dataclass(frozen=True, kw_only=True)
class PileOutside:
    """What the carriers take from, in the unit of the load, and what is to be placed."""

    quantity: Annotated[Decimal, Quantity(above="0")]
    holds: Annotated[Decimal, Quantity(above="0")]
    comes_per_hr: Annotated[Decimal, Quantity(above="0")]


@dataclass(frozen=True, kw_only=True)
class LiftToPlace:
    """A layer of the fill."""

    name: Annotated[str, Words(NAME_LENGTH)]
    share: Annotated[Decimal, Fraction(above="0"), "Share of the quantity; all lifts add up to 1."]
    speed_factor: Annotated[
        Decimal, Quantity(above="0"), "Placing speed divided by that of open work."
    ] = Decimal(1)


@dataclass(frozen=True, kw_only=True)
class WorkToDo:
    """How much a working system of one kind of carrier is to bring or place."""

    quantity: Annotated[Decimal, Quantity(above="0"), "In the unit of the load."]
    placing: Annotated[str | None, Words(NAME_LENGTH), "The station that a lift slows."] = None
    lifts: Annotated[Sequence[LiftToPlace], several(LiftToPlace, 0, MOST_LIFTS)] = ()


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
    beside: Annotated[KindBeside | None, Part(schema_of(KindBeside))] = None
    pile: Annotated[PileOutside | None, Part(schema_of(PileOutside))] = None
    work: Annotated[WorkToDo | None, Part(schema_of(WorkToDo))] = None


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


class KindAnswer(Answer):
    """What one of two kinds of carrier brings."""

    name = ma.fields.String(required=True)
    carriers = ma.fields.Integer(required=True)
    with_waiting_per_hr = Figure(required=True)
    wait_minutes = Figure(required=True)


class PileAnswer(Answer):
    """What the limit of a pile does to those who bring; full after no time if it never is."""

    full_after_hr = Figure(allow_none=True, required=True)
    bringing_hr = Figure(required=True)
    held_back_hr = Figure(required=True)
    placing_hr = Figure(required=True)


class TimeAnswer(Answer):
    """How long the work takes at best and with waiting [hr, days], and in how many loads."""

    at_best_hours = Figure(required=True)
    at_best_days = Figure(required=True)
    with_waiting_hours = Figure(required=True)
    with_waiting_days = Figure(required=True)
    whole_loads = ma.fields.Integer(required=True)


class ProductionAnswer(Answer):
    """The output of a working system; of two kinds of carrier without parts, lines and cycle."""

    name = ma.fields.String(required=True)
    unit = ma.fields.String(required=True)
    cycle_minutes = Figure()
    at_best_per_hr = Figure(required=True)
    bottlenecks = ma.fields.List(ma.fields.String(), required=True)
    parts = ma.fields.List(ma.fields.Nested(PartAnswer), required=True)
    with_waiting_per_hr = Figure(required=True)
    cycle_with_waiting_minutes = Figure()
    lines = ma.fields.List(ma.fields.Nested(LineAnswer), required=True)
    under_way = Figure()
    kinds = ma.fields.List(ma.fields.Nested(KindAnswer), required=True)
    may_be_high_by = Figure(required=True)
    may_be_low_by = Figure(required=True)
    pile = ma.fields.Nested(PileAnswer)
    balanced_carriers = ma.fields.Integer(
        allow_none=True,
        metadata={
            "description": "Carriers to keep the slowest station busy; null if none, or above 500."
        },
    )
    time = ma.fields.Nested(TimeAnswer)
