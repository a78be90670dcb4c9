"""The calendar file of a project: dates of its accepted estimate, and its open hold points."""

from __future__ import annotations

from datetime import date, datetime
from uuid import UUID

from api.calculations.size_limits import MOST_EFFORT, check_schedule_size
from api.estimates.made_again import made_differently
from api.estimates.rows import StoredEstimate
from api.ledger.baselines import accepted_estimate
from api.ledger.known_books import books_of, known_by, of_kinds
from api.ledger.outlooks import accepted_scope
from api.store.sessions import AccountSession


def calendar_of(
    session: AccountSession, project_id: UUID, as_of: date, known_on: datetime
) -> bytes:
    """Return the days of a project as an iCalendar file, with its open hold points.

    Parameters
    ----------
    session : AccountSession
    project_id : UUID
        Of a project of the account.
    as_of, known_on : date, datetime
        Which record of the books counts.

    Raises
    ------
    LedgerFaulty
        If the books were not open by then.
    MadeDifferently
        If this version cannot read what the accepted estimate was made of.
    """
    from estimator.scheduling.dated_estimate import price
    from estimator.scheduling.job_dates import job_schedule
    from estimator.tracking.hold_points import open_holds
    from estimator.tracking.holds_in_calendar import books_calendar

    estimate_id = accepted_estimate(session, project_id, known_on)
    stored = session.existing(StoredEstimate, estimate_id)
    accepted = accepted_scope(session, estimate_id)
    if accepted.scope is None or accepted.tables is None:
        raise made_differently(stored.document)
    estimate = price(accepted.scope, accepted.tables, stored.pricing_date)
    check_schedule_size(estimate.scope, estimate.scope.crew)
    schedule = job_schedule(estimate, effort=MOST_EFFORT)
    books = books_of(session, project_id, known_by(as_of, known_on), of_kinds("holds", "results"))
    return books_calendar(estimate, schedule, open_holds(books.holds, books.results), as_of)
