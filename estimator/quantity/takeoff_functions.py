"""Take-off functions that formulas of recipes may call by name, with the units they work in.

In a formula all values are in base units; each argument is handed over in the unit that its
function works in, and the result comes back in base units. Dimensions of arguments and results
are checked when a recipe is loaded.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import numpy.typing as npt

from estimator.quantity import (
    concrete,
    debris,
    heaps_and_pits,
    masonry,
    reinforcing,
    timber,
    volumes,
)
from estimator.quantity.units import Unit, unit

Values = npt.NDArray[np.float64]


@dataclass(frozen=True)
class TakeOffFunction:
    """A take-off function with its units.

    Parameters
    ----------
    compute : callable
        Takes its arguments by the names in `arguments`.
    arguments : mapping of str to str
        Parameter to unit, in the order in which a formula writes them.
    result : str
        Unit of the result.
    """

    compute: Callable[..., Any]
    arguments: Mapping[str, str]
    result: str

    @cached_property
    def argument_units(self) -> tuple[Unit, ...]:
        """The unit of each argument, in order."""
        return tuple(unit(name) for name in self.arguments.values())

    @cached_property
    def result_unit(self) -> Unit:
        """The unit of the result."""
        return unit(self.result)

    def in_base_units(self, *values: Values) -> Values:
        """Return the result for arguments in base units, in base units.

        Raises
        ------
        GeometryFaulty
            If the dimensions describe no shape.
        """
        factors = [float(one.factor) for one in self.argument_units]
        given = {
            name: value / factor
            for name, value, factor in zip(self.arguments, values, factors, strict=True)
        }
        return np.asarray(self.compute(**given)) * float(self.result_unit.factor)


TAKE_OFF: Mapping[str, TakeOffFunction] = {
    "prism": TakeOffFunction(
        volumes.prism_cf, {"length_ft": "ft", "width_ft": "ft", "depth_ft": "ft"}, "cf"
    ),
    "trench": TakeOffFunction(
        heaps_and_pits.trench_cf,
        {"length_ft": "ft", "bottom_width_ft": "ft", "depth_ft": "ft", "side_slope": "fraction"},
        "cf",
    ),
    "pit": TakeOffFunction(
        heaps_and_pits.pit_cf,
        {
            "bottom_length_ft": "ft",
            "bottom_width_ft": "ft",
            "depth_ft": "ft",
            "side_slope": "fraction",
        },
        "cf",
    ),
    "slab": TakeOffFunction(concrete.slab_cf, {"area_sf": "sf", "thickness_in": "in"}, "cf"),
    "bars_at_spacing": TakeOffFunction(
        reinforcing.bars_at_spacing,
        {"width_ft": "ft", "spacing_in": "in", "cover_in": "in"},
        "ea",
    ),
    "lapped_pieces": TakeOffFunction(
        reinforcing.lapped_pieces, {"run_ft": "ft", "stock_ft": "ft", "lap_ft": "ft"}, "ea"
    ),
    "bar_weight": TakeOffFunction(reinforcing.bar_lb_per_ft, {"diameter_in": "in"}, "lb/ft"),
    "wire_sheets": TakeOffFunction(
        reinforcing.wire_sheets,
        {
            "length_ft": "ft",
            "width_ft": "ft",
            "sheet_length_ft": "ft",
            "sheet_width_ft": "ft",
            "lap_ft": "ft",
        },
        "ea",
    ),
    "repointing_mortar": TakeOffFunction(
        masonry.repointing_mortar_cf,
        {"joint_lf": "ft", "joint_width_in": "in", "rake_depth_in": "in"},
        "cf",
    ),
    "board_feet": TakeOffFunction(
        timber.board_feet,
        {"thickness_in": "in", "width_in": "in", "length_ft": "ft", "pieces": "ea"},
        "bf",
    ),
    "floor_cut": TakeOffFunction(
        debris.floor_cut_ft,
        {"length_ft": "ft", "width_ft": "ft", "piece_ft": "ft", "cut_ends": "ea"},
        "ft",
    ),
    "boxes_needed": TakeOffFunction(
        debris.boxes_needed,
        {"debris_cy": "cy", "ton_per_cy": "ton/cy", "box_cy": "cy", "limit_ton": "ton"},
        "ea",
    ),
}
