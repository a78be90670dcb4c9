"""The fields of a project above its phases: read by the library before they are stored."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any
from uuid import UUID, uuid4

from sqlalchemy import exists, select

from api.calculations.located_json import located_json
from api.contract.commands import NotStated, stated
from api.contract.errors import FieldsFaulty
from api.contract.places import ROOT, pointer
from api.estimates.rows import StoredEstimate
from api.projects.project_shapes import NewProject, ProjectChange
from api.projects.rows import Project
from api.projects.stored_scope import store_head
from api.projects.written_scope import items_in_order, phases_in_order, written_head
from api.rates.project_tables import project_files, tables_of
from api.rates.rows import ProjectQuote, RateSet
from api.store.errors import StillNeeded
from api.store.models import Base, ProjectShare, table_words
from api.store.sessions import AccountSession
from api.store.writing_session import WritingSession
from estimator.errors import fault
from estimator.scope.title_block import TITLE_KEYS

if TYPE_CHECKING:
    from estimator.assemblies.tables import Tables

# What a scope file calls the fields of a project.
_KEYS = {
    "name": "project",
    **{key: key for key in TITLE_KEYS},
    "pricing_date": "on",
    "shift": "shift",
    "markups": "markups",
    "day_worth": "day_worth",
    "assumptions": "assumptions",
    "calendar": "calendar",
    "crew": "crew",
    "risk": "risk",
    "alternates": "alternates",
}


def create_project(work: WritingSession, body: NewProject) -> Project:
    """Return a new project.

    Raises
    ------
    ScopeFaulty, FieldsFaulty
        With every fault at its field.
    """
    project = new_project(work, body.name, body.rate_set_id)
    change_head(work, project, body)
    work.add(project)
    return project


def new_project(work: WritingSession, name: str, rate_set_id: UUID | None) -> Project:
    """Return a project with nothing but a name, not stored yet."""
    project = Project(id=uuid4(), name=name, created_at=work.at, markups=None, assumptions=[])
    project.shift = project.day_worth = ""
    project.account_id = work.caller.account_id
    price_with(work, project, rate_set_id)
    return project


def price_with(work: AccountSession, project: Project, rate_set_id: UUID | None) -> None:
    """Note which rate set a project is priced with.

    Raises
    ------
    FieldsFaulty
        If the account has no such set.
    """
    if rate_set_id is not None:
        expect_named(work, RateSet, rate_set_id, "rate_set_id")
    project.rate_set_id = rate_set_id


def change_head(work: WritingSession, project: Project, body: ProjectChange) -> None:
    """Change what a project says before its phases; what the body leaves out stays.

    Raises
    ------
    ScopeFaulty, FieldsFaulty
        With every fault at its field.
    """
    from estimator.scope.located import Section, without_places
    from estimator.scope.scope_reader import read_head

    with work.no_autoflush:
        changed = stated(body)
        if not isinstance(body.rate_set_id, NotStated):
            price_with(work, project, body.rate_set_id)
        written = written_head(project)
        for field in changed.keys() & _KEYS.keys():
            written[_KEYS[field]] = _as_written(changed[field])
        fields = {
            key: located_json(written[key], pointer(field))
            for field, key in _KEYS.items()
            if written.get(key) is not None
        }
        section = Section(fields, ROOT)
        codes = [phase.code for phase in phases_in_order(work, project)]
        read_head(section, tables_for(work, project), codes)
    head = without_places(section)
    assert isinstance(head, dict)
    store_head(project, head)


def delete_project(work: WritingSession, project: Project) -> None:
    """Take a project away with its phases, items, quotes and shares.

    Raises
    ------
    StillNeeded
        If it has an estimate, which is kept for good.
    """
    if work.scalar(select(exists().where(StoredEstimate.project_id == project.id))):
        what = f"{project.name} has estimates, which are kept for good"
        raise fault(StillNeeded, what, "leave it, or rename it")
    for model in (ProjectShare, ProjectQuote):
        work.delete_all(work.scalars(select(model).where(model.project_id == project.id)).all())
    work.delete_all(items_in_order(work, project))
    work.delete_all(phases_in_order(work, project))
    work.delete(project)


def tables_for(session: AccountSession, project: Project) -> Tables:
    """Return the tables that a project is priced with."""
    return tables_of(project_files(session, project))


def expect_named(session: AccountSession, model: type[Base], key: UUID, *steps: str | int) -> Any:
    """Return the row that a field of the body names.

    Raises
    ------
    FieldsFaulty
        At the field, if the account has none.
    """
    row = session.get(model, key)
    if row is None:
        what = f"there is no {key} in {table_words(model.__tablename__)}"
        raise fault(FieldsFaulty, what, "copy the id from a list", pointer(*steps))
    return row


def _as_written(value: Any) -> Any:
    return value.isoformat() if hasattr(value, "isoformat") else value
