"""`/v1/rate-sets`: sets of rate tables of one's own, laid over the shipped ones."""

from __future__ import annotations

from uuid import UUID

from flask import Response
from sqlalchemy import exists, select

from api.access.rows import change_one, create_one, list_page, remove_one, show_one
from api.contract.blueprint import TAG_HEADER, Blueprint
from api.contract.lists import PageQuery
from api.projects.rows import Project
from api.rates.rate_shapes import (
    EXAMPLE_SET,
    NamedSet,
    RateSetAnswer,
    RateSetPage,
)
from api.rates.rows import RateSet, RateVersion
from api.rates.stored_tables import delete_draft
from api.store.errors import StillNeeded
from api.store.writing_session import WritingSession
from estimator.errors import fault

AT = "/v1/rate-sets"
ONE = f"{AT}/<uuid:rate_set_id>"

rate_sets = Blueprint(
    "rate sets", __name__, description="Your own rate tables, laid over the shipped ones."
)


@rate_sets.post(AT)
@rate_sets.takes(NamedSet, example=EXAMPLE_SET)
@rate_sets.answers(RateSetAnswer, 201, headers=TAG_HEADER)
@rate_sets.creates
def open_rate_set(body: NamedSet) -> Response:
    """Create an empty rate set."""

    def create(work: WritingSession) -> RateSet:
        work.add(row := RateSet(name=body.name, created_at=work.at))
        return row

    return create_one(RateSetAnswer, create)


@rate_sets.get(AT)
@rate_sets.asks(PageQuery)
@rate_sets.answers(RateSetPage)
def list_rate_sets(query: PageQuery) -> Response:
    """List rate sets by name."""
    order = (RateSet.name, RateSet.id)
    return list_page("rate_sets", RateSetAnswer, select(RateSet), order, query)


@rate_sets.get(ONE)
@rate_sets.answers(RateSetAnswer, headers=TAG_HEADER)
def show_rate_set(rate_set_id: UUID) -> Response:
    """Show a rate set."""
    return show_one(RateSetAnswer, RateSet, rate_set_id)


@rate_sets.patch(ONE)
@rate_sets.takes(NamedSet, example=EXAMPLE_SET)
@rate_sets.answers(RateSetAnswer, headers=TAG_HEADER)
@rate_sets.changes
def rename_rate_set(body: NamedSet, rate_set_id: UUID) -> Response:
    """Rename a rate set; estimates keep the name they were priced with."""

    def change(_: WritingSession, row: RateSet) -> None:
        row.name = body.name

    return change_one(RateSetAnswer, RateSet, rate_set_id, change)


@rate_sets.delete(ONE)
@rate_sets.answers(None, 204)
@rate_sets.changes
def remove_rate_set(rate_set_id: UUID) -> Response:
    """Delete a rate set and its draft, as long as none of it is published or in use."""
    return remove_one(RateSet, rate_set_id, _remove)


def _remove(work: WritingSession, row: RateSet) -> None:
    if work.scalar(select(exists().where(Project.rate_set_id == row.id))):
        raise fault(StillNeeded, "a project is priced with it", "give the project another set")
    versions = work.scalars(select(RateVersion).where(RateVersion.rate_set_id == row.id)).all()
    if any(version.published_at is not None for version in versions):
        raise fault(StillNeeded, "a version of it is published", "published rates are kept")
    for draft in versions:
        delete_draft(work, draft)
    work.delete(row)
