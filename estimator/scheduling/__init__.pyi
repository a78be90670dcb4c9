from .activities import Activity as Activity, in_working_order as in_working_order, Link as Link
from .crew_chain import with_crew_links as with_crew_links
from .activities_of_job import job_activities as job_activities
from .job_dates import Dated as Dated, job_schedule as job_schedule, JobSchedule as JobSchedule
from .longest_path import critical_path as critical_path, Timetable as Timetable
from .days_on_site import OnSite as OnSite, on_site as on_site, Stay as Stay
from .worth_of_one_more import one_more as one_more, OneMore as OneMore
from .scarce_crews import CrewOrder as CrewOrder, shortest_order as shortest_order
from .schedule_json import schedule_fields as schedule_fields
from .worked_days import WorkedDays as WorkedDays
from .hands_at_work import crew_load as crew_load, CrewLoad as CrewLoad
from .job_bars import BarRow as BarRow, bars_of as bars_of, JobBars as JobBars
from .rent_by_dates import rent_spans as rent_spans, RentSpan as RentSpan
from .stated_waits import wait_spans as wait_spans, WaitSpan as WaitSpan
from .icalendar_file import calendar_file as calendar_file
from .noted_days import job_days as job_days, JobDay as JobDay
from .two_weeks import look_ahead as look_ahead, LookAhead as LookAhead
