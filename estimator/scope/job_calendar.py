"""The calendar of a job: its first day of work, and the days that are worked."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from estimator.production.working_calendar import WorkingCalendar
from estimator.rates.labor.work_week import FEDERAL
from estimator.scope.escalation import Escalation
from estimator.scope.input_value import InputValue
from estimator.scope.inspection import Inspection


@dataclass(frozen=True)
class JobCalendar:
    """What a scope states of its calendar.

    Parameters
    ----------
    start : date or None
        The first day of work.
    working : WorkingCalendar or None
        The days that are worked; None for weekdays without the federal holidays.
    shift : InputValue or None
        [hr/day] Length of the working day, if the week states it.
    inspections : tuple of Inspection
        That work waits for or ends with.
    overtime : str
        The rule by which hours bear a premium, one of `OVERTIME_RULES`.
    escalation : Escalation or None
        How prices move to the middle of the phase that pays them; None if they stay.
    """

    start: date | None = None
    working: WorkingCalendar | None = None
    shift: InputValue | None = None
    inspections: tuple[Inspection, ...] = ()
    overtime: str = FEDERAL
    escalation: Escalation | None = None


NO_CALENDAR = JobCalendar()
