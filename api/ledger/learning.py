"""What the books of a project teach about its rates."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from decimal import Decimal
from typing import TYPE_CHECKING, Any, NamedTuple
from uuid import UUID

from sqlalchemy import select

from api.estimates.made_again import files_of
from api.estimates.to_price import ToPrice, to_price
from api.ledger.baselines import accepted_estimate
from api.ledger.known_books import books_of, known_by, of_kinds
from api.ledger.outlooks import accepted_scope
from api.projects.rows import Project
from api.store.sessions import AccountSession
from estimator.errors import GroundsillError

if TYPE_CHECKING:
    from estimator.tracking.job_outlook import AcceptedScope
    from estimator.tracking.job_record import JobRate

_TEACHING = ("costs", "tickets", "hours", "progress", "stock")


class LearnedTables(NamedTuple):
    """What a record teaches: texts of tables by file name, and what to write into the scope."""

    rates: Sequence[JobRate]
    tables: Mapping[str, str]
    in_scope: Sequence[str]


def learned_of(
    session: AccountSession, project_id: UUID, as_of: date, known_on: datetime
) -> LearnedTables:
    """Return what the record of a project teaches.

    Raises
    ------
    LedgerFaulty
        If the books were not open by then.
    """
    from estimator.rates.written_folder import resources_text
    from estimator.tracking.job_record import job_rates, learned_rows
    from estimator.tracking.learned_use import scope_sentences
    from estimator.tracking.record_ranges import learned_ranges

    session.existing(Project, project_id)
    estimate_id = accepted_estimate(session, project_id, known_on)
    accepted = accepted_scope(session, estimate_id)
    scope, tables = accepted.scope, accepted.tables
    ranges = {} if scope is None or tables is None else learned_ranges(scope, tables)
    entries = books_of(session, project_id, known_by(as_of, known_on), of_kinds(*_TEACHING))
    books = entries.known(as_of, known_on)
    rates = job_rates(books, accepted.estimate, ranges)
    rows = learned_rows(rates, as_of)
    prices = {"resources.csv": resources_text(rows)} if rows else {}
    if scope is None or tables is None:
        return LearnedTables(rates, prices, ())
    inputs = _inputs(session, estimate_id, accepted, rates)
    in_scope = scope_sentences(rates, scope, tables)
    return LearnedTables(rates, prices | inputs, in_scope)


def _inputs(
    session: AccountSession, estimate_id: UUID, accepted: AcceptedScope, rates: Sequence[JobRate]
) -> dict[str, str]:
    from estimator.rates.folders import TableFolder
    from estimator.tracking.learned_inputs import input_tables

    assert accepted.scope is not None
    assert accepted.tables is not None
    files = files_of(session, estimate_id)
    folders = [TableFolder(name, texts=texts) for name, texts in files.items()]
    on = accepted.estimate.on
    return dict(input_tables(rates, accepted.scope, accepted.tables, folders, on))


class WouldCost(NamedTuple):
    """What the scope of a project comes to at the rates of a day, and with what was learned [$]."""

    name: str
    now: Decimal
    with_them: Decimal


def would_cost(
    session: AccountSession, tables: Mapping[str, str], on: date
) -> tuple[WouldCost, ...]:
    """Return what each scope of the account would cost with the proposed rows.

    Parameters
    ----------
    session : AccountSession
    tables : mapping of str to str
        Of `learned_of`.
    on : date
        The pricing date of both, and that of the new prices.
    """
    from estimator.tracking.job_record import LEARNED_SET

    if not tables:
        return ()
    new = {LEARNED_SET: tables}
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


def learned_fields(learned: LearnedTables, costs: Sequence[WouldCost]) -> dict[str, Any]:
    """Return what a record teaches as JSON, with what scopes would cost."""
    from estimator.tracking.job_record_json import job_rates_fields

    listed = [
        {"project": one.name, "now": f"{one.now:.2f}", "with_them": f"{one.with_them:.2f}"}
        for one in costs
    ]
    fields = job_rates_fields(learned.rates, learned.tables)
    return fields | {"in_scope": list(learned.in_scope), "would_cost": listed}
