"""What the books of a project teach about its rates."""

from __future__ import annotations

from datetime import date, datetime
from uuid import UUID

from api.ledger.baselines import accepted_document, accepted_estimate
from api.ledger.entries import books_of
from api.projects.rows import Project
from api.store.sessions import AccountSession
from estimator.tracking.job_record import JobRate, job_rates


def job_rates_of(
    session: AccountSession, project_id: UUID, as_of: date, known_on: datetime
) -> tuple[JobRate, ...]:
    """Return what the record of a project teaches.

    Raises
    ------
    LedgerFaulty
        If the books were not open by then.
    """
    from estimator.pricing.estimate_json import estimate_from_json

    session.existing(Project, project_id)
    estimate_id = accepted_estimate(session, project_id, known_on)
    document = accepted_document(session, estimate_id)
    books = books_of(session, project_id).known(as_of, known_on)
    return job_rates(books, estimate_from_json(document))
