"""Shapes of earth in its states, and of the trucks that haul it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated

import marshmallow as ma

from api.contract.commands import schema_of, several
from api.contract.fields import Choice, Figure, Quantity
from api.contract.schemas import Answer, Part

SOILS = ("sand or gravel", "common earth", "clay", "blasted rock")
STATES = ("bank", "loose", "compacted")
MOST_VOLUMES = 100

_Positive = Annotated[Decimal, Quantity(above="0", most="100000")]


@dataclass(frozen=True, kw_only=True)
class WeightsOfSoil:
    """What a cubic yard of a soil weighs in each state [lb]."""

    bank_lb_per_cy: _Positive
    loose_lb_per_cy: _Positive
    compacted_lb_per_cy: _Positive


@dataclass(frozen=True, kw_only=True)
class VolumeOfSoil:
    """Earth as it was measured."""

    volume_cy: Annotated[Decimal, Quantity()]
    state: Annotated[str, Choice(*STATES)]


@dataclass(frozen=True, kw_only=True)
class TruckOfSoil:
    """A truck that hauls it; by weight, too, where the weights of the soil are stated."""

    body_cy: Annotated[_Positive, "What the body holds, loose."]
    payload_ton: Annotated[Decimal | None, Quantity(above="0", most="1000"), "Legal load."] = None


@dataclass(frozen=True, kw_only=True)
class SoilToMove:
    """Volumes of one soil: one of the table, or by its weights."""

    soil: Annotated[str | None, Choice(*SOILS)] = None
    weights: Annotated[WeightsOfSoil | None, Part(schema_of(WeightsOfSoil))] = None
    volumes: Annotated[Sequence[VolumeOfSoil], several(VolumeOfSoil, 1, MOST_VOLUMES)]
    truck: Annotated[TruckOfSoil | None, Part(schema_of(TruckOfSoil))] = None


class LoadsAnswer(Answer):
    """Whole truckloads: what the body makes, what the payload makes, and the greater."""

    by_volume = ma.fields.Integer(required=True)
    by_weight = ma.fields.Integer(required=True, allow_none=True)
    needed = ma.fields.Integer(required=True)


class SoilAnswer(Answer):
    """All of it together in each state [cy], and its truckloads."""

    bank_cy = Figure(required=True)
    loose_cy = Figure(required=True)
    compacted_cy = Figure(required=True)
    truckloads = Part(LoadsAnswer, required=True, allow_none=True)
