"""Closing a workweek of the books: its paid hours become rows of payroll."""

from __future__ import annotations

from datetime import date, timedelta
from uuid import UUID

from api.ledger.desk import IN_DAYS, opened_desk, party_key
from api.ledger.entries import add_entry
from api.ledger.entry_kinds import ENTRY_KINDS
from api.ledger.rows import BookEntry, PostedEntry
from api.store.writing_session import WritingSession
from estimator.tracking.closed_weeks import week_costs
from estimator.tracking.entry_checks import check_day
from estimator.tracking.ledger_rows import Cost
from estimator.tracking.payroll_settings import PayrollSettings, settings_for
from estimator.tracking.payroll_week import DAYS_IN_A_WEEK, HoursRow


def close_week(work: WritingSession, project_id: UUID, ends: date) -> list[PostedEntry]:
    """Return the entries of payroll of a workweek, one for each person with hours not yet closed.

    Raises
    ------
    LedgerFaulty, LaborFaulty
        If the week is not over, does not end on that day, or has no hours to close.
    """
    desk = opened_desk(work, project_id)
    check_day(ends, desk.today)
    settings = settings_for(desk.rows("payroll", PayrollSettings), ends)
    week = {"of_first": ends - timedelta(DAYS_IN_A_WEEK - 1), "of_last": ends}
    hours = desk.rows("hours", HoursRow, None, IN_DAYS, **week)
    people = {party_key(one.person) for one in hours}
    costs = desk.rows("costs", Cost, None, BookEntry.party.in_(sorted(people)))
    rows = week_costs(ends, hours, costs, settings, desk.number, desk.at)
    return [add_entry(work, desk, ENTRY_KINDS["costs"], row, []) for row in rows]
