"""The take-off functions that the service knows, by the shape that a body names."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from importlib import import_module
from inspect import Parameter, signature
from typing import Any

_FOLDER = "estimator.quantity.takeoff"

ONE, SEVERAL, ROWS = "one number", "a list of numbers", "rows of numbers"

Dimension = Decimal | Sequence[Decimal] | Sequence[Sequence[Decimal]]


@dataclass(frozen=True)
class TakeOff:
    """A function of the library, looked up on first use.

    Parameters
    ----------
    module, function : str
        Where it stands in the library, and its name there.
    lists : tuple of str
        Dimensions that are several numbers; all others are one.
    grids : tuple of str
        Dimensions that are rows of numbers.
    """

    module: str
    function: str
    lists: tuple[str, ...] = ()
    grids: tuple[str, ...] = ()

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

    def form(self, name: str) -> str:
        """Return in which form a dimension is given."""
        return SEVERAL if name in self.lists else ROWS if name in self.grids else ONE

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
    "grid-of-stakes": TakeOff("grids", "borrow_pit_cf", grids=("depth_ft", "dug")),
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
    "wire-weight": TakeOff("welded_wire", "mesh_lb"),
    "lap-length": TakeOff("bar_lists", "lap_length_ft"),
    "lapped-length": TakeOff("bar_lists", "lapped_length_ft"),
    "bar-mat": TakeOff("bar_lists", "bar_mat_lf"),
    "pieces-from-stock": TakeOff("bar_lists", "pieces_from_stock"),
    "stock-bars": TakeOff("bar_lists", "stock_bars"),
    "weight-of-bars": TakeOff("bar_lists", "bars_lb"),
}
