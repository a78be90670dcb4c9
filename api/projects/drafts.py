"""Items as they are to be: read by the library, all faults at once, before any is stored."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from sqlalchemy import select

from api.projects.heads import tables_for
from api.projects.rows import Project, ProjectItem, ProjectPhase
from api.projects.stored_scope import item_columns
from api.projects.written_scope import section_of
from api.store.errors import AlreadyThere
from api.store.refusals import TAKEN
from api.store.writing_session import WritingSession
from estimator.errors import Faults

if TYPE_CHECKING:
    from estimator.scope.located import Section

_TAKEN = TAKEN["uq_items_phase_id_code"]


@dataclass(frozen=True)
class Draft:
    """An item as it is to be.

    Parameters
    ----------
    phase : ProjectPhase
        Where it is to stand.
    written : mapping
        What a scope would say of it; null where it says nothing.
    where : str
        The pointer to it in the body.
    row : ProjectItem or None
        The row that is changed; None for a new one.
    """

    phase: ProjectPhase
    written: Mapping[str, Any]
    where: str
    row: ProjectItem | None = None

    def section(self) -> Section:
        """Return it as located text."""
        stated = {key: value for key, value in self.written.items() if value is not None}
        return section_of(stated, self.where)


def read_drafts(
    work: WritingSession, project: Project, drafts: Sequence[Draft]
) -> list[dict[str, Any]]:
    """Return the columns of each draft, once the library has read them all.

    Parameters
    ----------
    work : WritingSession
    project : Project
        Whose tables and shift they are read with.
    drafts : sequence of Draft

    Raises
    ------
    ScopeFaulty
        With every fault of all of them, each at its place.
    AlreadyThere
        If the phase of one has an item of that code.
    """
    from estimator.scope.located import without_places
    from estimator.scope.scope_reader import read_scope

    sections = [draft.section() for draft in drafts]
    codes = [draft.phase.code for draft in drafts]
    scope = _scope_of(project, codes, sections)
    read_scope(scope, tables_for(work, project), is_whole=False)
    drafted = [item_columns(_keys(without_places(section))) for section in sections]
    _refuse_taken(work, drafts, [columns["code"] for columns in drafted])
    return drafted


def _scope_of(project: Project, codes: Sequence[str], items: Sequence[Section]) -> Section:
    """Return a scope of these items only, each under the code of its phase."""
    from estimator.scope.located import Listing, Located, Section, Text

    of_phase: dict[str, list[Section]] = {}
    for code, item in zip(codes, items, strict=True):
        of_phase.setdefault(code, []).append(item)
    phases = [
        Section({"code": Text(code, ""), "name": Text(code, ""), "items": Listing((*of,), "")}, "")
        for code, of in of_phase.items()
    ]
    head: dict[str, Located] = {
        "project": Text(project.name, ""),
        "phases": Listing(tuple(phases), ""),
    }
    if project.alternates:
        head["alternates"] = Listing(tuple(_named(one) for one in project.alternates), "")
    if project.calendar:
        head["calendar"] = section_of(project.calendar)
    if project.shift:
        head["shift"] = Text(project.shift, "")
    return Section(head, "")


def _named(alternate: Mapping[str, Any]) -> Section:
    """Return an alternate as if accepted, without what it takes out, which is no draft."""
    from estimator.scope.located import Listing, Section, Text

    stated = {"code": alternate["code"], "name": alternate["name"], "accepted": "yes"}
    texts = {key: Text(value, "") for key, value in stated.items()}
    return Section({**texts, "takes_out": Listing((), "")}, "")


def _keys(written: object) -> dict[str, Any]:
    assert isinstance(written, dict)
    return written


def _refuse_taken(work: WritingSession, drafts: Sequence[Draft], codes: Sequence[str]) -> None:
    """Refuse codes that other items of the phases have, all of them at once."""
    phase_ids = {draft.phase.id for draft in drafts}
    changed = {draft.row.id for draft in drafts if draft.row is not None}
    statement = select(ProjectItem.phase_id, ProjectItem.code, ProjectItem.id).where(
        ProjectItem.phase_id.in_(phase_ids)
    )
    with work.no_autoflush:
        taken = {
            (row.phase_id, row.code) for row in work.execute(statement) if row.id not in changed
        }
    faults, (what, remedy) = Faults(), _TAKEN
    for draft, code in zip(drafts, codes, strict=True):
        if (draft.phase.id, code) in taken:
            faults.add(f"{draft.where}/code", what, remedy)
    faults.raise_if_any(AlreadyThere)
