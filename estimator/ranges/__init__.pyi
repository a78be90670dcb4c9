from .class_bands import (
    EstimateClass as EstimateClass, beside_class as beside_class, estimate_class as estimate_class,
    estimate_classes as estimate_classes, known_fraction as known_fraction,
)
from .contingency_needed import (
    Contingency as Contingency, contingency as contingency,
    contingency_markups as contingency_markups,
)
from .correlation import (
    DEFAULT_CORRELATION as DEFAULT_CORRELATION, INDEPENDENT as INDEPENDENT, ByGroups as ByGroups,
    ByMatrix as ByMatrix, total_sd as total_sd,
)
from .cost_drivers import Driver as Driver, drivers as drivers
from .distributions import (
    Fixed as Fixed, Pert as Pert, Triangular as Triangular, Uniform as Uniform,
)
from .events import Event as Event
from .item_correlation import ByItems as ByItems
from .item_range import ItemRange as ItemRange
from .job_ranges import JobRanges as JobRanges
from .line_ranges import CostRange as CostRange, LineRange as LineRange
from .phase_dates import (
    LikelyDates as LikelyDates, SimulatedDates as SimulatedDates, likely_dates as likely_dates,
    simulated_dates as simulated_dates,
)
from .phase_order import PhaseDuration as PhaseDuration
from .simulation import part_of_totals as part_of_totals, simulated_totals as simulated_totals
from .totals import SimulatedTotals as SimulatedTotals
