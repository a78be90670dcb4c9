from .activities import Activity as Activity, in_working_order as in_working_order, Link as Link
from .longest_path import critical_path as critical_path, Timetable as Timetable
from .scarce_crews import CrewOrder as CrewOrder, shortest_order as shortest_order
