"""Shapes of what one loader or roller does."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated

import marshmallow as ma

from api.contract.commands import schema_of
from api.contract.fields import Figure, Fraction, Quantity, Whole
from api.contract.schemas import Answer, Part

_Positive = Annotated[Decimal, Quantity(above="0", most="100000")]


@dataclass(frozen=True, kw_only=True)
class TruckToFill:
    """A truck at a loader."""

    body: Annotated[_Positive, "What it holds, in the unit of the bucket."]
    away_minutes: Annotated[_Positive, "Time from leaving the loader to coming back."]


@dataclass(frozen=True, kw_only=True)
class LoaderToRun:
    """A machine that works in cycles."""

    bucket: Annotated[_Positive, "Struck capacity, in any unit."]
    fill_factor: Annotated[Decimal, Quantity(above="0", most="10"), "Above 1 if heaped."] = Decimal(
        1
    )
    cycle_minutes: _Positive
    efficiency: Annotated[Decimal, Fraction(above="0"), "Working share of an hour."] = Decimal(1)
    truck: Annotated[TruckToFill | None, Part(schema_of(TruckToFill))] = None


@dataclass(frozen=True, kw_only=True)
class RollerToRun:
    """A roller on a layer."""

    width_ft: Annotated[_Positive, "Width of one pass, less the overlap."]
    speed_mph: _Positive
    lift_in: Annotated[_Positive, "Compacted thickness."]
    passes: Annotated[int, Whole(1, 1000)]
    efficiency: Annotated[Decimal, Fraction(above="0"), "Working share of an hour."] = Decimal(1)
    flow_cy_per_hr: Annotated[
        Decimal | None, Quantity(above="0"), "Spread per hour, compacted; gives the roller count."
    ] = None


class TruckLoadingAnswer(Answer):
    """How a truck is filled, and how many a field manual sends."""

    passes = ma.fields.Integer(required=True)
    truck_load = Figure(required=True)
    load_minutes = Figure(required=True)
    trucks = ma.fields.Integer(required=True)


class LoaderAnswer(Answer):
    """The output of a loader, in the unit of its bucket."""

    output_per_hr = Figure(required=True)
    truck = Part(TruckLoadingAnswer, required=True, allow_none=True)


class RollerAnswer(Answer):
    """The output of a roller, compacted, and how many keep up."""

    output_cy_per_hr = Figure(required=True)
    rollers = ma.fields.Integer(required=True, allow_none=True)
