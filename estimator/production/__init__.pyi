from .bottleneck import (
    Balance as Balance, balance as balance, balanced_carriers as balanced_carriers,
)
from .crews import Crew as Crew, CrewMember as CrewMember
from .cycle import (
    FlowStep as FlowStep, Load as Load, Step as Step, TravelStep as TravelStep,
    cycle_minutes as cycle_minutes, flow_minutes as flow_minutes,
    passes_that_fit as passes_that_fit, travel_minutes as travel_minutes,
)
from .hired import HiredHours as HiredHours, hired_hours as hired_hours
from .delays import Delays as Delays, days_with_slow_start as days_with_slow_start
from .lifts import Lift as Lift, time_in_lifts as time_in_lifts
from .machine_output import (
    TruckLoading as TruckLoading, truck_loading as truck_loading,
    cyclic_output_per_hr as cyclic_output_per_hr, machines_to_keep_up as machines_to_keep_up,
    roller_output_cy_per_hr as roller_output_cy_per_hr,
    trucks_by_field_manual as trucks_by_field_manual,
)
from .mixed_carriers import (
    KindOutput as KindOutput, MixedOutput as MixedOutput, mixed_off_by as mixed_off_by,
    mixed_output as mixed_output,
)
from .pace_range import (
    ProductionRange as ProductionRange, TimeRange as TimeRange,
    production_range as production_range, time_for as time_for,
)
from .passages import with_passage as with_passage
from .pile_limit import LimitedPile as LimitedPile, limited_pile as limited_pile
from .placed_text import read_placed as read_placed
from .placed_so_far import (
    ObservedPace as ObservedPace, WhatNow as WhatNow, observed_pace as observed_pace,
    pace_of_sum as pace_of_sum, what_now as what_now,
)
from .productive_time import (
    PaidTime as PaidTime, cost_per_productive_hour as cost_per_productive_hour,
    delay_factor as delay_factor, hour_efficiency as hour_efficiency,
    production_efficiency as production_efficiency,
)
from .state_codes import state_code as state_code
from .stockpile import Stage as Stage, StagedWork as StagedWork
from .time_at_work import (
    WorkingTime as WorkingTime, whole_loads as whole_loads, working_time as working_time,
)
from .waiting_lines import QueuedOutput as QueuedOutput, queued_output as queued_output
from .working_calendar import (
    Finish as Finish, WorkingCalendar as WorkingCalendar,
    days_net_of_weather as days_net_of_weather, finish as finish,
    work_done_by_day as work_done_by_day, working_days_between as working_days_between,
)
from .working_system import (
    Station as Station, WorkingSystem as WorkingSystem, slowed_at as slowed_at,
    with_carriers as with_carriers,
)
