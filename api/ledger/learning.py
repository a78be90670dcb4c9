"""What the books of a project teach about its rates."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from decimal import Decimal
from typing import TYPE_CHECKING, NamedTuple
from uuid import UUID

from sqlalchemy import select

from api.estimates.to_price import ToPrice, to_price
from api.ledger.baselines import accepted_estimate
from api.ledger.known_books import books_of
from api.ledger.outlooks import accepted_scope
from api.projects.rows import Project
from api.store.sessions import AccountSession
from estimator.errors import GroundsillError

if TYPE_CHECKING:
    from estimator.tracking.job_record import JobRate


def job_rates_of(
    session: AccountSession, project_id: UUID, as_of: date, known_on: datetime
) -> tuple[JobRate, ...]:
    """Return what the record of a project teaches.

    Raises
    ------
    LedgerFaulty
        If the books were not open by then.
    """
    from estimator.tracking.job_record import job_rates
    from estimator.tracking.rest_lines import ranges_stated

    session.existing(Project, project_id)
    accepted = accepted_scope(session, accepted_estimate(session, project_id, known_on))
    stated = {} if accepted.scope is None else ranges_stated(accepted.scope).spreads
    paces = {code: one.pace for code, one in stated.items() if one.pace is not None}
    books = books_of(session, project_id).known(as_of, known_on)
    return job_rates(books, accepted.estimate, paces)


class WouldCost(NamedTuple):
    """What the scope of a project comes to at the rates of a day, and with what was learned [$]."""

    name: str
    now: Decimal
    with_them: Decimal


def would_cost(
    session: AccountSession, rates: Sequence[JobRate], on: date
) -> tuple[WouldCost, ...]:
    """Return what each scope of the account would cost with the proposed prices.

    Parameters
    ----------
    session : AccountSession
    rates : sequence of JobRate
        See `job_rates_of`.
    on : date
        The pricing date of both, and that of the new rows.
    """
    from estimator.rates.written_folder import resources_text
    from estimator.tracking.job_record import LEARNED_SET, learned_rows

    rows = learned_rows(rates, on)
    if not rows:
        return ()
    new = {LEARNED_SET: {"resources.csv": resources_text(rows)}}
    priced = []
    for project in session.scalars(select(Project).order_by(Project.name, Project.id)).all():
        try:
            scope = to_price(session, project)
            with_them = ToPrice(scope.scope, {**scope.files, **new})
            costs = [one.priced(on).cash_cost for one in (scope, with_them)]
        except GroundsillError:  # an empty scope, or one that cannot be priced on that day
            continue
        priced.append(WouldCost(project.name, *costs))
    return tuple(priced)
