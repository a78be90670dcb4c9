"""Shapes of a working system and of its output."""

from __future__ import annotations

from decimal import Decimal

import marshmallow as ma

from api.contract.fields import Figure, Fraction, Quantity, Whole, Words
from api.contract.schemas import Answer, ListOf, Part, Schema

NAME_LENGTH = 100
UNIT_LENGTH = 20
MOST_STEPS = 50
MOST_CARRIERS = 500


class LoadAsked(Schema):
    """What a carrier brings at a time."""

    size = Quantity(required=True, above="0")
    unit = Words(UNIT_LENGTH, required=True, metadata={"description": "Such as ton or cy."})


class StepAsked(Schema):
    """A step: minutes, or distance and speed, or a flow; at a station or at none."""

    step = Words(NAME_LENGTH, required=True)
    minutes = Quantity(above="0")
    distance_ft = Quantity(above="0")
    speed_mph = Quantity(above="0")
    rate_per_hr = Quantity(above="0")
    unit = Words(UNIT_LENGTH, metadata={"description": "Of the flow."})
    station = Words(NAME_LENGTH)


class StationAsked(Schema):
    """What only so many carriers can use at once."""

    name = Words(NAME_LENGTH, required=True)
    places = Whole(1, MOST_CARRIERS, load_default=1)
    taken_by_others = Fraction(load_default=Decimal(0))


class ProductionAsked(Schema):
    """A working system."""

    name = Words(NAME_LENGTH, load_default="the system")
    carriers = Whole(1, MOST_CARRIERS, required=True)
    load = Part(LoadAsked, required=True)  # type: ignore[assignment]
    cycle = ListOf(Part(StepAsked), 1, MOST_STEPS, required=True)
    stations = ListOf(Part(StationAsked), 0, MOST_STEPS, load_default=list)
    efficiency = Fraction(load_default=Decimal(1), above="0")
    shift_hr = Quantity(load_default=Decimal(8), above="0", most="24")


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
