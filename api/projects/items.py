"""What is done with items: one or many, all or none; each is read by the library first."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from typing import Any
from uuid import UUID

from sqlalchemy import Select, func, or_, select

from api.contract.bodies import check_how_many
from api.contract.commands import NotStated, stated
from api.contract.errors import FieldsFaulty
from api.contract.places import ROOT, pointer
from api.projects.accepted import refuse_accepted
from api.projects.drafts import Draft, read_drafts
from api.projects.item_shapes import ItemChange, ItemQuery, NewItem, OneOfChanges
from api.projects.rows import Project, ProjectItem, ProjectPhase
from api.projects.sequence import check_current
from api.projects.written_scope import phases_in_order, written_item
from api.store.errors import NotFound
from api.store.sessions import AccountSession
from api.store.writing_session import WritingSession
from estimator.errors import Faults

_NOT_WRITTEN = ("id", "version", "removed", "phase_id")

Phases = Mapping[UUID, ProjectPhase]
# An item, what is to change of it, and where in the body.
_Change = tuple[ProjectItem, ItemChange, str]


def phases_by_id(session: AccountSession, project: Project) -> dict[UUID, ProjectPhase]:
    """Return the phases of a project by their ids, in their order."""
    return {phase.id: phase for phase in phases_in_order(session, project)}


def add_items(
    work: WritingSession, project: Project, wanted: Sequence[NewItem], places: Sequence[str]
) -> list[ProjectItem]:
    """Return new items, each after all others of its phase.

    Parameters
    ----------
    work : WritingSession
    project : Project
    wanted : sequence of NewItem
    places : sequence of str
        The pointer to each.

    Raises
    ------
    FieldsFaulty, ScopeFaulty, AlreadyThere
        With every fault of all of them.
    """
    there = select(func.count()).where(ProjectItem.project_id == project.id)
    count = (work.scalar(there) or 0) + len(wanted)
    check_how_many(count, "project", "items", "open another project")
    phases = phases_by_id(work, project)
    _check_phases(phases, [one.phase_id for one in wanted], places)
    drafts = [
        Draft(phases[one.phase_id], _written({}, one), where)
        for one, where in zip(wanted, places, strict=True)
    ]
    drafted = read_drafts(work, project, drafts)
    ends = _ends(work, phases)
    fresh = []
    for draft, columns in zip(drafts, drafted, strict=True):
        ends[draft.phase.id] += 1
        of = {"project_id": project.id, "phase_id": draft.phase.id}
        fresh.append(ProjectItem(**of, position=ends[draft.phase.id], **columns))
    work.add_all(fresh)
    return fresh


def change_item(work: WritingSession, item: ProjectItem, body: ItemChange) -> None:
    """Change what an item says; what the body leaves out stays.

    Raises
    ------
    FieldsFaulty, ScopeFaulty, AlreadyThere, StillNeeded
        With every fault.
    """
    project = work.existing(Project, item.project_id)
    _change(work, project, phases_by_id(work, project), [(item, body, ROOT)])


def delete_item(work: WritingSession, item: ProjectItem) -> None:
    """Take an item away.

    Raises
    ------
    StillNeeded
        If an accepted estimate has it.
    """
    phase = work.existing(ProjectPhase, item.phase_id)
    refuse_accepted(work, item.project_id, [(cost_code(phase, item), "")])
    work.delete(item)


def change_items(
    work: WritingSession, project: Project, changes: Sequence[OneOfChanges]
) -> list[Any]:
    """Return the items that were changed; those to be removed are gone.

    Raises
    ------
    NotFound, VersionStale, FieldsFaulty, ScopeFaulty, AlreadyThere, StillNeeded
        With every fault of that kind, each at its place; nothing is done then.
    """
    rows = _named_rows(work, project, [one.id for one in changes])
    check_current(rows, changes, "items")
    phases = phases_by_id(work, project)
    going: list[_Change] = []
    staying: list[_Change] = []
    for number, one in enumerate(changes):
        item, where = rows[one.id], pointer("items", number)
        (going if one.removed else staying).append((item, one, where))
    codes = [(cost_code(phases[item.phase_id], item), where) for item, _, where in going]
    refuse_accepted(work, project.id, codes)
    work.delete_all([item for item, _, _ in going])
    _change(work, project, phases, staying)
    return [item for item, _, _ in staying]


def items_in_query(project_id: UUID, query: ItemQuery) -> Select[Any]:
    """Return the statement for the items of a project that a query asks for."""
    statement = select(ProjectItem).join(ProjectPhase, ProjectPhase.id == ProjectItem.phase_id)
    statement = statement.where(ProjectItem.project_id == project_id)
    if query.phase is not None:
        statement = statement.where(ProjectItem.phase_id == query.phase)
    if query.assembly is not None:
        statement = statement.where(ProjectItem.assembly == query.assembly)
    if (text := query.search) is not None:
        columns = (ProjectItem.code, ProjectItem.name, ProjectItem.note)
        statement = statement.where(or_(*(one.icontains(text, autoescape=True) for one in columns)))
    return statement


def cost_code(phase: ProjectPhase, item: ProjectItem) -> str:
    """Return what ledgers and estimates call an item: `20.010`."""
    return f"{phase.code}.{item.code}"


def _change(
    work: WritingSession,
    project: Project,
    phases: Phases,
    changes: Sequence[_Change],
) -> None:
    to = [
        item.phase_id if isinstance(change.phase_id, NotStated) else change.phase_id
        for item, change, _ in changes
    ]
    _check_phases(phases, to, [where for _, _, where in changes])
    drafts = [
        Draft(phases[phase_id], _written(written_item(item), change), where, item)
        for phase_id, (item, change, where) in zip(to, changes, strict=True)
    ]
    if not drafts:
        return
    drafted = read_drafts(work, project, drafts)
    moved = [
        (cost_code(phases[item.phase_id], item), where)
        for (item, _, where), draft, columns in zip(changes, drafts, drafted, strict=True)
        if (item.phase_id, item.code) != (draft.phase.id, columns["code"])
    ]
    refuse_accepted(work, project.id, moved)
    ends = _ends(work, phases)
    for (item, _, _), draft, columns in zip(changes, drafts, drafted, strict=True):
        columns |= {"phase_id": draft.phase.id, "position": item.position}
        if item.phase_id != draft.phase.id:
            ends[draft.phase.id] += 1
            columns["position"] = ends[draft.phase.id]
    work.put_all(zip((item for item, _, _ in changes), drafted, strict=True))


def _written(before: Mapping[str, Any], change: ItemChange) -> dict[str, Any]:
    """Return what an item is to say: what it said, with the change laid over it."""
    changed = {key: value for key, value in stated(change).items() if key not in _NOT_WRITTEN}
    return {**before, **changed}


def _ends(work: WritingSession, phases: Phases) -> dict[UUID, int]:
    """Return the position of the last item of each phase, 0 where there is none."""
    statement = (
        select(ProjectItem.phase_id, func.max(ProjectItem.position))
        .where(ProjectItem.phase_id.in_(phases))
        .group_by(ProjectItem.phase_id)
    )
    return defaultdict(int, {row[0]: row[1] for row in work.execute(statement)})


def _check_phases(phases: Phases, wanted: Sequence[UUID], places: Sequence[str]) -> None:
    faults = Faults()
    for phase_id, where in zip(wanted, places, strict=True):
        if phase_id not in phases:
            what = "is not a phase of the project"
            faults.add(f"{where}/phase_id", what, "copy the id from the list of phases")
    faults.raise_if_any(FieldsFaulty)


def _named_rows(
    work: WritingSession, project: Project, keys: Sequence[UUID]
) -> dict[UUID, ProjectItem]:
    """Return the items that changes name, by id; each may be named once."""
    statement = select(ProjectItem).where(
        ProjectItem.project_id == project.id, ProjectItem.id.in_(keys)
    )
    rows = {row.id: row for row in work.scalars(statement)}
    unknown, twice, seen = Faults(), Faults(), set[UUID]()
    for number, key in enumerate(keys):
        where = pointer("items", number, "id")
        if key not in rows:
            unknown.add(where, f"there is no '{key}' in items")
        elif key in seen:
            twice.add(where, "is listed twice", "give all its changes at once")
        seen.add(key)
    unknown.raise_if_any(NotFound)
    twice.raise_if_any(FieldsFaulty)
    return rows
