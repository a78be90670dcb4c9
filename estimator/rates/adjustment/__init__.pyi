from .adjusted_rates import (
    Adjustment as Adjustment, adjusted as adjusted, escalated as escalated, localized as localized,
    rates_in_force as rates_in_force,
)
from .moved_rents import adjusted_rents as adjusted_rents
from .escalation import (
    escalated_amount as escalated_amount, factor_between as factor_between,
    factor_to_midpoint as factor_to_midpoint, index_on as index_on, midpoint as midpoint,
    yearly_factor as yearly_factor,
)
from .index_series import IndexPoint as IndexPoint, IndexSeries as IndexSeries
from .index_table import read_index_file as read_index_file
from .location import (
    LocationFactor as LocationFactor, factors_against as factors_against, factors_of as factors_of,
    read_location_file as read_location_file,
)
