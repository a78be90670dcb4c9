from .bar_lists import (
    bar_mat_lf as bar_mat_lf, bars_lb as bars_lb, lap_length_ft as lap_length_ft,
    lapped_length_ft as lapped_length_ft, pieces_from_stock as pieces_from_stock,
    stock_bars as stock_bars,
)
from .brickwork import (
    brick_per_cf as brick_per_cf, brick_per_sf as brick_per_sf,
    header_course_factor as header_course_factor, wall_brick as wall_brick,
)
from .coatings import (
    coating_gal as coating_gal, edged_coating_gal as edged_coating_gal,
    film_coverage_sf_per_gal as film_coverage_sf_per_gal,
)
from .concrete import (
    concrete_order_cy as concrete_order_cy, footing_cf as footing_cf,
    short_load_cy as short_load_cy, short_loads as short_loads, slab_cf as slab_cf,
    truck_loads as truck_loads, wall_cf as wall_cf,
)
from .concrete_parts import (
    belled_pier_cf as belled_pier_cf, round_pier_cf as round_pier_cf,
    square_pier_cf as square_pier_cf, stepped_footing_cf as stepped_footing_cf,
    thickened_edge_cf as thickened_edge_cf, thickened_pad_cf as thickened_pad_cf,
    wall_less_openings_cf as wall_less_openings_cf,
)
from .debris import (
    boxes_needed as boxes_needed, element_debris_cf as element_debris_cf,
    envelope_debris_cy as envelope_debris_cy, floor_cut_ft as floor_cut_ft,
    floor_debris_cy as floor_debris_cy, house_debris_cy as house_debris_cy,
)
from .deductions import (
    deducted_openings_sf as deducted_openings_sf, net_area_sf as net_area_sf,
    net_volume_cf as net_volume_cf,
)
from .forms import (
    beam_form_sf as beam_form_sf, edge_form_sf as edge_form_sf, form_lumber_bf as form_lumber_bf,
    pad_form_sf as pad_form_sf, wall_form_sf as wall_form_sf,
)
from .framing import (
    fasteners_lb as fasteners_lb, floor_fasteners as floor_fasteners, grid_posts as grid_posts,
    joists as joists, nails_per_lb as nails_per_lb, square_spikes_per_lb as square_spikes_per_lb,
    strip_flooring_bf as strip_flooring_bf,
)
from .grids import borrow_pit_cf as borrow_pit_cf
from .heaps_and_pits import (
    cone_at_repose_cf as cone_at_repose_cf, cone_cf as cone_cf,
    cone_diameter_ft as cone_diameter_ft, pit_cf as pit_cf,
    ridge_at_repose_cf as ridge_at_repose_cf, trench_cf as trench_cf,
)
from .lumber_sizes import (
    dressed_thickness_in as dressed_thickness_in, dressed_width_in as dressed_width_in,
    joist_width_1916_in as joist_width_1916_in,
)
from .masonry import (
    joint_lf_per_sf as joint_lf_per_sf, repointing_mortar_cf as repointing_mortar_cf,
)
from .mortar import (
    bed_and_head_mortar_cf as bed_and_head_mortar_cf, cell_grout_cf as cell_grout_cf,
    pocket_fill_cf as pocket_fill_cf,
)
from .reinforcing import (
    bar_lb_per_ft as bar_lb_per_ft, bars_at_spacing as bars_at_spacing,
    lapped_pieces as lapped_pieces, nominal_bar_lb_per_ft as nominal_bar_lb_per_ft,
    wire_sheets as wire_sheets,
)
from .roofing import (
    hip_factor as hip_factor, roof_sf as roof_sf, shingles_per_square as shingles_per_square,
    slate_exposure_in as slate_exposure_in, slates_per_square as slates_per_square,
    slope_factor as slope_factor,
)
from .salvage import (
    RecoveredBoards as RecoveredBoards, recovered_boards as recovered_boards,
    usable_board_lf as usable_board_lf,
)
from .sawing import blades_needed as blades_needed, worn_ft as worn_ft
from .slab_accessories import (
    control_joint_lf as control_joint_lf, joint_filler_gal as joint_filler_gal,
    lapped_rolls as lapped_rolls, lapped_sf as lapped_sf,
)
from .soil import (
    BLASTED_ROCK as BLASTED_ROCK, CLAY as CLAY, COMMON_EARTH as COMMON_EARTH,
    SAND_OR_GRAVEL as SAND_OR_GRAVEL, SoilFactors as SoilFactors, State as State,
    loads_by_volume as loads_by_volume, loads_by_weight as loads_by_weight,
    soil_from_weights as soil_from_weights, soil_volume_cy as soil_volume_cy,
)
from .spot_depths import SpotSurface as SpotSurface, mean_spot_depth as mean_spot_depth
from .spot_holes import surface_of_holes as surface_of_holes
from .stone import (
    fill_lb as fill_lb, lift_count as lift_count, shrinkage_fraction as shrinkage_fraction,
    swell_fraction as swell_fraction,
)
from .timber import board_feet as board_feet, matched_flooring_bf as matched_flooring_bf
from .tipping import tipped_ton as tipped_ton
from .volumes import (
    average_end_area_cf as average_end_area_cf, coverage_sf_per_cy as coverage_sf_per_cy,
    end_areas_with_pyramids_cf as end_areas_with_pyramids_cf, end_pyramid_cf as end_pyramid_cf,
    four_corner_cf as four_corner_cf, prism_cf as prism_cf, prismoidal_cf as prismoidal_cf,
    two_depth_cf as two_depth_cf,
)
from .welded_wire import mesh_lb as mesh_lb
