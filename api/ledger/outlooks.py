"""The outlook of a project, from its books and from what its accepted estimate was made of."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING
from uuid import UUID

from api.estimates.made_again import files_of
from api.estimates.rows import StoredEstimate
from api.ledger.baselines import accepted_estimate
from api.ledger.known_books import daily_books_of
from api.projects.written_scope import read_written
from api.rates.project_tables import tables_of
from api.store.sessions import AccountSession
from estimator.errors import GroundsillError

if TYPE_CHECKING:
    from estimator.tracking.books_by_day import DailyBooks
    from estimator.tracking.job_outlook import AcceptedScope, CostAndDates, Outlook
    from estimator.tracking.job_track import Track

# What a scope or tables of another version may lead to.
_UNREADABLE = (GroundsillError, LookupError, StopIteration, TypeError, ValueError)


def outlook_of(session: AccountSession, project_id: UUID, report: Track) -> Outlook:
    """Return where a job is going, from where it stands.

    Parameters
    ----------
    session : AccountSession
    project_id : UUID
        Of a project of the account.
    report : Track
        See `track_of`.

    Raises
    ------
    LedgerFaulty
        If the books were not open by then.
    """
    from estimator.tracking.job_outlook import outlook

    books, accepted = _origins(session, project_id, report)
    return outlook(books, report, accepted)


def cost_and_dates_of(session: AccountSession, project_id: UUID, report: Track) -> CostAndDates:
    """Return what a job comes to and when it is done: a part of its outlook, and sooner there.

    Parameters
    ----------
    session : AccountSession
    project_id : UUID
        Of a project of the account.
    report : Track
        See `track_of`.

    Raises
    ------
    LedgerFaulty
        If the books were not open by then.
    """
    from estimator.tracking.job_outlook import cost_and_dates

    books, accepted = _origins(session, project_id, report)
    return cost_and_dates(books, report, accepted)


def _origins(
    session: AccountSession, project_id: UUID, report: Track
) -> tuple[DailyBooks, AcceptedScope]:
    accepted = accepted_scope(session, accepted_estimate(session, project_id, report.known_on))
    return daily_books_of(session, project_id, report.as_of, report.known_on), accepted


def accepted_scope(session: AccountSession, estimate_id: UUID) -> AcceptedScope:
    """Return what an accepted estimate was priced from, as far as this version can read it."""
    from estimator.pricing.estimate_json import estimate_from_json
    from estimator.tracking.job_outlook import AcceptedScope

    stored = session.existing(StoredEstimate, estimate_id)
    estimate = estimate_from_json(stored.document)
    try:
        tables = tables_of(files_of(session, estimate_id))
        return AcceptedScope(estimate, read_written(json.loads(stored.scope), tables), tables)
    except _UNREADABLE:
        return AcceptedScope(estimate, None, None)
