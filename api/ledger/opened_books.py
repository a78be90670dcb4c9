"""Opening the books at the machine itself: a scope file becomes a project and its budget."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from uuid import UUID, uuid4

from sqlalchemy import exists, select

from api.estimates.rows import AcceptedEstimate
from api.estimates.stored_estimates import accept, ready_estimate, store_estimate
from api.ledger.baselines import baseline_of
from api.projects.rows import Project
from api.projects.stored_scope import store_scope
from api.rates.sent_quotes import store_quotes
from api.rates.table_rows import rows_of_texts
from api.store.caller import Caller
from api.store.columns import canonical_json
from api.store.errors import AlreadyThere, NotFound
from api.store.sessions import AccountSession
from api.store.store import Store
from api.store.writing_session import WritingSession
from estimator.errors import fault, quoted
from estimator.rates.folders import QUOTES


@dataclass(frozen=True)
class OpenBooks:
    """A project whose books are open.

    Parameters
    ----------
    project_id : UUID
    name : str
        Of the project.
    budget_cents : int
        [0.01 $] The baseline: cash, with all markups.
    """

    project_id: UUID
    name: str
    budget_cents: int


def open_books(
    store: Store, caller: Caller, now: datetime, path: Path, rates: Path | None = None
) -> OpenBooks:
    """Return the open books of a scope file: it is priced, stored and accepted as the budget.

    Parameters
    ----------
    store, caller, now : Store, Caller, datetime
        Where, for whom, and when [UTC].
    path, rates : Path, Path or None
        The scope file, and a folder of own tables.

    Raises
    ------
    AlreadyThere
        If a project of that name has its books open.
    ScopeFaulty, TablesFaulty, RateMissing
        If it cannot be priced.
    """
    from estimator.opening import open_scope, scope_as_written
    from estimator.scheduling.dated_estimate import price

    written = scope_as_written(path, rates)
    estimate = price(*open_scope(path, rates, today=now.date()))
    ready = ready_estimate(estimate, canonical_json(written.scope), written.tables)
    quotes = rows_of_texts(written.tables[QUOTES]) if QUOTES in written.tables else {}
    own_scope = {
        key: value for key, value in written.scope.items() if key not in ("rates", "quotes")
    }

    def change(work: WritingSession) -> OpenBooks:
        name = estimate.scope.project
        if any(one.name == name for one in open_projects(work)):
            what = f"the books of {quoted(name)} are open already"
            raise fault(AlreadyThere, what, "post changes to them, or rename the project")
        project = Project(id=uuid4(), name=name, created_at=now, markups=None, assumptions=[])
        work.add(project)
        store_scope(work, project, own_scope)
        store_quotes(work, project, quotes)
        accept(work, store_estimate(work, project, ready))
        budget = baseline_of(work, project.id, now)
        return OpenBooks(project.id, name, sum(one.cents for one in budget.values()))

    return store.carry_out(caller, now, change)


def open_projects(session: AccountSession) -> list[Project]:
    """Return the projects whose books are open, in the order they were made."""
    accepted = exists().where(AcceptedEstimate.project_id == Project.id)
    statement = select(Project).where(accepted).order_by(Project.created_at, Project.id)
    return list(session.scalars(statement))


def project_named(session: AccountSession, name: str | None) -> Project:
    """Return the project of a name among those whose books are open; without one, the only one.

    Raises
    ------
    NotFound
        If there is none, or no name was given and there are several.
    """
    projects = open_projects(session)
    named = [one for one in projects if name is None or one.name.casefold() == name.casefold()]
    if len(named) == 1:
        return named[0]
    if not projects:
        what, remedy = "no books are open", "'groundsill books open SCOPE' opens them"
    elif name is None:
        names = ", ".join(quoted(one.name) for one in projects)
        what, remedy = f"the books of {len(projects)} projects are open", f"name one: {names}"
    else:
        what = f"there are no open books of {quoted(name)}"
        remedy = "'groundsill books list' shows those that are open"
    raise fault(NotFound, what, remedy)
