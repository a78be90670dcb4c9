"""Volumes and reinforcing: take-off functions of the library by the name of what they measure."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from importlib import import_module
from inspect import Parameter, signature
from typing import TYPE_CHECKING, Any

from api.contract.fields import decimal_text
from api.contract.places import faults_at, pointer
from estimator.errors import Faults, GeometryFaulty, InputFaulty, did_you_mean, quoted

if TYPE_CHECKING:
    from api.calculations.takeoff_shapes import Reinforcing, Volume

_FOLDER = "estimator.quantity.takeoff"

Dimension = Decimal | Sequence[Decimal]


@dataclass(frozen=True)
class TakeOff:
    """A function of the library, looked up on first use.

    Parameters
    ----------
    module, function : str
    lists : tuple of str
        Dimensions that are several numbers; all others are one.
    """

    module: str
    function: str
    lists: tuple[str, ...] = ()

    @cached_property
    def compute(self) -> Callable[..., Any]:
        """The function."""
        function: Callable[..., Any] = getattr(
            import_module(f"{_FOLDER}.{self.module}"), self.function
        )
        return function

    @cached_property
    def parameters(self) -> Mapping[str, Parameter]:
        """Its dimensions, by names that carry their units."""
        return signature(self.compute).parameters

    @property
    def unit(self) -> str:
        """The unit of what it returns."""
        from estimator.quantity.named_units import unit_in_name

        return unit_in_name(self.function)


VOLUMES: Mapping[str, TakeOff] = {
    "prism": TakeOff("volumes", "prism_cf"),
    "two-depths": TakeOff("volumes", "two_depth_cf"),
    "four-corners": TakeOff("volumes", "four_corner_cf", ("corner_depths_ft",)),
    "average-end-areas": TakeOff("volumes", "average_end_area_cf", ("station_ft", "area_sf")),
    "end-areas-with-pyramids": TakeOff(
        "volumes", "end_areas_with_pyramids_cf", ("station_ft", "area_sf")
    ),
    "end-pyramid": TakeOff("volumes", "end_pyramid_cf"),
    "prismoid": TakeOff("volumes", "prismoidal_cf"),
    "cone": TakeOff("heaps_and_pits", "cone_cf"),
    "cone-at-repose": TakeOff("heaps_and_pits", "cone_at_repose_cf"),
    "ridge-at-repose": TakeOff("heaps_and_pits", "ridge_at_repose_cf"),
    "trench": TakeOff("heaps_and_pits", "trench_cf"),
    "pit": TakeOff("heaps_and_pits", "pit_cf"),
    "slab": TakeOff("concrete", "slab_cf"),
    "footing": TakeOff("concrete", "footing_cf"),
    "wall": TakeOff("concrete", "wall_cf"),
    "thickened-edge": TakeOff("concrete_parts", "thickened_edge_cf"),
    "thickened-pad": TakeOff("concrete_parts", "thickened_pad_cf"),
    "round-pier": TakeOff("concrete_parts", "round_pier_cf"),
    "square-pier": TakeOff("concrete_parts", "square_pier_cf"),
}
REINFORCING: Mapping[str, TakeOff] = {
    "bars-at-spacing": TakeOff("reinforcing", "bars_at_spacing"),
    "lapped-pieces": TakeOff("reinforcing", "lapped_pieces"),
    "wire-sheets": TakeOff("reinforcing", "wire_sheets"),
    "bar-weight": TakeOff("reinforcing", "nominal_bar_lb_per_ft"),
    "lap-length": TakeOff("bar_lists", "lap_length_ft"),
    "lapped-length": TakeOff("bar_lists", "lapped_length_ft"),
    "bar-mat": TakeOff("bar_lists", "bar_mat_lf"),
    "pieces-from-stock": TakeOff("bar_lists", "pieces_from_stock"),
    "stock-bars": TakeOff("bar_lists", "stock_bars"),
    "weight-of-bars": TakeOff("bar_lists", "bars_lb"),
}


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
            faults.add(where, f"is not a dimension of a {shape}", remedy)
        elif isinstance(value, Decimal) == (name in function.lists):
            form = "a list of numbers" if name in function.lists else "one number"
            faults.add(where, f"is not {form}")
    for name, one in function.parameters.items():
        if one.default is Parameter.empty and name not in dimensions:
            faults.add(place, f"{quoted(name)} is missing")


def _numbers(dimensions: Mapping[str, Dimension]) -> dict[str, float | list[float]]:
    return {
        name: float(value) if isinstance(value, Decimal) else [float(one) for one in value]
        for name, value in dimensions.items()
    }
