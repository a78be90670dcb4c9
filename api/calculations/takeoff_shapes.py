"""Shapes of volumes and reinforcing."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Any

import marshmallow as ma

from api.calculations.known_takeoffs import REINFORCING, VOLUMES, Dimension
from api.contract.commands import several
from api.contract.fields import Choice, Figure, Quantity, Words
from api.contract.schemas import Answer
from estimator.errors import how_many

MOST_PARTS = 1_000
MOST_DIMENSIONS = 12
MOST_NUMBERS = 500
NAME_LENGTH = 100

_NAME_PATTERN = "^[a-z_]{1,40}$"


class DimensionsField(ma.fields.Field[Any]):
    """Dimensions by names that carry their units; a list, or rows, where a shape has several."""

    default_error_messages = {  # noqa: RUF012
        "required": "is missing",
        "null": "is null; give the dimensions",
    }

    def __init__(self, **options: Any) -> None:
        self.one = Quantity()
        number = {"type": "string", "pattern": self.one.pattern}
        several = _list_of(number)
        metadata = {
            "type": "object",
            "minProperties": 1,
            "maxProperties": MOST_DIMENSIONS,
            "propertyNames": {"pattern": _NAME_PATTERN},
            "additionalProperties": {"oneOf": [number, several, _list_of(several)]},
            "description": "By name, such as length_ft; docs/api.md lists them for each shape.",
        }
        super().__init__(metadata=metadata, **options)

    def _deserialize(self, value: Any, *_: Any, **__: Any) -> Any:
        if not isinstance(value, dict) or not 1 <= len(value) <= MOST_DIMENSIONS:
            raise ma.ValidationError('is not a set of dimensions; write {"length_ft": "62.5"}')
        read, faults = {}, {}
        for name, number in value.items():
            try:
                read[name] = self._read(name, number)
            except ma.ValidationError as error:
                faults[name] = error.messages
        if faults:
            raise ma.ValidationError(faults)
        return read

    def _read(self, name: str, value: Any) -> Any:
        if not re.fullmatch(_NAME_PATTERN, name, re.ASCII):
            raise ma.ValidationError("is not a name of a dimension")
        if not isinstance(value, list):
            return self.one.deserialize(value)
        rows = [one if isinstance(one, list) else [one] for one in value]
        if not 1 <= (count := sum(map(len, rows))) <= MOST_NUMBERS:
            what = f"has {how_many(count, 'number')}"
            raise ma.ValidationError(f"{what}; 1 to {MOST_NUMBERS:,} are taken")
        if len({len(one) if isinstance(one, list) else None for one in value}) > 1:
            raise ma.ValidationError("has rows of different lengths")
        read = [[self.one.deserialize(number) for number in row] for row in rows]
        return read if isinstance(value[0], list) else [number for (number,) in read]


def _list_of(items: dict[str, Any]) -> dict[str, Any]:
    return {"type": "array", "items": items, "minItems": 1, "maxItems": MOST_NUMBERS}


@dataclass(frozen=True, kw_only=True)
class PartOfWork:
    """One part to take off."""

    name: Annotated[str, Words(NAME_LENGTH)] = ""
    dimensions: Annotated[Mapping[str, Dimension], DimensionsField()]


@dataclass(frozen=True, kw_only=True)
class Volume(PartOfWork):
    """One volume to take off."""

    shape: Annotated[str, Choice(*VOLUMES)]


@dataclass(frozen=True, kw_only=True)
class Volumes:
    """Volumes to take off."""

    parts: Annotated[Sequence[Volume], several(Volume, 1, MOST_PARTS)]


@dataclass(frozen=True, kw_only=True)
class Reinforcing(PartOfWork):
    """One thing to count or weigh."""

    shape: Annotated[str, Choice(*REINFORCING)]


@dataclass(frozen=True, kw_only=True)
class ReinforcingParts:
    """Bars and wire to count and weigh."""

    parts: Annotated[Sequence[Reinforcing], several(Reinforcing, 1, MOST_PARTS)]


class TakenOffPart(Answer):
    """What one part comes to."""

    name = ma.fields.String(required=True)
    shape = ma.fields.String(required=True)
    value = Figure(required=True)
    unit = ma.fields.String(required=True)


class TakenOff(Answer):
    """What the parts come to, in their order."""

    parts = ma.fields.List(ma.fields.Nested(TakenOffPart), required=True)
