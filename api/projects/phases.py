"""Changes to phases; the library reads each phase before it is stored."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from sqlalchemy import func, select

from api.contract.bodies import check_phase_count
from api.contract.commands import stated
from api.projects.accepted import accepted_codes
from api.projects.phase_shapes import NewPhase, PhaseChange
from api.projects.rows import Project, ProjectItem, ProjectPhase
from api.projects.stored_scope import phase_columns, put
from api.projects.written_scope import items_in_order, phases_in_order, section_of, written_phase
from api.store.errors import AlreadyThere, StillNeeded
from api.store.refusals import TAKEN
from api.store.sessions import AccountSession
from api.store.writing_session import WritingSession
from estimator.errors import Faults, fault

_TAKEN = TAKEN["uq_phases_project_id_code"]


def add_phase(work: WritingSession, project: Project, body: NewPhase) -> ProjectPhase:
    """Return a new phase, after all others.

    Raises
    ------
    ScopeFaulty
        With every fault at its field.
    AlreadyThere
        If the project has one of that code.
    BodyTooLarge
        If it has as many as a project may have.
    """
    columns = _read(stated(body))
    there = select(func.count()).where(ProjectPhase.project_id == project.id)
    check_phase_count((work.scalar(there) or 0) + 1, "project")
    last = work.scalar(
        select(func.max(ProjectPhase.position)).where(ProjectPhase.project_id == project.id)
    )
    phase = ProjectPhase(project_id=project.id, position=(last or 0) + 1, **columns)
    work.add(phase)
    return phase


def change_phase(work: WritingSession, phase: ProjectPhase, body: PhaseChange) -> None:
    """Change what a phase says; what the body leaves out stays.

    Raises
    ------
    ScopeFaulty
        With every fault at its field.
    StillNeeded
        If its code is one that an accepted estimate or another part of the scope names.
    """
    columns = _read(written_phase(phase) | stated(body))
    if columns["code"] != phase.code:
        _refuse_named(work, phase)
        _refuse_taken(work, phase, columns["code"])
    put(phase, columns)


def delete_phase(work: WritingSession, phase: ProjectPhase) -> None:
    """Take a phase away with its items.

    Raises
    ------
    StillNeeded
        If an accepted estimate has one of them, or another part of the scope names the phase.
    """
    _refuse_named(work, phase)
    work.delete_all(items_of(work, phase))
    work.delete(phase)


def items_of(session: AccountSession, phase: ProjectPhase) -> list[ProjectItem]:
    """Return the items of a phase in their order."""
    statement = select(ProjectItem).where(ProjectItem.phase_id == phase.id)
    return list(session.scalars(statement.order_by(ProjectItem.position, ProjectItem.id)))


def _read(written: Mapping[str, Any]) -> dict[str, Any]:
    """Return the columns of a phase that the library has read."""
    from estimator.scope.located import without_places
    from estimator.scope.scope_reader import read_phase_head

    section = section_of({key: value for key, value in written.items() if value is not None})
    read_phase_head(section)
    plain = without_places(section)
    assert isinstance(plain, dict)
    return phase_columns(plain)


def _refuse_taken(work: WritingSession, phase: ProjectPhase, code: str) -> None:
    statement = select(ProjectPhase.id).where(
        ProjectPhase.project_id == phase.project_id, ProjectPhase.code == code
    )
    if work.scalar(statement) is not None:
        raise fault(AlreadyThere, *_TAKEN)


def _refuse_named(work: WritingSession, phase: ProjectPhase) -> None:
    """Refuse to let the code of a phase go where something rests on it."""
    faults = Faults()
    for code in sorted(accepted_codes(work, phase.project_id)):
        if code.startswith(f"{phase.code}."):
            faults.add("", f"item {code} is in an accepted estimate", "leave the phase its code")
    project = work.existing(Project, phase.project_id)
    for name in _naming(work, project, phase):
        faults.add("", f"{name} names phase {phase.code}", "change that first")
    faults.raise_if_any(StillNeeded)


def _naming(session: AccountSession, project: Project, phase: ProjectPhase) -> Iterator[str]:
    """Yield what of a scope names a phase, or an item of it, by its code."""
    risk = project.risk or {}
    if any(one.get("phase") == phase.code for one in risk.get("events", ())):
        yield "the project's risk, under events,"
    if any(code.startswith(f"{phase.code}.") for code in _correlated(risk)):
        yield "the project's risk, under correlation,"
    phases = {other.id: other for other in phases_in_order(session, project)}
    for other in phases.values():
        yield from (f"phase {other.code}, under {key}," for key in _keys_naming(other, phase.code))
    for item in items_in_order(session, project):
        of = phases[item.phase_id].code
        if of != phase.code:
            keys = _keys_naming(item, phase.code)
            yield from (f"item {of}.{item.code}, under {key}," for key in keys)


def _correlated(risk: Mapping[str, Any]) -> Iterator[str]:
    """Yield the items that the matrix of a risk names."""
    correlation = risk.get("correlation")
    if isinstance(correlation, Mapping):
        yield from (str(code) for code in correlation.get("items") or ())


def _keys_naming(row: ProjectPhase | ProjectItem, phase: str) -> Iterator[str]:
    """Yield the keys of a phase or an item that name a phase or an item of it."""
    for key in ("after", "starts_with", "along"):
        codes = getattr(row, key) or ()
        if any(code == phase or str(code).startswith(f"{phase}.") for code in codes):
            yield key
