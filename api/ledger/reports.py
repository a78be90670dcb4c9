"""Reports on the books, from the rows of a project."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Any
from uuid import UUID

from sqlalchemy import and_, func, or_, select

from api.ledger.baselines import accepted_document, accepted_estimate, baseline_of
from api.ledger.known_books import (
    books_of,
    books_to_report,
    course_books,
    known_by,
    of_kinds,
    settled_ledger,
)
from api.ledger.rows import BookEntry
from api.ledger.stored_sums import added_up_by_day, incurred_on_days, ledger_sums
from api.projects.rows import Project
from api.store.sessions import AccountSession
from estimator.errors import LedgerFaulty, fault
from estimator.tracking.books import KnownBooks
from estimator.tracking.job_track import Track, track_known

if TYPE_CHECKING:
    from estimator.charts.drawing import Form
    from estimator.tracking.job_outlook import Outlook
    from estimator.tracking.measured_points import PointCourse
    from estimator.tracking.money_lines import MoneyLine
    from estimator.tracking.monthly_movements import MonthMovement

_WORKED = ("hours", "progress", "tickets", "machine_hours")


def track_of(
    session: AccountSession,
    project_id: UUID,
    as_of: date,
    known_on: datetime,
    since: date | None = None,
) -> Track:
    """Return what the books of a project say as of a day, known on a time.

    Raises
    ------
    LedgerFaulty
        If the books were not open by then.
    """
    session.existing(Project, project_id)
    baseline = baseline_of(session, project_id, known_on)
    known = _known(session, project_id, as_of, known_on)
    before = _known(session, project_id, since - timedelta(1), known_on) if since else None
    return track_known(known, baseline, before)


def _known(
    session: AccountSession, project_id: UUID, as_of: date, known_on: datetime
) -> KnownBooks:
    rows = books_to_report(session, project_id, as_of, known_on)
    return KnownBooks(as_of, known_on, rows, ledger_sums(session, project_id, as_of, known_on))


def quantities_of(
    session: AccountSession, project_id: UUID, as_of: date, known_on: datetime
) -> dict[str, Any]:
    """Return what is in place of each item and its hours, without a dollar, as JSON.

    Raises
    ------
    LedgerFaulty
        If the books were not open by then.
    """
    from estimator.tracking.quantities import quantities_fields, quantities_in_place

    report = track_of(session, project_id, as_of, known_on)
    hours, _ = added_up_by_day(session, project_id, as_of, known_on)
    return quantities_fields(quantities_in_place(hours, report), report)


def money_lines_of(
    session: AccountSession, project_id: UUID, as_of: date, known_on: datetime
) -> list[MoneyLine]:
    """Return the rows of money that had happened by a day and were entered by a time."""
    from estimator.tracking.money_lines import lines_of_money

    session.existing(Project, project_id)
    known = books_of(session, project_id, known_by(as_of, known_on))
    return lines_of_money(known, as_of)


def months_of(
    session: AccountSession, project_id: UUID, as_of: date, known_on: datetime
) -> list[MonthMovement]:
    """Return what each month added, up to a day, known on a time.

    Raises
    ------
    LedgerFaulty
        If the books were not open by then.
    """
    from estimator.tracking.monthly_movements import month_ends, movements_by_month

    session.existing(Project, project_id)
    baseline = baseline_of(session, project_id, known_on)
    ends = month_ends(_first_day(session, project_id, as_of), as_of)
    return movements_by_month(
        (_known(session, project_id, end, known_on) for end in ends), baseline
    )


def _first_day(session: AccountSession, project_id: UUID, as_of: date) -> date:
    """Return the day of the first entry; of the report, if none is earlier."""
    of_project = BookEntry.project_id == project_id
    first = session.scalar(select(func.min(BookEntry.happened)).where(of_project))
    return min(first or as_of, as_of)


def points_of(
    session: AccountSession, project_id: UUID, as_of: date, known_on: datetime
) -> list[PointCourse]:
    """Return the course of each measured point, up to a day, known on a time."""
    from estimator.tracking.measured_points import point_courses

    session.existing(Project, project_id)
    of_points = of_kinds("points", "readings")
    known = books_of(session, project_id, known_by(as_of, known_on), of_points)
    return point_courses(known.points, known.readings)


def point_chart_of(
    session: AccountSession, project_id: UUID, as_of: date, known_on: datetime, form: Form
) -> bytes:
    """Return the chart of the measured points, up to a day, known on a time.

    Raises
    ------
    LedgerFaulty
        If no point is set by then.
    """
    from estimator.charts.point_chart import point_chart

    courses = points_of(session, project_id, as_of, known_on)
    if not courses:
        what = f"no point is measured by {as_of}"
        raise fault(LedgerFaulty, what, "'groundsill log point' sets one with its limits")
    return point_chart(courses, session.existing(Project, project_id).name, as_of, form)


def tracking_workbook(
    session: AccountSession,
    project_id: UUID,
    as_of: date,
    known_on: datetime,
    since: date | None = None,
) -> bytes:
    """Return what the books say as a workbook, with sheets for further entries.

    Raises
    ------
    LedgerFaulty
        If the books were not open by then.
    """
    from api.ledger.outlooks import outlook_of

    report = track_of(session, project_id, as_of, known_on, since)
    return workbook_of(session, project_id, report, outlook_of(session, project_id, report))


def workbook_of(session: AccountSession, project_id: UUID, report: Track, ahead: Outlook) -> bytes:
    """Return that workbook of a report and an outlook that are worked out.

    Parameters
    ----------
    session : AccountSession
    project_id : UUID
        Of a project of the account.
    report, ahead : Track, Outlook
        See `track_of`, `outlook_of`.

    Raises
    ------
    LedgerFaulty
        If the books were not open by then.
    """
    from estimator.tracking.job_outlook import with_outlook
    from estimator.tracking.weekly_course import course_by_week
    from estimator.workbook.tracking_workbook import tracking_bytes

    as_of, known_on = report.as_of, report.known_on
    name = session.existing(Project, project_id).name
    baseline = baseline_of(session, project_id, known_on)
    incurred = incurred_on_days(session, project_id, as_of, known_on)
    incurred.setdefault(_first_day(session, project_id, as_of), 0)
    known = course_books(session, project_id, as_of, known_on)
    course = course_by_week(known, incurred, baseline, as_of, known_on)
    months = months_of(session, project_id, as_of, known_on)
    ledger = settled_ledger(session, project_id, as_of, known_on)
    return tracking_bytes(known, ledger, with_outlook(report, ahead), course, name, ahead, months)


def day_sheet_of(session: AccountSession, project_id: UUID, day: date, now: datetime) -> str:
    """Return a day's sheet to print, as plain text without dollars.

    Parameters
    ----------
    session : AccountSession
    project_id : UUID
    day : date
        May lie ahead: then the books stand as they are now.
    now : datetime
        [UTC]

    Raises
    ------
    LedgerFaulty
        If the books are not open.
    """
    from estimator.pricing.estimate_json import estimate_from_json
    from estimator.tracking.printed_day_sheet import RECENT, day_sheet_page, plan_of_day

    name = session.existing(Project, project_id).name
    baseline = baseline_of(session, project_id, now)
    document = accepted_document(session, accepted_estimate(session, project_id, now))
    as_of = min(day, now.date())
    report = track_of(session, project_id, as_of, now)
    lately = and_(known_by(as_of, now), BookEntry.happened >= day - RECENT, of_kinds(*_WORKED))
    books = books_of(session, project_id, or_(lately, of_kinds("plans")))
    cautions = estimate_from_json(document).cautions
    return day_sheet_page(plan_of_day(books, report, baseline, cautions, day), name)
