"""Pricing a project into an estimate that is kept; nobody waits for the arithmetic to be done."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any
from uuid import UUID

from flask import Response

from api.contract.services import Services
from api.contract.submissions import create_row, creation
from api.estimates.asked import ToPrice, to_price
from api.estimates.stored_estimates import keep_estimate
from api.estimates.summaries import path_of, told_new
from api.projects.rows import Project
from api.store.caller import Caller
from api.store.sessions import WritingSession
from api.store.submissions import Answer


def price_project(
    parts: Services, caller: Caller, project_id: UUID, told: Mapping[str, Any]
) -> Response:
    """Return the response to a request that prices a project as it stands now.

    It is read and priced before the turn to write is taken. If somebody changes the project
    meanwhile, it is priced once more within the turn, so that what is kept is what stands there.

    Parameters
    ----------
    parts, caller : Services, Caller
    project_id : UUID
        The project.
    told : mapping
        As `Pricing` has read it: where it names no date, it is the project's own, else today.
    """
    ahead = _Ahead(parts, caller, project_id, told.get("on"))

    def create(work: WritingSession) -> Answer:
        project = work.existing(Project, project_id)
        asked = to_price(work, project)
        estimate = ahead.estimate if asked == ahead.asked else asked.priced(ahead.on)
        note = told.get("note")
        kept = keep_estimate(work, project, estimate, asked.scope_text, asked.files, note)
        return creation(path_of(project_id, kept.id), told_new(kept))

    return create_row(parts, caller, create, ahead.work_out)


class _Ahead:
    """An estimate that is made before the turn to write."""

    def __init__(self, parts: Services, caller: Caller, project_id: UUID, on: date | None) -> None:
        self.parts, self.caller, self.project_id = parts, caller, project_id
        self.given = on

    def work_out(self) -> None:
        with self.parts.store.reading(self.caller) as session:
            project = session.existing(Project, self.project_id)
            self.asked: ToPrice = to_price(session, project)
        self.on = self.given or project.pricing_date or self.parts.now.date()
        self.estimate = self.asked.priced(self.on)
