"""Volumes and reinforcing: take-off functions of the library by the name of what they measure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from inspect import Parameter
from typing import Any

from api.calculations.known_takeoffs import ONE, ROWS, SEVERAL, Dimension, TakeOff
from api.calculations.takeoff_shapes import Reinforcing, Volume
from api.contract.fields import decimal_text
from api.contract.places import faults_at, pointer
from estimator.errors import Faults, GeometryFaulty, InputFaulty, did_you_mean, quoted


def taken_off(
    parts: Sequence[Volume | Reinforcing], known: Mapping[str, TakeOff]
) -> list[dict[str, str]]:
    """Return the quantity of each part, by the library.

    Parameters
    ----------
    parts : sequence of Volume or Reinforcing
        Each of a shape that is a key of `known`.
    known : mapping of str to TakeOff
        `VOLUMES` or `REINFORCING`.

    Raises
    ------
    GeometryFaulty
        With the faults of all parts, each at its dimension.
    """
    faults, results = Faults(), []
    for n, part in enumerate(parts):
        place = pointer("parts", n, "dimensions")
        function, dimensions = known[part.shape], part.dimensions
        noted = len(faults.entries)
        _check_names(function, part.shape, dimensions, place, faults)
        if len(faults.entries) == noted:
            try:
                with faults_at(place, dimensions):
                    value = function.compute(**_numbers(dimensions))
                head = {"name": part.name, "shape": part.shape}
                results.append({**head, "value": decimal_text(value), "unit": function.unit})
            except InputFaulty as error:
                faults.take("", error)
    faults.raise_if_any(GeometryFaulty)
    return results


def _check_names(
    function: TakeOff, shape: str, dimensions: Mapping[str, Dimension], place: str, faults: Faults
) -> None:
    """Note dimensions that the shape does not have, lacks, or has of another form."""
    for name, value in dimensions.items():
        where = pointer(name, of=place)
        if name not in function.parameters:
            remedy = did_you_mean(name, function.parameters)
            faults.add(where, f"is not a dimension of the shape {quoted(shape)}", remedy)
        elif _form(value) != (wanted := function.form(name)):
            faults.add(where, f"is not {wanted}")
    for name, one in function.parameters.items():
        if one.default is Parameter.empty and name not in dimensions:
            faults.add(place, f"{quoted(name)} is missing")


def _form(value: Dimension) -> str:
    if isinstance(value, Decimal):
        return ONE
    return SEVERAL if isinstance(value[0], Decimal) else ROWS


def _numbers(dimensions: Mapping[str, Dimension]) -> dict[str, Any]:
    return {name: _floats(value) for name, value in dimensions.items()}


def _floats(value: Dimension) -> Any:
    return float(value) if isinstance(value, Decimal) else [_floats(one) for one in value]
