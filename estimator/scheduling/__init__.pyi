from .activities import Activity as Activity, in_working_order as in_working_order, Link as Link
from .job_dates import (
    Dated as Dated, job_activities as job_activities, job_schedule as job_schedule,
    JobSchedule as JobSchedule, one_more as one_more, OneMore as OneMore,
)
from .longest_path import critical_path as critical_path, Timetable as Timetable
from .scarce_crews import CrewOrder as CrewOrder, shortest_order as shortest_order
from .schedule_json import schedule_fields as schedule_fields
