"""Closing a workweek: hours become rows of cost, person by person; until then they are accrued."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime

from estimator.errors import LaborFaulty, fault
from estimator.money import cents_money
from estimator.tracking.ledger_rows import Cost, CostSplit, PayrollPart
from estimator.tracking.payroll_settings import PayrollSettings
from estimator.tracking.payroll_week import (
    DAYS_IN_A_WEEK,
    HoursRow,
    PersonWeek,
    Worked,
    YearToDate,
    person_week,
    workweek_end,
    year_before,
)
from estimator.tracking.tickets import standing

LABOR = "labor"
_SUNDAY = 6
_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def unclosed_hours(hours: Iterable[HoursRow], costs: Iterable[Cost]) -> list[HoursRow]:
    """Return the paid hours that no payroll covers yet: they are accrued at straight time.

    Parameters
    ----------
    hours, costs : iterables of HoursRow and of Cost
        As known: see `as_known`.

    Notes
    -----
    Neither overtime nor burden is in the accrual; both come with the closing of the week. When a
    payroll is reversed, the accrual is back.
    """
    payrolls = _standing_payrolls(costs)
    covered = {number for part in payrolls if part.payroll for number in part.payroll.hours}
    return [one for one in hours if not one.is_unpaid and one.row not in covered]


def _standing_payrolls(costs: Iterable[Cost]) -> list[Cost]:
    listed = list(costs)
    live = set(standing(listed))
    return [one for one in listed if one.payroll is not None and one.row in live]


def closed_on(hours: HoursRow, costs: Iterable[Cost]) -> date | None:
    """Return the end of the closed workweek that hours fall into, or None."""
    ends = (one.happened for one in _standing_payrolls(costs) if one.vendor == hours.person)
    return next((end for end in ends if 0 <= (end - hours.happened).days < DAYS_IN_A_WEEK), None)


def week_costs(
    ends: date,
    hours: Sequence[HoursRow],
    costs: Sequence[Cost],
    settings: PayrollSettings,
    first_row: int,
    entered: datetime,
) -> tuple[Cost, ...]:
    """Return the rows of cost that close a workweek: one for each person with hours not yet paid.

    Parameters
    ----------
    ends : date
        Last day of the workweek; the rows are dated on it.
    hours, costs : sequences of HoursRow and of Cost
        All of the project.
    settings : PayrollSettings
        See `settings_for`.
    first_row, entered : int, datetime
        Number of the first row; when they are entered [UTC].

    Raises
    ------
    LaborFaulty
        If the week does not end on that day, has no hours to close, or too many of somebody.

    Notes
    -----
    A week that is closed again gets rows of the difference: what the week comes to with the late
    hours, less what was posted of it, on each code. So it comes to the same however late the hours
    were, and the taxes of the year add up to the cent. The calendar year is that of the week's end.
    """
    _check_end(ends, settings.last_weekday)
    rows: list[Cost] = []
    open_rows = {one.row for one in unclosed_hours(hours, costs)}
    for person, own in _week_by_person(ends, hours, settings.last_weekday).items():
        late = tuple(one.row for one in own if one.row in open_rows)
        posted = [one for one in _standing_payrolls(costs) if one.vendor == person]
        week = person_week(own, settings.terms, _year(person, ends, posted, settings))
        splits = _difference(week, [one for one in posted if one.happened == ends])
        if late and splits:
            part = _part(late, week, [one for one in posted if one.happened == ends])
            number = first_row + len(rows)
            rows.append(_cost(number, ends, entered, week, splits, part))
    if not rows:
        what = f"there are no hours to close in the workweek to {ends}"
        raise fault(LaborFaulty, what, "log the hours first", "ends")
    return tuple(rows)


def _check_end(ends: date, last_weekday: int) -> None:
    end = workweek_end(ends, last_weekday)
    if end != ends:
        what = f"{ends} is a {_WEEKDAYS[ends.weekday()]}"
        remedy = f"the workweek ends on a {_WEEKDAYS[last_weekday]}: {end}"
        raise fault(LaborFaulty, what, remedy, "ends")


def _week_by_person(
    ends: date, hours: Iterable[HoursRow], last_weekday: int
) -> dict[str, list[HoursRow]]:
    of_person: dict[str, list[HoursRow]] = defaultdict(list)
    for one in hours:
        if not one.is_unpaid and workweek_end(one.happened, last_weekday) == ends:
            of_person[one.person].append(one)
    return of_person


def _year(person: str, ends: date, posted: Iterable[Cost], settings: PayrollSettings) -> YearToDate:
    """Return what a person was paid in the calendar year besides the week, here and elsewhere."""
    paid = sum(one.cents for one in settings.elsewhere if one.person == person)
    before = year_before(paid, settings.terms)
    others = [
        one.payroll
        for one in posted
        if one.payroll and one.happened.year == ends.year and one.happened != ends
    ]
    return YearToDate(
        before.gross_cents + sum(one.gross_cents for one in others),
        before.tax_cents + sum(one.tax_cents for one in others),
    )


def _difference(week: PersonWeek, posted: Iterable[Cost]) -> tuple[CostSplit, ...]:
    """Return what each code bears of the week and did not bear yet."""
    cents: dict[str, int] = defaultdict(int, week.cents_by_code)
    for cost in posted:
        for split in cost.splits:
            cents[split.code] -= split.net_cents
    return tuple(CostSplit(code, LABOR, own, 0) for code, own in cents.items() if own)


def _part(late: tuple[int, ...], week: PersonWeek, posted: Iterable[Cost]) -> PayrollPart:
    parts = [one.payroll for one in posted if one.payroll]
    return PayrollPart(
        late,
        week.straight_cents - sum(one.straight_cents for one in parts),
        week.premium_cents - sum(one.premium_cents for one in parts),
        week.tax_cents - sum(one.tax_cents for one in parts),
        week.insurance_cents - sum(one.insurance_cents for one in parts),
    )


def _cost(
    row: int,
    ends: date,
    entered: datetime,
    week: PersonWeek,
    splits: tuple[CostSplit, ...],
    part: PayrollPart,
) -> Cost:
    overtime = f", {week.overtime_hours} of them overtime" if week.overtime_hours else ""
    return Cost(
        row=row,
        happened=ends,
        entered=entered,
        vendor=week.person,
        document="",
        note=f"payroll of the workweek to {ends}: {week.hours} hr{overtime}",
        splits=splits,
        payroll=part,
    )


def unclosed_sentences(
    open_hours: Mapping[date, Worked], settings: Iterable[PayrollSettings], as_of: date
) -> list[str]:
    """Return a sentence for each workweek that is over and whose hours are still accrued.

    Parameters
    ----------
    open_hours : mapping of date to Worked
        Paid hours that no payroll covers, by the day of the work: see `LedgerSums`.
    settings : iterable of PayrollSettings
        As known; without any, the workweek is taken to end on a Sunday.
    as_of : date
        The last day that counts.
    """
    last = max(settings, key=lambda one: (one.happened, one.row), default=None)
    last_weekday = _SUNDAY if last is None else last.last_weekday
    weeks: dict[date, Worked] = defaultdict(Worked)
    for day, worked in open_hours.items():
        weeks[workweek_end(day, last_weekday)] += worked
    return [
        f"the workweek to {end} is not closed: {own.hours.normalize():f} hr accrued at straight "
        f"time, {cents_money(own.cents)}, without overtime and burden"
        for end, own in sorted(weeks.items())
        if end <= as_of and own.hours
    ]
