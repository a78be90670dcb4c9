"""Pricing a project into a stored estimate; no other writer waits for the arithmetic."""

from __future__ import annotations

from uuid import UUID

from flask import Response

from api.calculations.scopes import stated_times
from api.contract.services import Services
from api.contract.submissions import create_row, creation
from api.estimates.estimate_shapes import Pricing
from api.estimates.stored_estimates import ready_estimate, store_estimate
from api.estimates.summaries import new_summary_json, path_of
from api.estimates.to_price import to_price
from api.projects.rows import Project
from api.projects.written_scope import scope_tag
from api.rates.project_tables import tables_tag
from api.store.caller import Caller
from api.store.errors import ChangedMeanwhile
from api.store.sessions import AccountSession
from api.store.submissions import StoredAnswer
from api.store.writing_session import WritingSession
from estimator.errors import fault


def price_project(parts: Services, caller: Caller, project_id: UUID, body: Pricing) -> Response:
    """Return the response to a request that prices a project as it stands now.

    It is read and priced before the turn to write is taken. If somebody changes the project or its
    rates meanwhile, that is done again, so that the stored estimate matches the project.

    Parameters
    ----------
    parts, caller : Services, Caller
    project_id : UUID
        The project.
    body : Pricing
        Where it names no date, it is the project's own, else today.

    Raises
    ------
    ChangedMeanwhile
        If it was changed each time.
    """
    ahead = _Ahead(parts, caller, project_id, body)

    def create(work: WritingSession) -> StoredAnswer:
        project = work.existing(Project, project_id)
        if _tags(work, project) != ahead.tags:
            what = "the project was changed each time it was priced"
            raise fault(ChangedMeanwhile, what, "try again in a moment")
        estimate = store_estimate(work, project, ahead.ready)
        return creation(path_of(project_id, estimate.id), new_summary_json(estimate))

    return create_row(parts, caller, create, ahead.work_out)


class _Ahead:
    """An estimate that is made before the turn to write."""

    def __init__(self, parts: Services, caller: Caller, project_id: UUID, body: Pricing) -> None:
        self.parts, self.caller, self.project_id, self.body = parts, caller, project_id, body

    def work_out(self) -> None:
        with self.parts.store.reading(self.caller) as session:
            project = session.existing(Project, self.project_id)
            self.tags = _tags(session, project)
            to_be = to_price(session, project, stated_times(self.body))
        on = self.body.on or project.pricing_date or self.parts.now.date()
        estimate = to_be.priced(on)
        self.ready = ready_estimate(estimate, to_be.scope_text, to_be.files, self.body.note)


def _tags(session: AccountSession, project: Project) -> tuple[str, str]:
    return scope_tag(session, project), tables_tag(session, project)
