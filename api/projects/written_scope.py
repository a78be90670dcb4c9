"""The scope of a project as it was written: the keys and texts of a scope file, as plain JSON."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any, cast

from sqlalchemy import select

from api.calculations.located_json import located_json
from api.contract.places import ROOT
from api.contract.preconditions import whole_tag
from api.projects.rows import Project, ProjectItem, ProjectPhase
from api.store.sessions import AccountSession
from estimator.scope.title_block import TITLE_KEYS

if TYPE_CHECKING:
    from estimator.assemblies.tables import Tables
    from estimator.scope.located import Section
    from estimator.scope.scope import Scope

PLAN_KEYS = ("after", "wait", "starts_with", "along", "duration")
_SAYS_NOTHING: tuple[Any, ...] = (None, "", {})


def written_scope(session: AccountSession, project: Project) -> dict[str, Any]:
    """Return the whole scope of a project, with the keys of a scope file.

    Parameters
    ----------
    session : AccountSession
        Reads the account; two statements, however large the scope is.
    project : Project

    Notes
    -----
    A phase without items is left out, because a scope has no place for one. So is every key that
    says nothing.
    """
    items: dict[Any, list[dict[str, Any]]] = defaultdict(list)
    for item in items_in_order(session, project):
        items[item.phase_id].append(written_item(item))
    phases = [
        written_phase(phase) | {"items": items[phase.id]}
        for phase in phases_in_order(session, project)
        if items[phase.id]
    ]
    return written_head(project) | {"phases": phases}


def scope_tag(session: AccountSession, project: Project) -> str:
    """Return the tag of a project's whole scope, which every change of a part of it changes.

    It is made of the versions of all rows, also of phases that have no item yet.
    """
    rows = [(project.id, project.version)]
    for model in (ProjectPhase, ProjectItem):
        statement = select(model.id, model.version).where(model.project_id == project.id)
        rows += [(key, version) for key, version in session.execute(statement.order_by(model.id))]
    return whole_tag(rows)


def read_written(written: Mapping[str, Any], tables: Tables, where: str = ROOT) -> Scope:
    """Return the scope that plain JSON describes; it has the digest of the file it came from.

    Parameters
    ----------
    written : mapping
        From `written_scope`.
    tables : Tables
        The rate tables that it is read with.
    where : str
        The pointer to it.

    Raises
    ------
    ScopeFaulty
        With every fault at its pointer.
    """
    from estimator.scope.scope_reader import read_scope

    return read_scope(section_of(written, where), tables)


def section_of(written: Mapping[str, Any], where: str = ROOT) -> Section:
    """Return plain JSON under keys as located text.

    Raises
    ------
    ScopeFaulty
        At null, true and false, which say nothing in a scope.
    """
    return cast("Section", located_json(dict(written), where))


def phases_in_order(session: AccountSession, project: Project) -> Iterable[ProjectPhase]:
    """Return the phases of a project."""
    statement = select(ProjectPhase).where(ProjectPhase.project_id == project.id)
    return session.scalars(statement.order_by(ProjectPhase.position, ProjectPhase.id)).all()


def items_in_order(session: AccountSession, project: Project) -> Iterable[ProjectItem]:
    """Return the items of a project, each phase's in their order."""
    statement = select(ProjectItem).where(ProjectItem.project_id == project.id)
    return session.scalars(statement.order_by(ProjectItem.position, ProjectItem.id)).all()


def written_head(project: Project) -> dict[str, Any]:
    """Return what a scope says before its phases."""
    on = project.pricing_date
    head = {
        "project": project.name,
        **{key: getattr(project, key) for key in TITLE_KEYS},
        "on": None if on is None else on.isoformat(),
        "shift": project.shift,
        "markups": project.markups,
        "day_worth": project.day_worth,
        "assumptions": project.assumptions or None,
        "calendar": project.calendar,
        "crew": project.crew,
        "risk": project.risk,
        "alternates": project.alternates,
    }
    return _stated(head)


def written_phase(phase: ProjectPhase) -> dict[str, Any]:
    """Return what a scope says of a phase before its items."""
    return _stated(
        {
            "code": phase.code,
            "name": phase.name,
            **_plan(phase),
        }
    )


def written_item(item: ProjectItem) -> dict[str, Any]:
    """Return what a scope says of an item."""
    return _stated(
        {
            "code": item.code,
            "name": item.name,
            "assembly": item.assembly,
            "inputs": item.inputs,
            "crew": item.crew,
            "delays": item.delays,
            "element": item.element,
            "note": item.note,
            "level": item.level,
            "opening": item.opening,
            "methods": item.methods,
            "method": item.method,
            "subcontract": item.subcontract,
            "lump_sum": item.lump_sum,
            "allowance": item.allowance,
            "alternate": item.alternate,
            "risk": item.risk,
            **_plan(item),
        }
    )


def _plan(row: ProjectPhase | ProjectItem) -> dict[str, Any]:
    """Return what a phase or an item says of when it is done."""
    return {key: getattr(row, key) for key in PLAN_KEYS}


def _stated(fields: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in fields.items() if value not in _SAYS_NOTHING}
