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
    brickwork,
    coatings,
    concrete,
    concrete_parts,
    debris,
    deductions,
    forms,
    framing,
    heaps_and_pits,
    lumber_sizes,
    masonry,
    mortar,
    reinforcing,
    roofing,
    salvage,
    sawing,
    slab_accessories,
    soil,
    stone,
    timber,
    tipping,
    volumes,
    welded_wire,
)
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
    volumes.two_depth_cf,
    volumes.end_pyramid_cf,
    volumes.prismoidal_cf,
    volumes.coverage_sf_per_cy,
    heaps_and_pits.cone_cf,
    heaps_and_pits.cone_at_repose_cf,
    heaps_and_pits.cone_diameter_ft,
    heaps_and_pits.ridge_at_repose_cf,
    heaps_and_pits.trench_cf,
    heaps_and_pits.pit_cf,
    stone.swell_fraction,
    stone.shrinkage_fraction,
    stone.fill_lb,
    stone.lift_count,
    soil.loads_by_volume,
    soil.loads_by_weight,
    concrete.slab_cf,
    concrete.footing_cf,
    concrete.wall_cf,
    concrete.concrete_order_cy,
    concrete.truck_loads,
    concrete.short_loads,
    concrete_parts.thickened_edge_cf,
    concrete_parts.thickened_pad_cf,
    concrete_parts.stepped_footing_cf,
    concrete_parts.round_pier_cf,
    concrete_parts.belled_pier_cf,
    concrete_parts.square_pier_cf,
    concrete_parts.wall_less_openings_cf,
    deductions.net_area_sf,
    deductions.net_volume_cf,
    deductions.deducted_openings_sf,
    forms.wall_form_sf,
    forms.edge_form_sf,
    forms.pad_form_sf,
    forms.beam_form_sf,
    forms.form_lumber_bf,
    reinforcing.bar_lb_per_ft,
    reinforcing.bars_at_spacing,
    reinforcing.lapped_pieces,
    reinforcing.wire_sheets,
    welded_wire.mesh_lb,
    bar_lists.lap_length_ft,
    bar_lists.lapped_length_ft,
    bar_lists.bar_mat_lf,
    bar_lists.pieces_from_stock,
    bar_lists.stock_bars,
    slab_accessories.lapped_sf,
    slab_accessories.lapped_rolls,
    slab_accessories.control_joint_lf,
    slab_accessories.joint_filler_gal,
    brickwork.brick_per_sf,
    brickwork.brick_per_cf,
    brickwork.header_course_factor,
    brickwork.wall_brick,
    masonry.joint_lf_per_sf,
    masonry.repointing_mortar_cf,
    mortar.bed_and_head_mortar_cf,
    mortar.cell_grout_cf,
    mortar.pocket_fill_cf,
    framing.joists,
    framing.grid_posts,
    framing.strip_flooring_bf,
    framing.floor_fasteners,
    framing.nails_per_lb,
    framing.square_spikes_per_lb,
    framing.fasteners_lb,
    lumber_sizes.dressed_thickness_in,
    lumber_sizes.dressed_width_in,
    lumber_sizes.joist_width_1916_in,
    timber.matched_flooring_bf,
    salvage.usable_board_lf,
    sawing.worn_ft,
    sawing.blades_needed,
    coatings.coating_gal,
    coatings.edged_coating_gal,
    coatings.film_coverage_sf_per_gal,
    roofing.roof_sf,
    roofing.slope_factor,
    roofing.hip_factor,
    roofing.slate_exposure_in,
    debris.floor_cut_ft,
    debris.floor_debris_cy,
    debris.house_debris_cy,
    debris.element_debris_cf,
    debris.boxes_needed,
    debris.envelope_debris_cy,
    tipping.tipped_ton,
)

TAKE_OFF: Mapping[str, TakeOffFunction] = {
    one.name: one
    for one in (
        *(TakeOffFunction(function) for function in _FUNCTIONS),
        TakeOffFunction(timber.board_feet, unit_of_result="bf"),
        TakeOffFunction(roofing.shingles_per_square, unit_of_result="ea/square"),
        TakeOffFunction(roofing.slates_per_square, unit_of_result="ea/square"),
    )
}
