"""Hours and payroll terms: what a body of each says, as a row of the library that was checked."""

from __future__ import annotations

from decimal import Decimal

from api.calculations.labor import payroll_insurance, taxes_of
from api.ledger.desk import DAY, WEEK, Desk
from api.ledger.payroll_shapes import WEEKDAYS, NewPayroll
from api.ledger.site_entry_shapes import NewHours
from estimator.errors import LedgerFaulty, fault, quoted
from estimator.money import to_cents
from estimator.tracking.closed_weeks import closed_on
from estimator.tracking.entry_checks import check_code, check_day
from estimator.tracking.ledger_rows import Cost
from estimator.tracking.payroll_settings import PaidElsewhere, PayrollSettings
from estimator.tracking.payroll_week import HoursRow, PayrollTerms, check_hours
from estimator.tracking.site_checks import trade_notes


def hours_row(desk: Desk, body: NewHours) -> tuple[HoursRow, list[str]]:
    """Return hours that may be posted, with notes on their trade and on a week that is closed."""
    check_day(body.happened, desk.today)
    check_code(body.code, desk.budget)
    rate = _last_rate(desk, body) if body.rate is None else body.rate
    row = HoursRow(
        **desk.head(body), person=body.person, trade=body.trade, code=body.code, hours=body.hours,
        rate_per_hr=rate, is_unpaid=body.unpaid,
    )  # fmt: skip
    that_day = desk.rows_alike("hours", HoursRow, body.person, DAY, body.happened)
    check_hours([*that_day, row])
    paid = desk.rows_alike("costs", Cost, body.person, WEEK, body.happened)
    end = None if body.unpaid else closed_on(row, paid)
    notes = trade_notes(body.trade, desk.trades)
    if end is not None:
        notes.append(f"the workweek to {end} is closed; close it again to post the difference")
    return row, notes


def _last_rate(desk: Desk, body: NewHours) -> Decimal:
    """Return the rate at which the person worked last in the trade."""
    earlier = [
        one
        for one in desk.rows("hours", HoursRow, body.person)
        if one.trade == body.trade and one.happened <= body.happened
    ]
    if not earlier:
        what = f"is missing, and {quoted(body.person)} has no earlier hours as {body.trade}"
        raise fault(
            LedgerFaulty, what, "the owner or the bookkeeper states it the first time", "rate"
        )
    return max(earlier, key=lambda one: (one.happened, one.row)).rate_per_hr


def payroll_settings(desk: Desk, body: NewPayroll) -> tuple[PayrollSettings, list[str]]:
    """Return how payroll is figured, starting on a day."""
    check_day(body.happened, desk.today)
    settings = PayrollSettings(
        **desk.head(body),
        last_weekday=WEEKDAYS.index(body.week_ends),
        terms=PayrollTerms(taxes_of(body), payroll_insurance(body), body.overtime),
        elsewhere=tuple(PaidElsewhere(one.person, to_cents(one.amount)) for one in body.elsewhere),
    )
    return settings, []
