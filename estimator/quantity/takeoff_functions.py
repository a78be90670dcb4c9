"""Take-off functions that formulas of assemblies may call by name.

A bare number carries its unit in its name throughout the house, and so the names of a function and
of its parameters say in which units it works: `trench_cf(length_ft, ...)` takes feet and returns
cubic feet. In a formula it is called `trench`; its arguments, in base units there, are handed over
in the units it works in, and the result comes back in base units. Dimensions are checked when a
assembly is loaded.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from inspect import Parameter, signature
from typing import Any

import numpy as np
import numpy.typing as npt

from estimator.quantity.named_units import unit_in_name
from estimator.quantity.takeoff import (
    bar_lists,
    coatings,
    concrete,
    concrete_parts,
    debris,
    forms,
    heaps_and_pits,
    mortar,
    reinforcing,
    roofing,
    salvage,
    sawing,
    slab_accessories,
    timber,
    tipping,
    volumes,
)
from estimator.quantity.takeoff.masonry import repointing_mortar_cf
from estimator.quantity.units import Unit, unit

Values = npt.NDArray[np.float64]


@dataclass(frozen=True)
class TakeOffFunction:
    """A take-off function as formulas call it.

    Parameters
    ----------
    compute : callable
        A pure function of this floor, whose names carry their units.
    unit_of_result : str
        Where the function's own name does not end with it.
    """

    compute: Callable[..., Any]
    unit_of_result: str = ""

    @property
    def name(self) -> str:
        """What formulas call it: its name without the unit."""
        return self.compute.__name__.removesuffix(f"_{self.result}")

    @cached_property
    def parameters(self) -> tuple[Parameter, ...]:
        """Its parameters, in the order in which a formula writes them."""
        return tuple(signature(self.compute).parameters.values())

    @cached_property
    def arguments(self) -> Mapping[str, str]:
        """Parameter to unit."""
        return {one.name: unit_in_name(one.name) for one in self.parameters}

    @cached_property
    def fewest(self) -> int:
        """How many arguments there must be; the others have a default."""
        return sum(one.default is Parameter.empty for one in self.parameters)

    @property
    def result(self) -> str:
        """Unit of the result."""
        return self.unit_of_result or unit_in_name(self.compute.__name__)

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
        named = zip(self.arguments, values, self.argument_units, strict=False)
        in_own_units = {name: value / float(one.factor) for name, value, one in named}
        return np.asarray(self.compute(**in_own_units)) * float(self.result_unit.factor)


_FUNCTIONS = (
    volumes.prism_cf,
    volumes.end_pyramid_cf,
    volumes.prismoidal_cf,
    heaps_and_pits.cone_cf,
    heaps_and_pits.trench_cf,
    heaps_and_pits.pit_cf,
    concrete.slab_cf,
    concrete_parts.thickened_edge_cf,
    concrete_parts.thickened_pad_cf,
    concrete_parts.round_pier_cf,
    concrete_parts.square_pier_cf,
    concrete_parts.wall_less_openings_cf,
    forms.wall_form_sf,
    forms.edge_form_sf,
    forms.pad_form_sf,
    reinforcing.bars_at_spacing,
    reinforcing.lapped_pieces,
    reinforcing.wire_sheets,
    bar_lists.lapped_length_ft,
    bar_lists.bar_mat_lf,
    slab_accessories.lapped_rolls,
    slab_accessories.control_joint_lf,
    repointing_mortar_cf,
    mortar.pocket_fill_cf,
    timber.matched_flooring_bf,
    salvage.usable_board_lf,
    sawing.worn_ft,
    coatings.coating_gal,
    roofing.roof_sf,
    debris.floor_cut_ft,
    debris.boxes_needed,
    debris.envelope_debris_cy,
    tipping.tipped_ton,
)

TAKE_OFF: Mapping[str, TakeOffFunction] = {
    one.name: one
    for one in (
        *(TakeOffFunction(function) for function in _FUNCTIONS),
        TakeOffFunction(timber.board_feet, unit_of_result="bf"),
    )
}
